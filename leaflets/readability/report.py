"""How hard the units of a leaflet are to read, how sure that is, and the long words in each unit."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from leaflets.readability.formulas import FLESCH_KINCAID, flesch_kincaid, flesch_reading_ease
from leaflets.readability.segment import Word, base_language, words
from leaflets.readability.syllables_en import count_syllables

Status = Literal["validated", "indicative", "none"]

FEWEST_UNITS = 10
"""Under this number of units no grade is given. Source: SMOG's own least number of sentences, taken over."""

HARD_WORD_SYLLABLES = 3
"""A word of this many syllables or more is pointed at. Source: Gunning 1952 and McLaughlin 1969 count the same."""

# One foreign name in a leaflet must not take the grade away; a text in another script must. Our own choice.
_LARGEST_UNCOUNTED_SHARE = 0.05
_GRADE_TO_AGE_YEARS = 5
_YOUNGEST_AGE_YEARS = 5
_TWO_SIDED_95_PERCENT = 1.959964  # quantile 0.975 of the normal distribution


@dataclass(frozen=True, slots=True)
class HardWord:
    """A word of three syllables or more: what to change first, or to explain.

    Attributes:
        text: as it is written.
        start: its place in the unit, in characters from 0.
        syllables: at least `HARD_WORD_SYLLABLES`.

    """

    text: str
    start: int
    syllables: int


@dataclass(frozen=True, slots=True)
class UnitRecord:
    """The counts of one sentence or list item.

    Attributes:
        text: the unit as it was given.
        words: at least 1.
        syllables: in Flesch's counting. None: no count exists for the language.
        hard_words: in the order of the text. None: as for syllables; empty: there is none.

    """

    text: str
    words: int
    syllables: int | None
    hard_words: tuple[HardWord, ...] | None


@dataclass(frozen=True, slots=True)
class Report:
    """The grade of a text and what it rests on.

    Attributes:
        language: the BCP 47 tag that was given.
        formula: the name of the formula. None: there is none for the language.
        status: "validated" for the language, "indicative", or "none" where no grade can be given at all.
        counting: the convention of the counts, "flesch": a figure, abbreviation, symbol or address is one syllable,
            the shorter of two pronunciations counts. None where there is no formula.
        words: all words of all units.
        sentences: units with a word in them; a sentence and a list item are one each.
        syllables: None where no count exists for the language.
        grade: US school grade. None: no formula, under `FEWEST_UNITS` units, or over one word in twenty that cannot
            be counted because it is not in Latin letters.
        low: lower end of the 95 % interval of the grade, as far as this short text can tell it; None as for grade.
        high: its upper end.
        reading_age_years: grade, rounded, plus 5, at least 5: a British convention, not a measured age. None as for
            grade.
        reading_ease: Flesch's figure, about 0 to 100, higher is easier. None as for grade.
        units: each unit with a word in it, in order.

    """

    language: str
    formula: str | None
    status: Status
    counting: str | None
    words: int
    sentences: int
    syllables: int | None
    grade: float | None
    low: float | None
    high: float | None
    reading_age_years: int | None
    reading_ease: float | None
    units: tuple[UnitRecord, ...]


def grade_units(units: Sequence[str], language: str) -> Report:
    """Grade the sentences and list items of a text.

    Headings, contact lines, dates and signature lines are left out by the caller, as the formula's author asks. Each
    unit counts as one sentence whatever stands in it: `split_units` makes units of running text. English ("en",
    "en-GB", "en_GB") has a formula; no other language is ever measured with the English one.

    >>> report = grade_units(["Keep your ear dry."] * 10, "en-GB")
    >>> report.words, report.sentences, report.syllables, round(report.grade, 2), report.reading_age_years
    (40, 10, 40, -2.23, 5)
    >>> grade_units(["Utrzymuj ucho w suchości."] * 10, "pl").grade is None
    True

    """
    tokens = [(text, found) for text in units if (found := words(text))]
    if base_language(language) == "en":
        return _english_report(tokens, language)
    records = tuple(UnitRecord(text, len(found), None, None) for text, found in tokens)
    return Report(
        language=language,
        formula=None,
        status="none",
        counting=None,
        words=sum(record.words for record in records),
        sentences=len(records),
        syllables=None,
        grade=None,
        low=None,
        high=None,
        reading_age_years=None,
        reading_ease=None,
        units=records,
    )


def hard_words(unit: str) -> tuple[HardWord, ...]:
    """Return the words of an English unit that have three syllables or more, in order.

    >>> [word.text for word in hard_words("Microsuction is gentle.")]
    ['Microsuction']

    """
    return _count_unit(words(unit))[1]


def _english_report(tokens: list[tuple[str, tuple[Word, ...]]], language: str) -> Report:
    records: list[UnitRecord] = []
    uncounted = 0
    for text, found in tokens:
        syllables, hard, unit_uncounted = _count_unit(found)
        uncounted += unit_uncounted
        records.append(UnitRecord(text, len(found), syllables, hard))
    word_count = sum(record.words for record in records)
    syllable_counts = [record.syllables or 0 for record in records]
    syllable_count = sum(syllable_counts)
    grade = low = high = ease = None
    if len(records) >= FEWEST_UNITS and uncounted <= _LARGEST_UNCOUNTED_SHARE * word_count:
        grade = flesch_kincaid(word_count, len(records), syllable_count)
        ease = flesch_reading_ease(word_count, len(records), syllable_count)
        margin = _TWO_SIDED_95_PERCENT * _standard_error([record.words for record in records], syllable_counts)
        low, high = grade - margin, grade + margin
    return Report(
        language=language,
        formula=FLESCH_KINCAID,
        status="validated",
        counting="flesch",
        words=word_count,
        sentences=len(records),
        syllables=syllable_count,
        grade=grade,
        low=low,
        high=high,
        reading_age_years=None if grade is None else _reading_age_years(grade),
        reading_ease=ease,
        units=tuple(records),
    )


def _count_unit(found: tuple[Word, ...]) -> tuple[int, tuple[HardWord, ...], int]:
    """Return the syllables, the hard words, and the number of words that have no English count."""
    total = uncounted = 0
    hard: list[HardWord] = []
    for text, start, kind in found:
        syllables = count_syllables(text) if kind == "word" else 1
        if syllables is None:
            uncounted += 1
            syllables = 1
        elif syllables >= HARD_WORD_SYLLABLES:
            hard.append(HardWord(text, start, syllables))
        total += syllables
    return total, tuple(hard), uncounted


def _standard_error(unit_words: list[int], unit_syllables: list[int]) -> float:
    """Return the standard error of the Flesch-Kincaid grade when units are drawn at random.

    The grade is 0.39 W/S + 11.8 Y/W; each unit's pull on it follows from the derivative of the two ratios (delta
    method), so that nothing needs to be drawn.
    """
    count = len(unit_words)
    mean_words = sum(unit_words) / count
    syllables_a_word = sum(unit_syllables) / sum(unit_words)
    pulls = [
        0.39 * (word_count - mean_words) + 11.8 * (syllable_count - syllables_a_word * word_count) / mean_words
        for word_count, syllable_count in zip(unit_words, unit_syllables, strict=True)
    ]
    # The pulls add up to 0, so that their squares are the squared deviations already.
    return math.sqrt(sum(pull * pull for pull in pulls) / (count - 1) / count)


def _reading_age_years(grade: float) -> int:
    # Half a grade rounds up: a text is never said to be easier than it is.
    return max(_YOUNGEST_AGE_YEARS, math.floor(grade + 0.5) + _GRADE_TO_AGE_YEARS)
