"""RULE02: what was not recorded, though advice depends on it.

What: an indicated rule that cannot be judged, because a field of the visit was left out.
Why: unknown is not "no". Advice that a missing fact might forbid is not given; nor is the leaflet.
Source: DCB0129 practice of hazard control: a missing value is never taken for a negative one.
"""

from collections.abc import Iterator
from dataclasses import replace

from leaflets.checks.evidence import Evidence, Example
from leaflets.model import Asked, Finding, Plan

CODE = "RULE02"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find what was not recorded."""
    return check_plan(evidence.plan)


def check_plan(plan: Plan) -> Iterator[Finding]:
    """Find the fields to record: a stop for each indicated rule, and one warning a field for all others together."""
    waiting: dict[str, list[str]] = {}
    for asked in plan.asked:
        for field in asked.not_recorded:
            if asked.indicated:
                message = f"is not recorded, and {asked.rule} depends on it"
                yield Finding(CODE, "stop", field, message, "record it; for a list, [] says that there is none")
            else:
                waiting.setdefault(field, []).append(asked.rule)
    for field, rules in waiting.items():
        message = f"is not recorded, so this advice was not judged: {', '.join(sorted(set(rules)))}"
        yield Finding(CODE, "warn", field, message, "record it; for a list, [] says that there is none")


def _ask(evidence: Evidence, *, indicated: bool) -> Evidence:
    asked = Asked("wax/softening-drops", ("left",), ("left.eardrum",), (), indicated=indicated)
    return replace(evidence, plan=replace(evidence.plan, asked=(asked,)))


GOOD = (Example("everything is recorded", lambda evidence: evidence),)
BAD = (
    Example("drops are planned, the eardrum is not recorded", lambda evidence: _ask(evidence, indicated=True)),
    Example("whether a rule applies at all is not known", lambda evidence: _ask(evidence, indicated=False)),
)
