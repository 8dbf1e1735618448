"""A visit taken through plan, dates, words and checks, as the pipeline does it, but for the paper."""

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

from outcomes import Outcome, record_of

from leaflets import pipeline
from leaflets.checks import check_leaflet, check_plan
from leaflets.checks.evidence import Evidence
from leaflets.compose.tree import parse_fragment, text_of
from leaflets.compose.values import Situation
from leaflets.content import Content
from leaflets.fit import compose_to_fit
from leaflets.model import Finding, Leaflet, Plan
from leaflets.plan import plan
from leaflets.results import stops
from leaflets.visit import Visit
from leaflets.visits import read_visit

EXAMPLES = Path(__file__).parent.parent / "examples"


@dataclass(frozen=True)
class Composed:
    """A visit with what came of it. `composed_leaflet` None: the plan was stopped, as the pipeline stops it."""

    visit: Visit
    plan: Plan
    situation: Situation
    plan_findings: tuple[Finding, ...]
    composed_leaflet: Leaflet | None
    content: Content

    @property
    def stopped(self) -> bool:
        """Whether the plan was stopped, so that there is no leaflet."""
        return self.composed_leaflet is None

    @property
    def leaflet(self) -> Leaflet:
        """The leaflet; a test that asks for it means a visit that gets one."""
        assert self.composed_leaflet is not None, [str(finding) for finding in self.plan_findings]
        return self.composed_leaflet

    @cached_property
    def evidence(self) -> Evidence:
        """What the checks look at."""
        return pipeline._evidence(self.visit, self.plan, self.situation, self.leaflet, self.content)  # noqa: SLF001

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What the checks of the plan and of the leaflet found."""
        about_words = [] if self.stopped else check_leaflet(self.evidence)
        return (*self.plan_findings, *about_words)

    @cached_property
    def page(self) -> ET.Element:
        """The tree of the whole page."""
        return parse_fragment(self.leaflet.html.removeprefix("<!DOCTYPE html>"), "the page")

    @cached_property
    def page_text(self) -> str:
        """All words of the page's body."""
        body = self.page.find("html/body")
        assert body is not None
        return text_of(body)

    @property
    def block_ids(self) -> frozenset[str]:
        """Ids of the blocks on the page."""
        return frozenset(block.id for block in self.leaflet.blocks)

    def block(self, block_id: str) -> ET.Element:
        """The tree of a block of the page."""
        return next(element for element in self.page.iter("div") if element.get("data-block") == block_id)

    def block_text(self, block_id: str) -> str:
        """The words of a block of the page."""
        return text_of(self.block(block_id))

    def sentences(self) -> Iterator[str]:
        """Every sentence and item, in reading order."""
        return (unit.text for unit in self.leaflet.units if unit.kind in ("sentence", "item"))

    def signs(self) -> list[tuple[str, str]]:
        """Each sign of the get-help panel with the urgency of its row, as printed."""
        panel = self.block("help/urgent")
        return [
            (sign.get("data-sign", ""), row.get("data-urgency", ""))
            for row in panel.iter("tr")
            for sign in row.iter("li")
            if text_of(sign)
        ]


def compose_visit(outcome: Outcome, content: Content) -> Composed:
    """Take a flat outcome through plan, dates and words. What the record refuses is an error."""
    return compose_record(record_of(outcome), content)


def compose_record(record: dict[str, Any], content: Content) -> Composed:
    """Take a record through plan, dates and words."""
    visit = read_visit(record, content, {})
    judged = plan(visit, content.rule_book.rules.values())
    situation, findings = pipeline.situation_of(visit, judged, content)
    findings = [*findings, *check_plan(judged, content.rule_book.rules.values(), content.words.blocks)]
    leaflet = None if stops(findings) else compose_to_fit(content, judged.blocks, situation).leaflet
    return Composed(visit, judged, situation, tuple(findings), leaflet, content)


def leaflets_of_examples(routine: dict[str, Any], content: Content) -> list[Composed]:
    """Compose the worked examples for both readers: one for each set of blocks, agent and referral that occurs."""
    seen: set[tuple[Any, ...]] = set()
    found: list[Composed] = []
    for path in sorted(EXAMPLES.glob("*.toml")):
        for example in tomllib.loads(path.read_text("utf-8"))["example"]:
            for reader in ("adult", "carer"):
                record = _changed(
                    routine, {**example.get("visit", {}), "reader": reader}, example.get("unrecorded", ())
                )
                visit = read_visit(record, content, {})
                blocks = frozenset(block.id for block in plan(visit, content.rule_book.rules.values()).blocks)
                kind = (reader, blocks, visit.plan.drops, visit.plan.referral)
                if kind not in seen:
                    seen.add(kind)
                    found.append(compose_record(record, content))
    return [one for one in found if not one.stopped]


def _changed(record: Mapping[str, Any], changes: Mapping[str, Any], unrecorded: Iterable[str]) -> dict[str, Any]:
    result = {key: dict(value) if isinstance(value, dict) else value for key, value in record.items()}
    for key, value in changes.items():
        result[key] = {**result.get(key, {}), **value} if isinstance(value, dict) else value
    for path in unrecorded:
        table, _, field = path.rpartition(".")
        del (result[table] if table else result)[field]
    return result
