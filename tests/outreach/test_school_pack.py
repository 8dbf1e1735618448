"""School packs: every part for every age, class sets, seeds, and nobody in them."""

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pypdfium2
import pytest

from leaflets.checks.evidence import Evidence
from leaflets.compose.activities import STATEMENTS_A_PAGE, WORDS_FILE, all_statements
from leaflets.compose.leaflet import Composition
from leaflets.compose.school import PARTS
from leaflets.compose.words import lists_in
from leaflets.content import Content
from leaflets.readability.segment import words
from leaflets.sheet_result import SheetResult

from .conftest import pages_of

MadePack = tuple[SheetResult, Path]
Pack = Callable[..., MadePack]
PartEvidence = Callable[..., tuple[Evidence, Composition]]
BANDS = ("5-7", "7-11")
A4, A3, LETTER, TABLOID = (210.0, 297.0), (297.0, 420.0), (215.9, 279.4), (279.4, 431.8)
"""Millimetres. Source: ISO 216; ANSI/ASME Y14.1, sizes A and B."""
CHILDREN = ("child-sheet", "poster", "activities")


def file_of(pack: MadePack, part: str) -> str:
    return pack[0].files[f"{part}.pdf"]


def text_of(pack: MadePack, part: str) -> str:
    return " ".join(" ".join(pages_of(file_of(pack, part))).split())


def size_mm(path: str) -> set[tuple[float, float]]:
    with pypdfium2.PdfDocument(path) as document:
        sizes: Any = [page.get_size() for page in document]
        return {(round(width / 72 * 25.4, 1), round(height / 72 * 25.4, 1)) for width, height in sizes}


@pytest.mark.parametrize("band", BANDS)
def test_every_part_is_made(band: str, pack: Pack) -> None:
    result, out = pack(band)
    assert result.status == "ok"
    assert [part.name for part in result.parts] == list(PARTS)
    assert set(result.files) == {f"{part}.pdf" for part in PARTS}
    assert {path.name for path in out.iterdir()} == {f"school.{band}.en.a4.{part}.pdf" for part in PARTS}
    # One side for the child's sheet and the poster, two for activities; a letter and notes are one sheet of paper.
    pages = {part.name: part.pages for part in result.parts}
    assert (pages["child-sheet"], pages["poster"], pages["activities"]) == (1, 1, 2)
    assert (pages["letter"] or 9) <= 2
    assert (pages["notes"] or 9) <= 2


@pytest.mark.parametrize("band", BANDS)
def test_the_poster_is_as_large_as_a3_and_all_else_as_a4(band: str, pack: Pack) -> None:
    made = pack(band)
    assert size_mm(file_of(made, "poster")) == {A3}
    for part in set(PARTS) - {"poster"}:
        assert size_mm(file_of(made, part)) == {A4}


def test_beside_letter_the_poster_is_twice_as_large(pack: Pack) -> None:
    made = pack("5-7", paper="letter")
    assert size_mm(file_of(made, "poster")) == {TABLOID}
    assert size_mm(file_of(made, "child-sheet")) == {LETTER}


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("band", BANDS)
def test_every_page_carries_the_mark_of_a_draft_and_names_nobody(
    band: str, part: str, pack: Pack, content: Content
) -> None:
    for page in pages_of(file_of(pack(band), part)):
        assert "not approved for patients" in page
        assert re.search(r"L-\w{5}-\w{5}", page)
        assert content.clinic.file.phone not in page
        assert content.clinic.file.name not in page
        # No line to write a name or a day on, no date but that of the last review.
        assert not re.search(r"_{3,}|\.{4,}|\b(Name|Date|Class)\s*:", page)
        assert set(re.findall(r"\d{1,2} [A-Z][a-z]+ 20\d\d", page)) <= {"25 November 2026"}


@pytest.mark.parametrize("part", CHILDREN)
@pytest.mark.parametrize("band", BANDS)
def test_every_side_for_a_child_says_the_two_things_to_remember(band: str, part: str, pack: Pack) -> None:
    for page in pages_of(file_of(pack(band), part)):
        assert "Put nothing in your ears." in page
        assert re.search("tell a grown-up", page, re.IGNORECASE)


@pytest.mark.parametrize("band", BANDS)
def test_no_part_speaks_of_medicine(band: str, pack: Pack) -> None:
    made = pack(band)
    for part in PARTS:
        text = re.sub("Their hearing drops suddenly", "", text_of(made, part))
        assert not re.search(r"\b(drops?|dose|ml|mg|tablet|medicine|oil|spray|painkiller)s?\b", text, re.IGNORECASE)


