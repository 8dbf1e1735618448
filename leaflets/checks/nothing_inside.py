"""SAFE04: every leaflet says to put nothing into an ear.

What: the block that says so stands in the leaflet, and has words.
Why: cotton buds, pins and tools push wax in and cut; whoever reads only one piece of advice should read this one.
Source: NICE NG98 1.2 (from memory); AAO-HNSF earwax guideline 2017, patient advice.
"""

from collections.abc import Iterator

from leaflets.checks.evidence import Evidence, Example
from leaflets.compose.tree import text_of
from leaflets.model import Finding

CODE = "SAFE04"
BLOCK = "ears/nothing-inside"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find a leaflet that does not say it."""
    printed = evidence.printed_blocks().get(BLOCK)
    if evidence.block(BLOCK) is None or printed is None or not text_of(printed):
        message = "the leaflet does not say to put nothing into an ear"
        hint = "see why the rule ears/nothing-inside did not give it, or why the layout lost it"
        yield Finding(CODE, "stop", f"templates/blocks/{BLOCK}.html", message, hint)


GOOD = (Example("a routine leaflet", lambda evidence: evidence),)
BAD = (Example("the block is gone", lambda evidence: evidence.without_block(BLOCK)),)
