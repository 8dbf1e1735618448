"""Draws from a seed that come out the same on every machine and in every version of Python.

`random.Random` will not do. Its documentation (library/random, Notes on Reproducibility) promises that `random()` goes
on giving the same numbers from the same seed, and says that its other algorithms, so `shuffle`, `choice` and
`randrange`, are subject to change. SHA-256 (FIPS 180-4) is not.
"""

import hashlib
import unicodedata
from collections.abc import Iterator, Sequence
from typing import TypeVar

from leaflets.errors import LeafletError

_BYTES_A_NUMBER = 8
_NUMBERS = 1 << (8 * _BYTES_A_NUMBER)

Drawn = TypeVar("Drawn")


class Draws:
    """Numbers drawn one after another, fixed by what they are for and by a seed.

    The numbers are those of SHA-256 over the UTF-8 text `purpose, line feed, block, line feed, seed`, for the blocks
    0, 1, 2 and so on: four numbers of eight bytes a block, the first byte the highest.
    """

    def __init__(self, purpose: str, seed: str | int) -> None:
        self._start = purpose
        self._seed = seed_text(purpose, seed)
        self._numbers = self._all_numbers()

    def below(self, bound: int) -> int:
        """Draw a whole number from 0 up to, without, a bound of at least 1; each is equally likely."""
        even = _NUMBERS - _NUMBERS % bound
        return next(number for number in self._numbers if number < even) % bound

    def one_of(self, things: Sequence[Drawn]) -> Drawn:
        """Draw one of one or more things."""
        return things[self.below(len(things))]

    def _all_numbers(self) -> Iterator[int]:
        block = 0
        while True:
            digest = hashlib.sha256(f"{self._start}\n{block}\n{self._seed}".encode()).digest()
            for start in range(0, len(digest), _BYTES_A_NUMBER):
                yield int.from_bytes(digest[start : start + _BYTES_A_NUMBER], "big")
            block += 1


def seed_text(place: str, seed: str | int) -> str:
    """Return a seed as text: a number is the same seed as its figures, composed letters the same as decomposed ones.

    Raises:
        LeafletError: neither a text nor a whole number, a text without anything to see, or half a character.

    >>> seed_text("word search", 7) == seed_text("word search", "7")
    True

    """
    if isinstance(seed, bool) or not isinstance(seed, str | int):
        raise LeafletError.at(
            f"{place} [seed]", "is neither a text nor a whole number", "give one, such as a class's name"
        )
    text = unicodedata.normalize("NFC", str(seed))
    if not text.strip():
        raise LeafletError.at(f"{place} [seed]", "is empty", "give a text or a whole number, such as a class's name")
    if any(unicodedata.category(character) == "Cs" for character in text):
        raise LeafletError.at(f"{place} [seed]", "has half a character in it", "type it again")
    return text