@pytest.mark.parametrize("band", BANDS)
def test_the_words_of_each_age_are_within_its_limits(band: str, part_evidence: PartEvidence) -> None:
    # Words in a sentence: 8 at 5 to 7, 12 at 7 to 11; grades 2 and 4: targets.toml, with its sources. Words in all: 120
    # in key stage 1, 200 in key stage 2 (from memory).
    longest, grade, most = {"5-7": (8, 2.0, 120), "7-11": (12, 4.0, 200)}[band]
    for part in CHILDREN:
        evidence, _ = part_evidence(part, band)
        units = [unit.text for unit in evidence.leaflet.units if unit.kind in ("sentence", "item")]
        assert max(len(words(text)) for text in units) <= longest, max(units, key=lambda text: len(words(text)))
        if part == "child-sheet":
            assert evidence.report.grade is not None
            assert evidence.report.grade <= grade
            assert sum(len(words(text)) for text in units) <= most


@pytest.mark.parametrize("band", BANDS)
def test_a_class_set_has_two_sides_for_each_child_and_all_its_answers(band: str, pack: Pack) -> None:
    made = pack(band, class_size=30, seed="autumn")
    sides = pages_of(file_of(made, "activities"))
    assert len(sides) == 60
    for number in range(1, 31):
        front, back = sides[2 * number - 2], sides[2 * number - 1]
        assert re.search(rf"Sheet {number}\b", front)
        assert re.search(rf"Sheet {number}\b", back)
    answers = text_of(made, "answers")
    assert [int(number) for number in re.findall(r"Sheet (\d+)\b", answers)] == list(range(1, 31))
    # Fisher and Yates and a grid of 64 letters: two of thirty pages alike would be a fault of the draws.
    assert len({re.sub(r"Sheet \d+|Page \d+", "", side) for side in sides[::2]}) == 30


def test_the_same_seed_makes_the_same_bytes_and_another_does_not(tmp_path: Path, pack: Pack) -> None:
    from leaflets.school import make_school_pack  # noqa: PLC0415 - beside the one test that makes packs itself

    first = pack("5-7", class_size=2, seed="autumn")
    again = make_school_pack("5-7", class_size=2, seed="autumn", date=first_day(), out=tmp_path)
    for part in PARTS:
        assert Path(file_of(first, part)).read_bytes() == Path(again.files[f"{part}.pdf"]).read_bytes()
    other = pack("5-7", class_size=2, seed="spring")
    assert Path(file_of(first, "activities")).read_bytes() != Path(file_of(other, "activities")).read_bytes()
    assert text_of(first, "child-sheet") == text_of(other, "child-sheet")


def first_day() -> Any:
    from .conftest import DAY  # noqa: PLC0415 - as above

    return DAY


def test_a_page_of_a_set_is_the_same_whatever_the_size_of_the_class(pack: Pack) -> None:
    small, large = pack("5-7", class_size=1, seed="autumn"), pack("5-7", class_size=3, seed="autumn")
    without_foot = [
        [re.sub(r"Leaflet .*|Page .*", "", page) for page in pages_of(file_of(made, "activities"))[:2]]
        for made in (small, large)
    ]
    assert without_foot[0] == without_foot[1]


@pytest.mark.parametrize("band", BANDS)
def test_the_country_sets_the_numbers_of_letter_and_notes(band: str, pack: Pack) -> None:
    # Source: countries.toml. Great Britain has 999 and 111, Ireland 112 and no line for the whole country.
    for part in ("letter", "notes"):
        british, irish = text_of(pack(band), part), text_of(pack(band, country="IE"), part)
        assert {"999", "111"} <= set(re.findall(r"\d{3}", british))
        assert "112" in irish
        assert not {"999", "111"} & set(re.findall(r"\b\d{3}\b", irish))
        assert ("In England" in british, "In England" in irish) == (part == "notes", False)


@pytest.mark.parametrize("band", BANDS)
def test_statements_are_as_many_true_as_false_with_a_reason_each(band: Any, content: Content) -> None:
    statements = all_statements(content.words, band)
    assert sum(one.is_so for one in statements) * 2 == len(statements)
    assert len(statements) > STATEMENTS_A_PAGE[band]
    assert len({one.text for one in statements} | {one.why for one in statements}) == 2 * len(statements)
    # Words a child has to read to answer: targets.toml.
    assert max(len(words(one.text)) for one in statements) <= {"5-7": 8, "7-11": 12}[band]


def test_the_parts_of_the_ear_are_in_their_order(content: Content) -> None:
    # Anatomy, from the outside in (common practice, no source).
    labels = lists_in(content.words, WORDS_FILE, "labels")
    assert labels["7-11"] == ["outer ear", "ear canal", "eardrum", "tiny bones", "cochlea"]
    assert labels["5-7"] == labels["7-11"][:3]
    for band, figure in (("5-7", "label-ear"), ("7-11", "label-inner-ear")):
        dots = re.findall(r'<circle cx="(\d+)" cy="88"', content.words.sources[f"figures/{figure}.svg"])
        assert len(dots) == len(labels[band])
        assert dots == sorted(dots, key=int)
