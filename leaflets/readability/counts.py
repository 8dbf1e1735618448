"""What is counted in the units of a text, and the measures that the formulas ask for.

Each word is counted once and remembered, so that a leaflet costs little more than looking its words up.
"""

import math
import unicodedata
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from itertools import starmap
from types import MappingProxyType
from typing import NamedTuple

from leaflets.readability.languages import long_word_over
from leaflets.readability.segment import Word, WordKind
from leaflets.readability.spoken import spoken_polysyllables
from leaflets.readability.syllables_en import count_syllables
from leaflets.readability.syllables_rules import SPELLED_ALIKE, SYLLABLE_RULES, count_syllables_by_rule

POLYSYLLABLE = 3
"""A word of this many syllables or more is a polysyllable. Source: Gunning 1952 and McLaughlin 1969 count the same."""

LONG_WORD_OVER_LETTERS = 6
"""A word of more letters is long in LIX. Source: Björnsson 1968."""


class Counts(NamedTuple):
    """Counts of a word, a unit, or a text. They add up.

    Attributes:
        words: of every kind.
        addresses: words that are addresses; they have no part in the letters of a text.
        syllables: in Flesch's counting; 1 for a word that could not be counted.
        uncounted: words that have no count of syllables, or none in the script of the language.
        one_syllable: words of one syllable.
        polysyllables: words of `POLYSYLLABLE` syllables or more.
        over_three_syllables: words of four syllables or more.
        fog_words: polysyllables without those that Gunning leaves out; English alone.
        spoken_polysyllables: polysyllables as read aloud; English alone.
        letters: letters of all words but addresses, without combining marks.
        characters: letters and digits.
        over_six_letters: words of more letters than `LONG_WORD_OVER_LETTERS`.
        long_words: words longer than the language's own cut; 0 where it has none.

    """

    words: int
    addresses: int
    syllables: int
    uncounted: int
    one_syllable: int
    polysyllables: int
    over_three_syllables: int
    fog_words: int
    spoken_polysyllables: int
    letters: int
    characters: int
    over_six_letters: int
    long_words: int


NOTHING = Counts(*[0] * 13)


def has_syllables(language: str) -> bool:
    """Whether the syllables of a base language can be counted."""
    return language == "en" or SPELLED_ALIKE.get(language, language) in SYLLABLE_RULES


def syllables_of(word: str, language: str) -> int | None:
    """Syllables of a word of a base language, or None where they cannot be counted.

    >>> syllables_of("microsuction", "en"), syllables_of("odsysanie", "pl"), syllables_of("ear", "ar")
    (4, 4, None)

    """
    return count_syllables(word) if language == "en" else count_syllables_by_rule(word, language)


def count_unit(found: Sequence[Word], language: str) -> Counts:
    """Count the words of one unit of a base language."""
    counted = [_count_word(text, kind, language) for text, _, kind in found]
    if not counted:
        return NOTHING
    first = found[0].text
    if language == "en" and counted[0].polysyllables and first[:1].isupper():
        # A capital letter at the start of a unit does not make a name.
        counted[0] = counted[0]._replace(
            fog_words=_count_word(_uncapitalised(first), found[0].kind, language).fog_words
        )
    return Counts(*map(sum, zip(*counted, strict=True)))


def add(counts: Sequence[Counts]) -> Counts:
    """Add the counts of units."""
    return Counts(*map(sum, zip(*counts, strict=True))) if counts else NOTHING


@lru_cache(maxsize=16384)
def _count_word(text: str, kind: WordKind, language: str) -> Counts:
    english = language == "en"
    is_word = kind == "word"
    # A figure, symbol or address is one syllable. Source: Flesch 1979.
    counted = syllables_of(text, language) if is_word and has_syllables(language) else 1
    syllables = 1 if counted is None else counted
    letters = characters = 0
    if kind != "address":
        letters = sum(map(str.isalpha, text)) if text.isascii() else _letters(text)
        characters = letters + sum(map(str.isdigit, text))
    cut = long_word_over(language)
    polysyllable = is_word and counted is not None and syllables >= POLYSYLLABLE
    return Counts(
        words=1,
        addresses=int(kind == "address"),
        syllables=syllables,
        uncounted=int(counted is None),
        one_syllable=int(syllables == 1),
        polysyllables=int(polysyllable),
        over_three_syllables=int(polysyllable and syllables > POLYSYLLABLE),
        fog_words=int(english and polysyllable and _is_fog_word(text, syllables)),
        spoken_polysyllables=spoken_polysyllables(text, kind) if english else 0,
        letters=letters,
        characters=characters,
        over_six_letters=int(is_word and letters > LONG_WORD_OVER_LETTERS),
        long_words=int(is_word and cut is not None and letters > cut),
    )


