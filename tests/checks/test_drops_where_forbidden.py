"""Drops: each finding that forbids them does so in the check as well, whether or not a confirmation is on record."""

from typing import Any

import pytest

from leaflets.checks import drops_where_forbidden
from leaflets.checks.changes import block_added, course_added, ear_with, person_with, plan_with
from leaflets.checks.evidence import Evidence
from leaflets.visit import Confirmation
from leaflets.vocabulary import AGENTS, Agent

# Source: NHS earwax build-up, NHS Tayside RefGuide, Sussex Community, MSD Manual, labels of the drops, AAO-HNSF 2017
# patient advice, NHS Lothian RefHelp, NICE NG98 1.1.2: in these ears no confirmation lets any agent in.
NEVER: list[dict[str, Any]] = [
    {"eardrum": "perforated"},
    {"eardrum": "tube"},
    {"eardrum": None},
    *({"eardrum": "not-seen", "history": (past,)} for past in ("perforation", "ear-surgery", "tube")),
    {"object": "present"},
    {"object": "suspected"},
    {"object": None},
    {"canal": ("infected",)},
    {"canal": ("discharge",)},
    {"canal": None},
    {"history": None},
    {"symptoms": None},
    {"symptoms_after": None},
    *({"symptoms": (symptom,)} for symptom in ("pain", "severe-pain", "discharge", "swelling-behind-ear")),
    *({"symptoms_after": (symptom,)} for symptom in ("pain", "sudden-hearing-loss", "facial-weakness", "bleeding")),
    {"symptoms": ("sudden-hearing-loss",)},
    {"symptoms": ("fever",)},
]

# Source: the same labels and guidelines: given only when the practitioner confirms it, and never for some agents.
ONLY_CONFIRMED: list[tuple[dict[str, Any], set[str]]] = [
    ({"history": ("ear-surgery",)}, {"sodium-bicarbonate", "urea-hydrogen-peroxide", "docusate"}),
    ({"canal": ("mastoid-cavity",)}, {"sodium-bicarbonate", "urea-hydrogen-peroxide", "docusate"}),
    ({"canal": ("eczema",)}, {"urea-hydrogen-peroxide", "docusate"}),
    ({"history": ("perforation",)}, set()),
    ({"eardrum": "not-seen"}, set()),
]

# Source: labels, AboutKidsHealth: none in the first year; under three only if ordered; bicarbonate from five, peroxide
# from twelve unless a doctor says so.
AGES: list[tuple[int, Agent, str]] = [
    (0, "olive-oil", "never"),
    (1, "olive-oil", "confirmed"),
    (2, "saline", "confirmed"),
    (3, "olive-oil", "free"),
    (4, "sodium-bicarbonate", "confirmed"),
    (5, "sodium-bicarbonate", "free"),
    (11, "urea-hydrogen-peroxide", "confirmed"),
    (12, "urea-hydrogen-peroxide", "free"),
]


def _confirmed(evidence: Evidence) -> Evidence:
    reason = Confirmation(rule=drops_where_forbidden.COURSE_RULE, reason="as the doctor ordered")
    return plan_with(evidence, confirm=(reason,))


def _stops(evidence: Evidence) -> bool:
    return bool(list(drops_where_forbidden.check(evidence)))


@pytest.mark.parametrize("agent", AGENTS)
@pytest.mark.parametrize("found", NEVER, ids=str)
def test_no_agent_and_no_confirmation_gets_through(found: dict[str, Any], agent: Agent, evidence: Evidence) -> None:
    assert _stops(ear_with(_confirmed(course_added(evidence, agent=agent)), "left", **found))


@pytest.mark.parametrize("agent", AGENTS)
@pytest.mark.parametrize(("found", "never"), ONLY_CONFIRMED, ids=lambda value: str(sorted(value)))
def test_a_doubt_is_for_the_practitioner_to_confirm(
    found: dict[str, Any], never: set[str], agent: Agent, evidence: Evidence
) -> None:
    doubtful = ear_with(course_added(evidence, agent=agent), "left", **found)
    assert _stops(doubtful)
    assert _stops(_confirmed(doubtful)) == (agent in never)


@pytest.mark.parametrize(("age_years", "agent", "expected"), AGES)
def test_ages(age_years: int, agent: Agent, expected: str, evidence: Evidence) -> None:
    child = person_with(course_added(evidence, agent=agent), age_years=age_years)
    assert _stops(child) == (expected != "free")
    assert _stops(_confirmed(child)) == (expected == "never")


@pytest.mark.parametrize("field", ["age_years", "conditions", "allergies"])
def test_what_is_not_recorded_of_the_person_is_not_taken_for_no(field: str, evidence: Evidence) -> None:
    assert _stops(_confirmed(person_with(course_added(evidence), **{field: None})))


def test_the_other_ear_does_not_matter(evidence: Evidence) -> None:
    """Drops for the left ear are not stopped by a hole on the right, and are by one on the left."""
    course = course_added(evidence, ears=("left",))
    assert not _stops(ear_with(course, "right", eardrum="perforated"))
    assert _stops(ear_with(course, "left", eardrum="perforated"))


@pytest.mark.parametrize("block_id", ["drops/course", "drops/how-to", "drops/upkeep"])
def test_every_block_of_drops_is_held_against_the_visit(block_id: str, evidence: Evidence) -> None:
    planned = plan_with(evidence, drops="olive-oil", drops_for=("right",))
    given = block_added(planned, block_id, ("right",), "<p>Put drops in your right ear.</p>")
    assert not _stops(given)
    assert _stops(ear_with(given, "right", eardrum="tube"))
