"""RULE13: a confirmation that nothing asked for.

What: the practitioner confirmed a rule that no precaution held back, or that was not given at all.
Why: it may be meant for another rule, which then still waits; and a confirmation given by habit confirms nothing.
Source: DCB0129: an override carries identity and reason, and stands for one decision.
"""

from collections.abc import Iterator
from dataclasses import replace

from leaflets.checks.changes import plan_with
from leaflets.checks.evidence import Evidence, Example
from leaflets.model import Finding, Given
from leaflets.visit import Confirmation

CODE = "RULE13"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find confirmations that nothing asked for."""
    needed = {given.rule for given in evidence.plan.given if given.confirmed is not None}
    for confirmation in evidence.visit.plan.confirm:
        if confirmation.rule not in needed:
            message = f"confirms {confirmation.rule}, which asked for no confirmation"
            yield Finding(CODE, "note", "plan.confirm", message, "take it out, or name the rule that you meant")


def _confirmed(evidence: Evidence) -> Evidence:
    return plan_with(evidence, confirm=(Confirmation(rule="wax/left-in", reason="seen again next week anyway"),))


def _needed(evidence: Evidence) -> Evidence:
    given = Given("wax/left-in", ("left",), ("left.wax_after = not-cleared",), "seen again next week anyway")
    confirmed = _confirmed(evidence)
    return replace(confirmed, plan=replace(confirmed.plan, given=(*confirmed.plan.given, given)))


GOOD = (
    Example("nothing is confirmed", lambda evidence: evidence),
    Example("a precaution held, and was confirmed", _needed),
)
BAD = (Example("a confirmation that nothing asked for", _confirmed),)
