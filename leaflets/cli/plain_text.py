"""A plain text of anyone's own: its language, its units, its grade, and the words that make it hard."""

from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from leaflets import cldr
from leaflets.errors import LeafletError
from leaflets.readability.report import Report, grade_units, hard_words
from leaflets.readability.segment import Span, base_language, split_units, words
from leaflets.records import shown

LONGEST_UNIT_WORDS = 20
"""More words than this in a sentence or list item are too many. Source: as for readability.unit-words-up-to."""

_LONG_UNIT = "READ10"
_HARD_WORD = "READ11"


@dataclass(frozen=True)
class TextReport:
    """A report of a text, with the units that it rests on."""

    report: Report
    units: tuple[Span, ...]


@dataclass(frozen=True)
class Trouble:
    """One thing that makes a unit hard. `unit`: its index; `start`, `end`: characters in it; `weight`: how bad."""

    code: str
    unit: int
    start: int
    end: int
    message: str
    hint: str
    weight: float


def grade_text(text: str, language: str) -> TextReport:
    """Grade a text. A line that starts with # is a heading, and is left out.

    Raises:
        LeafletError: the language is not known; with the nearest that are.

    """
    base = base_language(language)
    known = cldr.known_languages()
    if base not in known:
        near = get_close_matches(base, known, n=3, cutoff=0.4)
        hint = f"did you mean {', '.join(near)}?" if near else "give its BCP 47 tag, such as en, pl or ur"
        raise LeafletError.at("--language", f"{shown(language)} is not a language that is known", hint)
    prose = "\n".join(" " * len(line) if line.lstrip().startswith("#") else line for line in text.split("\n"))
    units = split_units(prose, language)
    return TextReport(grade_units([unit.text for unit in units], language), units)


def find_trouble(units: Sequence[str], language: str) -> tuple[Trouble, ...]:
    """Find long units, and in English hard words, worst first; each hard word where it first stands."""
    found: list[Trouble] = []
    seen: set[str] = set()
    for index, unit in enumerate(units):
        length = len(words(unit))
        if length > LONGEST_UNIT_WORDS:
            hint = f"make two sentences of it: {LONGEST_UNIT_WORDS} words are the most"
            found.append(Trouble(_LONG_UNIT, index, 0, len(unit), f"{length} words in one sentence", hint, length))
        if base_language(language) != "en":
            continue
        for word in hard_words(unit):
            if word.text.casefold() not in seen:
                seen.add(word.text.casefold())
                message = f"“{word.text}” has {word.syllables} syllables"
                hint = "use a shorter word, or say what it means"
                end = word.start + len(word.text)
                found.append(Trouble(_HARD_WORD, index, word.start, end, message, hint, word.syllables))
    return tuple(sorted(found, key=lambda one: (-one.weight, one.unit, one.start)))
