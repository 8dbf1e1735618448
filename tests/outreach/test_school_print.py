"""School packs as they come out of the printer: solved from the page, read out, right to left, in two languages."""

import re
import subprocess
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import networkx
import outloud
import pypdfium2
import pytest

from leaflets.checks.evidence import Evidence
from leaflets.colours import contrast
from leaflets.compose.leaflet import Composition
from leaflets.compose.school import LAYOUT, PARTS, ClassSet, compose_school_part
from leaflets.content import Content
from leaflets.outreach_request import SchoolRequest
from leaflets.render.fetcher import Asset
from leaflets.render.html import style_sheet
from leaflets.render.pdf import load_stylesheet, render_pdf
from leaflets.sheet_result import SheetResult
from leaflets.sheets import situation_for

from .conftest import DAY, catalogue_of_sources

MadePack = tuple[SheetResult, Path]
Pack = Callable[..., MadePack]
PartEvidence = Callable[..., tuple[Evidence, Composition]]
BANDS = ("5-7", "7-11")
ROWS_AND_COLUMNS = {"5-7": 8, "7-11": 12}
COMPASS = [(right, down) for right in (-1, 0, 1) for down in (-1, 0, 1) if (right, down) != (0, 0)]


def printed_letters(pdf: Path | str | bytes, page: int) -> list[tuple[str, float, float]]:
    """Return each character of a page with its middle, in points from the top left corner."""
    with pypdfium2.PdfDocument(pdf) as document:
        height = document[page].get_height()
        text = document[page].get_textpage()
        found = []
        for index in range(text.count_chars()):
            character = text.get_text_range(index, 1)
            left, bottom, right, top = text.get_charbox(index)
            if character.strip():
                found.append((character, (left + right) / 2, height - (bottom + top) / 2))
        return found


def printed_grid(pdf: Path | str | bytes, page: int, side: int) -> list[list[str]]:
    """Return the letters of the word search of a page as they stand, row by row, told from their places alone."""
    letters = printed_letters(pdf, page)
    lines: dict[int, list[tuple[float, str]]] = {}
    for character, x, y in letters:
        lines.setdefault(round(y / 4), []).append((x, character))
    # A letter of a row may stand a hair higher than its neighbours, as Q does: near lines are one row.
    joined: list[list[tuple[float, str]]] = []
    last = -9
    for key in sorted(lines):
        if key - last <= 1:
            joined[-1] = sorted([*joined[-1], *lines[key]])
        else:
            joined.append(sorted(lines[key]))
        last = key
    grids = [row for row in joined if len(row) >= side and _even(row[:side])]
    return [[character for _, character in row[:side]] for row in grids[:side]]


def _even(row: list[tuple[float, str]]) -> bool:
    """Return whether the letters of a row stand at even distances, as in a grid and in no sentence."""
    gaps = [after[0] - before[0] for before, after in pairwise(row)]
    return min(gaps) > 20 and max(gaps) - min(gaps) < 6


def places_of(word: str, grid: list[list[str]]) -> set[frozenset[tuple[int, int]]]:
    """Return every place of a word, tried from every cell in all eight directions."""
    found = set()
    for row in range(len(grid)):
        for column in range(len(grid[row])):
            for right, down in COMPASS:
                cells = [(column + right * step, row + down * step) for step in range(len(word))]
                if all(0 <= x < len(grid[0]) and 0 <= y < len(grid) for x, y in cells):
                    text = "".join(grid[y][x] for x, y in cells)
                    if text == word:
                        found.add(frozenset(cells))
    return found


