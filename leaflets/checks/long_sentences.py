"""READ02: a sentence that is too long.

What: a sentence or list item of more than readability.unit-words-up-to words.
Why: a long sentence has to be read twice, and is not.
Source: GOV.UK and Inclusion Europe rules for easy text, from which the limit is derived; common practice, no source.
"""

from collections.abc import Iterator

from leaflets.checks.evidence import LAYOUT_PLACE, Evidence, Example
from leaflets.model import Finding
from leaflets.readability.segment import words

CODE = "READ02"

_READ_AS_PROSE = ("sentence", "item")


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find sentences that are too long, in the blocks and in the page around them."""
    limit = evidence.situation.numbers.whole("readability.unit-words-up-to")
    of_blocks = (unit for block in evidence.leaflet.blocks for unit in block.units)
    for unit in (*evidence.units_outside_blocks(), *of_blocks):
        length = len(words(unit.text))
        if unit.kind in _READ_AS_PROSE and length > limit:
            place = evidence.place(unit.block) if unit.block in evidence.block_words else LAYOUT_PLACE
            message = f"“{unit.text}” has {length} words"
            yield Finding(CODE, "warn", place, message, f"make two sentences of it: {limit} words are the most")


def _of_length(count: int) -> Example:
    sentence = " ".join(["ear"] * count)
    return Example(
        f"a sentence of {count} words",
        lambda evidence: evidence.with_block_text("ears/nothing-inside", "</h3>", f"</h3><p>{sentence}.</p>"),
    )


GOOD = (Example("a routine leaflet", lambda evidence: evidence), _of_length(20))
BAD = (_of_length(21),)
