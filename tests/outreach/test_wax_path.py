"""The path of wax, read back from its walls alone and solved by networkx."""

import os
import subprocess
import sys
from itertools import pairwise
from typing import Any

import networkx as nx
import pytest
from fontTools.pens.recordingPen import RecordingPen
from fontTools.svgLib.path import parse_path
from hypothesis import given, settings
from hypothesis import strategies as st

from leaflets.errors import LeafletError
from leaflets.outreach.grid import Cell
from leaflets.outreach.wax_path import Wall, WaxPath, make_wax_path, svg_path_data, usual_bounds

Edge = tuple[float, float, float, float]
OUTSIDE = "outside"


def unit_edges(walls: list[Edge]) -> list[Edge]:
    """Cut walls into edges of one cell, each from its left or upper end."""
    edges = []
    for left, top, right, bottom in walls:
        assert (left == right) != (top == bottom)
        assert left <= right
        assert top <= bottom
        if top == bottom:
            edges += [(at, top, at + 1, top) for at in range(int(left), int(right))]
        else:
            edges += [(left, at, left, at + 1) for at in range(int(top), int(bottom))]
    return edges


def rooms(path: WaxPath, walls: list[Edge]) -> nx.Graph:
    """Return which cells, and the outside, one can step between, going by the walls alone."""
    edges = set(unit_edges(walls))
    cells = {(column, row) for column in range(path.columns) for row in range(path.rows)}
    graph = nx.Graph()
    graph.add_nodes_from(cells)
    for column, row in cells:
        sides = {
            (column, row - 1): (column, row, column + 1, row),
            (column, row + 1): (column, row + 1, column + 1, row + 1),
            (column - 1, row): (column, row, column, row + 1),
            (column + 1, row): (column + 1, row, column + 1, row + 1),
        }
        for neighbour, edge in sides.items():
            if edge not in edges:
                graph.add_edge((column, row), neighbour if neighbour in cells else OUTSIDE)
    return graph


def assert_is_sound(path: WaxPath, shortest: int, longest: int) -> None:
    graph = rooms(path, [*path.walls])
    cells = path.columns * path.rows
    assert list(graph[OUTSIDE]) == [path.entrance]
    graph.remove_node(OUTSIDE)
    assert graph.number_of_nodes() == cells
    assert graph.number_of_edges() == cells - 1
    assert nx.is_connected(graph)
    assert nx.is_tree(graph)
    assert list(nx.all_simple_paths(graph, path.drum, path.entrance)) == [[tuple(cell) for cell in path.way]]
    assert (path.drum.column, path.entrance.column) == (0, path.columns - 1)
    assert shortest <= len(path.way) <= longest
    ends = {cell for cell, degree in graph.degree() if degree == 1} - {path.drum, path.entrance}
    assert path.dead_ends == len(ends)
    edges = unit_edges([*path.walls])
    assert len(edges) == len(set(edges)), "a wall stands twice"
    # Edges of a grid, 2cr + c + r, less a passage for all cells but one, less the entrance.
    assert len(edges) == 2 * cells + path.columns + path.rows - (cells - 1) - 1
    joins = {(wall.left, wall.top, wall.top == wall.bottom) for wall in path.walls}
    assert not {(wall.right, wall.bottom, wall.top == wall.bottom) for wall in path.walls} & joins, "a wall is cut"


@pytest.mark.parametrize(("columns", "rows"), [(4, 4), (8, 6), (14, 10), (4, 12), (40, 4), (25, 25)])
@pytest.mark.parametrize("seed", ["Oak class", 7])
def test_the_maze_is_a_tree_with_one_way_from_drum_to_entrance(columns: int, rows: int, seed: str | int) -> None:
    assert_is_sound(make_wax_path(columns, rows, seed), *usual_bounds(columns, rows))


@settings(max_examples=25, deadline=None)
@given(
    st.integers(4, 14),
    st.integers(4, 14),
    st.one_of(st.integers(), st.text(st.characters(codec="utf-8"), min_size=1).filter(str.strip)),
)
def test_any_size_and_any_seed(columns: int, rows: int, seed: str | int) -> None:
    path = make_wax_path(columns, rows, seed)
    assert_is_sound(path, *usual_bounds(columns, rows))
    assert make_wax_path(columns, rows, seed) == path


@pytest.mark.parametrize(("shortest", "longest"), [(10, 20), (30, 34), (None, 20), (40, None)])
def test_a_way_is_as_long_as_asked(shortest: int | None, longest: int | None) -> None:
    usual_shortest, usual_longest = usual_bounds(10, 8)
    for seed in range(5):
        path = make_wax_path(10, 8, seed, shortest, longest)
        assert_is_sound(path, shortest or usual_shortest, longest or usual_longest)


def test_the_usual_bounds_are_the_sides_together_and_three_fifths_of_the_cells() -> None:
    assert usual_bounds(8, 6) == (14, 28)  # 8 + 6; 48 * 3 / 5 = 28.8
    assert usual_bounds(4, 4) == (8, 9)  # 4 + 4; 16 * 3 / 5 = 9.6


