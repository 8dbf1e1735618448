"""Readability formulas, each for its own languages, from measures of a text. The figures are data: formulas.toml."""

import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any, Literal, NamedTuple

Status = Literal["validated", "indicative", "none"]
Scale = Literal["grade", "school-year", "ease", "difficulty"]

FORMULAS_PATH = Path(__file__).with_name("formulas.toml")
FLESCH_KINCAID = "flesch-kincaid"
FLESCH_READING_EASE = "flesch-reading-ease"


class Root(NamedTuple):
    """A part of a formula: `coefficient` * square root of (`times` * the measure)."""

    measure: str
    times: float
    coefficient: float


@dataclass(frozen=True, slots=True)
class Formula:
    """One formula.

    Attributes:
        name: as in reports.
        languages: base languages that it holds for.
        status: "validated" or "indicative"; `status_for` knows languages where it differs.
        scale: "grade" of a US school, "school-year" of the language's own country, "ease" (higher is easier), or
            "difficulty" (higher is harder).
        counting: the convention of its counts: "flesch", "spoken", "letters" or "akshara".
        constant: what is added to the terms.
        terms: factor by measure.
        root: None where the formula has no square root.
        bands: least value and words, lowest first; empty where none are published.
        bands_for: the languages that the bands were made for.
        needs_word_list: whether it must be left out where `familiar_words.listed_words` has none.
        note: what must be said with the value. Empty: nothing.
        units_for_validity: fewer units make the value invalid by its author's own word; 0: no such number.
        words_for_validity: as units.
        source: who published it, and where it was read.

    """

    name: str
    languages: tuple[str, ...]
    status: Status
    scale: Scale
    counting: str
    constant: float
    terms: Mapping[str, float]
    root: Root | None
    bands: tuple[tuple[float, str], ...]
    bands_for: tuple[str, ...]
    needs_word_list: bool
    note: str
    units_for_validity: int
    words_for_validity: int
    source: str
    status_by_language: Mapping[str, Status]

    def value(self, measures: Mapping[str, float]) -> float:
        """Return the value for the measures of a text, as `counts.Measures` gives them."""
        value = self.constant
        for measure, factor in self.terms.items():
            value += factor * measures[measure]
        if self.root:
            value += self.root.coefficient * math.sqrt(self.root.times * measures[self.root.measure])
        return value

    def status_for(self, language: str) -> Status:
        """Return the status for a base language."""
        return self.status_by_language.get(language, self.status)

    def band(self, value: float, language: str) -> str | None:
        """Return the words for a value in a base language. None: nobody published any."""
        if language not in self.bands_for:
            return None
        reached = [words for least, words in self.bands if value >= least]
        return reached[-1] if reached else self.bands[0][1] if self.bands else None


def _formula(entry: dict[str, Any]) -> Formula:
    root = entry.get("root")
    languages = tuple(entry["languages"])
    return Formula(
        name=entry["name"],
        languages=languages,
        status=entry["status"],
        scale=entry["scale"],
        counting=entry["counting"],
        constant=entry["constant"],
        terms=MappingProxyType(entry.get("terms", {})),
        root=Root(**root) if root else None,
        bands=tuple((float(least), words) for least, words in entry.get("bands", ())),
        bands_for=tuple(entry.get("bands_for", languages)),
        needs_word_list=entry.get("needs_word_list", False),
        note=entry.get("note", ""),
        units_for_validity=entry.get("units_for_validity", 0),
        words_for_validity=entry.get("words_for_validity", 0),
        source=entry["source"],
        status_by_language=MappingProxyType(entry.get("status_by_language", {})),
    )


@cache
def all_formulas() -> Mapping[str, Formula]:
    """Return every formula by its name."""
    entries = tomllib.loads(FORMULAS_PATH.read_text(encoding="utf-8"))["formula"]
    return MappingProxyType({entry["name"]: _formula(entry) for entry in entries})


@cache
def formulas_for(language: str) -> tuple[Formula, ...]:
    """Return the formulas of a base language, the main one first; none of another language among them.

    >>> [formula.name for formula in formulas_for("de")], formulas_for("uk")
    (['wiener-4', 'amstad', 'lix'], ())

    """
    return tuple(formula for formula in all_formulas().values() if language in formula.languages)


def flesch_kincaid(words: int, sentences: int, syllables: int) -> float:
    """Grade of a US school that the text suits; below 0 for the easiest texts. For English, in Flesch's counting.

    Raises ValueError where there is no word or no sentence.

    >>> round(flesch_kincaid(words=271, sentences=10, syllables=367), 2)
    10.96

    """
    return _from_counts(FLESCH_KINCAID, words, sentences, syllables)


def flesch_reading_ease(words: int, sentences: int, syllables: int) -> float:
    """Ease of reading, from about 0 (very hard) to 100 (very easy), with values beyond both. For English.

    Raises ValueError where there is no word or no sentence.

    >>> round(flesch_reading_ease(words=271, sentences=10, syllables=367), 2)
    64.76

    """
    return _from_counts(FLESCH_READING_EASE, words, sentences, syllables)


def _from_counts(name: str, words: int, sentences: int, syllables: int) -> float:
    if words < 1 or sentences < 1:
        raise ValueError(f"no formula holds for {words} words in {sentences} sentences")
    measures = {"words_per_unit": words / sentences, "syllables_per_word": syllables / words}
    return all_formulas()[name].value(measures)
