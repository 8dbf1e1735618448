"""Formulas by language: published worked cases, independent packages, and the rule that no language borrows one."""

import math
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from leaflets.cldr import known_languages
from leaflets.readability.counts import RATIOS
from leaflets.readability.formulas import FORMULAS_PATH, all_formulas, formulas_for
from leaflets.readability.report import grade_units
from leaflets.readability.segment import split_units, words
from leaflets.readability.syllables_en import count_syllables

GETTYSBURG = (Path(__file__).with_name("texts") / "gettysburg_bliss.txt").read_text(encoding="utf-8")


def value(name: str, **measures: float) -> float:
    return all_formulas()[name].value(measures)


def test_coleman_liau_gives_the_value_of_the_abstract_of_its_paper() -> None:
    # Source: Coleman and Liau 1975: their own abstract has 119 words, 5 sentences, 639 letters: 14.5.
    # 5.88 * 639 / 119 - 29.6 * 5 / 119 - 15.8 = 31.574 - 1.244 - 15.8 = 14.530
    assert value("coleman-liau", letters_per_word=639 / 119, units_per_word=5 / 119) == pytest.approx(14.53, abs=0.01)


@pytest.mark.parametrize(("word_count", "units", "hard", "grade"), [(69, 1, 13, 35.1), (48, 3, 5, 10.6)])
def test_fog_gives_the_published_worked_cases(word_count: int, units: int, hard: int, grade: float) -> None:
    # Source: worked examples printed for Gunning's index, 35 and 11: 0.4 * (69 + 100 * 13 / 69) = 35.14;
    # 0.4 * (16 + 100 * 5 / 48) = 10.57.
    fog = value("fog", words_per_unit=word_count / units, percent_fog_words=100 * hard / word_count)
    assert fog == pytest.approx(grade, abs=0.05)


@pytest.mark.parametrize(("syllables_a_word", "words_a_unit", "ease"), [(2.2, 4, 100), (3.0, 30, 0)])
def test_atesman_gives_its_points_of_calibration(syllables_a_word: float, words_a_unit: float, ease: float) -> None:
    # Source: Ateşman 1997: 2.2 syllables and 4 words are 100, 3.0 syllables and 30 words are 0.
    atesman = value("atesman", syllables_per_word=syllables_a_word, words_per_unit=words_a_unit)
    assert atesman == pytest.approx(ease, abs=0.01)


# Source: McLaughlin's conversion table for 30 sentences: polysyllables and grade.
MCLAUGHLIN = (
    (3, 6, 5),
    (7, 12, 6),
    (13, 20, 7),
    (21, 30, 8),
    (31, 42, 9),
    (43, 56, 10),
    (57, 72, 11),
    (73, 90, 12),
    (91, 110, 13),
    (111, 132, 14),
    (133, 156, 15),
    (157, 182, 16),
)


@pytest.mark.parametrize(("first", "last", "grade"), MCLAUGHLIN)
def test_smog_agrees_with_the_table_of_its_author(first: int, last: int, grade: int) -> None:
    # The table is 3 + the square root rounded. Equation D is above 3 + the root by 0.0430 of the root and 0.1291, and
    # the rounding moves the table by half a grade at most: 1.0430 * sqrt(182) + 3.1291 = 17.20, table 16.
    for polysyllables in (first, last):
        root = math.sqrt(polysyllables)
        assert grade == 3 + math.floor(root + 0.5)
        smog = value("smog", spoken_polysyllables_per_unit=polysyllables / 30)
        assert abs(smog - grade - (0.0430 * root + 0.1291)) <= 0.5


@pytest.mark.parametrize(
    ("words_a_unit", "long_words", "lix"),
    # Source: Björnsson 1983, newspapers: sv 17 + 30, de 22 + 37, en 25 + 27, fi 14 + 58.
    [(17, 30, 47), (22, 37, 59), (25, 27, 52), (14, 58, 72)],
)
def test_lix_is_the_sum_that_bjornsson_printed(words_a_unit: int, long_words: int, lix: int) -> None:
    assert value("lix", words_per_unit=words_a_unit, percent_over_6_letters=long_words) == pytest.approx(lix)


