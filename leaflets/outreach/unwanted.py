"""Words that no child should find by chance in a grid of letters, by language (unwanted.toml)."""

import tomllib
from functools import cache
from pathlib import Path

UNWANTED_PATH = Path(__file__).with_name("unwanted.toml")


@cache
def _lists() -> dict[str, tuple[str, ...]]:
    table = tomllib.loads(UNWANTED_PATH.read_text("utf-8"))
    return {language: tuple(words["words"]) for language, words in table.items()}


def unwanted_words(language: str) -> tuple[str, ...]:
    """Return the words of a language, by its BCP 47 tag; empty: it has no list, and somebody has to look.

    >>> unwanted_words("xx")
    ()

    """
    return _lists().get(language.split("-", maxsplit=1)[0], ())
