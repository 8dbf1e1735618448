"""SAFE10: a sheet that does not say whom to tell, or to leave the inside of ears alone.

What: a child's sheet, a poster or a page of activities has no line marked `data-help` with words (tell a grown-up) or
none marked `data-nothing-inside`; a letter or a teacher's notes has no get-help panel, or lacks the line for children
with diabetes or weak immunity; so does a prevention leaflet.
Why: the one thing that a child must remember is to tell somebody; whoever keeps only one page of a pack keeps that line
with it.
Source: children are told to tell a grown-up: NENC Healthier Together, earache (parents are told what to do, not
children); nothing into ears: NICE NG98 1.2 (from memory); lower threshold: NICE NG98 1.1.4 (2018, amended 2023).
"""

from collections.abc import Iterator
from xml.etree import ElementTree as ET

from leaflets.checks.evidence import Evidence, Example
from leaflets.compose.tree import text_of
from leaflets.model import Finding

CODE = "SAFE10"
FOR_CHILDREN = frozenset({"school/child-sheet", "school/poster", "school/activities"})
WITH_PANEL = frozenset({"school/letter", "school/notes"})
PANEL = "help/urgent"
LOWER_THRESHOLD = "lower-threshold"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find what the sheet does not say."""
    page = evidence.page_tree()
    for block in evidence.leaflet.blocks:
        if block.id in FOR_CHILDREN:
            printed = evidence.printed_blocks().get(block.id, ET.Element("div"))
            for mark, meaning in (
                ("data-help", "to tell a grown-up"),
                ("data-nothing-inside", "to put nothing in ears"),
            ):
                if not any(mark in element.keys() and text_of(element) for element in printed.iter()):  # noqa: SIM118
                    hint = f"write it in an element with {mark}"
                    yield Finding(CODE, "stop", evidence.place(block.id), f"nothing tells a child {meaning}", hint)
    ids = {block.id for block in evidence.leaflet.blocks}
    if evidence.situation.topic is None and not WITH_PANEL & ids:
        return
    if PANEL not in ids:
        yield Finding(CODE, "stop", evidence.layout_place, "there is no get-help panel", f"give it the block {PANEL}")
    if not any(element.get("id") == LOWER_THRESHOLD and text_of(element) for element in page.iter()):
        message = "nothing says what diabetes or weak immunity change"
        hint = f'write it in the layout, in an element with id="{LOWER_THRESHOLD}"'
        yield Finding(CODE, "stop", evidence.layout_place, message, hint)


def _without(mark: str) -> Example:
    return Example(
        f"no {mark}",
        lambda evidence: evidence.with_page(evidence.leaflet.html.replace(mark, "data-other"), evidence.leaflet.blocks),
    )


GOOD = (Example("a child's sheet", lambda evidence: evidence),)
BAD = (_without("data-help"), _without("data-nothing-inside"))
