"""RULE14: care was given in another country than the clinic's.

What: the country of care on the record is not the clinic's own.
Why: emergency and advice numbers follow the country of care, but the clinic's telephone, hours and way out of hours are
words of its own, written for its own country.
Source: common practice, no source.
"""

from collections.abc import Iterator
from dataclasses import replace

from leaflets.checks.changes import situation_with
from leaflets.checks.evidence import Evidence, Example
from leaflets.model import Finding

CODE = "RULE14"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find a country of care that is not the clinic's."""
    care, home = evidence.situation.country.code, evidence.situation.clinic.country
    if care != home:
        message = f"care was given in {care}, and the clinic's own telephone and route out of hours are for {home}"
        yield Finding(CODE, "warn", "country", message, "look that both can be reached from there, or correct country")


def _care_in(evidence: Evidence, code: str) -> Evidence:
    return situation_with(evidence, country=replace(evidence.situation.country, code=code))


GOOD = (Example("care where the clinic is", lambda evidence: evidence),)
BAD = (Example("care in another country", lambda evidence: _care_in(evidence, "NZ")),)
