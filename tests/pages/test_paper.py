"""The finished PDF, read by programs that know nothing of ours: qpdf, outloud, poppler, pikepdf."""

import re
import subprocess
from collections import Counter
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import outloud
import pikepdf
import pytest

from leaflets import demo

A4_POINTS = (595.28, 841.89)  # ISO 216: 210 by 297 mm
MARK = "not approved for patients"
# The commonest visits: wax out of both ears; a course of drops; hearing aids; a sudden loss.
COMMON = ("01-both-ears-clear", "02-drops-for-the-right-ear", "routine")
SET_BY_STYLE = ("\N{BULLET}", "\N{MIDDLE DOT}")
SMALLEST_POINTS = 12.0  # the smallest size that large bodies of guidance on patient print accept: from memory


def _visit(name: str) -> Path:
    folder = Path(__file__).parents[1] if name == "routine" else Path(demo.__file__).parent
    return folder / "visits" / f"{name}.toml"


def _furniture(body: ET.Element) -> list[ET.Element]:
    """Return what stands in the margin of every page: the mark and the foot."""
    return [element for element in body.iter() if {"mark", "foot"} & set(element.get("class", "").split())]


def _text(element: ET.Element, without: list[ET.Element]) -> str:
    """Return the text of an element with a space between its parts, as they stand apart on paper."""
    if element in without:
        return ""
    inside = "".join(_text(child, without) + (child.tail or "") for child in element)
    space = "" if element.tag in ("span", "strong") else " "
    return f"{space}{element.text or ''}{inside}{space}"


def test_the_words_are_those_of_the_html_in_its_order(made: Any) -> None:
    expected = _text(made.body, _furniture(made.body))
    # Spaces aside: a line that breaks has none.
    assert "".join(made.text_in_order.split()) == "".join(expected.split())


def test_every_word_is_painted_whole_and_nothing_else_is(made: Any) -> None:
    furniture = _furniture(made.body)
    painted = Counter(word for page in made.painted_pages for word in page.split() if word not in SET_BY_STYLE)
    expected = Counter(_text(made.body, furniture).split())
    pages = len(made.painted_pages)
    for element in furniture:
        for word in _text(element, []).split():
            expected[word] += pages
    for number in range(1, pages + 1):
        expected[str(number)] += 1  # page x
        expected[str(pages)] += 1  # of y
    for number in range(1, sum(1 for ordered in made.body.iter("ol") for _ in ordered.iter("li")) + 1):
        painted.pop(f"{number}.", None)
    assert painted == expected


def test_qpdf_finds_nothing_wrong(made: Any) -> None:
    checked = subprocess.run(["qpdf", "--check", str(made.pdf)], capture_output=True, text=True, check=False)
    assert checked.returncode == 0, checked.stderr
    assert "No syntax or stream encoding errors found" in checked.stdout


def test_an_outside_checker_of_accessibility_finds_no_error(made: Any) -> None:
    result = outloud.check(str(made.pdf))
    assert result.error is None, result.error
    assert not [run.rule for run in result.runs if run.status == "crashed"]
    assert {finding.rule: finding for finding in result.findings if finding.severity == "error"} == {}


def test_our_own_look_at_the_structure_finds_no_fault(made: Any, structure: Any) -> None:
    assert structure.structure_faults(made.pdf) == []


def test_the_fonts_are_ours_and_embedded(made: Any, structure: Any) -> None:
    names = structure.embedded_fonts(made.pdf.read_bytes())
    assert names
    assert all(name.startswith("Noto-") for name in names)
    with pikepdf.open(made.pdf) as pdf:
        for page in pdf.pages:
            for font in page.Resources.Font.values():
                for part in font.DescendantFonts:
                    assert "/FontFile2" in part.FontDescriptor or "/FontFile3" in part.FontDescriptor


def test_no_letter_is_smaller_than_twelve_points(made: Any) -> None:
    assert min(_sizes(made.pdf)) >= SMALLEST_POINTS - 0.01


def test_there_are_no_more_than_four_sizes(made: Any) -> None:
    assert {round(size, 1) for size in _sizes(made.pdf)} <= {12.0, 14.0, 18.0, 26.0}


def _sizes(pdf: Path) -> list[float]:
    """Return the size in points of every piece of text: of the font, the text and the page together."""
    sizes = []
    with pikepdf.open(pdf) as opened:
        for page in opened.pages:
            scale = [1.0]
            size = text_scale = 0.0
            for operands, operator in pikepdf.parse_content_stream(page):
                match str(operator):
                    case "q":
                        scale.append(scale[-1])
                    case "Q":
                        scale.pop()
                    case "cm":
                        scale[-1] *= _height(operands)
                    case "BT":
                        text_scale = 1.0
                    case "Tf":
                        size = float(operands[1])
                    case "Tm":
                        text_scale = _height(operands)
                    case "Tj" | "TJ" | "'" | '"':
                        sizes.append(size * text_scale * scale[-1])
    assert sizes
    return sizes


