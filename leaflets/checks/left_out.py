"""PAGE03: advice that was left out for want of room.

What: the blocks that the leaflet would have had, were there room.
Why: the practitioner can say what the paper does not; nothing is taken away unseen.
Source: common practice, no source.
"""

from collections.abc import Iterator
from dataclasses import replace

from leaflets.checks.evidence import Evidence, LayoutExample, Pages
from leaflets.model import Finding

CODE = "PAGE03"


def check(evidence: Evidence, _pages: Pages) -> Iterator[Finding]:
    """Name what was left out."""
    for block_id in evidence.leaflet.left_out:
        message = f"{block_id} was left out for want of room"
        yield Finding(CODE, "note", evidence.place(block_id), message, "say it yourself, or shorten other words")


def _left_out(evidence: Evidence, pages: Pages) -> tuple[Evidence, Pages]:
    without = evidence.without_block("ears/how-ears-clean")
    return replace(without, leaflet=replace(without.leaflet, left_out=("ears/how-ears-clean",))), pages


GOOD = (LayoutExample("all is there", lambda evidence, pages: (evidence, pages)),)
BAD = (LayoutExample("a block was left out", _left_out),)
