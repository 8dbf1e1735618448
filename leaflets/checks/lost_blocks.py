"""SAFE08: a block that was planned and is lost, or that came out empty.

What: a safety block of the plan is not in the leaflet, whatever the reason; another block is neither in the leaflet nor
named as left out; a block of the leaflet is not on its page; or a block has no text.
Why: shortening, a layout or a template's condition must not take words away unseen.
Source: DCB0129 practice of hazard control: what is shown or left out is traced; the get-help panel is never shortened
away (AAO-HNSF 2017, NICE NG98).
"""

from collections.abc import Iterator
from dataclasses import replace

from leaflets.checks.evidence import Evidence, Example
from leaflets.compose.tree import parse_fragment, text_of
from leaflets.model import Finding

CODE = "SAFE08"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find blocks that are lost or empty."""
    in_leaflet = {block.id for block in evidence.leaflet.blocks}
    for planned in evidence.plan.blocks:
        if planned.id in in_leaflet:
            continue
        if evidence.block_words[planned.id].safety:
            message = f"the safety block {planned.id} of the rule {planned.rule} is not in the leaflet"
            yield _lost(evidence, planned.id, message)
        elif planned.id not in evidence.leaflet.left_out:
            yield _lost(evidence, planned.id, f"the block {planned.id} is lost: nobody left it out")
    printed = evidence.printed_blocks()
    for block in evidence.leaflet.blocks:
        tree = parse_fragment(block.html, evidence.place(block.id))
        if not text_of(tree):
            yield _lost(evidence, block.id, f"the block {block.id} has no text for this visit")
        elif block.id not in printed or text_of(printed[block.id]) != text_of(tree):
            yield _lost(evidence, block.id, f"the page does not hold the words of {block.id}")


def _lost(evidence: Evidence, block_id: str, message: str) -> Finding:
    hint = "correct the template or the layout, or the rule that gives the block"
    return Finding(CODE, "stop", evidence.place(block_id), message, hint)


def _left_out(evidence: Evidence, block_id: str) -> Evidence:
    without = evidence.without_block(block_id)
    return replace(without, leaflet=replace(without.leaflet, left_out=(block_id,)))


def _emptied(evidence: Evidence) -> Evidence:
    block = evidence.block("next/contact")
    assert block is not None, "every leaflet has it"
    return evidence.with_block_text("next/contact", str(block.html), "<p> </p>")


GOOD = (
    Example("a routine leaflet", lambda evidence: evidence),
    Example(
        "a block of general advice is left out by name", lambda evidence: _left_out(evidence, "ears/how-ears-clean")
    ),
)
BAD = (
    Example("a safety block is left out by name", lambda evidence: _left_out(evidence, "ears/nothing-inside")),
    Example("a block is lost", lambda evidence: evidence.without_block("ears/how-ears-clean")),
    Example("a block is empty", _emptied),
    Example(
        "the page lost what the leaflet holds",
        lambda evidence: replace(
            evidence, leaflet=replace(evidence.without_block("help/urgent").leaflet, blocks=evidence.leaflet.blocks)
        ),
    ),
)
