"""A child's words: each block that can reach a child has them, and they stay within what a child reads and may do."""

import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

from leaflets.checks.get_help import CHILDREN, EVERYBODY
from leaflets.compose.leaflet import compose
from leaflets.compose.tree import parse_fragment, text_of
from leaflets.compose.words import reader_block
from leaflets.content import Content
from leaflets.model import Leaflet
from leaflets.pipeline import situation_of
from leaflets.plan import plan
from leaflets.readability.report import grade_units
from leaflets.readability.targets import target_for
from leaflets.readability.trouble import find_trouble
from leaflets.rules.conditions import AnyOf
from leaflets.rules.rule import Rule
from leaflets.visit import Visit

CHILD_READERS = ("child-5-7", "child-7-11")
_PROSE = ("sentence", "item")
_NO_CHILD_WHO_READS = frozenset({"infant-fever"})
"""Signs of somebody who cannot read: they stand in the grown-up's panel alone."""

OUTCOMES: tuple[Mapping[str, Any], ...] = tuple(
    example
    for path in sorted((Path(__file__).parent / "examples").glob("*.toml"))
    for example in tomllib.loads(path.read_text("utf-8"))["example"]
)


def _can_reach_a_child(rule: Rule) -> bool:
    """Return whether any line of a rule leaves room for a child who reads."""
    return not rule.indications or any(
        all(
            test.field != "reader" or not isinstance(test, AnyOf) or bool(set(test.values) & set(CHILD_READERS))
            for test in line.tests
        )
        for line in rule.indications
    )


def _leaflets(content: Content, changed_visit: Any, reader: str, **person: object) -> Iterator[Leaflet]:
    for outcome in OUTCOMES:
        record = changed_visit(outcome.get("visit"), tuple(outcome.get("unrecorded", ())))
        record |= {"reader": reader, "language": "en", "country": "GB", "format": "a4"}
        record["person"] = {**record.get("person", {}), **person}
        visit = Visit.model_validate(record)
        judged = plan(visit, content.rule_book.rules.values())
        situation, _ = situation_of(visit, judged, content)
        yield compose(content.words, judged.blocks, situation, "#224488").leaflet


def test_every_block_that_can_reach_a_child_has_words_for_both_ages(content: Content) -> None:
    reaching = {block for rule in content.rule_book.rules.values() if _can_reach_a_child(rule) for block in rule.blocks}
    needed = {reader_block(reader) for reader in CHILD_READERS}
    assert {block for block in reaching if not needed <= content.words.blocks[block].readers} == set()
    assert set(content.words.blocks) - reaching == {"child/carers", "child/small-objects"}


@pytest.mark.parametrize("reader", CHILD_READERS)
def test_a_childs_words_are_short_easy_and_without_a_figure(content: Content, changed_visit: Any, reader: str) -> None:
    # Source of the limits: leaflets/readability/targets.toml.
    target = target_for(reader)
    for leaflet in _leaflets(content, changed_visit, reader, age_years=7):
        units = [unit.text for block in leaflet.blocks for unit in block.units if unit.kind in _PROSE]
        assert find_trouble(units, "en-GB", longest_unit_words=target.unit_words_up_to) == ()
        grade = grade_units(units, "en-GB").grade
        assert grade is not None
        assert grade <= target.grade_wanted_up_to
        # No dose, date or telephone number: those are the grown-up's.
        assert [unit for unit in units if any(letter.isdigit() for letter in unit)] == []
        assert not any(letter.isdigit() for letter in leaflet.main_message)


@pytest.mark.parametrize("reader", CHILD_READERS)
@pytest.mark.parametrize("person", [{"age_years": 5}, {"age_years": 11, "conditions": ["diabetes"]}])
def test_a_child_is_told_every_sign(
    content: Content, changed_visit: Any, reader: str, person: dict[str, object]
) -> None:
    of_children = {sign for sign, (up_to, _) in CHILDREN.items() if up_to >= 11}
    wanted = set(EVERYBODY) | of_children | ({"infection-signs-lower-threshold"} if "conditions" in person else set())
    for leaflet in _leaflets(content, changed_visit, reader, **person):
        panel = next(block for block in leaflet.blocks if block.id == "help/urgent")
        lines = list(parse_fragment(str(panel.html), "help/urgent").iter("li"))
        named = [sign for line in lines if text_of(line) for sign in line.get("data-child-signs", "").split()]
        assert len(named) == len(set(named))
        assert wanted - _NO_CHILD_WHO_READS <= set(named)
        drops = any(block.id == "drops/course" for block in leaflet.blocks)
        assert "allergic-reaction" in named or not drops
