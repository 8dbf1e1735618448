"""What every kind of trouble looks at: the units of a text with their words, and what was found in them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

from leaflets.readability.segment import Word, base_language, words

ENGLISH = "en"
LONGEST_UNIT_WORDS = 20
"""The most words of a unit where no other limit is given.

Source: EU readability guideline 2009 (from memory): 20 words a sentence.
"""

NO_STEMS: Mapping[int, int] = MappingProxyType({})
_OPENS_A_LIST = (":", "\uff1a")

_STRAIGHT = str.maketrans(dict.fromkeys("\u2019\u02bc\uff07", "'"))


@dataclass(frozen=True, slots=True)
class Trouble:
    """One thing that makes a text hard, and what to do about it.

    Attributes:
        code: of its kind, READ10 to READ18.
        unit: index of the unit it stands in, from 0.
        start: where it starts in the unit, in characters from 0.
        end: where it ends; `units[unit][start:end] == words`.
        words: as they are written.
        message: what is hard.
        hint: what to do.
        weight: how bad it is, above 0: 3 may mislead about a dose or a risk, or has no chance to be read; 2 stops a
            reader; 1 slows a reader. A fraction orders what weighs the same. Our own choice.

    """

    code: str
    unit: int
    start: int
    end: int
    words: str
    message: str
    hint: str
    weight: float


@dataclass(frozen=True, slots=True)
class ReadUnit:
    """One sentence or list item with its words.

    Attributes:
        text: as it was given.
        words: as `segment.words` finds them.
        small: the same words in small letters, apostrophes straight.

    """

    text: str
    words: tuple[Word, ...]
    small: tuple[str, ...]

    def span(self, first: int, last: int) -> tuple[int, int]:
        """Return start and end, in characters, of the words from index `first` to index `last`, both included."""
        end = self.words[last]
        return self.words[first].start, end.start + len(end.text)


@dataclass(frozen=True, slots=True)
class Reading:
    """A text as it is looked at.

    Attributes:
        units: in the order of the text.
        language: the base language, as "en" of "en-GB".
        known_terms: terms that the reader is told elsewhere, as in a glossary, in small letters.
        longest_unit_words: the most words that a unit may have. None: no limit is known for the language.
        stems: by the index of an item of a list, the index of the unit that opens the list; empty: no list has one.

    """

    units: tuple[ReadUnit, ...]
    language: str = ENGLISH
    known_terms: frozenset[str] = frozenset()
    longest_unit_words: int | None = LONGEST_UNIT_WORDS
    stems: Mapping[int, int] = field(default_factory=lambda: NO_STEMS)

    def trouble(self, code: str, unit: int, place: tuple[int, int], message: str, hint: str, weight: float) -> Trouble:
        """Return a piece of trouble at `place`, which is its start and end in characters of the unit."""
        start, end = place
        return Trouble(code, unit, start, end, self.units[unit].text[start:end], message, hint, weight)


@dataclass(frozen=True, slots=True)
class Example:
    """A text for which a kind of trouble is found, or is not.

    Attributes:
        name: what it shows.
        units: the text.
        language: BCP 47 tag.
        known_terms: terms that the reader is told elsewhere.
        items: indices of the units that are items of a list.

    """

    name: str
    units: tuple[str, ...]
    language: str = "en-GB"
    known_terms: frozenset[str] = field(default=frozenset())
    items: frozenset[int] = field(default=frozenset())

    @property
    def stems(self) -> Mapping[int, int]:
        """The stems of the items, as `stems_of` returns them."""
        return stems_of(self.units, [index in self.items for index in range(len(self.units))])

    def reading(self) -> Reading:
        """Return the text as it is looked at."""
        return read(self.units, self.language, known_terms=self.known_terms, stems=self.stems)


def stems_of(units: Sequence[str], are_items: Sequence[bool]) -> Mapping[int, int]:
    """Return, by the index of each item of a list, the index of the unit before the list that opens it with a colon.

    >>> dict(stems_of(["Call us if:", "it bleeds", "it hurts", "Rest."], [False, True, True, False]))
    {1: 0, 2: 0}

    """
    stems: dict[int, int] = {}
    stem: int | None = None
    for index, (unit, is_item) in enumerate(zip(units, are_items, strict=True)):
        if not is_item:
            stem = index if unit.rstrip().endswith(_OPENS_A_LIST) else None
        elif stem is not None:
            stems[index] = stem
    return MappingProxyType(stems)


def read(
    units: Sequence[str],
    language: str,
    *,
    known_terms: frozenset[str] = frozenset(),
    longest_unit_words: int | None = LONGEST_UNIT_WORDS,
    stems: Mapping[int, int] = NO_STEMS,
) -> Reading:
    """Return a text as it is looked at; the arguments as the attributes of `Reading`.

    >>> read(["Don\u2019t dig."], "en_GB").units[0].small
    ("don't", 'dig')

    """
    return Reading(
        units=tuple(_read_unit(unit) for unit in units),
        language=base_language(language),
        known_terms=frozenset(in_small_letters(term) for term in known_terms),
        longest_unit_words=longest_unit_words,
        stems=stems,
    )


def word_set(text: str) -> frozenset[str]:
    """Return the words of a text, parted by space, as a set."""
    return frozenset(text.split())


def in_small_letters(text: str) -> str:
    """Return a text in small letters with straight apostrophes."""
    return text.lower() if text.isascii() else text.translate(_STRAIGHT).lower()


def _read_unit(text: str) -> ReadUnit:
    found = words(text)
    return ReadUnit(text, found, tuple([in_small_letters(word.text) for word in found]))
