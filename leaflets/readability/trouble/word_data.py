"""The words that kinds of trouble know, read from the TOML files beside this module when they are first needed."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

_FOLDER = Path(__file__).parent


@dataclass(frozen=True, slots=True)
class OneThing:
    """The names of one thing.

    Attributes:
        id: of its entry in one_name.toml.
        names: each as its words in small letters, in the order in which to prefer them.
        together: pairs of names that may stand in one text.

    """

    id: str
    names: tuple[tuple[str, ...], ...]
    together: frozenset[frozenset[tuple[str, ...]]]


@dataclass(frozen=True, slots=True)
class Participles:
    """What tells a passive from a state; see participles.toml."""

    irregular: frozenset[str]
    states: frozenset[str]
    no_participles: frozenset[str]


@dataclass(frozen=True, slots=True)
class KnownAbbreviations:
    """Abbreviations that need no words, as they are written, and better words by abbreviation in small letters."""

    known: frozenset[str]
    better_words: Mapping[str, str]


def _file(name: str) -> dict[str, Any]:
    return tomllib.loads((_FOLDER / name).read_text(encoding="utf-8"))


def as_words(phrase: str) -> tuple[str, ...]:
    """Return the words of a phrase as a unit has them.

    >>> as_words("ear, nose and throat"), as_words("A&E")
    (('ear', 'nose', 'and', 'throat'), ('a&e',))

    """
    return tuple(phrase.replace(",", "").lower().split())


@cache
def plain_words() -> Mapping[str, tuple[str, ...]]:
    """Return plain words by the hard word or phrase that they stand for, in small letters."""
    groups = _file("plain_words.toml").values()
    return MappingProxyType({hard: tuple(plain) for group in groups for hard, plain in group["words"].items()})


@cache
def plain_phrases() -> Mapping[str, tuple[tuple[tuple[str, ...], str], ...]]:
    """Return the hard words and phrases by their first word in any of its forms: their words, and their entry.

    Of phrases with the same first word the longest stands first.
    """
    found: dict[str, list[tuple[tuple[str, ...], str]]] = {}
    for entry in plain_words():
        first, *rest = as_words(entry)
        forms = regular_forms(first) if not rest else {first}
        last_forms = regular_forms(rest[-1]) if rest else {""}
        for form in forms:
            for last in last_forms:
                phrase = (form, *rest[:-1], last) if rest else (form,)
                found.setdefault(form, []).append((phrase, entry))
    longest_first = {
        first: tuple(sorted(phrases, key=lambda one: (-len(one[0]), one[0]))) for first, phrases in found.items()
    }
    # An entry of its own goes before a form of another one.
    for word in plain_words():
        if word in longest_first:
            longest_first[word] = tuple(sorted(longest_first[word], key=lambda one: (-len(one[0]), one[1] != word)))
    return MappingProxyType(longest_first)


def regular_forms(word: str) -> set[str]:
    """Return a word with its regular English endings, those of a noun and of a verb.

    >>> sorted(regular_forms("modify"))
    ['modified', 'modifies', 'modify', 'modifying']

    """
    if word.endswith("y") and word[-2:-1] not in "aeiou":
        return {word, f"{word[:-1]}ies", f"{word[:-1]}ied", f"{word}ing"}
    if word.endswith("e"):
        return {word, f"{word}s", f"{word}d", f"{word[:-1]}ing"}
    plural = f"{word}es" if word.endswith(("s", "x", "ch", "sh")) else f"{word}s"
    doubled = {f"{word}{word[-1]}ed", f"{word}{word[-1]}ing"} if word[-1] in "ltp" else set()
    return {word, plural, f"{word}ed", f"{word}ing", *doubled}


@cache
def everyday_words() -> frozenset[str]:
    """Return the words of three syllables or more that are no hard words, in small letters."""
    return frozenset(word.lower() for group in _file("everyday_words.toml").values() for word in group["words"].split())


@cache
def names_of_one_thing() -> tuple[OneThing, ...]:
    """Return the things that have more than one name."""
    return tuple(
        OneThing(
            id=name,
            names=tuple(as_words(one) for one in entry["names"]),
            together=frozenset(
                frozenset(as_words(one) for one in pair) for pair in entry.get("may_stand_together", ())
            ),
        )
        for name, entry in _file("one_name.toml").items()
    )


@cache
def participles() -> Participles:
    """Return the participles that are irregular, tell of states, or only look like participles."""
    lists = _file("participles.toml")
    return Participles(*(frozenset(lists[name]["words"].split()) for name in ("irregular", "states", "no-participles")))


@cache
def known_abbreviations() -> KnownAbbreviations:
    """Return the abbreviations that need no words, and those that have better ones."""
    groups = _file("known_abbreviations.toml")
    known = frozenset(word for name in ("everyday", "units", "dates") for word in groups[name]["words"].split())
    better = {word.lower(): plain for word, plain in groups["better-words"]["words"].items()}
    return KnownAbbreviations(known, MappingProxyType(better))