@pytest.mark.parametrize("number", [1, 2])
@pytest.mark.parametrize("band", BANDS)
def test_the_word_search_is_solved_from_the_printed_page(band: str, number: int, pack: Pack) -> None:
    result, _ = pack(band, class_size=2, seed="autumn")
    side = ROWS_AND_COLUMNS[band]
    grid = printed_grid(result.files["activities.pdf"], 2 * number - 2, side)
    assert [len(row) for row in grid] == [side] * side
    with pypdfium2.PdfDocument(result.files["activities.pdf"]) as document:
        page = document[2 * number - 2].get_textpage().get_text_range()
    listed = [line for line in re.findall(r"\b[A-Z]{3,8}\b", page) if places_of(line, grid)]
    # As many as the template lists, each once on the page and once in the grid.
    assert len(listed) == len(set(listed)) == {"5-7": 7, "7-11": 10}[band]
    for word in listed:
        assert len(places_of(word, grid)) == 1, word


@pytest.mark.parametrize("band", BANDS)
def test_the_printed_maze_has_one_way_out(band: str, part_evidence: PartEvidence) -> None:
    _, composition = part_evidence("activities", band, class_size=2)
    for number in (1, 2):
        maze = ET.fromstring(composition.figures[f"asset:wax-path-{number}.svg"])  # noqa: S314 - our own
        walls = next(element.get("d", "") for element in maze.iter() if element.tag.endswith("path"))
        columns, rows = {"5-7": (9, 6), "7-11": (14, 9)}[band]
        graph = _open_cells(walls, columns, rows)
        # A perfect maze is a tree: all cells are joined, and there is one way between any two.
        assert networkx.is_tree(graph)
        gaps = [row for row in range(rows) if not _is_wall(walls, columns, row)]
        assert len(gaps) == 1, "there is one way out, at the right"


def _segments(walls: str) -> list[tuple[float, float, float, float]]:
    found = []
    for x, y, kind, to in re.findall(r"M([\d.]+) ([\d.]+)([HV])([\d.]+)", walls):
        left, top = float(x) / 16, float(y) / 16
        found.append((left, top, float(to) / 16, top) if kind == "H" else (left, top, left, float(to) / 16))
    return found


def _is_wall(walls: str, line: int, row: int) -> bool:
    return any(a == c == line and b <= row and row + 1 <= d for a, b, c, d in _segments(walls))


def _open_cells(walls: str, columns: int, rows: int) -> Any:
    segments = _segments(walls)
    graph: Any = networkx.Graph()
    graph.add_nodes_from((column, row) for column in range(columns) for row in range(rows))
    for column in range(columns):
        for row in range(rows):
            if column and not any(a == c == column and b <= row and row + 1 <= d for a, b, c, d in segments):
                graph.add_edge((column - 1, row), (column, row))
            if row and not any(b == d == row and a <= column and column + 1 <= c for a, b, c, d in segments):
                graph.add_edge((column, row - 1), (column, row))
    return graph


@pytest.mark.parametrize("options", [{}, {"language": "ar-XB", "beside": "en"}], ids=["en", "ar-XB beside en"])
@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("band", BANDS)
def test_every_part_is_sound_and_can_be_read_out(band: str, part: str, options: dict[str, str], pack: Pack) -> None:
    result, _ = pack(band, **options)
    assert result.status == "ok", [str(one) for one in result.findings if one.severity == "stop"]
    path = result.files[f"{part}.pdf"]
    subprocess.run(["qpdf", "--check", path], check=True, capture_output=True)
    checked = outloud.check(path)
    assert checked.error is None, checked.error
    assert not [run.rule for run in checked.runs if run.status == "crashed"]
    assert {finding.rule for finding in checked.findings if finding.severity == "error"} == set()


@pytest.mark.parametrize("language", ["en-XA", "ar-XB"])
@pytest.mark.parametrize("band", BANDS)
def test_words_a_third_longer_still_fit(band: str, language: str, pack: Pack) -> None:
    result, _ = pack(band, language=language)
    assert [str(one) for one in result.findings if one.code == "PAGE05"] == []
    assert result.status == "ok"


