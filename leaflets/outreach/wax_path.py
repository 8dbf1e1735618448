"""The way that wax takes out of the ear, as a maze: from the eardrum at the left to the entrance at the right."""

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from leaflets.errors import LeafletError, Problem
from leaflets.outreach.grid import Cell, size_problems
from leaflets.outreach.seeded import Draws

SMALLEST_SIDE = 4
LARGEST_SIDE = 40
"""Bounds of columns and of rows, in cells: what fits on a sheet in print that a child can read. Our own choice."""

_PLACE = "wax path"
_TRIES = 1000
_LONGEST_SHARE = (3, 5)
_STEPS = ((1, 0), (0, 1), (-1, 0), (0, -1))


class Wall(NamedTuple):
    """A straight wall, in grid units: the top left corner of the grid is 0, 0; one cell is 1 wide and 1 high.

    A wall runs to the right (`top == bottom`) or down (`left == right`).
    """

    left: int
    top: int
    right: int
    bottom: int


@dataclass(frozen=True)
class WaxPath:
    """A maze with exactly one way between any two cells.

    Attributes:
        columns, rows: the size of the grid, in cells.
        drum: where the way begins, in the leftmost column. The wall at its left stands: the eardrum closes the canal.
        entrance: where it ends, in the rightmost column. The wall at its right is left out: there the wax comes out.
        way: the cells of the one way, from `drum` to `entrance`, both included.
        walls: as few and as long as possible; first those that run to the right, then those that run down.
        dead_ends: cells that one can enter and must leave again the same way, without `drum` and `entrance`.

    """

    columns: int
    rows: int
    drum: Cell
    entrance: Cell
    way: tuple[Cell, ...]
    walls: tuple[Wall, ...]
    dead_ends: int


@dataclass(frozen=True)
class PathData:
    """What to draw, as values of the attribute `d` of SVG paths, for strokes without a fill.

    Attributes:
        walls: every wall.
        way: the solution, from the middle of the first cell through the middles of all others, and out at the entrance.
        width, height: of the whole grid, in user units; half a stroke reaches over it on each side.

    """

    walls: str
    way: str
    width: float
    height: float


def usual_bounds(columns: int, rows: int) -> tuple[int, int]:
    """Return the cells of the shortest and of the longest way, unless others are asked for.

    At least as many as one column and one row have together, so that it winds, and at most three fifths of all cells,
    so that there is somewhere to go wrong. Our own choice.

    >>> usual_bounds(10, 8)
    (18, 48)

    """
    return columns + rows, columns * rows * _LONGEST_SHARE[0] // _LONGEST_SHARE[1]


def make_wax_path(
    columns: int, rows: int, seed: str | int, shortest: int | None = None, longest: int | None = None
) -> WaxPath:
    """Make a maze; the same arguments give the same maze on every machine.

    Args:
        columns: the width, SMALLEST_SIDE to LARGEST_SIDE cells.
        rows: the height, likewise.
        seed: any text or whole number that is not empty. Two seeds give two mazes, but for the tiniest grids.
        shortest: the least cells of the way, both ends included. None: as `usual_bounds` has it.
        longest: the most cells of the way, likewise.

    Raises:
        LeafletError: with everything that is wrong with the arguments, or because no maze had such a way.

    """
    draws = Draws(_PLACE, seed)
    problems = size_problems(_PLACE, columns, rows, SMALLEST_SIDE, LARGEST_SIDE)
    if problems:
        raise LeafletError(problems)
    usual_shortest, usual_longest = usual_bounds(columns, rows)
    least = usual_shortest if shortest is None else shortest
    most = usual_longest if longest is None else longest
    problems = _bound_problems(least, most, columns, columns * rows)
    if problems:
        raise LeafletError(problems)
    for _ in range(_TRIES):
        path = _any_path(columns, rows, draws)
        if least <= len(path.way) <= most:
            return path
    raise LeafletError.at(
        f"{_PLACE} [shortest, longest]",
        f"none of {_TRIES} mazes of {columns} by {rows} cells had a way of {least} to {most} cells",
        "allow a wider range, or leave both out",
    )


