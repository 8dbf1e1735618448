"""Frequency coverage: how many words of a text are among the most frequent of its language.

For languages that have no readability formula. The lists in frequent_words/ are from wordfreq 3.1.1 by Robyn Speer
(https://github.com/rspeer/wordfreq), whose data are under the Creative Commons Attribution-ShareAlike 4.0 licence
(https://creativecommons.org/licenses/by-sa/4.0/); the lists are under the same licence, and what they rest on stands in
frequent_words/LICENCE.txt. `python -m leaflets.readability.build_frequent_words` makes them.

A coverage is no grade, and no limit was ever published. It depends on the language (in the Declaration of Human Rights
it is 33 % in Tamil and 90 % in Urdu), so compare texts of one language alone; chance moves it by 9 points either way in
a text of 100 words (95 %, at a share of 70 %). wordfreq counts Wikipedia, film subtitles, the web and short messages,
where polite imperatives and words for the body are rarer than with patients: eight easy instructions for the ear have
72 % in the mean of the languages, not far over the 66 % of the Declaration, and less than it in bg, lt, ro and uk.
Everyday sentences have 90 %.
"""

import re
import unicodedata
import zlib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Literal, NamedTuple

from leaflets.readability.segment import Word, base_language

WORDS_PER_LIST = 3000
"""Words in the list of each language: a choice of our own between 2000, 3000 and 5000.

Measured in the 13 languages on the Universal Declaration of Human Rights and on eight everyday sentences each, of about
37 words: the mean share is 61, 66 and 71 % in the Declaration, 87, 90 and 95 % in the sentences. So all three tell the
two apart alike, by 25, 24 and 24 points. 2000 calls more everyday words rare; with 5000 the sentences reach 97 to 100 %
in six languages, so that nothing can be told above them, and the lists are two thirds larger (202 for 123 kB).
"""

_FOLDER = "frequent_words"


class _Writing(NamedTuple):
    """How wordfreq normalises the words of a script, which the look-up must repeat.

    Attributes:
        letters: those of the script after normalising, as ranges of a regular expression's character class.
        normal_form: of Unicode.
        without_marks: non-spacing marks (Arabic vowel signs) and the tatweel, which only stretches, are left out.

    """

    letters: str
    normal_form: Literal["NFC", "NFKC"]
    without_marks: bool = False


_LATIN = _Writing("a-z\u00df-\u00f6\u00f8-\u024f\u1e00-\u1eff", "NFC")
_CYRILLIC = _Writing("\u0400-\u052f", "NFC")
_GREEK = _Writing("\u0370-\u03ff\u1f00-\u1fff", "NFC")
_ARABIC = _Writing(
    "\u0620-\u064a\u066e-\u06d3\u06d5\u06ee\u06ef\u06fa-\u06ff\u0750-\u077f\u0870-\u08c9", "NFKC", without_marks=True
)
_TAMIL = _Writing("\u0b83-\u0bb9", "NFKC")

_WRITINGS = MappingProxyType(
    {
        "ar": _ARABIC,
        "bg": _CYRILLIC,
        "cs": _LATIN,
        "el": _GREEK,
        "fa": _ARABIC,
        "fi": _LATIN,
        "hu": _LATIN,
        "lt": _LATIN,
        "ro": _LATIN,
        "sk": _LATIN,
        "ta": _TAMIL,
        "uk": _CYRILLIC,
        "ur": _ARABIC,
    }
)

LANGUAGES_WITH_LIST = frozenset(_WRITINGS)
"""The base languages that have a list."""

_TATWEEL = "\u0640"
_APOSTROPHES = re.compile("[\u02bc\u2018-\u201b]")
_NOT_SEEN = re.compile("[\u00ad\u2060]|[\u200c\u200d]+$")
_BETWEEN_PARTS = re.compile(r"[\s\-\u2010\u2011\u05be]+")
_CEDILLAS_TO_COMMAS = str.maketrans("\u015f\u0163", "\u0219\u021b")


@dataclass(frozen=True, slots=True)
class Coverage:
    """How many words of a text are frequent ones.

    Attributes:
        common: words that are in the list; 0 to `counted`.
        counted: words that were looked up, at least 1.
        foreign: words that were not, because they have no letter of the script of the language, as a name in Latin
            letters in a Ukrainian text, or have a digit. Where these are many, the share says little of the text.

    """

    common: int
    counted: int
    foreign: int

    @property
    def share(self) -> float:
        """Frequent words of those counted, 0 to 1."""
        return self.common / self.counted


