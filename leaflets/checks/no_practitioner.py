"""RULE12: nobody says who saw the person.

What: the practitioner is not recorded.
Why: the leaflet then does not say who to ask, and the record does not say who decided.
Source: DCB0129: who issued a document is recorded.
"""

from collections.abc import Iterator

from leaflets.checks.changes import visit_with
from leaflets.checks.evidence import Evidence, Example
from leaflets.model import Finding

CODE = "RULE12"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find a visit without a practitioner."""
    if evidence.visit.practitioner is None:
        yield Finding(CODE, "note", "practitioner", "is not recorded", "give initials or a registration number")


GOOD = (Example("the practitioner is recorded", lambda evidence: evidence),)
BAD = (Example("the practitioner is not recorded", lambda evidence: visit_with(evidence, practitioner=None)),)
