"""Every check says what it is for, and its own examples hold."""

import importlib
import pkgutil
import re
from collections import Counter
from types import ModuleType

import pytest

import leaflets.checks
from leaflets.checks import CHECKS, LAYOUT_CHECKS
from leaflets.checks.evidence import Evidence, Example, LayoutExample, Pages
from leaflets.model import Finding

NO_CHECKS = {"evidence", "changes", "sheets"}
"""No checks of leaflets: what checks look at, how their examples are made, and the checks of sheets for everybody."""

ALL = (*CHECKS, *LAYOUT_CHECKS)
FAMILIES = ("SAFE", "READ", "TRAN", "FONT", "RULE", "PAGE")


def _name(module: ModuleType) -> str:
    return module.__name__.rsplit(".", 1)[-1]


def _examples(kind: str, modules: tuple[ModuleType, ...]) -> list[object]:
    return [
        pytest.param(module, example, id=f"{_name(module)}: {example.name}")
        for module in modules
        for example in getattr(module, kind)
    ]


def _codes_of(module: ModuleType) -> tuple[str, ...]:
    """Return the codes that a check gives: most give one."""
    return getattr(module, "CODES", None) or (module.CODE,)


def _codes(findings: object) -> Counter[str]:
    assert isinstance(findings, list)
    return Counter(finding.code for finding in findings)


def test_every_module_of_the_folder_is_run() -> None:
    in_folder = {module.name for module in pkgutil.iter_modules(leaflets.checks.__path__)} - NO_CHECKS
    assert {_name(module) for module in ALL} == in_folder
    assert len({_name(module) for module in ALL}) == len(ALL)


def test_no_code_is_used_twice() -> None:
    codes = [code for module in ALL for code in _codes_of(module)]
    assert [code for code, count in Counter(codes).items() if count > 1] == []


@pytest.mark.parametrize("module", ALL, ids=_name)
def test_a_check_says_what_why_and_from_where(module: ModuleType) -> None:
    codes = _codes_of(module)
    assert all(re.fullmatch(rf"({'|'.join(FAMILIES)})\d\d", code) for code in codes)
    said = module.__doc__ or ""
    assert said.startswith(f"{codes[0]}: " if len(codes) == 1 else f"{codes[0]} to {codes[-1]}: ")
    for part in ("What", "Why", "Source"):
        assert re.search(rf"^{part}: \S", said, re.MULTILINE), f"{part} is missing"


@pytest.mark.parametrize("module", ALL, ids=_name)
def test_a_check_has_good_and_bad_examples_of_its_kind(module: ModuleType) -> None:
    kind = LayoutExample if module in LAYOUT_CHECKS else Example
    assert module.GOOD
    assert module.BAD
    assert all(isinstance(example, kind) for example in (*module.GOOD, *module.BAD))
    names = Counter(example.name for example in (*module.GOOD, *module.BAD))
    assert [name for name, count in names.items() if count > 1] == []


@pytest.mark.parametrize(("module", "example"), _examples("GOOD", CHECKS))
def test_a_good_example_is_not_found(module: ModuleType, example: Example, evidence: Evidence) -> None:
    assert list(module.check(example.change(evidence))) == []


@pytest.mark.parametrize(("module", "example"), _examples("BAD", CHECKS))
def test_a_bad_example_is_found(module: ModuleType, example: Example, evidence: Evidence) -> None:
    findings = list(module.check(example.change(evidence)))
    assert findings
    assert set(_codes(findings)) <= set(_codes_of(module))
    for finding in findings:
        _assert_helps(finding)


@pytest.mark.parametrize("module", ALL, ids=_name)
def test_each_code_of_a_check_has_a_bad_example(module: ModuleType, evidence: Evidence, pages: Pages) -> None:
    found = {
        finding.code
        for example in module.BAD
        for finding in (
            module.check(*example.change(evidence, pages))
            if module in LAYOUT_CHECKS
            else module.check(example.change(evidence))
        )
    }
    assert found == set(_codes_of(module))


@pytest.mark.parametrize(("module", "example"), _examples("GOOD", LAYOUT_CHECKS))
def test_a_good_layout_is_not_found(
    module: ModuleType, example: LayoutExample, evidence: Evidence, pages: Pages
) -> None:
    assert list(module.check(*example.change(evidence, pages))) == []


@pytest.mark.parametrize(("module", "example"), _examples("BAD", LAYOUT_CHECKS))
def test_a_bad_layout_is_found(module: ModuleType, example: LayoutExample, evidence: Evidence, pages: Pages) -> None:
    findings = list(module.check(*example.change(evidence, pages)))
    assert findings
    assert set(_codes(findings)) <= set(_codes_of(module))
    for finding in findings:
        _assert_helps(finding)


def _assert_helps(finding: Finding) -> None:
    """A finding has a place, a message and a next step, and a severity that exists."""
    assert finding.severity in ("note", "warn", "stop")
    assert finding.place.strip()
    assert finding.message.strip()
    assert finding.hint.strip()


def test_a_routine_leaflet_has_nothing_to_stop_it(evidence: Evidence, pages: Pages) -> None:
    findings = [*leaflets.checks.check_leaflet(evidence), *leaflets.checks.check_pages(evidence, pages)]
    # The clinic of the tests is the invented one, and the checks say so.
    assert {finding.code for finding in findings} <= {"RULE11", "PAGE03"}
    assert [finding for finding in findings if finding.severity == "stop"] == []


def test_findings_stand_in_order_each_once() -> None:
    note = Finding("RULE12", "note", "a", "m", "h")
    stop = Finding("SAFE01", "stop", "b", "m", "h")
    assert leaflets.checks.in_order([note, stop, note]) == [stop, note]


def test_a_crash_in_a_check_is_no_pass(evidence: Evidence, monkeypatch: pytest.MonkeyPatch) -> None:
    module = importlib.import_module("leaflets.checks.nothing_inside")

    def crash(_evidence: Evidence) -> list[Finding]:
        raise ZeroDivisionError

    monkeypatch.setattr(module, "check", crash)
    with pytest.raises(ZeroDivisionError):
        leaflets.checks.check_leaflet(evidence)