def coverage(units: Iterable[Iterable[Word]], language: str) -> Coverage | None:
    """Count the frequent words of a text, given as the words of each of its units.

    Figures, symbols and addresses are no words of the text. Nor is one without a letter of the script of the language,
    or with a digit (B12): it is foreign. In a language of Latin letters a foreign name cannot be told from a word, so
    it is counted. `language` is a BCP 47 tag ("uk-UA", "uk_UA" and "uk" are the same). None: the language has no list,
    or no word could be counted.

    >>> from leaflets.readability.segment import words
    >>> coverage([words("Добрий день, Smith!"), words("8.30: мікросукція.")], "uk-UA")
    Coverage(common=2, counted=3, foreign=1)

    """
    common = counted = foreign = 0
    base = base_language(language)
    if base not in _WRITINGS:
        return None
    for unit in units:
        for word in unit:
            if word.kind != "word":
                continue
            found = _is_listed(word.text, base)
            if found is None:
                foreign += 1
            else:
                counted += 1
                common += found
    return Coverage(common, counted, foreign) if counted else None


def is_common(word: str, language: str) -> bool | None:
    """Say whether a word is among the `WORDS_PER_LIST` most frequent of its language.

    A word with hyphens is, where each part of it is. None: the language has no list, or the word is not one of its
    script: no letter of it, or a digit within.

    >>> is_common("Întâlnire", "ro"), is_common("microaspirație", "ro"), is_common("вухо", "ro")
    (True, False, None)

    """
    base = base_language(language)
    return _is_listed(word, base) if base in _WRITINGS else None


def _is_listed(word: str, base: str) -> bool | None:
    parts = parts_as_listed(word, base)
    return _list(base).issuperset(parts) if parts else None


def parts_as_listed(word: str, language: str) -> tuple[str, ...]:
    """Return the parts of a word between hyphens in the form that the list has them in, as wordfreq makes it.

    Case is folded, marks of Arabic script are left out, Romanian s and t have commas; in addition soft hyphens and
    other characters that nobody sees are left out. Empty: it is no word of the script of the language, with no letter
    of it, or with a digit. `language` is one of `LANGUAGES_WITH_LIST`.

    >>> parts_as_listed("S-AU", "ro"), parts_as_listed("ΛΌΓΟΣ", "el"), parts_as_listed("كَلِمـة", "ar")
    (('s', 'au'), ('λόγοσ',), ('كلمة',))

    """
    writing = _WRITINGS[language]
    text = unicodedata.normalize(writing.normal_form, _NOT_SEEN.sub("", word))
    if writing.without_marks:
        text = "".join(
            character for character in text if character != _TATWEEL and unicodedata.category(character) != "Mn"
        )
    # The last folding parts what the normal form joined (Greek iota with two accents), as in the lists of wordfreq.
    text = unicodedata.normalize("NFC", text.casefold()).casefold()
    if language == "ro":
        text = text.translate(_CEDILLAS_TO_COMMAS)
    if not _a_letter(writing.letters).search(text) or any(map(str.isdigit, text)):
        return ()
    parts = (part.strip("'") for part in _BETWEEN_PARTS.split(_APOSTROPHES.sub("'", text)))
    return tuple(part for part in parts if part)


@cache
def _a_letter(letters: str) -> re.Pattern[str]:
    return re.compile(f"[{letters}]")


def file_name(language: str) -> str:
    """Return the name of the list of a base language in its folder."""
    return f"{language}.table"


def pack_list(listed: Iterable[str]) -> bytes:
    """Return a list as bytes, the same for the same words in any order.

    >>> sorted(parse_list(pack_list(["вухо", "день"])))
    ['вухо', 'день']

    """
    return zlib.compress("\n".join(sorted(listed)).encode("utf-8"), level=9)


def parse_list(packed: bytes) -> frozenset[str]:
    """Return the words that `pack_list` packed. Raises `zlib.error` where the bytes are damaged."""
    return frozenset(zlib.decompress(packed).decode("utf-8").split("\n"))


@cache
def _list(language: str) -> frozenset[str]:
    from importlib import resources  # noqa: PLC0415 - slow to import, and only a language without a formula needs it

    folder = resources.files("leaflets.readability").joinpath(_FOLDER)
    return parse_list(folder.joinpath(file_name(language)).read_bytes())
