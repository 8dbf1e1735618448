"""Every kind of trouble says what it is for, and its own examples hold."""

import pkgutil
import re
from types import ModuleType

import pytest

import leaflets.readability.trouble
from leaflets.readability.trouble import KINDS, find_trouble
from leaflets.readability.trouble.reading import Example

NO_KINDS = {"reading", "word_data", "explained", "figures"}
"""Modules of the folder that are no kinds: what kinds look at, and what they know."""

LANGUAGE_INDEPENDENT = {"READ10", "READ15", "READ16", "READ17"}


def _name(module: ModuleType) -> str:
    return module.__name__.rsplit(".", 1)[-1]


def _examples(kind: str) -> list[object]:
    return [
        pytest.param(module, example, id=f"{_name(module)}: {example.name}")
        for module in KINDS
        for example in getattr(module, kind)
    ]


def _codes(example: Example) -> set[str]:
    return {
        one.code
        for one in find_trouble(example.units, example.language, known_terms=example.known_terms, stems=example.stems)
    }


def test_every_module_of_the_folder_is_run() -> None:
    in_folder = {module.name for module in pkgutil.iter_modules(leaflets.readability.trouble.__path__)} - NO_KINDS
    assert {_name(module) for module in KINDS} == in_folder
    assert len({_name(module) for module in KINDS}) == len(KINDS)


def test_each_kind_has_a_code_of_its_own() -> None:
    assert sorted(module.CODE for module in KINDS) == [f"READ{number}" for number in range(10, 19)]


@pytest.mark.parametrize("module", KINDS, ids=_name)
def test_a_kind_says_what_why_and_from_where(module: ModuleType) -> None:
    said = module.__doc__ or ""
    assert said.startswith(f"{module.CODE}: ")
    for part in ("What", "Why", "Source"):
        assert re.search(rf"^{part}: \S", said, re.MULTILINE), f"{part} is missing"
    assert (frozenset({"en"}) == module.LANGUAGES) == ("English only:" in said)
    assert (module.LANGUAGES is None) == ("Runs in every language" in said)


def test_what_needs_no_words_runs_in_every_language_and_nothing_else_does() -> None:
    assert {module.CODE for module in KINDS if module.LANGUAGES is None} == LANGUAGE_INDEPENDENT
    english_only = [example for module in KINDS if module.LANGUAGES is not None for example in module.BAD]
    for language in ("pl", "ar", "zh-Hant", "de_AT"):
        for example in english_only:
            assert {one.code for one in find_trouble(example.units, language)} <= LANGUAGE_INDEPENDENT


@pytest.mark.parametrize("module", KINDS, ids=_name)
def test_a_kind_has_good_and_bad_examples(module: ModuleType) -> None:
    assert module.GOOD
    assert module.BAD
    names = [example.name for example in (*module.GOOD, *module.BAD)]
    assert len(names) == len(set(names))


@pytest.mark.parametrize(("module", "example"), _examples("GOOD"))
def test_a_good_example_is_not_found(module: ModuleType, example: Example) -> None:
    assert module.CODE not in _codes(example)


@pytest.mark.parametrize(("module", "example"), _examples("BAD"))
def test_a_bad_example_is_found_and_helps(module: ModuleType, example: Example) -> None:
    assert module.CODE in _codes(example)
    for one in find_trouble(example.units, example.language, known_terms=example.known_terms, stems=example.stems):
        assert example.units[one.unit][one.start : one.end] == one.words
        assert one.words.strip() == one.words
        assert one.words
        assert one.message.strip()
        assert one.hint.strip()
        assert one.weight > 0


@pytest.mark.parametrize(("module", "example"), _examples("BAD"))
def test_spelling_of_apostrophes_and_language_tag_change_nothing(module: ModuleType, example: Example) -> None:
    assert module
    if example.language == "en-GB":
        expected = [(one.code, one.unit, one.start, one.end) for one in find_trouble(example.units, "en")]
        curly = [unit.replace("'", "\u2019") for unit in example.units]
        for units, language in ((example.units, "en_GB"), (curly, "en-GB")):
            assert [(one.code, one.unit, one.start, one.end) for one in find_trouble(units, language)] == expected


@pytest.mark.parametrize(("module", "example"), [*_examples("GOOD"), *_examples("BAD")])
def test_a_full_stop_added_changes_no_codes(module: ModuleType, example: Example) -> None:
    """A list item may end with a stop or without one."""
    assert module
    bare = [unit.rstrip(".") for unit in example.units]
    if not any(unit.endswith(("a.m", "p.m", "t.d.s")) for unit in bare):
        stopped = [f"{unit}." for unit in bare]
        assert [one.code for one in find_trouble(bare, example.language)] == [
            one.code for one in find_trouble(stopped, example.language)
        ]
