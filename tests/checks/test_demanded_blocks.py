"""The table of what an outcome demands: every line of it is broken by an example, and names blocks that exist."""

import pytest

from leaflets.checks import demanded_blocks
from leaflets.checks.changes import ear_with, plan_with
from leaflets.checks.demanded_blocks import EAR_DEMANDS, VISIT_DEMANDS, EarDemand, VisitDemand
from leaflets.checks.evidence import Evidence
from leaflets.content import Content
from leaflets.visit import Confirmation

DEMANDS: tuple[EarDemand | VisitDemand, ...] = (*EAR_DEMANDS, *VISIT_DEMANDS)


def _messages(evidence: Evidence) -> list[str]:
    return [finding.message for finding in demanded_blocks.check(evidence)]


@pytest.mark.parametrize("demand", DEMANDS, ids=lambda demand: demand.what)
def test_a_demand_is_sourced_and_can_be_met(demand: EarDemand | VisitDemand, content: Content) -> None:
    assert demand.source.strip()
    assert demand.blocks
    assert set(demand.blocks) <= set(content.words.blocks)


@pytest.mark.parametrize("demand", DEMANDS, ids=lambda demand: demand.what)
def test_a_demand_is_broken_by_an_example(demand: EarDemand | VisitDemand, evidence: Evidence) -> None:
    said = [message for example in demanded_blocks.BAD for message in _messages(example.change(evidence))]
    assert any(message.startswith(f"{demand.what}, and the leaflet does not have") for message in said)


def test_no_two_demands_have_one_name() -> None:
    assert len({demand.what for demand in DEMANDS}) == len(DEMANDS)


def test_a_block_about_the_other_ear_does_not_meet_a_demand(evidence: Evidence) -> None:
    """Something was put into both ears; keeping only one of them dry is not enough."""
    blocks = tuple(
        block if block.id != "after/keep-dry" else type(block)(**{**vars(block), "ears": ("left",)})
        for block in evidence.leaflet.blocks
    )
    one_sided = evidence.with_page(evidence.leaflet.html, blocks)
    assert {finding.place for finding in demanded_blocks.check(one_sided)} == {"right"}


def test_wax_that_stays_needs_no_next_step_where_the_practitioner_confirmed_it(evidence: Evidence) -> None:
    stays = ear_with(evidence, "left", wax_after="not-cleared")
    reason = Confirmation(rule="wax/left-in", reason="seen again next week anyway")
    assert _messages(stays) != []
    assert _messages(plan_with(stays, confirm=(reason,))) == []