def test_the_first_draws_choose_the_rows_of_both_ends() -> None:
    """`printf 'wax path\\n0\\nhand' | sha256sum` begins with a4c61dece73e0873 d72c1f79ead69018.

    Over 8 a number leaves what its last hexadecimal figure does: 3 leaves 3, 8 leaves 0.
    """
    path = make_wax_path(8, 8, "hand", 8, 64)
    assert (path.drum.row, path.entrance.row) == (3, 0)


def test_seeds_give_mazes_of_their_own() -> None:
    seeds = ["Oak class", "Elm class", "oak class", *range(40)]
    assert len({make_wax_path(8, 6, seed).walls for seed in seeds}) == len(seeds)


def test_the_same_maze_in_another_process_with_another_hash() -> None:
    script = "from leaflets.outreach.wax_path import make_wax_path as m; print(m(8, 6, 'Oak'))"
    printed = {
        subprocess.run(
            [sys.executable, "-c", script],
            env={**os.environ, "PYTHONHASHSEED": hash_seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for hash_seed in ("0", "1", "2")
    }
    assert len(printed) == 1


def drawn(data: str) -> list[list[tuple[float, float]]]:
    """Return the points of each line of a `d`, as fontTools reads it."""
    pen = RecordingPen()
    parse_path(data, pen)
    lines: list[list[tuple[float, float]]] = []
    for command, points in pen.value:
        if command == "moveTo":
            lines.append([*points])
        elif command == "lineTo":
            lines[-1] += points
        else:
            assert command == "endPath", "nothing is closed or bent"
    return lines


@pytest.mark.parametrize("cell_size", [1, 20, 7.5, 1 / 3])
def test_what_is_drawn_is_the_maze_and_its_way(cell_size: float) -> None:
    path = make_wax_path(14, 10, "Oak class")
    data = svg_path_data(path, cell_size)
    walls = [tuple(round(value / cell_size, 1) for point in line for value in point) for line in drawn(data.walls)]
    assert walls == [tuple(wall) for wall in path.walls]
    (way,) = drawn(data.way)
    corners = [(round(across / cell_size, 1), round(down / cell_size, 1)) for across, down in way]
    assert corners[-1] == (14, path.entrance.row + 0.5)
    passed = [corners[0]]
    for (across, down), (next_across, next_down) in pairwise(corners):
        assert (across == next_across) != (down == next_down)
        steps = int(abs(next_across - across) + abs(next_down - down))
        step = ((next_across > across) - (next_across < across), (next_down > down) - (next_down < down))
        passed += [(across + at * step[0], down + at * step[1]) for at in range(1, steps + 1)]
    assert passed == [(cell.column + 0.5, cell.row + 0.5) for cell in path.way]
    assert (data.width, data.height) == pytest.approx((14 * cell_size, 10 * cell_size), abs=0.001)


def test_a_maze_drawn_by_hand() -> None:
    """Two by two cells: from the lower left up, to the right and out; the lower right is a dead end below the way."""
    path = WaxPath(
        columns=2,
        rows=2,
        drum=Cell(0, 1),
        entrance=Cell(1, 0),
        way=(Cell(0, 1), Cell(0, 0), Cell(1, 0)),
        walls=(Wall(0, 0, 2, 0), Wall(0, 2, 2, 2), Wall(0, 0, 0, 2), Wall(1, 1, 1, 2), Wall(2, 1, 2, 2)),
        dead_ends=1,
    )
    data = svg_path_data(path, 2.5)
    assert data.walls == "M0 0H5M0 5H5M0 0V5M2.5 2.5V5M5 2.5V5"
    assert data.way == "M1.25 3.75V1.25H5"


@pytest.mark.parametrize(
    ("arguments", "place"),
    [
        ((3, 8, 1), "[columns]"),
        ((41, 8, 1), "[columns]"),
        ((8, 3, 1), "[rows]"),
        ((8, "8", 1), "[rows]"),
        ((True, 8, 1), "[columns]"),
        ((8, 8, ""), "[seed]"),
        ((8, 8, None), "[seed]"),
        ((8, 8, 1, 7), "[shortest]"),
        ((8, 8, 1, 20.0), "[shortest]"),
        ((8, 8, 1, None, 65), "[longest]"),
        ((8, 8, 1, 30, 29), "[shortest]"),
        ((4, 4, 1, 4, 16.5), "[longest]"),
        ((40, 4, 1, 160, 160), "[shortest, longest]"),
    ],
)
def test_bad_input_is_refused_with_its_place_and_what_to_do(arguments: tuple[Any, ...], place: str) -> None:
    with pytest.raises(LeafletError) as refused:
        make_wax_path(*arguments)
    assert [problem.place for problem in refused.value.problems] == [f"wax path {place}"]
    assert all(problem.message and problem.hint for problem in refused.value.problems)


@pytest.mark.parametrize("size", [0, -1, float("nan"), float("inf"), True, 0.001, "20", None])
def test_a_size_to_draw_in_that_is_none_is_refused(size: Any) -> None:
    with pytest.raises(LeafletError) as refused:
        svg_path_data(make_wax_path(4, 4, 1), size)
    assert [problem.place for problem in refused.value.problems] == ["wax path [cell_size]"]
