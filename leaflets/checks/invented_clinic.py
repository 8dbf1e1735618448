"""RULE11: a leaflet of the invented clinic.

What: the clinic of the demonstration stands on the leaflet.
Why: its telephone number reaches nobody. The leaflet is an example, and no patient should get it.
Source: common practice, no source.
"""

from collections.abc import Iterator
from dataclasses import replace

from leaflets.checks.changes import situation_with
from leaflets.checks.evidence import Evidence, Example
from leaflets.model import Finding

CODE = "RULE11"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find the invented clinic."""
    if evidence.situation.clinic.invented:
        message = "the clinic is an invented one, so every page says that this is an example"
        yield Finding(CODE, "warn", "clinic", message, "make your own with: leaflets new-clinic FOLDER, and name it")


def _invented(evidence: Evidence, *, invented: bool) -> Evidence:
    return situation_with(evidence, clinic=replace(evidence.situation.clinic, invented=invented))


GOOD = (Example("a clinic of its own", lambda evidence: _invented(evidence, invented=False)),)
BAD = (Example("the clinic of the demonstration", lambda evidence: _invented(evidence, invented=True)),)
