"""The worked examples: each a visit, told in one sentence, with what the rules must make of it."""

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from leaflets.content import Content
from leaflets.model import Plan
from leaflets.plan import plan
from leaflets.rules.conditions import AnyOf, Line
from leaflets.visit import Visit

EXAMPLES = [
    pytest.param(example, id=example["name"])
    for path in sorted((Path(__file__).parent / "examples").glob("*.toml"))
    for example in tomllib.loads(path.read_text("utf-8"))["example"]
]


def _judged(example: dict[str, Any], content: Content, changed_visit: Any) -> tuple[Visit, Plan]:
    record = changed_visit(example.get("visit"), tuple(example.get("unrecorded", ())))
    visit = Visit.model_validate(record)
    return visit, plan(visit, content.rule_book.rules.values())


def _with_ears(outcomes: Any) -> Iterator[str]:
    for outcome in outcomes:
        yield outcome.rule
        for ear in outcome.ears:
            yield f"{outcome.rule}@{ear}"


@pytest.mark.parametrize("example", EXAMPLES)
def test_the_plan_is_as_the_example_says(example: dict[str, Any], content: Content, changed_visit: Any) -> None:
    _, judged = _judged(example, content, changed_visit)
    block_ids = {block.id for block in judged.blocks}
    assert set(example.get("given", ())) <= set(_with_ears(judged.given))
    assert set(example.get("withheld", ())) <= set(_with_ears(judged.withheld))
    assert set(example.get("asked", ())) <= set(_with_ears(judged.asked))
    assert set(example.get("blocks", ())) <= block_ids
    assert not set(example.get("not_blocks", ())) & block_ids


def test_every_example_is_a_sentence_and_asserts_something() -> None:
    for parameter in EXAMPLES:
        example = parameter.values[0]
        assert example["name"][0].isupper()
        assert example["name"].endswith(".")
        assert any(example.get(key) for key in ("given", "withheld", "asked", "blocks", "not_blocks"))
        assert set(example) <= {"name", "visit", "unrecorded", "given", "withheld", "asked", "blocks", "not_blocks"}


def test_every_rule_fires_in_an_example(content: Content, changed_visit: Any) -> None:
    fired: set[str] = set()
    for parameter in EXAMPLES:
        _, judged = _judged(parameter.values[0], content, changed_visit)
        fired |= {given.rule for given in judged.given} & {
            named.split("@")[0] for named in parameter.values[0].get("given", ())
        }
    assert set(content.rule_book.rules) - fired == set()


_RECORDED_AS = {"planned_drops": "drops"}


def _reasons(line: Line, reasons: set[str]) -> bool:
    """Return whether the reasons of an outcome can come from this line: one reason for each of its tests."""
    return all(
        any(
            reason.split(" = ")[0].split(".")[-1] in (test.field, _RECORDED_AS.get(test.field))
            and (not isinstance(test, AnyOf) or reason.split(" = ")[1] in test.values)
            for reason in reasons
        )
        for test in line.tests
    )


@pytest.mark.parametrize(("kind", "outcome"), [("contraindications", "withheld"), ("precautions", "asked")])
def test_every_line_of_a_rule_stops_an_example(kind: str, outcome: str, content: Content, changed_visit: Any) -> None:
    seen: list[tuple[str, set[str]]] = []
    for parameter in EXAMPLES:
        example = parameter.values[0]
        _, judged = _judged(example, content, changed_visit)
        named = {name.split("@")[0] for name in example.get(outcome, ())}
        if outcome == "withheld":
            seen += [(one.rule, set(one.because)) for one in judged.withheld if one.rule in named]
        else:
            seen += [(one.rule, set(one.to_confirm)) for one in judged.asked if one.rule in named]
    missing = [
        (rule.id, line)
        for rule in content.rule_book.rules.values()
        for line in getattr(rule, kind)
        if not any(rule_id == rule.id and _reasons(line, reasons) for rule_id, reasons in seen)
    ]
    assert missing == []
