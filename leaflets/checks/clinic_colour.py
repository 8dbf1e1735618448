"""PAGE04: the clinic's colour is printed darker than it was chosen.

What: the colour has too little contrast on white paper, so that it is printed with as much black as it takes.
Why: the main message is printed in it; who cannot read it misses what the leaflet is for.
Source: WCAG 2.2, success criterion 1.4.3: 4.5 to 1.
"""

from collections.abc import Iterator
from dataclasses import replace

from leaflets.checks.changes import situation_with
from leaflets.checks.evidence import Evidence, Example
from leaflets.colours import contrast
from leaflets.model import Finding

CODE = "PAGE04"

_PAPER = "#ffffff"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find a colour that was changed."""
    clinic = evidence.situation.clinic
    chosen = clinic.accent_chosen.lower()
    if clinic.accent.lower() != chosen:
        message = f"{chosen} has a contrast of {contrast(chosen, _PAPER):.1f} to 1 on white: {clinic.accent} is printed"
        yield Finding(CODE, "warn", "clinic.toml [accent]", message, "choose a darker colour: 4.5 to 1 at least")


def _chosen(colour: str) -> Example:
    return Example(
        f"the colour {colour}",
        lambda evidence: situation_with(
            evidence, clinic=replace(evidence.situation.clinic, accent="#24504a", accent_chosen=colour)
        ),
    )


GOOD = (_chosen("#24504a"), _chosen("#24504A"))
BAD = (_chosen("#ffee00"),)
