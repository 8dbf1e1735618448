"""What is counted in the units of a text, and the measures that the formulas ask for.

Each piece of text between two spaces is counted once and remembered, so that a leaflet costs little more than looking
its pieces up and adding.
"""

import math
import struct
import unicodedata
from collections.abc import Callable, Mapping, Sequence
from functools import cache, lru_cache
from types import MappingProxyType
from typing import NamedTuple

from leaflets.readability.familiar_words import is_familiar, listed_words
from leaflets.readability.languages import long_word_over
from leaflets.readability.segment import Word, WordKind, words
from leaflets.readability.spoken import spoken_polysyllables
from leaflets.readability.syllables_en import count_syllables

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
        unfamiliar: words that `familiar_words` does not hold for familiar; English alone, and 0 where it has no list.

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
    unfamiliar: int = 0


NOTHING = Counts(*[0] * 13)

# The counts of a piece or unit as one whole number, 32 bits for each field: adding two of them adds every field.
_FIELDS = struct.Struct(f"<{len(Counts._fields)}I")
_LONGEST_REMEMBERED_PIECE = 100
_MOST_REMEMBERED_PIECES = 16384


@cache
def has_syllables(language: str) -> bool:
    """Whether the syllables of a base language can be counted."""
    if language == "en":
        return True
    from leaflets.readability.syllables_rules import SPELLED_ALIKE, SYLLABLE_RULES  # noqa: PLC0415 - not for English

    return SPELLED_ALIKE.get(language, language) in SYLLABLE_RULES


def syllables_of(word: str, language: str) -> int | None:
    """Syllables of a word of a base language, or None where they cannot be counted.

    >>> syllables_of("microsuction", "en"), syllables_of("odsysanie", "pl"), syllables_of("ear", "ar")
    (4, 4, None)

    """
    if language == "en":
        return count_syllables(word)
    from leaflets.readability.syllables_rules import count_syllables_by_rule  # noqa: PLC0415 - not for English

    return count_syllables_by_rule(word, language)


def count_unit(found: Sequence[Word], language: str) -> Counts:
    """Count the words of one unit of a base language."""
    return _count_words(found, language, opens_unit=True)


def count_units(texts: Sequence[str], language: str) -> tuple[list[tuple[str, Counts]], Counts]:
    """Return each unit of a base language that has a word in it, with its counts, and the counts of all.

    The same as `count_unit` of the `words` of each: no word goes on over a space.

    >>> units, total = count_units(["Keep it dry.", "--"], "en")
    >>> len(units), total == units[0][1], total.words
    (1, True, 3)

    """
    opening, following = _remembered(language)
    counted: list[tuple[str, Counts]] = []
    packed_total = 0
    for text in texts:
        pieces = iter(text.split())
        packed = 0
        for piece in pieces:
            if packed := opening[piece]:
                break  # the first word is found
        if packed:
            packed += sum(map(following.__getitem__, pieces))
            packed_total += packed
            counted.append((text, _unpacked(packed)))
    return counted, _unpacked(packed_total)


class _RememberedCounts(dict[str, int]):
    """The packed counts of pieces of text, each worked out when it is first asked for. A piece without a word has 0."""

    def __init__(self, language: str, *, opens_unit: bool) -> None:
        super().__init__()
        self._language, self._opens_unit = language, opens_unit

    def __missing__(self, piece: str) -> int:
        counts = _count_words(words(piece), self._language, opens_unit=self._opens_unit)
        packed = int.from_bytes(_FIELDS.pack(*counts), "little")
        if len(piece) <= _LONGEST_REMEMBERED_PIECE:
            if len(self) >= _MOST_REMEMBERED_PIECES:
                self.clear()
            self[piece] = packed
        return packed


@lru_cache(maxsize=64)
def _remembered(language: str) -> tuple[_RememberedCounts, _RememberedCounts]:
    """Return the counts of pieces that open a unit, and of those that follow."""
    return _RememberedCounts(language, opens_unit=True), _RememberedCounts(language, opens_unit=False)


def _unpacked(packed: int) -> Counts:
    return Counts(*_FIELDS.unpack(packed.to_bytes(_FIELDS.size, "little")))


def add(counts: Sequence[Counts]) -> Counts:
    """Add the counts of units."""
    return Counts(*map(sum, zip(*counts, strict=True))) if counts else NOTHING


def _count_words(found: Sequence[Word], language: str, *, opens_unit: bool) -> Counts:
    counted = [_count_word(text, kind, language) for text, _, kind in found]
    if opens_unit and counted and language == "en":
        text, _, kind = found[0]
        if text != (small := _uncapitalised(text)):
            # A capital letter at the start of a unit does not make a name.
            as_within = _count_word(small, kind, language)
            counted[0] = counted[0]._replace(fog_words=as_within.fog_words, unfamiliar=as_within.unfamiliar)
    return counted[0] if len(counted) == 1 else add(counted)


def _count_word(text: str, kind: WordKind, language: str) -> Counts:
    english = language == "en"
    listed = listed_words() if english else None
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
        unfamiliar=int(listed is not None and not is_familiar(text, kind, listed)),
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
        "percent_unfamiliar": Ratio(100, lambda counts: counts.unfamiliar, _words),
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
        times, top, below = RATIOS[name]
        bottom = count if below is _one else below(total)
        if bottom:
            scale, value = weight * times * count / bottom, measures[name] / times
            pulls = [pull + scale * (top(unit) - value * below(unit)) for pull, unit in zip(pulls, units, strict=True)]
    # The pulls add up to 0, so that their squares are the squared deviations already.
    return math.sqrt(sum(pull * pull for pull in pulls) / (count - 1) / count)
