"""RULE17: lines of the clinic in another language than the leaflet.

What: the clinic's opening hours and what to do out of hours are printed in the clinic's language, as clinic.toml has no
`[translated.…]` for that of the leaflet.
Why: whoever reads only one language does not know when to call.
Source: common practice, no source.
"""

from collections.abc import Iterator
from dataclasses import replace

from leaflets.checks.changes import situation_with
from leaflets.checks.evidence import Evidence, Example
from leaflets.model import Finding
from leaflets.readability.segment import base_language

CODE = "RULE17"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find a clinic's lines that are not translated."""
    situation = evidence.situation
    lines, language = situation.clinic.lines_language, situation.language
    if base_language(lines) != base_language(language):
        message = f"the clinic's hours are printed in '{lines}', in a leaflet in '{language}'"
        hint = f"add [translated.{language}] with hours and out_of_hours"
        yield Finding(CODE, "warn", "clinic.toml", message, hint)


def _lines_in(evidence: Evidence, language: str) -> Evidence:
    return situation_with(evidence, clinic=replace(evidence.situation.clinic, lines_language=language))


GOOD = (
    Example("in the language of the leaflet", lambda evidence: evidence),
    Example("in a variety of it", lambda evidence: _lines_in(evidence, "en-US")),
)
BAD = (Example("in another language", lambda evidence: _lines_in(evidence, "cy")),)