@pytest.mark.parametrize("part", ["child-sheet", "poster"])
def test_two_languages_stand_row_beside_row(part: str, pack: Pack) -> None:
    result, _ = pack("5-7", language="en", beside="ar-XB")
    letters = printed_letters(result.files[f"{part}.pdf"], 0)
    with pypdfium2.PdfDocument(result.files[f"{part}.pdf"]) as document:
        middle = document[0].get_width() / 2
        text = document[0].get_textpage().get_text_range()
    # The words of the made-up language are full of letters with accents; English has none.
    accented = [x for character, x, y in letters if character in "éáíóúŕšţñĺ" and 120 < y < 600]
    assert len(accented) > 40
    assert min(accented) > middle, "the second language stands at the right of the first"
    assert "Put nothing in your ears." in " ".join(text.split())


def test_a_letter_in_two_languages_is_one_after_the_other(pack: Pack) -> None:
    result, _ = pack("5-7", language="en", beside="ar-XB")
    with pypdfium2.PdfDocument(result.files["letter.pdf"]) as document:
        first, *others = (page.get_textpage().get_text_range() for page in document)
    second = "".join(others)
    assert "Dear family" in first
    assert "Dear family" not in second
    assert "999" in first
    assert "999" in second


# -- letters of other languages ---------------------------------------------------------------------------------------

ARABIC_WORDS = "أذن، شمع، صوت، طبلة، سمع، قناة، هدوء"
POLISH_WORDS = "ucho, dźwięk, błona, woda, cisza, hałas, słuch"


@pytest.mark.parametrize(("language", "listed"), [("ar", ARABIC_WORDS), ("pl", POLISH_WORDS)])
def test_a_word_search_is_printed_in_the_languages_own_letters(language: str, listed: str, content: Content) -> None:
    source = content.words.sources["macros/school_words.html"]
    wax = re.search(r'N_\("(wax, hear[^"]*)"\)', source)
    assert wax is not None
    request = SchoolRequest(band="5-7", language=language, country="GB", date=DAY)
    situation, _ = situation_for(request, "child-5-7", 5, content)
    catalogue = catalogue_of_sources(content, language, {wax[1]: listed})
    situation = replace(situation, layout=LAYOUT, for_school=True, catalogue=catalogue)
    composition = compose_school_part(content.words, "activities", ClassSet("5-7", 1, "oak"), situation, "#333333")
    style = style_sheet(
        content.styles["a4.css"] + content.styles["sheet.css"] + content.styles["school.css"], "#333333"
    )
    assets = {address: Asset(svg.encode(), "image/svg+xml") for address, svg in composition.figures.items()}
    rendered = render_pdf(
        composition.leaflet.html, stylesheet=load_stylesheet(style, {}), assets=assets, find_outside=True
    )
    assert rendered.outside == ()
    first = composition.leaflet.html.partition('<div class="grid letters"')[2]
    cells = re.findall(r"<span>([^<]+)</span>", first)[:64]
    grid = [cells[start : start + 8] for start in range(0, 64, 8)]
    expected = [word.strip().upper().replace("أ", "أ") for word in re.split("[,،]", listed)]
    for word in expected:
        (place,) = places_of(word, grid)
        columns = sorted(column for column, _ in place)
        if language == "ar" and columns[0] != columns[-1]:
            column, row = max(place)
            assert grid[row][column] == word[0], "a word across runs from right to left"
    # What is printed in the boxes is what the page says, box by box, from the left.
    in_print = {character for character, _, _ in printed_letters(rendered.pdf, 0)}
    assert len(set(cells) & in_print) > 10


def test_what_is_drawn_and_written_can_be_seen(content: Content) -> None:
    # 4.5 to 1 for text. Source: WCAG 2.2, success criterion 1.4.3.
    css = content.styles["sheet.css"] + content.styles["school.css"]
    colours = set(re.findall(r"(?<!-)\b(?:color|border[\w-]*|background):[^;}]*?(#[0-9a-f]{6})", css))
    assert colours <= {"#111111"}
    for one in (*colours, "#333333", content.clinic.file.accent):
        assert contrast(one, "#ffffff") >= 4.5
