"""How hard the units of a leaflet are to read, how sure that is, and the long words in each unit."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import NamedTuple

from leaflets.readability.counts import (
    POLYSYLLABLE,
    Counts,
    Measures,
    count_units,
    has_syllables,
    standard_error,
    syllables_of,
)
from leaflets.readability.familiar_words import INSTALL, listed_words
from leaflets.readability.formulas import FLESCH_READING_EASE, Formula, Status, formulas_for
from leaflets.readability.languages import long_word_over, longest_unit_words
from leaflets.readability.segment import base_language, words

FEWEST_UNITS = 10
"""Under this number of units no grade is given. Source: SMOG's own least number of sentences, taken over."""

HARD_WORD_SYLLABLES = POLYSYLLABLE
"""A word of this many syllables or more is pointed at. Source: Gunning 1952 and McLaughlin 1969 count the same."""

# One foreign name in a leaflet must not take the grade away; a text in another script must. Our own choice.
_LARGEST_UNCOUNTED_SHARE = 0.05
_GRADE_TO_AGE_YEARS = 5
_YOUNGEST_AGE_YEARS = 5
_TWO_SIDED_95_PERCENT = 1.959964  # quantile 0.975 of the normal distribution
_LIX_WITH_OWN_CUT = MappingProxyType({"words_per_unit": 1.0, "percent_long_words": 1.0})
_NO_SCORES: Mapping[str, float] = MappingProxyType({})
_NO_BANDS: Mapping[str, str] = MappingProxyType({})


class HardWord(NamedTuple):
    """A word of three syllables or more: what to change first, or to explain.

    Attributes:
        text: as it is written.
        start: its place in the unit, in characters from 0.
        syllables: at least `HARD_WORD_SYLLABLES`.

    """

    text: str
    start: int
    syllables: int


class UnitRecord(NamedTuple):
    """The counts of one sentence or list item.

    Attributes:
        text: the unit as it was given.
        words: at least 1.
        syllables: in Flesch's counting. None: no count exists for the language.
        polysyllables: words of `POLYSYLLABLE` syllables or more; 0 where no count exists.
        language: the base language that it was counted in, as "en".

    """

    text: str
    words: int
    syllables: int | None
    polysyllables: int
    language: str

    @property
    def hard_words(self) -> tuple[HardWord, ...] | None:
        """The hard words in the order of the text, looked for when they are asked for; empty: there is none.

        None: the language is not English, and no number of syllables is known to make a word hard in it.
        """
        if self.language != "en":
            return None
        return hard_words(self.text) if self.polysyllables else ()


