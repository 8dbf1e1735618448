"""A second opinion on a grade, from the library textstat where it is installed: beside our own figure, never for it.

It is given our units and our syllables, so that what differs is its formulas. It must not reach for the network: the
library through which it would fetch a pronunciation list is barred for as long as it works.
"""

import importlib
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import _lru_cache_wrapper
from importlib import metadata
from types import MappingProxyType, ModuleType
from typing import Any, NoReturn

from leaflets.errors import LeafletError
from leaflets.readability.segment import base_language, words
from leaflets.readability.syllables_en import count_syllables

_FEWEST_WORDS = 3

KNOWN_FAULTS: Mapping[str, str] = MappingProxyType(
    {
        "smog": "worked out from any number of sentences, though the formula is not defined under 10",
        "automated-readability": "the stop at the end of a sentence is counted as a letter: too high",
        "coleman-liau": "one factor is 0.058 where the authors have 0.0588: about a third of a grade too low",
        "fog": "leaves out words of another formula's list of easy words, not those that Gunning names",
        "dale-chall": "inflected everyday words, names and figures count as unfamiliar: too high",
    }
)
"""What is known to be wrong in the library's figures, by formula. Source: compared with the authors' equations in
textstat 0.7.13; its issue 150 for Dale-Chall. Formulas that are not named agree with their authors on our counts."""


@dataclass(frozen=True)
class SecondOpinion:
    """What textstat makes of a text.

    Attributes:
        version: of the library.
        scores: by formula; empty where there is no word to judge.
        known_faults: what is known to be wrong in these scores, by formula.
        units_left_out: units of under three words, which the library does not count as sentences.

    """

    version: str
    scores: Mapping[str, float]
    known_faults: Mapping[str, str]
    units_left_out: int

    def as_json(self) -> dict[str, Any]:
        """Return the opinion as plain values, scores to two decimals."""
        return {
            "library": f"textstat {self.version}",
            "scores": {name: round(score, 2) for name, score in self.scores.items()},
            "known_faults": dict(self.known_faults),
            "units_left_out": self.units_left_out,
        }


def second_opinion(units: Sequence[str], language: str) -> SecondOpinion:
    """Ask textstat about the units of an English text.

    Raises:
        LeafletError: textstat is not installed, or the text is not English: for other languages it takes a
            hyphenator's breaks for syllables or falls back on English factors, which is no opinion.

    """
    if base_language(language) != "en":
        message = f"no second opinion is to be had on '{language}'"
        raise LeafletError.at("--second-opinion", message, "leave the option out: textstat is right for English alone")
    tokens = [[word.text for word in words(unit)] for unit in units]
    kept = [found for found in tokens if len(found) >= _FEWEST_WORDS]
    syllables = {_plain(word): _syllables(word) for found in kept for word in found}
    text = " ".join(" ".join(_plain(word) for word in found).capitalize() + "." for found in kept)
    with textstat_formulas(syllables) as formulas:
        scores = {name: float(formula(text)) for name, formula in formulas.items()} if kept else {}
    faults = {name: fault for name, fault in KNOWN_FAULTS.items() if name in scores}
    left_out = sum(0 < len(found) < _FEWEST_WORDS for found in tokens)
    return SecondOpinion(_version(), scores, faults, left_out)


def _plain(word: str) -> str:
    """Return a word in a form that the library takes as one: letters, digits and nothing that ends a sentence."""
    return "".join(letter for letter in word.lower() if letter.isalnum()) or "x"


def _syllables(word: str) -> int:
    """Return our syllables of a word; one for what Flesch counts as one."""
    return (count_syllables(word) or 1) if any(letter.isalpha() for letter in word) and not word[0].isdigit() else 1


class _Pronunciations(dict[str, list[list[str]]]):
    """Our counts in the form in which the library looks them up: one stressed vowel for each syllable."""

    def __init__(self, syllables: Mapping[str, int]) -> None:
        super().__init__({word: [["AH0"] * count] for word, count in syllables.items()})

    def __missing__(self, word: str) -> list[list[str]]:
        found = self[word] = [["AH0"] * (count_syllables(word) or 1)]
        return found


class _Barred(ModuleType):
    """Stands for the library that would fetch a list: whatever is asked of it is an error of ours."""

    def __getattr__(self, name: str) -> NoReturn:
        if name.startswith("__"):
            raise AttributeError(name)
        raise RuntimeError(f"a second opinion must not use {self.__name__}.{name}: it may reach for the network")


class _Deferred(ModuleType):
    """Stands for the same library once we are done: another user of textstat gets it when it is asked for."""

    def __getattr__(self, name: str) -> Any:  # noqa: ANN401 - whatever that library has
        return getattr(importlib.import_module(self.__name__), name)


@contextmanager
def textstat_formulas(syllables: Mapping[str, int]) -> Iterator[Mapping[str, Callable[[str], float]]]:
    """Lend the library's formulas by name, with our syllables in it, barred from the network; put all back afterwards.

    `syllables`: of words as the library sees them; of others, ours are looked up.

    Raises:
        LeafletError: textstat is not installed.

    """
    with _barred_import():
        metrics = _imported("textstat.backend.metrics")
        counting = _imported("textstat.backend.counts._count_syllables")
        fetching = _imported("textstat.backend.utils._get_cmudict")
    table = _Pronunciations(syllables)
    their_own = (vars(counting)["get_cmudict"], vars(fetching)["nltk"])
    vars(counting)["get_cmudict"] = lambda _language: table
    vars(fetching)["nltk"] = _Barred("nltk")
    _forget_counts()
    try:
        yield _formulas(metrics)
    finally:
        vars(counting)["get_cmudict"] = their_own[0]
        vars(fetching)["nltk"] = _Deferred("nltk") if isinstance(their_own[1], _Barred) else their_own[1]
        _forget_counts()


@contextmanager
def _barred_import() -> Iterator[None]:
    """Keep the fetching library from being imported: it takes most of the time, and nothing needs it."""
    if "nltk" in sys.modules or "textstat" in sys.modules:
        yield
        return
    sys.modules["nltk"] = _Barred("nltk")
    try:
        yield
    finally:
        del sys.modules["nltk"]


def _imported(name: str) -> ModuleType:
    try:
        return importlib.import_module(name)
    except ImportError:
        message = "textstat is not installed, or is another version than 0.7.13 has parts for"
        raise LeafletError.at("--second-opinion", message, "pip install 'leaflets[second-opinion]'") from None


def _forget_counts() -> None:
    """Empty the library's memories: counts with our syllables and with its own must not mix."""
    for name, module in list(sys.modules.items()):
        if name.startswith("textstat.backend."):
            for value in vars(module).values():
                if isinstance(value, _lru_cache_wrapper):
                    value.cache_clear()


def _formulas(library: ModuleType) -> Mapping[str, Callable[[str], float]]:
    return {
        "flesch-kincaid": lambda text: library.flesch_kincaid_grade(text, "en_US"),
        "flesch-reading-ease": lambda text: library.flesch_reading_ease(text, "en_US"),
        "smog": lambda text: library.smog_index(text, "en_US"),
        "fog": lambda text: library.gunning_fog(text, "en_US"),
        "automated-readability": library.automated_readability_index,
        "coleman-liau": library.coleman_liau_index,
        "dale-chall": lambda text: library.dale_chall_readability_score(text, "en_US"),
    }


def _version() -> str:
    return str(metadata.version("textstat"))
