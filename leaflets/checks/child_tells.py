"""SAFE09: the child's page tells when to tell a grown-up, and leaves what is theirs to them.

What: every sign of the grown-up's get-help panel has a line on the child's page, but for fever of an infant, who reads
nothing; and the page holds no figure, as a dose, an hour or a telephone number would be.
Why: a child feels it first, and often alone; but a child neither doses nor decides whom to call.
Source: NHS ear infections and NICE NG98 for the signs, as SAFE01; that a child is told to tell a grown-up: common
practice, no source.
"""

import re
from collections.abc import Iterator
from dataclasses import replace

from leaflets.checks.evidence import Evidence, Example
from leaflets.compose.leaflet import compose
from leaflets.compose.tree import text_of
from leaflets.model import Finding
from leaflets.vocabulary import CHILD_READERS

CODE = "SAFE09"
BLOCK = "help/urgent"

_SIGNS = "data-child-signs"
_OF_ONE_WHO_CANNOT_READ = frozenset({"infant-fever"})
_FIGURE = re.compile(r"\d")
_HINT = "correct templates/blocks/help/urgent.html; this leaflet cannot go out"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find a sign that a child is not told, and a figure that a child should not have to use."""
    if evidence.situation.reader not in CHILD_READERS:
        return
    panel = evidence.printed_blocks().get(BLOCK)
    told = {
        sign
        for line in (() if panel is None else panel.iter("li"))
        if text_of(line)
        for sign in line.get(_SIGNS, "").split()
    }
    place = evidence.place(BLOCK)
    for sign in evidence.situation.signs:
        if sign not in told and sign not in _OF_ONE_WHO_CANNOT_READ:
            yield Finding(CODE, "stop", place, f"the child's page lacks the sign '{sign}'", _HINT)
    for block in evidence.leaflet.blocks:
        if any(_FIGURE.search(unit.text) for unit in block.units):
            message = "a figure stands in the words for a child"
            hint = "say it without; doses, dates and numbers to call are the grown-up's"
            yield Finding(CODE, "stop", evidence.place(block.id), message, hint)


def _childs_page(evidence: Evidence) -> Evidence:
    situation = replace(evidence.situation, reader="child-5-7")
    leaflet = compose(evidence.words, evidence.plan.blocks, situation, "#24504a").leaflet
    return replace(evidence, situation=situation, leaflet=leaflet)


GOOD = (
    Example("an adult's leaflet", lambda evidence: evidence),
    Example("a child's page", _childs_page),
)
BAD = (
    Example("the panel is gone", lambda evidence: _childs_page(evidence).without_block(BLOCK)),
    Example(
        "a sign is gone",
        lambda evidence: _childs_page(evidence).with_block_text(BLOCK, "swelling-behind-ear", "something-else"),
    ),
    Example(
        "a telephone number",
        lambda evidence: _childs_page(evidence).with_block_text(BLOCK, "tell a teacher", "call 999"),
    ),
)
