"""What is one letter to a child who reads a language: the cells of a word search.

A letter is a grapheme cluster (UAX #29, by the package `regex`), and besides:

- a conjunct stays whole in every script: GB9c of UAX #29 keeps Bengali conjuncts, and not those of Gurmukhi;
- letters of more than one character in the table are one letter: Welsh ch, dd, ff, ng, ll, ph, rh, th. Where the two
  are letters of their own (Welsh Ban-gor), a combining grapheme joiner U+034F between them says so, as in the Unicode
  Standard, section 23.2 (from memory); it is not printed;
- Latin letters are capitals, a digraph wholly (CH). Title case (Ch) is for a capitalised word, and Unicode has single
  characters in title case for four digraphs only, none of them Welsh. No language of the table has casing rules of its
  own in Unicode's SpecialCasing.txt, as Turkish, Azeri and Lithuanian have;
- Arabic and Urdu words are written without vowel marks and shadda, as mostly in print: common practice, no source.
"""

import tomllib
import unicodedata
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import regex

from leaflets.cldr import is_known, is_right_to_left
from leaflets.errors import LeafletError, did_you_mean

LETTERS_PATH = Path(__file__).with_name("letters.toml")

_KEEPS_APART = "\u034f"
_WITHOUT_SIGHT_IN_ARABIC = "\u200c\u200d"
_CONJOINS = 9  # the canonical combining class of a virama


@dataclass(frozen=True)
class Alphabet:
    """The letters of a language.

    Attributes:
        language: the base language, without its region.
        script: the Unicode name of its script.
        letters: its own letters, as they are printed in a grid (capitals, where the script has them).
        joined: those of more than one grapheme cluster that are one letter, the longest first.
        instead: letters of other languages, and the letter of this one that looks like it.
        right_to_left: whether it is written from right to left.

    """

    language: str
    script: str
    letters: tuple[str, ...]
    joined: tuple[tuple[str, ...], ...]
    instead: tuple[tuple[str, str], ...]
    right_to_left: bool


@cache
def alphabet(language: str) -> Alphabet:
    """Return the letters of a language, by its BCP 47 tag; those of the base language serve every region.

    Raises:
        LeafletError: the language is unknown, or its letters are not in letters.toml.

    >>> alphabet("cy").letters[:5]
    ('A', 'B', 'C', 'CH', 'D')

    """
    table = tomllib.loads(LETTERS_PATH.read_text("utf-8"))
    base = language.split("-", maxsplit=1)[0]
    if base not in table or not is_known(language):
        hint = f"add it to {LETTERS_PATH.name}, or choose another: {did_you_mean(language, table)}"
        raise LeafletError.at("word search [language]", f"the letters of {language!r} are not known", hint)
    known = table[base]
    letters = tuple(_plain(letter, known["script"]) for letter in known["letters"].split())
    clusters = [tuple(_clusters(letter)) for letter in letters]
    return Alphabet(
        language=base,
        script=known["script"],
        letters=letters,
        joined=tuple(sorted((parts for parts in clusters if len(parts) > 1), key=len, reverse=True)),
        instead=tuple((_plain(other, known["script"]), own) for other, own in known.get("instead", {}).items()),
        right_to_left=is_right_to_left(language),
    )


def letters_of(word: str, alphabet: Alphabet) -> tuple[str, ...]:
    """Return a word's letters as they are printed in a grid.

    Raises:
        ValueError: what in the word is no letter of the language, for whoever knows the word's place.

    >>> letters_of("chwyddo", alphabet("cy")), letters_of("ਗ੍ਰੋਮੈਟ", alphabet("pa"))
    (('CH', 'W', 'Y', 'DD', 'O'), ('ਗ੍ਰੋ', 'ਮੈ', 'ਟ'))

    """
    plain = _plain(word, alphabet.script)
    other = next(((other, own) for other, own in alphabet.instead if other in plain), None)
    if other:
        raise ValueError(
            f"has {other[0]!r} (U+{ord(other[0]):04X}), which looks like {other[1]!r} (U+{ord(other[1]):04X})"
        )
    clusters = _clusters(plain)
    one_letter = regex.compile(rf"(?=\p{{L}})[\p{{Script={alphabet.script}}}\p{{M}}\u034f\u200c\u200d]+")
    stranger = next((cluster for cluster in clusters if not one_letter.fullmatch(cluster)), None)
    if stranger is not None:
        raise ValueError(f"has {stranger!r}, which is no {alphabet.script} letter")
    letters: list[str] = []
    while clusters:
        joined = next((parts for parts in alphabet.joined if tuple(clusters[: len(parts)]) == parts), None)
        count = len(joined) if joined else 1
        letters.append("".join(clusters[:count]).replace(_KEEPS_APART, ""))
        clusters = clusters[count:]
    return tuple(letters)


def without_marks(text: str, alphabet: Alphabet) -> str:
    """Return a text in Latin letters without the marks on them, and any other as it is, where a mark is a vowel.

    >>> without_marks("GÊN", alphabet("cy"))
    'GEN'

    """
    if alphabet.script != "Latin":
        return text
    apart = unicodedata.normalize("NFD", text)
    return "".join(character for character in apart if not unicodedata.combining(character))


def _plain(text: str, script: str) -> str:
    plain = unicodedata.normalize("NFC", text.upper())
    if script != "Arabic":
        return plain
    return "".join(
        character
        for character in plain
        if unicodedata.category(character) != "Mn" and character not in _WITHOUT_SIGHT_IN_ARABIC
    )


def _clusters(text: str) -> list[str]:
    """Return the grapheme clusters, each joined to the next where it ends in a virama."""
    clusters: list[str] = []
    for cluster in regex.findall(r"\X", text):
        if clusters and unicodedata.combining(clusters[-1].rstrip("\u200d")[-1:] or " ") == _CONJOINS:
            clusters[-1] += cluster
        else:
            clusters.append(cluster)
    return clusters
