"""What stands in for a grade where a language has no formula: how long its sentences and its words are."""

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

LANGUAGES_PATH = Path(__file__).with_name("languages.toml")

LONGEST_ENGLISH_UNIT_WORDS = 20
"""Words in the longest unit of plain English. Source: GOV.UK asks for 25 at most; 20 is our own, stricter."""

_REFERENCE = "en"
_WRITTEN_ALIKE = {"no": "nb"}


@cache
def _data() -> dict[str, Any]:
    return tomllib.loads(LANGUAGES_PATH.read_text(encoding="utf-8"))


def _measured(language: str) -> dict[str, float]:
    measured: dict[str, dict[str, float]] = _data()["measured"]
    return measured.get(_WRITTEN_ALIKE.get(language, language), {})


@cache
def long_word_over(language: str) -> int | None:
    """Letters over which a word of the base language is long. None: it was not measured, or words have no length."""
    letters = _measured(language).get("long_word_over")
    return None if letters is None else int(letters)


def longest_unit_words(language: str) -> int | None:
    """Words in the longest unit that is plain in a base language, in proportion to English. None: not measured.

    >>> [longest_unit_words(language) for language in ("en", "de", "es", "tr", "zh")]
    [20, 19, 23, 15, None]

    """
    words = _measured(language).get("words_per_unit")
    return (
        None if words is None else round(LONGEST_ENGLISH_UNIT_WORDS * words / _measured(_REFERENCE)["words_per_unit"])
    )
