"""Checks of sheets for everybody: those of leaflets that apply, and those that only a sheet needs.

A sheet has evidence like a leaflet, with nobody's visit in it: what asks about a person's findings has nothing to ask.
"""

from dataclasses import replace
from types import ModuleType

from leaflets.checks import (
    clinic_lines,
    drafts_refused,
    forbidden_advice,
    get_help,
    help_on_first_page,
    in_order,
    invented_clinic,
    left_out,
    lost_blocks,
    missing_characters,
    nothing_inside,
    page_count,
    plain_words,
    printed_values,
    reading_grade,
    review_age,
    translations,
)
from leaflets.checks.evidence import Evidence, Pages
from leaflets.checks.sheets import does_not_fit, for_everybody, mark_on_drafts, whom_to_tell
from leaflets.model import Finding

OWN_CHECKS: tuple[ModuleType, ...] = (for_everybody, whom_to_tell, mark_on_drafts)
"""Every check that only sheets need and that needs no pages; each has CODE, check(evidence), GOOD and BAD."""

OWN_LAYOUT_CHECKS: tuple[ModuleType, ...] = (does_not_fit,)
"""Every check of the pages that only sheets need; each has CODE, check(evidence, laid_out), GOOD and BAD."""

_OF_EVERY_SHEET: tuple[ModuleType, ...] = (
    forbidden_advice,
    lost_blocks,
    reading_grade,
    plain_words,
    translations,
    review_age,
    invented_clinic,
    drafts_refused,
    missing_characters,
    *OWN_CHECKS,
)
_WHOLE = "the whole leaflet"
"""The place of a finding of leaflets that is about no part of it."""

_OF_TOPICS: tuple[ModuleType, ...] = (get_help, nothing_inside, printed_values, clinic_lines)
_OF_TOPIC_PAGES: tuple[ModuleType, ...] = (help_on_first_page, page_count, left_out)


def check_sheet(evidence: Evidence) -> list[Finding]:
    """Run every check of a sheet that needs no pages."""
    modules = _OF_EVERY_SHEET + (_OF_TOPICS if evidence.situation.topic is not None else ())
    if evidence.situation.topic is None and evidence.block(get_help.BLOCK) is not None:
        modules += (get_help,)
    found = [finding for module in modules for finding in module.check(evidence)]
    return in_order(replace(one, place=_whole(evidence)) if one.place == _WHOLE else one for one in found)


def _whole(evidence: Evidence) -> str:
    """Return how a finding on a sheet as a whole names it: a pack has several."""
    return evidence.layout_place if evidence.situation.topic else evidence.place(evidence.leaflet.blocks[0].id)


def check_sheet_pages(evidence: Evidence, laid_out: does_not_fit.LaidOut) -> list[Finding]:
    """Run every check of the pages of a sheet."""
    found = [finding for module in OWN_LAYOUT_CHECKS for finding in module.check(evidence, laid_out)]
    if evidence.situation.topic is not None:
        pages = Pages(laid_out.pages, laid_out.first_page)
        found += [finding for module in _OF_TOPIC_PAGES for finding in module.check(evidence, pages)]
    return in_order(found)
