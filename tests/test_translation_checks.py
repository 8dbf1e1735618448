"""Each check of translations fails on its bad examples, passes its good ones, and says what it is for."""

import pkgutil
import re
from collections import Counter
from types import ModuleType

import pytest

import leaflets.translation_checks
from leaflets.render.fonts import missing_characters
from leaflets.translation_checks import TRANSLATION_CHECKS, check_translation
from leaflets.translation_checks.pair import Example, Pair

NO_CHECKS = {"glossary", "pair", "same_words"}


def _name(module: ModuleType) -> str:
    return module.__name__.rsplit(".", 1)[-1]


def _examples(kind: str) -> list[object]:
    return [
        pytest.param(module, example, id=f"{_name(module)}: {example.name}")
        for module in TRANSLATION_CHECKS
        for example in getattr(module, kind)
    ]


def _pair(example: Example) -> Pair:
    pair = example.pair()
    return Pair(pair.message, pair.translation, pair.locale, pair.glossary, missing_characters)


def test_every_module_of_the_folder_is_run() -> None:
    in_folder = {module.name for module in pkgutil.iter_modules(leaflets.translation_checks.__path__)} - NO_CHECKS
    assert {_name(module) for module in TRANSLATION_CHECKS} == in_folder


def test_no_code_is_used_twice() -> None:
    codes = Counter(module.CODE for module in TRANSLATION_CHECKS)
    assert [code for code, count in codes.items() if count > 1] == []


@pytest.mark.parametrize("module", TRANSLATION_CHECKS, ids=_name)
def test_a_check_says_what_why_and_from_where(module: ModuleType) -> None:
    said = module.__doc__ or ""
    assert re.fullmatch(r"TRAN\d\d", module.CODE)
    assert said.startswith(f"{module.CODE}: ")
    for part in ("What", "Why", "Source"):
        assert re.search(rf"^{part}: \S", said, re.MULTILINE), f"{part} is missing"
    assert module.GOOD
    assert module.BAD


@pytest.mark.parametrize(("module", "example"), _examples("GOOD"))
def test_a_good_example_is_not_found(module: ModuleType, example: Example) -> None:
    assert list(module.find(_pair(example))) == []


@pytest.mark.parametrize(("module", "example"), _examples("BAD"))
def test_a_bad_example_is_found(module: ModuleType, example: Example) -> None:
    faults = list(module.find(_pair(example)))
    assert faults
    for fault in faults:
        assert fault.code == module.CODE
        assert fault.message
        assert fault.hint
    assert module.CODE in {finding.code for finding in check_translation(_pair(example))}
    assert all(finding.place == "leaflets.po:1" for finding in check_translation(_pair(example)))
