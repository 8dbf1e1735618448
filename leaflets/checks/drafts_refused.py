"""RULE16: words that nobody approved, in a clinic that prints none.

What: the clinic set `issue_drafts = false`, and a message of the leaflet is not reviewed, or was so in other words.
Why: a clinic that decided to print nothing unread must be able to rely on it.
Source: DCB0129, change control; common practice, no source.
"""

from collections.abc import Iterator
from dataclasses import replace

from leaflets.checks.changes import situation_with
from leaflets.checks.evidence import Evidence, Example
from leaflets.compose.leaflet import DRAFT_MARKS
from leaflets.model import Finding

CODE = "RULE16"

_SHOWN = 3


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find a leaflet with draft words where the clinic issues none."""
    if evidence.situation.issue_drafts:
        return
    drafts = [one for one in evidence.leaflet.messages if one.state == "draft" and one.source not in DRAFT_MARKS]
    if drafts:
        shown = "; ".join(f"“{one.source}”" for one in drafts[:_SHOWN])
        message = f"{len(drafts)} messages are drafts, and this clinic issues none: {shown}"
        yield Finding(
            CODE, "stop", "clinic.toml [issue_drafts]", message, "have them signed off: leaflets words review"
        )


def _refusing(evidence: Evidence) -> Evidence:
    return situation_with(evidence, issue_drafts=False)


def _reviewed(evidence: Evidence) -> Evidence:
    messages = tuple(replace(one, state="reviewed") for one in evidence.leaflet.messages)
    return replace(evidence, leaflet=replace(evidence.leaflet, messages=messages))


GOOD = (
    Example("a clinic that issues drafts", lambda evidence: evidence),
    Example("all is reviewed", lambda evidence: _refusing(_reviewed(evidence))),
)
BAD = (Example("drafts where none are issued", _refusing),)
