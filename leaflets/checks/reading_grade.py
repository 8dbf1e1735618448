"""READ01: how hard the leaflet is to read.

What: the grade stops over readability.grade-stops-over; it warns over readability.grade-wanted-up-to, and where the
upper end of its interval crosses the limit that stops; a language without a formula is noted as not measured.
Why: a leaflet that is too hard is not read, least of all by those who need it most.
Source: NHS and NIH advice on reading level, from which the limits are derived; the formula is Flesch-Kincaid.
"""

from collections.abc import Iterator
from dataclasses import replace

from leaflets.checks.evidence import Evidence, Example
from leaflets.model import Finding

CODE = "READ01"

_PLACE = "the whole leaflet"
_HINT = "shorten the longest sentences and replace long words: leaflets grade names them"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find a leaflet that is too hard to read, or that was not measured."""
    grade, high = evidence.report.grade, evidence.report.high
    stops_over = evidence.situation.numbers["readability.grade-stops-over"].value
    wanted_up_to = evidence.situation.numbers["readability.grade-wanted-up-to"].value
    if grade is None or high is None:
        message = f"readability was not measured: no formula for '{evidence.leaflet.language}', or too few sentences"
        hint = "let somebody who reads this language at an easy level read it"
        yield Finding(CODE, "note", _PLACE, message, hint)
    elif grade > stops_over:
        yield Finding(CODE, "stop", _PLACE, f"grade {grade:.1f} is over {stops_over}: too hard to read", _HINT)
    elif grade > wanted_up_to:
        yield Finding(CODE, "warn", _PLACE, f"grade {grade:.1f} is over {wanted_up_to}, which is wanted", _HINT)
    elif high > stops_over:
        message = f"grade {grade:.1f} may be as high as {high:.1f}, over {stops_over}"
        yield Finding(CODE, "warn", _PLACE, message, _HINT)


def _graded(evidence: Evidence, grade: float | None, high: float | None) -> Evidence:
    return replace(evidence, report=replace(evidence.report, grade=grade, high=high))


GOOD = (
    Example("a routine leaflet", lambda evidence: evidence),
    Example("exactly the grade that is wanted", lambda evidence: _graded(evidence, 6.0, 7.0)),
)
BAD = (
    Example("too hard", lambda evidence: _graded(evidence, 8.1, 9.0)),
    Example("harder than wanted", lambda evidence: _graded(evidence, 6.1, 7.0)),
    Example("the interval crosses the limit", lambda evidence: _graded(evidence, 5.9, 8.1)),
    Example("not measured", lambda evidence: _graded(evidence, None, None)),
)
