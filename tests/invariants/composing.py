"""A visit taken through plan, dates, words and checks, as the pipeline does it, but for the paper."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any
from xml.etree import ElementTree as ET

from leaflets import pipeline
from leaflets.checks import check_leaflet, check_plan
from leaflets.checks.evidence import Evidence
from leaflets.compose.tree import parse_fragment, text_of
from leaflets.content import Content
from leaflets.fit import compose_to_fit
from leaflets.model import Finding, Leaflet, Plan
from leaflets.plan import plan
from leaflets.results import stops
from leaflets.visit import Visit
from leaflets.visits import read_visit
from outcomes import Outcome, record_of


@dataclass(frozen=True)
class Composed:
    """A visit with what came of it. `leaflet` None: the plan was stopped, as the pipeline stops it."""

    visit: Visit
    plan: Plan
    plan_findings: tuple[Finding, ...]
    evidence: Evidence | None

    @property
    def leaflet(self) -> Leaflet:
        """The leaflet; a test that asks for it means a visit that gets one."""
        assert self.evidence is not None, [str(finding) for finding in self.plan_findings]
        return self.evidence.leaflet

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What the checks of the plan and of the leaflet found."""
        about_words = check_leaflet(self.evidence) if self.evidence else []
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
    situation, findings = pipeline._situation(visit, judged, content)  # noqa: SLF001 - the step itself, without the paper
    findings = [*findings, *check_plan(judged)]
    evidence = None
    if not stops(findings):
        leaflet = compose_to_fit(content, judged.blocks, situation).leaflet
        evidence = pipeline._evidence(visit, judged, situation, leaflet, content)  # noqa: SLF001 - as above
    return Composed(visit, judged, tuple(findings), evidence)