@pytest.mark.parametrize(
    ("name", "measures", "expected"),
    # Worked by hand with the published figures, at 10 words a unit, 2 syllables and 5 letters a word.
    [
        ("szigriszt", {"words_per_unit": 10, "syllables_per_word": 2}, 72.235),  # 206.835 - 124.6 - 10
        ("gulpease", {"units_per_word": 0.1, "letters_per_word": 5}, 69),  # 89 + 30 - 50
        ("wiener-4", {"words_per_unit": 10, "percent_three_syllables": 20}, 6.451),  # 5.488 + 2.656 - 1.693
        ("amstad", {"words_per_unit": 10, "syllables_per_word": 2}, 53),  # 180 - 10 - 117
        ("douma", {"words_per_unit": 10, "syllables_per_word": 2}, 43.5),  # 206.8 - 9.3 - 154
        ("kandel-moles", {"words_per_unit": 10, "syllables_per_word": 2}, 61.5),  # 209 - 11.5 - 136
        ("martins", {"words_per_unit": 10, "syllables_per_word": 2}, 69.485),  # 248.835 - 10.15 - 169.2
        ("fog-pl", {"words_per_unit": 10, "percent_four_syllables": 20}, 12),  # 0.4 * 30
        ("sis", {"words_per_unit": 10, "letters_per_word": 5}, 0.35),  # -17.5 + 5.6 + 12.25
        ("oborneva", {"words_per_unit": 10, "syllables_per_word": 2}, 73.635),  # 206.835 - 13 - 120.2
        ("sinha-hi", {"syllables_per_word": 2, "three_syllables_per_30_units": 50}, 2.44),  # -2.34 + 4.28 + 0.5
        ("sinha-bn", {"syllables_per_word": 2, "three_syllables_per_30_units": 50}, -1.87),  # -5.23 + 2.86 + 0.5
        ("forcast", {"percent_one_syllable": 200 / 3}, 10),  # 100 of 150 words: 20 - 100 / 10
    ],
)
def test_formulas_give_the_values_worked_by_hand(name: str, measures: dict[str, float], expected: float) -> None:
    assert value(name, **measures) == pytest.approx(expected)


def test_formulas_give_what_independent_packages_give(npm_answer: Callable[..., dict[str, Any]]) -> None:
    # Source: the npm packages named after the formulas, given the same counts.
    cases = [
        {"units": 10, "words": 271, "syllables": 367, "letters": 1151, "polysyllables": 20},
        {"units": 7, "words": 157, "syllables": 269, "letters": 790, "polysyllables": 34},
        {"units": 40, "words": 300, "syllables": 330, "letters": 1100, "polysyllables": 0},
    ]
    for case, theirs in zip(cases, npm_answer(cases, [])["values"], strict=True):
        word_count, units = case["words"], case["units"]
        measures = {
            "words_per_unit": word_count / units,
            "units_per_word": units / word_count,
            "syllables_per_word": case["syllables"] / word_count,
            "letters_per_word": case["letters"] / word_count,
            "characters_per_word": case["letters"] / word_count,
            "percent_fog_words": 100 * case["polysyllables"] / word_count,
            "spoken_polysyllables_per_unit": case["polysyllables"] / units,
        }
        assert set(theirs) == {"flesch-kincaid", "flesch-reading-ease", "smog", "fog", "ari", "coleman-liau"}
        for name, expected in theirs.items():
            assert value(name, **measures) == pytest.approx(expected, abs=1e-9), name


def test_a_whole_text_has_the_counts_and_grades_of_independent_packages(
    npm_answer: Callable[..., dict[str, Any]],
) -> None:
    # Source: npm syllable for each word.
    units = [unit.text for unit in split_units(GETTYSBURG)]
    found = [word.text for unit in units for word in words(unit)]
    theirs = npm_answer([], found)["syllables"]
    assert sum(theirs) == pytest.approx(sum(count_syllables(word) or 0 for word in found), abs=3)
    assert sum(one >= 3 for one in theirs) == pytest.approx(20, abs=1)


def test_the_gettysburg_address_has_its_known_scores() -> None:
    # Source: hand count of the Bliss copy and the published formulas. 20 of 271 words have three syllables or more:
    # SMOG 1.0430 * sqrt(30 * 20 / 10) + 3.1291 = 11.21. For Fog we leave out "created" (made long by -ed),
    # "battle-field" (easy words joined) and "Liberty" (a capital letter): 0.4 * (27.1 + 100 * 17 / 271) = 13.35; who
    # takes Liberty for no name has 18 and 13.50. Source: npm automated-readability 12.09, npm coleman-liau 8.04.
    scores = grade_units([unit.text for unit in split_units(GETTYSBURG)], "en").scores
    assert scores["smog"] == pytest.approx(11.21, abs=0.01)
    assert scores["fog"] == pytest.approx(13.35, abs=0.01)
    assert scores["ari"] == pytest.approx(12.09, abs=0.05)
    assert scores["coleman-liau"] == pytest.approx(8.04, abs=0.05)


def test_every_formula_is_whole_and_uses_measures_that_exist() -> None:
    entries = tomllib.loads(FORMULAS_PATH.read_text(encoding="utf-8"))["formula"]
    assert len(entries) == len(all_formulas())
    for formula in all_formulas().values():
        used = {*formula.terms, *([formula.root.measure] if formula.root else [])}
        assert used
        assert used <= set(RATIOS), formula.name
        assert formula.status in {"validated", "indicative"}
        assert formula.scale in {"grade", "school-year", "ease", "difficulty"}
        assert formula.counting in {"flesch", "spoken", "letters", "akshara"}
        assert set(formula.languages) <= known_languages()
        assert formula.source
        assert list(formula.bands) == sorted(formula.bands)


def test_the_formulas_of_english_serve_english_alone() -> None:
    english = {formula.name for formula in formulas_for("en")}
    syllables = {"flesch-kincaid", "flesch-reading-ease", "smog", "fog", "forcast"}
    assert english == {*syllables, "coleman-liau", "ari", "dale-chall-new"}
    for language in known_languages() - {"en"}:
        assert not english & {formula.name for formula in formulas_for(language)}, language
        assert all(formula.scale != "grade" for formula in formulas_for(language)), language
