"""RULE02: what was not recorded, though advice depends on it.

What: a rule that cannot be judged, because a field of the visit was left out.
Why: unknown is not "no". Advice that a missing fact might forbid is not given. Where the rule is known to apply, and it
is a treatment or gives a safety block, there is no leaflet without it; other advice may be missing, and is named.
Source: DCB0129 practice of hazard control: a missing value is never taken for a negative one.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import replace

from leaflets.checks.evidence import Evidence, Example
from leaflets.compose.words import BlockWords
from leaflets.model import Asked, Finding, Plan
from leaflets.rules.rule import Rule

CODE = "RULE02"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find what was not recorded."""
    return check_plan(evidence.plan, essential_rules(evidence.rules.values(), evidence.block_words))


def essential_rules(rules: Iterable[Rule], block_words: Mapping[str, BlockWords]) -> frozenset[str]:
    """Return the ids of the rules that a leaflet cannot do without: treatments, and rules that give a safety block."""
    return frozenset(
        rule.id
        for rule in rules
        if rule.decided_by is not None
        or any(block_words[block_id].safety for block_id in rule.blocks if block_id in block_words)
    )


def check_plan(plan: Plan, essential: Collection[str]) -> Iterator[Finding]:
    """Find the fields to record: a stop for each essential rule that applies, one warning a field for the others."""
    waiting: dict[str, list[str]] = {}
    for asked in plan.asked:
        for field in asked.not_recorded:
            if asked.indicated and asked.rule in essential:
                message = f"is not recorded, and {asked.rule} depends on it"
                yield Finding(CODE, "stop", field, message, "record it; for a list, [] says that there is none")
            else:
                waiting.setdefault(field, []).append(asked.rule)
    for field, names in waiting.items():
        message = f"is not recorded, so this advice was not judged: {', '.join(sorted(set(names)))}"
        yield Finding(CODE, "warn", field, message, "record it; for a list, [] says that there is none")


def _ask(evidence: Evidence, rule: str = "wax/softening-drops", *, indicated: bool) -> Evidence:
    asked = Asked(rule, ("left",), ("left.eardrum",), (), indicated=indicated)
    return replace(evidence, plan=replace(evidence.plan, asked=(asked,)))


GOOD = (Example("everything is recorded", lambda evidence: evidence),)
BAD = (
    Example("drops are planned, the eardrum is not recorded", lambda evidence: _ask(evidence, indicated=True)),
    Example("advice that may be left out", lambda evidence: _ask(evidence, "life/swimming", indicated=True)),
    Example("whether a rule applies at all is not known", lambda evidence: _ask(evidence, indicated=False)),
)
