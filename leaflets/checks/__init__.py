"""Checks of a leaflet, one a module: what, why, source, and examples of good and bad.

A check is pure: evidence in, findings out. A crash in a check is our own fault, never a pass: it is not caught.
"""

from collections.abc import Iterable, Mapping
from types import ModuleType

from leaflets.checks import (
    not_recorded,
    planned_but_withheld,
    to_confirm,
)
from leaflets.checks.evidence import Evidence, Pages
from leaflets.model import Finding, Plan

CHECKS: tuple[ModuleType, ...] = (
    planned_but_withheld,
    not_recorded,
    to_confirm,
)
"""Every check that needs no pages; each has CODE, check(evidence), GOOD and BAD."""

LAYOUT_CHECKS: tuple[ModuleType, ...] = ()
"""Every check of the pages; each has CODE, check(leaflet, pages, numbers), GOOD and BAD."""

_PLAN_CHECKS = (planned_but_withheld, not_recorded, to_confirm)
_SEVERITY_ORDER: Mapping[str, int] = {"stop": 0, "warn": 1, "note": 2}


def check_plan(plan: Plan) -> list[Finding]:
    """Run the checks that need only the plan: what they stop has no leaflet to look at."""
    return in_order(finding for module in _PLAN_CHECKS for finding in module.check_plan(plan))


def check_leaflet(evidence: Evidence) -> list[Finding]:
    """Run every check that needs no pages."""
    return in_order(finding for module in CHECKS for finding in module.check(evidence))


def check_pages(evidence: Evidence, pages: Pages) -> list[Finding]:
    """Run every check of the pages."""
    return in_order(finding for module in LAYOUT_CHECKS for finding in module.check(evidence, pages))


def in_order(findings: Iterable[Finding]) -> list[Finding]:
    """Return findings, each once, the gravest first, then by place."""
    return sorted(set(findings), key=lambda one: (_SEVERITY_ORDER[one.severity], one.place, one.code, one.message))