def _height(matrix: Any) -> float:
    """Return by how much a matrix (ISO 32000-1, 8.3.3) makes things higher."""
    return (float(matrix[2]) ** 2 + float(matrix[3]) ** 2) ** 0.5


def test_the_measure_of_sizes_sees_a_page_that_is_scaled(tmp_path: Path) -> None:
    pdf = pikepdf.new()
    pdf.add_blank_page()
    pdf.pages[0].Contents = pdf.make_stream(
        b"q .5 0 0 -.5 0 0 cm BT /F1 12 Tf 1 0 0 -1 0 0 Tm (a) Tj ET Q BT 9 0 0 9 0 0 Tm (b) Tj ET"
    )
    pdf.save(tmp_path / "scaled.pdf")
    # By hand: 12 halved, then 12 (still the font's size) nine times.
    assert _sizes(tmp_path / "scaled.pdf") == pytest.approx([6, 108])


def test_the_paper_is_a4_and_every_page_is_counted(made: Any) -> None:
    with pikepdf.open(made.pdf) as pdf:
        for page in pdf.pages:
            assert [float(edge) for edge in page.mediabox] == pytest.approx([0, 0, *A4_POINTS], abs=0.1)
        count = len(pdf.pages)
    assert made.result["pages"] == count
    for number, text in enumerate(made.painted_pages, 1):
        assert f"Page {number} of {count}" in text


def test_a_leaflet_takes_one_sheet_or_the_practitioner_is_warned(made: Any) -> None:
    warned = [finding for finding in made.result["findings"] if finding["code"] == "PAGE02"]
    assert (made.result["pages"] > 2) == bool(warned)
    assert made.result["pages"] <= 3


@pytest.mark.parametrize("name", COMMON)
def test_a_common_visit_takes_one_sheet(name: str, made_once: Callable[[Path], Any]) -> None:
    assert made_once(_visit(name)).result["pages"] <= 2


def test_the_mark_of_words_not_approved_stands_on_every_page(made: Any) -> None:
    assert made.painted_pages
    for text in made.painted_pages:
        assert MARK in " ".join(text.split())


def test_the_foot_of_every_page_names_leaflet_and_content(made: Any) -> None:
    for text in made.painted_pages:
        assert made.result["leaflet_id"] in text
        assert made.result["content_version"] in text


def test_the_get_help_panel_stands_whole_on_page_one(made: Any) -> None:
    panel = next(element for element in made.body.iter("section") if element.get("id") == "help")
    words = _text(panel, []).split()
    first_page = Counter(word.text for word in made.words if word.page == 1)
    missing = Counter(words) - first_page
    assert not missing
    # Its last sign stands above the foot, its heading below the title.
    last = list(panel.iter("li"))[-1]
    end = _text(last, []).split()[-1]
    foot = min(word.top for word in made.words if word.page == 1 and word.text == "Leaflet")
    assert [word for word in made.words if word.page == 1 and word.text == end and word.bottom <= foot]


def test_urgent_signs_come_first_each_row_with_its_action_and_its_number(made: Any) -> None:
    panel = next(element for element in made.body.iter("section") if element.get("id") == "help")
    rows = list(panel.iter("tr"))
    assert [next(row.iter("th")).text for row in rows] == ["Now", "Today", "This week"]
    for row in rows:
        assert list(row.iter("li")), "a row has signs"
        assert "".join(next(row.iter("p")).itertext()).strip(), "a row says what to do"
    emergency = {"GB": "999", "IE": "112", "US": "911"}[made.record["country"]]
    assert emergency in "".join(rows[0].itertext())


def test_no_word_leaves_the_page_or_stands_over_another(made: Any) -> None:
    width, height = A4_POINTS
    for word in made.words:
        assert 0 < word.left < word.right < width
        assert 0 < word.top < word.bottom < height
    for number in range(1, made.result["pages"] + 1):
        page = sorted((word for word in made.words if word.page == number), key=lambda word: (word.top, word.left))
        for here, there in pairwise(page):
            if here.top == there.top:
                assert there.left >= here.right - 0.5, (here, there)


def test_dates_and_telephone_numbers_stay_on_one_line(made: Any) -> None:
    lines = [" ".join(line.split()) for page in made.painted_pages for line in page.splitlines()]
    for element in made.body.iter("span"):
        kinds = set(element.get("class", "").split())
        if kinds & {"date", "phone", "measure"} and "strip" not in kinds:
            text = " ".join("".join(element.itertext()).split())
            # The strip of a course has dates in narrow columns, where a weekday stands over its day.
            assert any(text in line for line in lines) or re.fullmatch(
                r"[A-Z][a-z]{2} \d{1,2}( [A-Z][a-z]{2})?", text
            ), text


@pytest.mark.parametrize("name", COMMON)
def test_the_core_of_a_common_visit_is_short(name: str, made_once: Callable[[Path], Any]) -> None:
    made = made_once(_visit(name))
    core = [
        word
        for section in made.body.iter("section")
        if section.get("id") in ("now", "expect", "care", "next")
        for word in _text(section, []).split()
    ]
    # About 500 words of core text on one sheet: common practice, no source.
    assert len(core) <= 500 + 20  # the headings of the sections