def _letters(text: str) -> int:
    return sum(unicodedata.category(character)[0] == "L" for character in unicodedata.normalize("NFC", text))


def _uncapitalised(text: str) -> str:
    return text if text[1:2].isupper() else text[:1].lower() + text[1:]


def _is_fog_word(text: str, syllables: int) -> bool:
    """Whether Gunning counts a polysyllable: no proper name, no joining of easy words, no verb made long by its ending.

    Words joined without a hyphen are counted, since their parts are not told apart surely.
    """
    if text[:1].isupper() and not text.isupper():
        return False
    parts = text.replace("\u2010", "-").replace("\u2011", "-").split("-")
    if len(parts) > 1:
        return any((count_syllables(part) or 1) >= POLYSYLLABLE for part in parts if part)
    if syllables == POLYSYLLABLE and text.endswith(("ed", "es")):
        return not any((count_syllables(text[:-cut]) or 1) < POLYSYLLABLE for cut in (1, 2))
    return True


class Ratio(NamedTuple):
    """A measure: `times` * sum of `top` / sum of `bottom`, over the units of a text."""

    times: float
    top: Callable[[Counts], float]
    bottom: Callable[[Counts], float]


def _one(_: Counts) -> float:
    return 1.0


def _words(counts: Counts) -> float:
    return counts.words


def _lettered(counts: Counts) -> float:
    return counts.words - counts.addresses


RATIOS: Mapping[str, Ratio] = MappingProxyType(
    {
        "words_per_unit": Ratio(1, _words, _one),
        "units_per_word": Ratio(1, _one, _words),
        "syllables_per_word": Ratio(1, lambda counts: counts.syllables, _words),
        "letters_per_word": Ratio(1, lambda counts: counts.letters, _lettered),
        "characters_per_word": Ratio(1, lambda counts: counts.characters, _lettered),
        "percent_one_syllable": Ratio(100, lambda counts: counts.one_syllable, _words),
        "percent_three_syllables": Ratio(100, lambda counts: counts.polysyllables, _words),
        "percent_four_syllables": Ratio(100, lambda counts: counts.over_three_syllables, _words),
        "percent_fog_words": Ratio(100, lambda counts: counts.fog_words, _words),
        "percent_over_6_letters": Ratio(100, lambda counts: counts.over_six_letters, _words),
        "percent_long_words": Ratio(100, lambda counts: counts.long_words, _words),
        "spoken_polysyllables_per_unit": Ratio(1, lambda counts: counts.spoken_polysyllables, _one),
        "three_syllables_per_30_units": Ratio(30, lambda counts: counts.polysyllables, _one),
    }
)
"""By the names that the data of the formulas use."""


class Measures(dict[str, float]):
    """The measures of a text, worked out when they are first asked for. The text has a word in it.

    A text of addresses alone has no letters: 0 letters in a word.
    """

    def __init__(self, units: int, total: Counts) -> None:
        super().__init__()
        self._units, self._total = units, total

    def __missing__(self, name: str) -> float:
        ratio = RATIOS[name]
        top = self._units if ratio.top is _one else ratio.top(self._total)
        bottom = self._units if ratio.bottom is _one else ratio.bottom(self._total)
        value = self[name] = ratio.times * top / bottom if bottom else 0.0
        return value


def standard_error(units: Sequence[Counts], total: Counts, terms: Mapping[str, float]) -> float:
    """Return the standard error of a sum of terms when units are drawn at random; at least two units.

    Each unit's pull on a ratio follows from its derivative (delta method), so that nothing needs to be drawn.
    """
    count = len(units)
    pulls = [0.0] * count
    measures = Measures(count, total)
    for name, weight in terms.items():
        ratio = RATIOS[name]
        bottom = count if ratio.bottom is _one else ratio.bottom(total)
        if not bottom:
            continue
        mean, value = bottom / count, measures[name] / ratio.times
        scale = weight * ratio.times / mean
        tops, bottoms = map(ratio.top, units), map(ratio.bottom, units)
        one_term = starmap(
            lambda top, below, scale=scale, value=value: scale * (top - value * below), zip(tops, bottoms, strict=True)
        )
        pulls = [pull + more for pull, more in zip(pulls, one_term, strict=True)]
    # The pulls add up to 0, so that their squares are the squared deviations already.
    return math.sqrt(sum(pull * pull for pull in pulls) / (count - 1) / count)
