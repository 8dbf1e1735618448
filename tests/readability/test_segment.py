"""Running text into units, and units into words: every expected split is made by hand."""

# ruff: noqa: RUF001 - letters of other scripts are what is tried

import unicodedata
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leaflets.readability.combining_marks import COMBINING_MARKS
from leaflets.readability.segment import split_units, words

TEXTS = Path(__file__).with_name("texts")


def split(text: str, language: str = "en") -> list[str]:
    return [unit.text for unit in split_units(text, language)]


@pytest.mark.parametrize(
    "text",
    [
        "Take it at 10.30 every day.",
        "Use 2.5 ml at night.",
        "Keep water out, e.g. when you wash your hair.",
        "Call the ear clinic on 020 7946 0958 from 8.30 a.m. to 5.30 p.m. or visit www.example.org/a.b?c=1 today.",
        "Come back at 9 a.m. Monday.",
        "Dr. J. Smith will see you.",
        "Ask for Prof. A. B. Jones.",
        "She works in the U.S. Office of Education.",
        "Go to room No. 5 on the left.",
        "Bring tissues, cotton wool, etc. when you come.",
        'Ask "Does it hurt?" before you go on.',
        "Wait... then go on.",
        "Get help if: it bleeds; it hurts \u2013 or it leaks",
        "Take i.e. 3 drops",
    ],
)
def test_a_full_stop_inside_a_sentence_does_not_end_it(text: str) -> None:
    assert split(text) == [text]


@pytest.mark.parametrize(
    ("text", "units"),
    [
        ("Rest. Sip water. Call 999. Stay calm.", ["Rest.", "Sip water.", "Call 999.", "Stay calm."]),
        ("We open at 8.30 a.m. Please knock.", ["We open at 8.30 a.m.", "Please knock."]),
        ("Take vitamin C. It helps.", ["Take vitamin C.", "It helps."]),
        ("Is it sore? No. Then go on!", ["Is it sore?", "No.", "Then go on!"]),
        ("It went well\u2026 You can go.", ["It went well\u2026", "You can go."]),
        ("(Keep it dry.) Do not swim.", ["(Keep it dry.)", "Do not swim."]),
        ("one\ntwo\r\nthree\u2028four\x0bfive\x85six", ["one", "two", "three", "four", "five", "six"]),
        ("- Rest\n\u2022 3 days\n1. Sip water.\n2) Call\n(a) Wait", ["Rest", "3 days", "Sip water.", "Call", "Wait"]),
        ("2.5 ml at night", ["2.5 ml at night"]),
        ("***\n--\n \n...", []),
        ("", []),
    ],
)
def test_units_end_at_stops_and_newlines(text: str, units: list[str]) -> None:
    assert split(text) == units


@pytest.mark.parametrize(
    ("language", "text", "units"),
    [
        (
            "hi",
            "कृपया कान सूखा रखें। पानी न जाने दें।",
            ["कृपया कान सूखा रखें।", "पानी न जाने दें।"],
        ),
        ("ar", "ابق الأذن جافة. هل تؤلمك؟ نعم", ["ابق الأذن جافة.", "هل تؤلمك؟", "نعم"]),
        ("ur", "کان خشک رکھیں۔ تیراکی نہ کریں۔", ["کان خشک رکھیں۔", "تیراکی نہ کریں۔"]),
        ("zh", "请保持耳朵干燥。不要游泳\uff01", ["请保持耳朵干燥。", "不要游泳\uff01"]),
        ("de", "Das Ohr, z.B. das linke, bleibt trocken. Bitte warten.", None),
    ],
)
def test_stops_of_other_scripts_are_known(language: str, text: str, units: list[str] | None) -> None:
    expected = units or ["Das Ohr, z.B. das linke, bleibt trocken.", "Bitte warten."]
    assert split(text, language) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # One word each: contraction, hyphenated word, figure, symbol. Source: Flesch 1979, as counted by hand here.
        (
            "Don't don\u2019t follow-up non\u2010self\u2010governing",
            "Don't|don\u2019t|follow-up|non\u2010self\u2010governing",
        ),
        (
            "38.5°C 500mg 2\u20133 24-hour 8.30am 14/03/2025 £5 50% 2½",
            "38.5°C|500mg|2\u20133|24-hour|8.30am|14/03/2025|£5|50%|2½",
        ),
        ("500 mg & 5 %", "500|mg|&|5|%"),
        ("e.g. a.m. U.S. A&E B12 COVID-19", "e.g|a.m|U.S|A&E|B12|COVID-19"),
        ("and/or (it \u2013 or -- that)", "and|or|it|or|that"),
        ("See www.example.org/ear-care.html, or a.b@c-d.org.", "See|www.example.org/ear-care.html|or|a.b@c-d.org"),
        ("https://example.org/x?y=1) example.org/x", "https://example.org/x?y=1|example.org/x"),
        ("कृपया कान", "कृपया|कान"),
        ("干燥", "干|燥"),
        ("", ""),
    ],
)
def test_words_are_what_a_reader_takes_for_one(text: str, expected: str) -> None:
    assert "|".join(word.text for word in words(text)) == expected


def test_kinds_tell_figures_symbols_and_addresses_from_words() -> None:
    kinds = [word.kind for word in words("Take 2.5 ml & see www.example.org")]
    assert kinds == ["word", "figure", "word", "symbol", "word", "address"]


def test_known_texts_have_their_known_words_and_sentences() -> None:
    # Source: hand count; 271 words in 10 sentences is also what seven independent programs give for the Bliss copy.
    for name, word_count, sentence_count in (("gettysburg_bliss", 271, 10), ("udhr_articles_1_to_5", 157, 7)):
        units = split_units((TEXTS / f"{name}.txt").read_text(encoding="utf-8"))
        assert (sum(len(words(unit.text)) for unit in units), len(units)) == (word_count, sentence_count)


def test_combining_marks_hold_the_marks_of_the_scripts_in_use_and_no_digit_or_stop() -> None:
    # Source: unicodedata. Latin, Cyrillic, Hebrew, Arabic, Devanagari to Tamil, Thai: blocks that are complete.
    marks: set[int] = set()
    for part in _ranges(COMBINING_MARKS):
        marks.update(part)
    for first, last in ((0x300, 0x36F), (0x483, 0x487), (0x591, 0x5C7), (0x610, 0x6ED), (0x900, 0xBCD), (0xE31, 0xE4E)):
        for code in range(first, last + 1):
            if unicodedata.category(chr(code)).startswith("M"):
                assert code in marks, hex(code)
    for code in marks:
        assert unicodedata.category(chr(code))[0] not in "NPZ", hex(code)


def _ranges(character_class: str) -> list[range]:
    ranges, index = [], 0
    while index < len(character_class):
        first = last = ord(character_class[index])
        if character_class[index + 1 : index + 2] == "-":
            last = ord(character_class[index + 2])
            index += 2
        ranges.append(range(first, last + 1))
        index += 1
    return ranges


@given(st.text(max_size=300))
@settings(max_examples=150, deadline=None)
def test_spans_and_words_lie_where_they_say(text: str) -> None:
    end = 0
    for unit in split_units(text):
        assert text[unit.start : unit.end] == unit.text == unit.text.strip()
        assert unit.start >= end
        end = unit.end
        for word in words(unit.text):
            assert unit.text[word.start : word.start + len(word.text)] == word.text
