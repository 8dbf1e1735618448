"""Answers that more than one checklist asks for."""

from leaflets.checks.evidence import Evidence
from leaflets.standards import page
from leaflets.standards.checklist import Found

_SHOWN = 3


def names_an_action(evidence: Evidence) -> Found:
    """Find whether an English leaflet tells the reader to do something; in other languages a person judges."""
    if not page.is_english(evidence):
        return Found("for a person to judge", "orders are known in English alone")
    found = page.orders(evidence)
    if not found:
        return Found("not met", "no sentence tells the reader to do something")
    return Found("met", f"{len(found)} sentences, among them: {' '.join(found[:_SHOWN])}")


def nothing_to_work_out(evidence: Evidence) -> Found:
    """Find sums that an English leaflet leaves to the reader; where none is found, a person judges."""
    if not page.is_english(evidence):
        return Found("for a person to judge", "what leaves a sum to the reader is known in English alone")
    found = page.sums_left(evidence)
    said = f"words that leave a sum: {'; '.join(found[:_SHOWN]) or 'none found'}"
    return Found("not met" if found else "for a person to judge", said)


def parts_have_headings(evidence: Evidence) -> Found:
    """Find whether each part and each block of the page has a heading."""
    parts = page.parts(evidence)
    without = [name for name, part in parts.items() if not page.has_heading(part)]
    if without or not parts:
        return Found("not met", f"no heading: {', '.join(without) or 'the page has no parts'}")
    return Found("met", f"parts and blocks, each with a heading: {len(parts)}")
