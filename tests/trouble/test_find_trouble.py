"""Finding trouble in whole texts: order, glossary, limits, bad input, and time."""

import subprocess
import sys

import pytest

from leaflets.readability.segment import split_units
from leaflets.readability.trouble import find_trouble
from leaflets.readability.trouble.figures import figures
from leaflets.readability.trouble.reading import read

LEAFLET = """
Your left ear was full of wax. We took it out with gentle suction, called microsuction. Your eardrum is whole.
Keep your ear dry until the end of Thursday, 26 November 2026. You may feel sore for up to 6 hours.
Do not put any object in your ear. Wipe only the outer ear, with a damp cloth. Call us on 01632 960 123.
Put 3 drops in your left ear. Do this 2 times a day. If your hearing drops all at once, get help today.
"""


def test_the_worst_stands_first_then_in_the_order_of_the_text() -> None:
    units = ["Do NOT swim.", "Keep dry (both ears).", "Take 2.5 ml.", "Do NOT dig."]
    found = find_trouble(units, "en-GB")
    assert [(one.code, one.unit) for one in found] == [("READ16", 2), ("READ17", 0), ("READ17", 3), ("READ15", 1)]
    assert [one.weight for one in found] == sorted((one.weight for one in found), reverse=True)


def test_an_easy_text_has_no_trouble() -> None:
    units = [unit.text for unit in split_units(LEAFLET)]
    assert [(one.code, one.words) for one in find_trouble(units, "en-GB")] == []


def test_known_terms_are_told_elsewhere_in_any_case() -> None:
    units = ["You have Tinnitus, and an OME."]
    assert {one.code for one in find_trouble(units, "en")} == {"READ11", "READ18"}
    assert find_trouble(units, "en", known_terms=frozenset({"TINNITUS", "ome"})) == ()


def test_the_limit_of_words_is_the_callers() -> None:
    units = ["Keep your left ear dry."]  # 5 words
    assert find_trouble(units, "en", longest_unit_words=5) == ()
    assert [one.code for one in find_trouble(units, "en", longest_unit_words=4)] == ["READ10"]


def test_a_hard_word_is_found_once_with_how_often_it_stands() -> None:
    found = find_trouble(["Commence it.", "You commenced it.", "Commencing it is easy."], "en")
    assert [(one.unit, one.words) for one in found] == [(0, "Commence")]
    assert "3 times in all" in found[0].message
    assert "\u201cstart\u201d" in found[0].hint


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("Come on 26 November 2026.", ["date"]),
        ("Come on 26th November.", ["date"]),
        ("Come on November 26, 2026.", ["date"]),
        ("Come on 26/11/2026 or 2026-11-26.", ["date", "date"]),
        ("Call 01632 960 123.", ["phone"]),
        ("Call (01632) 960123.", ["phone"]),
        ("Call +44 1632 960 123.", ["phone"]),
        ("Call 999 or 111.", ["number", "number"]),
        ("About 1 in 10 people, or three out of every 4.", ["share", "share"]),
        ("Come in 2 days, at 8.30 am.", ["number", "number"]),
        ("Put two drops in one ear.", ["number"]),
        ("Use 2 in 24 hours.", ["number", "number"]),
        ("Put 2-3 drops in.", ["number", "number"]),
        ("Wear an N95 mask.", []),
        ("See www.example.org/1/2.", []),
        ("Someone is often tense.", []),
    ],
)
def test_numbers_are_counted_each_once(text: str, kinds: list[str]) -> None:
    assert [figure.kind for figure in figures(read([text], "en").units[0], "en")] == kinds


@pytest.mark.parametrize(
    "units",
    [
        [],
        [""],
        ["   "],
        ["..."],
        ["("],
        ["/"],
        ["%"],
        ["100%"],
        ["\x00\x1b[31m"],
        ["\u0301"],
        ["\u202eear\u202c"],
        ["is"],
        ["not"],
        ["unless"],
        ["5 in"],
        ["1 in 1 and 0 in 0"],
        ["\u0663 \u0642\u0637\u0631\u0627\u062a"],
        ["ear \u8033 \u0905\u092a\u0928\u0947 \u0443\u0445\u043e"],
        ["'" * 50],
    ],
)
@pytest.mark.parametrize("language", ["en", "en-GB", "ar", "zh", "xx", ""])
def test_strange_text_is_no_crash(units: list[str], language: str) -> None:
    for one in find_trouble(units, language):
        assert units[one.unit][one.start : one.end] == one.words


@pytest.mark.parametrize("piece", ["(", "1 ", "1/", "is ", "not ", "a/", "%", "1 in ", "26 ", "A ", "0.", "-", "é"])
def test_a_long_text_of_one_piece_comes_to_an_end(piece: str) -> None:
    """Patterns whose time grows faster than the text would hang here."""
    text = piece * 20_000
    for one in find_trouble([text], "en"):
        assert text[one.start : one.end] == one.words


def test_words_are_read_when_they_are_needed_not_at_import() -> None:
    code = (
        "import leaflets.readability.trouble; from leaflets.readability.trouble import word_data;"
        "print(word_data.plain_words.cache_info().currsize)"
    )
    assert subprocess.check_output([sys.executable, "-c", code], text=True).strip() == "0"