def svg_path_data(path: WaxPath, cell_size: float) -> PathData:
    """Return the lines of a maze with cells of a size in user units, rounded to thousandths.

    Raises:
        LeafletError: the size is no finite number of at least 0.01.

    """
    is_number = isinstance(cell_size, int | float) and not isinstance(cell_size, bool)
    if not is_number or not math.isfinite(cell_size) or cell_size < 0.01:
        raise LeafletError.at(f"{_PLACE} [cell_size]", f"{cell_size!r} is no size", "a number of at least 0.01")

    def size(units: float) -> str:
        return f"{units * cell_size:.3f}".rstrip("0").rstrip(".")

    walls = "".join(
        f"M{size(wall.left)} {size(wall.top)}"
        + (f"H{size(wall.right)}" if wall.top == wall.bottom else f"V{size(wall.bottom)}")
        for wall in path.walls
    )
    middles = [(cell.column + 0.5, cell.row + 0.5) for cell in path.way]
    points = [*middles, (path.columns, middles[-1][1])]
    way = f"M{size(points[0][0])} {size(points[0][1])}"
    for number, ((across, down), (next_across, next_down)) in enumerate(pairwise(points), start=2):
        turns = number == len(points) or (points[number][0] != across and points[number][1] != down)
        if turns:
            way += f"H{size(next_across)}" if down == next_down else f"V{size(next_down)}"
    return PathData(walls, way, float(size(path.columns)), float(size(path.rows)))


def _bound_problems(least: int, most: int, columns: int, cells: int) -> list[Problem]:
    problems = [
        Problem(f"{_PLACE} [{name}]", f"{value!r} is no length", f"a whole number of cells, {columns} to {cells}")
        for name, value in (("shortest", least), ("longest", most))
        if type(value) is not int or not columns <= value <= cells
    ]
    if not problems and least > most:
        problems.append(Problem(f"{_PLACE} [shortest]", f"{least} is more than longest, {most}", "swap them"))
    return problems


def _any_path(columns: int, rows: int, draws: Draws) -> WaxPath:
    drum = Cell(0, draws.below(rows))
    entrance = Cell(columns - 1, draws.below(rows))
    came_from = _carve(columns, rows, drum, draws)
    back = [entrance]
    while back[-1] != drum:
        back.append(came_from[back[-1]])
    passages = frozenset(came_from.items())
    doors = dict.fromkeys((drum, *came_from), 0)
    for pair in passages:
        for cell in pair:
            doors[cell] += 1
    return WaxPath(
        columns=columns,
        rows=rows,
        drum=drum,
        entrance=entrance,
        way=tuple(reversed(back)),
        walls=tuple(_walls(columns, rows, entrance, passages)),
        dead_ends=sum(count == 1 for cell, count in doors.items() if cell not in (drum, entrance)),
    )


def _carve(columns: int, rows: int, drum: Cell, draws: Draws) -> Mapping[Cell, Cell]:
    """Return for every cell but the first which cell it is entered from.

    A walk into cells that nobody has entered yet, and back to the last one that has such a neighbour (depth-first
    search): it makes long passages and few dead ends, which suits a child's pencil.
    """
    came_from: dict[Cell, Cell] = {}
    trail = [drum]
    while trail:
        here = trail[-1]
        near = [Cell(here.column + right, here.row + down) for right, down in _STEPS]
        new = [
            cell
            for cell in near
            if 0 <= cell.column < columns and 0 <= cell.row < rows and cell != drum and cell not in came_from
        ]
        if new:
            entered = draws.one_of(new)
            came_from[entered] = here
            trail.append(entered)
        else:
            trail.pop()
    return came_from


def _walls(columns: int, rows: int, entrance: Cell, passages: frozenset[tuple[Cell, Cell]]) -> Iterator[Wall]:
    """Yield the walls between cells without a passage, and round the grid, without that of the entrance."""

    def is_open(one: Cell, other: Cell) -> bool:
        return (one, other) in passages or (other, one) in passages

    def is_outer(line: int, last: int) -> bool:
        return line in (0, last)

    for line in range(rows + 1):
        closed = (
            at for at in range(columns) if is_outer(line, rows) or not is_open(Cell(at, line - 1), Cell(at, line))
        )
        yield from (Wall(start, line, end, line) for start, end in _runs(closed))
    out = (columns, entrance.row)
    for line in range(columns + 1):
        closed = (
            at
            for at in range(rows)
            if (line, at) != out and (is_outer(line, columns) or not is_open(Cell(line - 1, at), Cell(line, at)))
        )
        yield from (Wall(line, start, line, end) for start, end in _runs(closed))


def _runs(places: Iterable[int]) -> list[tuple[int, int]]:
    """Return the start and the end of each run of unit lengths.

    >>> _runs([0, 1, 4])
    [(0, 2), (4, 5)]

    """
    runs: list[tuple[int, int]] = []
    for place in places:
        if runs and runs[-1][1] == place:
            runs[-1] = (runs[-1][0], place + 1)
        else:
            runs.append((place, place + 1))
    return runs
