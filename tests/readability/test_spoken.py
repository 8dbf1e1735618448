"""English figures and abbreviations as they are read aloud, for SMOG."""

import random
from collections.abc import Callable
from types import ModuleType

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leaflets.readability.report import grade_units
from leaflets.readability.segment import WordKind, words
from leaflets.readability.spoken import number_in_words, read_aloud, spoken_polysyllables


def test_numbers_are_read_as_an_independent_package_reads_them(reference_module: Callable[[str], ModuleType]) -> None:
    # Source: num2words, without its commas.
    num2words = reference_module("num2words").num2words
    draw = random.Random(20261125)  # noqa: S311 - no secret: the draws are to be the same each time
    for number in (*range(1200), *(draw.randrange(10**12) for _ in range(300))):
        assert number_in_words(number) == num2words(number).replace(",", "")


@pytest.mark.parametrize("number", [-1, 10**12])
def test_numbers_out_of_range_are_refused(number: int) -> None:
    with pytest.raises(ValueError, match="not read"):
        number_in_words(number)


@pytest.mark.parametrize(
    ("text", "kind", "spoken", "polysyllables"),
    # Read aloud and counted by hand: words of three syllables or more. Source of the rule: McLaughlin 1969.
    # The CMU dictionary lists "general" and "national" with two syllables too, and the shorter reading counts.
    [
        ("48", "figure", "forty-eight", 1),
        ("2.5", "figure", "two point five", 0),
        ("1,250.5", "figure", "one thousand two hundred and fifty point five", 0),
        ("38.5°C", "figure", "thirty-eight point five degrees celsius", 2),  # cel-si-us
        ("500mg", "figure", "five hundred milligrams", 1),
        ("24-hour", "figure", "twenty-four-hour", 1),
        ("2\u20133", "figure", "two to three", 0),
        ("8.30am", "figure", "eight thirty in the morning", 0),
        ("10:45", "figure", "ten forty-five", 1),
        ("£5", "figure", "five pounds", 0),
        ("50%", "figure", "fifty percent", 0),
        ("2½", "figure", "two and a half", 0),
        ("1st", "figure", "first", 0),
        ("22nd", "figure", "twenty-second", 1),
        ("30th", "figure", "thirtieth", 1),
        ("0800", "figure", "zero eight zero zero", 0),
        ("&", "symbol", "and", 0),
        ("ml", "word", "millilitres", 1),
        ("e.g", "word", "for example", 1),
        ("GP", "word", "general practitioner", 1),
        ("NHS", "word", "national health service", 0),
        ("COVID-19", "word", "COVID-19", 1),
        ("B12", "word", "B12", 0),
        ("no", "word", "no", 0),
        ("www.example.org", "address", "address", 0),
    ],
)
def test_figures_and_abbreviations_are_read_aloud(text: str, kind: WordKind, spoken: str, polysyllables: int) -> None:
    assert read_aloud(text, kind) == spoken
    assert spoken_polysyllables(text, kind) == polysyllables


def test_smog_and_flesch_count_figures_differently() -> None:
    figures = grade_units(["Take 48 of 38 or 59."] * 30, "en")
    letters = grade_units(["Take a few of us or all."] * 30, "en")
    # 3 of forty-eight, thirty-eight, fifty-nine in each unit: 1.0430 * sqrt(90) + 3.1291 = 13.02; without: 3.13.
    assert figures.scores["smog"] == pytest.approx(13.02, abs=0.01)
    assert letters.scores["smog"] == pytest.approx(3.13, abs=0.01)
    assert figures.syllables == 6 * 30  # a figure is one syllable


def test_an_abbreviation_nobody_knows_is_spelt_out() -> None:
    assert spoken_polysyllables("XQZ", "word") == 1
    assert spoken_polysyllables("XQ", "word") == 0


@given(st.text(max_size=20))
def test_anything_can_be_read(text: str) -> None:
    for word in words(text):
        assert read_aloud(word.text, word.kind) is not None
        assert spoken_polysyllables(word.text, word.kind) >= 0
