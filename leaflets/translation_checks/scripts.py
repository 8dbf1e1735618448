"""TRAN11: scripts that are mixed.

What: a word has letters of one script, and a text in a script of its own has letters of that script.
Why: a Latin "a" in a Cyrillic word looks right, and is neither found nor read out.
Source: Unicode Standard Annex 24, script names; Unicode Technical Standard 39, mixed-script confusables.
"""

import re
import unicodedata
from collections.abc import Iterator, Mapping
from types import MappingProxyType

from leaflets.readability.segment import base_language
from leaflets.translation_checks.pair import Example, Fault, Pair, plain

CODE = "TRAN11"

SCRIPTS: Mapping[str, str] = MappingProxyType(
    {
        "ar": "ARABIC",
        "bg": "CYRILLIC",
        "bn": "BENGALI",
        "el": "GREEK",
        "fa": "ARABIC",
        "gu": "GUJARATI",
        "he": "HEBREW",
        "hi": "DEVANAGARI",
        "ne": "DEVANAGARI",
        "pa": "GURMUKHI",
        "ps": "ARABIC",
        "ru": "CYRILLIC",
        "ta": "TAMIL",
        "uk": "CYRILLIC",
        "ur": "ARABIC",
    }
)
"""Languages that are not written in Latin letters, with the first word of their letters' Unicode names."""

_WORD = re.compile(r"[^\W\d_]+")
_LATIN = "LATIN"
_IN_LATIN_LETTERS = frozenset({"Latn", "XB"})  # subtags; XB is for trying layouts


def has_own_script(locale: str) -> bool:
    """Whether a locale is written in letters of its own, other than Latin ones."""
    return base_language(locale) in SCRIPTS and _IN_LATIN_LETTERS.isdisjoint(locale.split("-"))


def find(pair: Pair) -> Iterator[Fault]:
    """Find words of two scripts, and texts without a letter of their own."""
    own = SCRIPTS[base_language(pair.locale)] if has_own_script(pair.locale) else _LATIN
    for form in pair.forms:
        text = plain(form.text)
        letters = {word: {_script(letter) for letter in word} for word in _WORD.findall(text)}
        mixed = [word for word, scripts in letters.items() if len(scripts) > 1]
        if mixed:
            message = f"a word has letters of two scripts: {', '.join(mixed)}"
            yield Fault(CODE, "stop", message, "type the word anew")
        elif letters and not any(own in scripts for scripts in letters.values()):
            yield Fault(
                CODE, "stop", f"it has no letter in {own.lower()}", "translate it into the script of the language"
            )


def _script(letter: str) -> str:
    return unicodedata.name(letter, "UNKNOWN").split()[0]


GOOD = (
    Example("one script", "Keep it dry.", ("Ucho suche.",)),
    Example("a script of its own", "Keep it dry.", ("কান শুকনো রাখুন।",), locale="bn"),
    Example("only a value", "%(day)s", ("%(day)s",)),
)
BAD = (
    Example("a Cyrillic letter in a Latin word", "Keep it dry.", ("Uch\u043e suche.",)),
    Example("another script", "Keep it dry.", ("Ucho suche.",), locale="bn"),
)
