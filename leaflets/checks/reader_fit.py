"""RULE05: words for a reader who is not the one.

What: the leaflet speaks to an adult, and the person is a child.
Why: whoever looks after the child has to be told what to do, and how a child shows that it is ill.
Source: PEMAT item on the reader addressed; AHRQ. The age: NHS ear infections (children under 16).
"""

from collections.abc import Iterator

from leaflets.checks.changes import person_with, situation_with
from leaflets.checks.evidence import Evidence, Example
from leaflets.model import Finding

CODE = "RULE05"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find a leaflet for an adult about a child."""
    age = evidence.visit.person.age_years
    child_up_to = evidence.situation.numbers.whole("age.child-up-to")
    if evidence.situation.reader == "adult" and age is not None and age <= child_up_to:
        message = f"is adult, but the person is a child of {child_up_to} or under"
        yield Finding(
            CODE, "warn", "reader", message, "set reader = 'carer', so that it speaks to who looks after them"
        )


GOOD = (
    Example("an adult reads", lambda evidence: evidence),
    Example("a person of sixteen reads", lambda evidence: person_with(evidence, age_years=16)),
    Example(
        "a carer reads about a child",
        lambda evidence: person_with(situation_with(evidence, reader="carer"), age_years=4),
    ),
)
BAD = (Example("a child of fifteen, and words for an adult", lambda evidence: person_with(evidence, age_years=15)),)
