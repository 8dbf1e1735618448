"""RULE04: only one ear is on record.

What: one of the two ears has no findings.
Why: wax and its causes are mostly on both sides; an ear that nobody looked into is easily forgotten.
Source: common practice, no source.
"""

from collections.abc import Iterator

from leaflets.checks.changes import visit_with
from leaflets.checks.evidence import Evidence, Example
from leaflets.model import Finding
from leaflets.vocabulary import EARS

CODE = "RULE04"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find the ear that was not examined."""
    for name in EARS:
        if evidence.visit.ear(name) is None:
            message = f"only one ear is recorded: the leaflet says that nobody looked into the {name} ear"
            yield Finding(CODE, "note", name, message, "look into both ears, and record what you see")


GOOD = (Example("both ears were examined", lambda evidence: evidence),)
BAD = (
    Example("the left ear is not recorded", lambda evidence: visit_with(evidence, left=None)),
    Example("the right ear is not recorded", lambda evidence: visit_with(evidence, right=None)),
)
