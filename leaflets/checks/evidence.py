"""What checks look at: a visit, the plan made of it, and the leaflet; later also the pages."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from xml.etree import ElementTree as ET

from leaflets.compose.tree import parse_fragment
from leaflets.compose.values import Situation
from leaflets.compose.words import BlockWords
from leaflets.model import ComposedBlock, Leaflet, Plan
from leaflets.readability.report import Report
from leaflets.rules.rule import Rule
from leaflets.visit import Visit


@dataclass(frozen=True)
class Evidence:
    """All that a check may look at before the leaflet is laid out. Checks change nothing and read nothing else.

    Attributes:
        missing_characters: returns the characters of a text that none of our fonts can draw.

    """

    visit: Visit
    plan: Plan
    situation: Situation
    leaflet: Leaflet
    rules: Mapping[str, Rule]
    block_words: Mapping[str, BlockWords]
    report: Report
    missing_characters: Callable[[str], tuple[str, ...]]

    def block(self, block_id: str) -> ComposedBlock | None:
        """Return a block of the leaflet; None: the leaflet does not have it."""
        return next((block for block in self.leaflet.blocks if block.id == block_id), None)

    def block_tree(self, block_id: str) -> ET.Element | None:
        """Return the tree of a block's words; None: the leaflet does not have it."""
        block = self.block(block_id)
        return None if block is None else parse_fragment(block.html, self.place(block_id))

    def place(self, block_id: str) -> str:
        """Return where a block's words are written."""
        return self.block_words[block_id].place

    def without_block(self, block_id: str) -> "Evidence":
        """Return the same evidence with one block gone from the leaflet: for the examples of checks."""
        blocks = tuple(block for block in self.leaflet.blocks if block.id != block_id)
        return replace(self, leaflet=replace(self.leaflet, blocks=blocks))

    def with_block_text(self, block_id: str, old: str, new: str) -> "Evidence":
        """Return the same evidence with the words of one block changed: for the examples of checks."""
        changed = tuple(
            replace(block, html=block.html.replace(old, new)) if block.id == block_id else block
            for block in self.leaflet.blocks
        )
        if changed == self.leaflet.blocks:
            raise ValueError(f"'{old}' does not stand in {block_id}")
        return replace(self, leaflet=replace(self.leaflet, blocks=changed))


@dataclass(frozen=True)
class Pages:
    """How a leaflet came out in print.

    Attributes:
        count: pages of paper, at least 1.
        first_page: the page, from 1, on which each part of the leaflet starts, by its id.

    """

    count: int
    first_page: Mapping[str, int]


@dataclass(frozen=True)
class Example:
    """An example that a check carries: `change` makes it from the evidence of a routine visit."""

    name: str
    change: Callable[[Evidence], Evidence]
