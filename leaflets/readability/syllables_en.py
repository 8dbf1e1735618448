"""Syllables of an English word, in Flesch's counting, read the British way.

The order: abbreviations count one; words checked by hand; the table made from the CMU Pronouncing Dictionary; rules.
Source of the counting: Flesch, How to Write Plain English (1979): abbreviations, figures, symbols and their
combinations count as one syllable; of two accepted pronunciations the shorter one counts.
"""

import re
import unicodedata
from functools import cache, lru_cache
from pathlib import Path

from leaflets.readability.syllable_table import SyllableTable, parse_table
from leaflets.readability.syllables_en_rules import estimate, from_letters, plural_or_possessive

TABLE_PATH = Path(__file__).with_name("syllables_en.table")
SUPPLEMENT_PATH = Path(__file__).with_name("syllables_en_supplement.txt")

# Beyond this length nothing is an English word, and looking for its parts would take long.
_LONGEST_WORD = 45

_HYPHENS = re.compile("[-\u2010\u2011]")
_APOSTROPHES = str.maketrans(dict.fromkeys("\u2019\u02bc\uff07", "'"))
_INVISIBLE = dict.fromkeys(map(ord, "\u00ad\u200c\u200d\u2060\ufeff"))
_LETTERS_WITHOUT_ACCENT = str.maketrans(
    {"æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "ß": "ss", "đ": "d", "ð": "th", "þ": "th", "\u0131": "i"}
)
_LATIN = re.compile(r"[a-z']+")
_HAS_VOWEL = re.compile(r"[aeiouy]", re.IGNORECASE)
_DOTTED_OR_JOINED = re.compile(r"[.&]")
_CAPITALS = re.compile(r"([A-Z]{2,6})(?:s|'s|s')?")


def _set(words: str) -> frozenset[str]:
    return frozenset(words.split())


# Abbreviations with a vowel, which could be taken for words; one without a vowel is known by that.
_CAPITAL_ABBREVIATIONS = _set(
    "AED AI AOM BAHA CEO COPD DIY ECG EEG EHIC EMG ENT ER EU FAQ HIV ICU ID IT ITU IU IUD IV MRI MRSA OCD OME OTC PE"
    " PTA STI TIA UAE UK UN URL US USA USB UTI UV VAT"
)
_SMALL_ABBREVIATIONS = _set("am approx eg etc ie incl max min oz pa pm tel vol")


@cache
def _table() -> SyllableTable:
    return parse_table(TABLE_PATH.read_bytes())


@cache
def supplement() -> dict[str, int]:
    """Return the words that were counted by hand, with their syllables."""
    lines = SUPPLEMENT_PATH.read_text(encoding="utf-8").splitlines()
    divided = (line.strip() for line in lines if line.strip() and not line.startswith("#"))
    return {word.replace(".", ""): word.count(".") + 1 for word in divided}


def known_syllables(word: str) -> int | None:
    """Syllables of a word in lower case from the words checked by hand or the table, or None where neither holds it."""
    count = supplement().get(word)
    return _table().get(word) if count is None else count


def is_abbreviation(part: str) -> bool:
    """Whether a word without hyphens is written as an abbreviation.

    >>> [is_abbreviation(part) for part in ("mg", "e.g", "GPs", "MRI", "NOT", "not")]
    [True, True, True, True, False, False]

    """
    if _DOTTED_OR_JOINED.search(part) or not _HAS_VOWEL.search(part) or part.lower() in _SMALL_ABBREVIATIONS:
        return True
    capitals = _CAPITALS.fullmatch(part)
    if capitals is None:
        return False
    letters = capitals[1]
    if letters in _CAPITAL_ABBREVIATIONS or not _HAS_VOWEL.search(letters):
        return True
    word = letters.lower()
    return known_syllables(word) is None and plural_or_possessive(word, known_syllables) is None


def plain_marks(word: str) -> str:
    """Return the word with straight apostrophes, without soft hyphens and other characters that are not seen."""
    return word if word.isascii() else word.translate(_INVISIBLE).translate(_APOSTROPHES)


def _plain_letters(part: str) -> str:
    """Return the part in lower case without accents."""
    small = part.casefold().translate(_LETTERS_WITHOUT_ACCENT)
    if small.isascii():
        return small
    return "".join(c for c in unicodedata.normalize("NFKD", small) if not unicodedata.combining(c))


def _count_part(part: str) -> int | None:
    plain = part.lower() if part.isascii() else _plain_letters(part)
    if not plain.isalpha() and any(character.isdigit() for character in plain):
        return 1
    if not part.isascii():
        return _count_accented(part, plain)
    if is_abbreviation(part):
        return 1
    if len(plain) > _LONGEST_WORD:
        return from_letters(plain)
    count = known_syllables(plain)
    return estimate(plain, known_syllables) if count is None else count


def _count_accented(part: str, plain: str) -> int | None:
    if not _LATIN.fullmatch(plain):
        return None
    count = known_syllables(plain)
    if count is None:
        # An accent on the last e says that it is spoken: "saut\u00e9".
        spoken_end = unicodedata.normalize("NFC", part.casefold()).endswith(("é", "ée", "és"))
        count = from_letters(plain) + (1 if spoken_end and plain.endswith(("e", "es")) else 0)
    return max(1, count)


@lru_cache(maxsize=16384)
def count_syllables(word: str) -> int | None:
    """Count the syllables of one word of an English text, at least 1; a hyphenated word is the sum of its parts.

    None: the word has letters that are not Latin, so that no English count exists.

    >>> [count_syllables(word) for word in ("microsuction", "follow-up", "don\u2019t", "GP")]
    [4, 3, 1, 1]

    """
    total = 0
    for part in _HYPHENS.split(plain_marks(word)):
        if not part:
            continue
        count = _count_part(part)
        if count is None:
            return None
        total += count
    return max(1, total)
