"""READ01: how hard the leaflet is to read.

What: the grade stops over the limit of the reader and format; it warns over what is wanted, and where the upper end of
its interval crosses the limit that stops; in a format with a mean length it warns over that; what was not measured is
noted.
Why: a leaflet that is too hard is not read, least of all by those who need it most.
Source: named for each reader and format in leaflets/readability/targets.toml; the formula is Flesch-Kincaid.
"""

from collections.abc import Iterator
from dataclasses import replace

from leaflets.checks.evidence import Evidence, Example
from leaflets.model import Finding
from leaflets.readability.targets import target_for, verdict

CODE = "READ01"

_PLACE = "the whole leaflet"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find a leaflet that is too hard to read, or that was not measured."""
    target = target_for(evidence.situation.reader, evidence.situation.format)
    for judgement in verdict(evidence.report, (), target).judgements:
        yield Finding(CODE, judgement.severity, _PLACE, judgement.message, judgement.hint)


def _graded(evidence: Evidence, grade: float | None, high: float | None) -> Evidence:
    return replace(evidence, report=replace(evidence.report, grade=grade, high=high))


def _easy_read(evidence: Evidence, words: int) -> Evidence:
    report = replace(evidence.report, words=words, sentences=10)
    return replace(evidence, report=report, situation=replace(evidence.situation, format="easy-read"))


GOOD = (
    Example("a routine leaflet", lambda evidence: evidence),
    Example("exactly the grade that is wanted", lambda evidence: _graded(evidence, 6.0, 7.0)),
    Example("easy read, 12 words in a sentence in the mean", lambda evidence: _easy_read(evidence, 120)),
)
BAD = (
    Example("too hard", lambda evidence: _graded(evidence, 8.1, 9.0)),
    Example("harder than wanted", lambda evidence: _graded(evidence, 6.1, 7.0)),
    Example("the interval crosses the limit", lambda evidence: _graded(evidence, 5.9, 8.1)),
    Example("easy read, longer in the mean", lambda evidence: _easy_read(evidence, 121)),
    Example("not measured", lambda evidence: _graded(evidence, None, None)),
)
