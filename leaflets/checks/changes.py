"""Changes by which the examples of checks are made from the evidence of a routine visit.

Each changes one thing and leaves the rest as it is, so that an example can hold what the project's own rules and words
would never bring together: that is what checks are for.
"""

import datetime
from dataclasses import replace
from typing import Any

from leaflets.checks.evidence import Evidence
from leaflets.compose.tree import parse_fragment, units_of
from leaflets.model import ComposedBlock, Course
from leaflets.vocabulary import Agent, EarName


def visit_with(evidence: Evidence, **recorded: Any) -> Evidence:  # noqa: ANN401 - fields of the record
    """Return the same leaflet for a visit with other fields."""
    return situation_with(evidence, visit=evidence.visit.model_copy(update=recorded))


def ear_with(evidence: Evidence, name: EarName, **found: Any) -> Evidence:  # noqa: ANN401 - fields of the record
    """Return the same leaflet for a visit with other findings in one ear."""
    ear = evidence.visit.ear(name)
    assert ear is not None, "examples change an ear that was examined"
    return visit_with(evidence, **{name: ear.model_copy(update=found)})


def person_with(evidence: Evidence, **recorded: Any) -> Evidence:  # noqa: ANN401 - fields of the record
    """Return the same leaflet for another person."""
    return visit_with(evidence, person=evidence.visit.person.model_copy(update=recorded))


def plan_with(evidence: Evidence, **recorded: Any) -> Evidence:  # noqa: ANN401 - fields of the record
    """Return the same leaflet for a visit that planned something else."""
    return visit_with(evidence, plan=evidence.visit.plan.model_copy(update=recorded))


def situation_with(evidence: Evidence, **known: Any) -> Evidence:  # noqa: ANN401 - fields of the situation
    """Return the same leaflet with something else known beside it."""
    situation = replace(evidence.situation, **known)
    return replace(evidence, visit=situation.visit, situation=situation)


def block_added(evidence: Evidence, block_id: str, ears: tuple[EarName, ...], html: str) -> Evidence:
    """Return the same leaflet with one block more, whatever the rules say."""
    words = evidence.block_words[block_id]
    block = ComposedBlock(
        id=block_id,
        rule="none: an example",
        ears=ears,
        because=(),
        section=words.section,
        priority=words.priority,
        safety=words.safety,
        html=html,
        source=words.source,
        reviewed=words.reviewed,
        units=units_of(parse_fragment(html, words.place), block_id, words.graded),
    )
    page = evidence.leaflet.html.replace(
        "</body>", f'<div class="block" data-block="{block_id}">\n{html}\n</div></body>'
    )
    return evidence.with_page(page, (*evidence.leaflet.blocks, block))


def course_added(
    evidence: Evidence,
    *,
    ears: tuple[EarName, ...] = ("left",),
    agent: Agent = "olive-oil",
    drops_per_dose: int = 3,
    times_a_day: int = 2,
    days: int = 5,
) -> Evidence:
    """Return the leaflet with a course of drops from the day after the visit, planned and printed for some ears.

    The ears themselves stay as the visit recorded them.
    """
    course = Course(
        agent=agent,
        ears=ears,
        drops_per_dose=drops_per_dose,
        times_a_day=times_a_day,
        days=days,
        start=evidence.visit.date + datetime.timedelta(days=1),
        soak_minutes=5,
        bottle_drops=200,
    )
    planned = plan_with(evidence, drops=agent, drops_for=ears)
    known = situation_with(planned, course=course)
    which = "both your ears" if len(ears) == 2 else f"your {ears[0]} ear"
    boxes = '<span class="box"></span>' * times_a_day * days
    html = (
        f"<h3>Drops for {which}</h3><p>Put {drops_per_dose} drops in {which}. Do this {times_a_day} times a day. "
        f"That is {course.total_drops} drops in all.</p><table><tbody><tr><td>{boxes}</td></tr></tbody></table>"
    )
    return block_added(known, "drops/course", ears, html)
