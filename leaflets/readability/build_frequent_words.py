"""Make the lists in frequent_words/ anew: `python -m leaflets.readability.build_frequent_words`.

It needs wordfreq 3.1.1 (`pip install wordfreq==3.1.1`), by Robyn Speer. The data of wordfreq, and so the lists, are
under the Creative Commons Attribution-ShareAlike 4.0 licence (https://creativecommons.org/licenses/by-sa/4.0/); what is
owed to whom stands in frequent_words/LICENCE.txt, beside the lists.
"""

import sys
import tomllib
from collections.abc import Iterable
from importlib import import_module, metadata
from itertools import islice
from pathlib import Path
from types import ModuleType

from leaflets.errors import LeafletError
from leaflets.readability.formulas import formulas_for
from leaflets.readability.frequent_words import (
    LANGUAGES_WITH_LIST,
    WORDS_PER_LIST,
    file_name,
    pack_list,
    parts_as_listed,
)
from leaflets.readability.languages import LANGUAGES_PATH
from leaflets.readability.segment import words

FOLDER = Path(__file__).with_name("frequent_words")

_WORDFREQ = "3.1.1"
_PLACE = "build_frequent_words"


def languages_without_formula() -> frozenset[str]:
    """Return the languages that are measured in languages.toml and have no formula in formulas.toml."""
    measured = tomllib.loads(LANGUAGES_PATH.read_text(encoding="utf-8"))["measured"]
    return frozenset(language for language in measured if not formulas_for(language))


def most_frequent(by_frequency: Iterable[str], language: str, count: int = WORDS_PER_LIST) -> tuple[str, ...]:
    """Return the first `count` words that our own splitting makes one word of the script of the language.

    >>> most_frequent(["2", "день", "the", "вухо"], "uk", 2)
    ('день', 'вухо')

    """
    return tuple(islice((word for word in by_frequency if _is_looked_up(word, language)), count))


def _is_looked_up(word: str, language: str) -> bool:
    found = words(word)
    return (
        len(found) == 1
        and (found[0].text, found[0].kind) == (word, "word")
        and parts_as_listed(word, language) == (word,)
    )


def _wordfreq() -> ModuleType:
    try:
        version = metadata.version("wordfreq")
    except metadata.PackageNotFoundError:
        version = "none"
    if version != _WORDFREQ:
        raise LeafletError.at(
            _PLACE, f"wordfreq {_WORDFREQ} is needed, found: {version}", f"pip install wordfreq=={_WORDFREQ}"
        )
    return import_module("wordfreq")


def build() -> dict[str, bytes]:
    """Return each list, packed, by its language.

    Raises:
        LeafletError: another wordfreq or none is installed; the languages are not those of frequent_words.py.

    """
    wordfreq = _wordfreq()
    available: dict[str, str] = wordfreq.available_languages()
    languages = languages_without_formula() & set(available)
    if languages != LANGUAGES_WITH_LIST:
        raise LeafletError.at(
            _PLACE,
            f"the languages in frequent_words.py are not those without a formula: {_named(languages)}",
            "add them to the scripts by language in frequent_words.py, or take them out",
        )
    built = {}
    for language in sorted(languages):
        listed = most_frequent(wordfreq.iter_wordlist(language), language)
        if len(listed) < WORDS_PER_LIST:
            raise LeafletError.at(_PLACE, f"{language} has {len(listed)} words", f"install wordfreq {_WORDFREQ} anew")
        built[language] = pack_list(listed)
    return built


def _named(languages: frozenset[str]) -> str:
    return ", ".join(sorted(languages ^ LANGUAGES_WITH_LIST))


def main() -> None:
    """Write the lists. Raises LeafletError as `build` does."""
    built = build()
    FOLDER.mkdir(exist_ok=True)
    for language, packed in built.items():
        (FOLDER / file_name(language)).write_bytes(packed)
    sys.stdout.write(f"{FOLDER}: {len(built)} lists, {sum(map(len, built.values()))} bytes\n")


if __name__ == "__main__":
    main()
