"""RULE01: a planned treatment that is contraindicated.

What: the practitioner planned it, and the rules forbid it for this ear.
Why: a contraindication always wins and cannot be overridden; a leaflet without the treatment would hide the conflict.
Source: NICE NG98 1.2; UK labels of ear drops; the rule itself names its own.
"""

from collections.abc import Iterator
from dataclasses import replace

from leaflets.checks.evidence import Evidence, Example
from leaflets.model import Finding, Plan, Withheld

CODE = "RULE01"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find planned treatments that are withheld."""
    return check_plan(evidence.plan)


def check_plan(plan: Plan) -> Iterator[Finding]:
    """Find planned treatments that are withheld."""
    for withheld in plan.withheld:
        if withheld.planned:
            ears = " and ".join(withheld.ears)
            message = f"{withheld.rule} is planned but contraindicated: {', '.join(withheld.because)}"
            hint = f"take it out of the plan for the {ears} ear" if ears else "take it out of the plan"
            yield Finding(CODE, "stop", "plan.drops_for", message, hint)


def _withhold(evidence: Evidence) -> Evidence:
    withheld = Withheld("wax/softening-drops", ("left",), ("left.eardrum = perforated",), planned=True)
    return replace(evidence, plan=replace(evidence.plan, withheld=(withheld,)))


def _withhold_unplanned(evidence: Evidence) -> Evidence:
    withheld = Withheld("wax/softening-drops", ("left",), ("left.eardrum = perforated",), planned=False)
    return replace(evidence, plan=replace(evidence.plan, withheld=(withheld,)))


GOOD = (
    Example("nothing is withheld", lambda evidence: evidence),
    Example("drops are withheld, and were not planned", _withhold_unplanned),
)
BAD = (Example("drops are planned for a perforated eardrum", _withhold),)
