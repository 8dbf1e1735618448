"""RULE03: a precaution that nobody has confirmed.

What: a rule that a precaution holds back until the practitioner confirms it with a reason.
Why: the decision is a licensed person's, and it goes on the record.
Source: DCB0129, override with identity and reason; the rule itself names its own.
"""

from collections.abc import Iterator
from dataclasses import replace

from leaflets.checks.evidence import Evidence, Example
from leaflets.model import Asked, Finding, Plan

CODE = "RULE03"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find precautions to confirm."""
    return check_plan(evidence.plan)


def check_plan(plan: Plan) -> Iterator[Finding]:
    """Find precautions to confirm."""
    for asked in plan.asked:
        if asked.to_confirm:
            message = f"{asked.rule} needs your confirmation: {', '.join(asked.to_confirm)}"
            hint = f'add to plan.confirm: {{ rule = "{asked.rule}", reason = "…" }}, or take it out of the plan'
            yield Finding(CODE, "stop", "plan.confirm", message, hint)


def _ask(evidence: Evidence) -> Evidence:
    asked = Asked("wax/softening-drops", ("left",), (), ("left.canal = eczema",), indicated=True)
    return replace(evidence, plan=replace(evidence.plan, asked=(asked,)))


GOOD = (Example("no precaution holds", lambda evidence: evidence),)
BAD = (Example("eczema, and no confirmation", _ask),)
