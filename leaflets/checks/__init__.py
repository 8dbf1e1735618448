"""Checks of a leaflet, one a module: what, why, source, and examples of good and bad.

A check is pure: evidence in, findings out. A crash in a check is our own fault, never a pass: it is not caught.
"""

from collections.abc import Iterable, Mapping
from types import ModuleType

from leaflets.checks import (
    child_tells,
    clinic_colour,
    clinic_lines,
    demanded_blocks,
    dose_out_of_bounds,
    drafts_refused,
    drops_where_forbidden,
    forbidden_advice,
    get_help,
    help_on_first_page,
    invented_clinic,
    left_out,
    lost_blocks,
    missing_characters,
    needless_confirmation,
    no_practitioner,
    not_recorded,
    nothing_inside,
    one_ear,
    other_country,
    page_count,
    plain_words,
    planned_but_withheld,
    printed_values,
    reader_fit,
    reading_grade,
    review_age,
    to_confirm,
    translations,
)
from leaflets.checks.evidence import Evidence, Pages
from leaflets.compose.words import BlockWords
from leaflets.model import Finding, Plan
from leaflets.rules.rule import Rule

CHECKS: tuple[ModuleType, ...] = (
    planned_but_withheld,
    not_recorded,
    to_confirm,
    get_help,
    child_tells,
    drops_where_forbidden,
    dose_out_of_bounds,
    nothing_inside,
    forbidden_advice,
    printed_values,
    demanded_blocks,
    lost_blocks,
    reading_grade,
    plain_words,
    translations,
    one_ear,
    reader_fit,
    review_age,
    invented_clinic,
    other_country,
    clinic_lines,
    clinic_colour,
    drafts_refused,
    no_practitioner,
    needless_confirmation,
    missing_characters,
)
"""Every check that needs no pages; each has CODE (or CODES), check(evidence), GOOD and BAD."""

CHILDS_PAGE_CHECKS: tuple[ModuleType, ...] = (
    child_tells,
    nothing_inside,
    forbidden_advice,
    lost_blocks,
    reading_grade,
    plain_words,
    translations,
    review_age,
    missing_characters,
)
"""The checks of a child's page; those of the grown-up's leaflet behind it are all of `CHECKS`."""

LAYOUT_CHECKS: tuple[ModuleType, ...] = (help_on_first_page, page_count, left_out)
"""Every check of the pages; each has CODE, check(evidence, pages), GOOD and BAD."""

_SEVERITY_ORDER: Mapping[str, int] = {"stop": 0, "warn": 1, "note": 2}


def check_plan(plan: Plan, rules: Iterable[Rule], block_words: Mapping[str, BlockWords]) -> list[Finding]:
    """Run the checks that need only the plan: what they stop has no leaflet to look at."""
    essential = not_recorded.essential_rules(rules, block_words)
    return in_order(
        [
            *planned_but_withheld.check_plan(plan),
            *not_recorded.check_plan(plan, essential),
            *to_confirm.check_plan(plan),
        ]
    )


def check_leaflet(evidence: Evidence) -> list[Finding]:
    """Run every check that needs no pages."""
    return in_order(finding for module in CHECKS for finding in module.check(evidence))


def check_childs_page(evidence: Evidence) -> list[Finding]:
    """Run the checks of a child's page."""
    return in_order(finding for module in CHILDS_PAGE_CHECKS for finding in module.check(evidence))


def check_pages(evidence: Evidence, pages: Pages) -> list[Finding]:
    """Run every check of the pages."""
    return in_order(finding for module in LAYOUT_CHECKS for finding in module.check(evidence, pages))


def in_order(findings: Iterable[Finding]) -> list[Finding]:
    """Return findings, each once, the gravest first, then by place."""
    return sorted(set(findings), key=lambda one: (_SEVERITY_ORDER[one.severity], one.place, one.code, one.message))