@dataclass(frozen=True, slots=True)
class Report:
    """The grade of a text and what it rests on.

    Attributes:
        language: the BCP 47 tag that was given.
        formula: the name of the main formula of the language. None: there is none.
        status: of that formula: "validated" for the language, "indicative", or "none" where there is no formula.
        counting: the convention of its counts. "flesch": a figure, abbreviation, symbol or address is one syllable, the
            shorter of two pronunciations counts; "letters": no syllables; "akshara": written syllables. None where
            there is no formula.
        words: all words of all units.
        sentences: units with a word in them; a sentence and a list item are one each.
        syllables: None where no count exists for the language.
        grade: US school grade, so English alone. None: no formula on that scale, under `FEWEST_UNITS` units, or over
            one word in twenty that cannot be counted because it is not in the letters of the language.
        low: lower end of the 95 % interval of the grade, as far as this short text can tell it; None as for grade.
        high: its upper end.
        reading_age_years: grade, rounded, plus 5, at least 5: a British convention, not a measured age. None as for
            grade.
        reading_ease: Flesch's figure, about 0 to 100, higher is easier. None as for grade.
        units: each unit with a word in it, in order.
        reading_age_range: the same for the two ends of the interval. None as for grade.
        score: the value of the main formula, on its own scale. None: no formula, or as for grade.
        score_low: lower end of its 95 % interval; None as for score.
        score_high: its upper end.
        scores: each formula's value by its name; empty as for score. Two of them are never on one scale but by chance.
        band: the published words for the score. None: there are none, or no score.
        bands: the published words for each of the scores that has any.
        notes: what must be said with the scores, each as "name: words".
        longest_words_cap: words in the longest unit that is plain in this language. None: it was not measured.
        lix_own_cut: words in a unit plus the percentage of long words, by the language's own length of a long word;
            to compare a translation with its source, not for a grade. None: no own length is known, or under
            `FEWEST_UNITS` units.
        relative_lix: `lix_own_cut` less that of the source text; over 0: harder than the source. None: no source was
            given, or one of the two is None.
        frequent_share: share of the words that are among the most frequent of the language, 0 to 1; no grade, and to be
            compared within one language alone. None: the language has a formula or no list of words, under
            `FEWEST_UNITS` units, or over one word in twenty in other letters.

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
    reading_age_range: tuple[int, int] | None = None
    score: float | None = None
    score_low: float | None = None
    score_high: float | None = None
    scores: Mapping[str, float] = field(default_factory=lambda: _NO_SCORES)
    band: str | None = None
    bands: Mapping[str, str] = field(default_factory=lambda: _NO_BANDS)
    notes: tuple[str, ...] = ()
    longest_words_cap: int | None = None
    lix_own_cut: float | None = None
    relative_lix: float | None = None
    frequent_share: float | None = None


def grade_units(units: Sequence[str], language: str, *, source: Report | None = None) -> Report:
    """Grade the sentences and list items of a text.

    Headings, contact lines, dates and signature lines are left out by the caller, as the formula's author asks. Each
    unit counts as one sentence whatever stands in it: `split_units` makes units of running text. A language is measured
    with its own formulas ("en", "en-GB" and "en_GB" are the same) or with none, never with those of another. `source`
    is the report of the text that this one was translated from.

    >>> report = grade_units(["Keep your ear dry."] * 10, "en-GB")
    >>> report.words, report.sentences, report.syllables, round(report.grade, 2), report.reading_age_years
    (40, 10, 40, -2.23, 5)
    >>> report = grade_units(["Тримайте вухо сухим."] * 10, "uk")
    >>> report.status, report.scores, report.longest_words_cap
    ('none', mappingproxy({}), 18)

    """
    base = base_language(language)
    formulas = formulas_for(base)
    counted = has_syllables(base)
    counted_units, total = count_units(units, base)
    counts = [one for _, one in counted_units]
    records = tuple(
        UnitRecord(text, one.words, one.syllables if counted else None, one.polysyllables, base)
        for text, one in counted_units
    )
    enough = len(counts) >= FEWEST_UNITS
    scored = _Scored(formulas, base, counts, total) if formulas and enough and _is_counted(total) else None
    main = formulas[0] if formulas else None
    own_lix = None
    if enough and long_word_over(base) is not None:
        own_lix = sum(Measures(len(counts), total)[name] for name in _LIX_WITH_OWN_CUT)
    on_grade_scale = scored is not None and main is not None and main.scale == "grade"
    grade, low, high = (scored.score, scored.low, scored.high) if scored and on_grade_scale else (None, None, None)
    return Report(
        language=language,
        formula=main.name if main else None,
        status=main.status_for(base) if main else "none",
        counting=main.counting if main else None,
        words=total.words,
        sentences=len(records),
        syllables=total.syllables if counted else None,
        grade=grade,
        low=low,
        high=high,
        reading_age_years=None if grade is None else _reading_age_years(grade),
        reading_ease=scored.scores.get(FLESCH_READING_EASE) if scored else None,
        units=records,
        reading_age_range=None if low is None or high is None else (_reading_age_years(low), _reading_age_years(high)),
        score=scored.score if scored else None,
        score_low=scored.low if scored else None,
        score_high=scored.high if scored else None,
        scores=MappingProxyType(scored.scores) if scored else _NO_SCORES,
        band=scored.bands.get(main.name) if scored and main else None,
        bands=MappingProxyType(scored.bands) if scored else _NO_BANDS,
        notes=scored.notes if scored else (f"no grade exists for '{language}'",) if main is None else (),
        longest_words_cap=longest_unit_words(base),
        lix_own_cut=own_lix,
        relative_lix=None
        if own_lix is None or source is None or source.lix_own_cut is None
        else own_lix - source.lix_own_cut,
        frequent_share=_frequent_share([one.text for one in records], base) if main is None and enough else None,
    )


def _frequent_share(units: Sequence[str], base: str) -> float | None:
    from leaflets.readability.frequent_words import coverage  # noqa: PLC0415 - its lists are for few languages

    found = coverage((words(unit) for unit in units), base)
    if found is None or found.foreign > _LARGEST_UNCOUNTED_SHARE * (found.counted + found.foreign):
        return None
    return found.share


def hard_words(unit: str) -> tuple[HardWord, ...]:
    """Return the words of an English unit that have three syllables or more, in order.

    >>> [word.text for word in hard_words("Microsuction is gentle.")]
    ['Microsuction']

    """
    counted = ((text, start, syllables_of(text, "en")) for text, start, kind in words(unit) if kind == "word")
    return tuple(
        HardWord(text, start, syllables)
        for text, start, syllables in counted
        if syllables is not None and syllables >= HARD_WORD_SYLLABLES
    )


def _is_counted(total: Counts) -> bool:
    return total.uncounted <= _LARGEST_UNCOUNTED_SHARE * total.words


class _Scored:
    """The values of the formulas of one language for a text."""

    def __init__(self, formulas: tuple[Formula, ...], base: str, counts: list[Counts], total: Counts) -> None:
        measures = Measures(len(counts), total)
        main = formulas[0]
        held = [formula for formula in formulas if not _is_left_out(formula)]
        self.scores = {formula.name: formula.value(measures) for formula in held}
        self.score = self.scores[main.name]
        margin = _TWO_SIDED_95_PERCENT * standard_error(counts, total, main.terms)
        self.low, self.high = self.score - margin, self.score + margin
        with_bands = ((formula.name, formula.band(self.scores[formula.name], base)) for formula in held)
        self.bands = {name: band for name, band in with_bands if band is not None}
        self.notes = tuple(note for formula in formulas for note in _notes(formula, len(counts), total.words))


def _is_left_out(formula: Formula) -> bool:
    return formula.needs_word_list and listed_words() is None


def _notes(formula: Formula, units: int, word_count: int) -> list[str]:
    if _is_left_out(formula):
        return [f"{formula.name}: left out, as its list of familiar words is not here: {INSTALL}"]
    notes = [formula.note] if formula.note else []
    if formula.counting == "spoken":
        notes.append("counted as read aloud")
    if units < formula.units_for_validity:
        notes.append(f"under {formula.units_for_validity} units")
    if word_count < formula.words_for_validity:
        notes.append(f"under {formula.words_for_validity} words")
    return [f"{formula.name}: {note}" for note in notes]


def _reading_age_years(grade: float) -> int:
    # Half a grade rounds up: a text is never said to be easier than it is.
    return max(_YOUNGEST_AGE_YEARS, math.floor(grade + 0.5) + _GRADE_TO_AGE_YEARS)
