"""What checks look at: a visit, the plan made of it, and the leaflet; later also the pages."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from xml.etree import ElementTree as ET

from leaflets.compose.tree import parse_fragment, units_of, without_childs_page
from leaflets.compose.values import Situation
from leaflets.compose.words import BlockWords, Words
from leaflets.model import ComposedBlock, Leaflet, Plan, Unit
from leaflets.readability.report import Report
from leaflets.rules.rule import Rule
from leaflets.visit import Ear, Visit
from leaflets.vocabulary import EarName

LAYOUT_PLACE = "templates/layouts/leaflet.html"
"""Where the words of a page stand that belong to no block."""

_DOCTYPE = "<!DOCTYPE html>"


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
    words: Words
    report: Report
    missing_characters: Callable[[str], tuple[str, ...]]

    @cached_property
    def block_words(self) -> Mapping[str, BlockWords]:
        """The templates of all blocks, by id, those of school sheets among them."""
        return {**self.words.blocks, **self.words.sheets}

    @property
    def layout_place(self) -> str:
        """Where the words of the page stand that belong to no block."""
        return f"templates/{self.situation.layout}"

    @property
    def ears(self) -> Iterator[tuple[EarName, Ear]]:
        """The ears that were examined, with what was found in them, left first."""
        for name in self.visit.ears_examined:
            ear = self.visit.ear(name)
            assert ear is not None, "it was examined"
            yield name, ear

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

    def page_tree(self) -> ET.Element:
        """Return the tree of the whole page, as it is printed; a child's page before it is looked at alone."""
        root = parse_fragment(self.leaflet.html.removeprefix(_DOCTYPE), self.layout_place)
        return root if self.situation.childs_page is None else without_childs_page(root)

    def printed_blocks(self) -> Mapping[str, ET.Element]:
        """Return what the page really holds of each block, by its id."""
        return {element.get("data-block", ""): element for element in self.page_tree().iter() if _is_block(element)}

    def tree_outside_blocks(self) -> ET.Element:
        """Return the tree of the page's body without its blocks: title, main message, labels, foot."""
        page = self.page_tree().find("html/body")
        assert page is not None, "the layout has a body"
        _drop_blocks(page)
        return page

    def units_outside_blocks(self) -> tuple[Unit, ...]:
        """Return the units of text of the page that belong to no block."""
        return units_of(self.tree_outside_blocks(), "layout", graded=True)

    def without_block(self, block_id: str) -> "Evidence":
        """Return the same evidence with one block gone from the leaflet: for the examples of checks."""
        return self._with_block_html(block_id, None)

    def with_block_text(self, block_id: str, old: str, new: str) -> "Evidence":
        """Return the same evidence with the words of one block changed: for the examples of checks."""
        block = self.block(block_id)
        if block is None or old not in block.html:
            raise ValueError(f"'{old}' does not stand in {block_id}")
        return self._with_block_html(block_id, str(block.html).replace(old, new))

    def _with_block_html(self, block_id: str, html: str | None) -> "Evidence":
        """Change the words of a block in the leaflet and on its page; None takes the block out of both."""
        blocks: list[ComposedBlock] = []
        page = self.leaflet.html
        for block in self.leaflet.blocks:
            if block.id != block_id:
                blocks.append(block)
                continue
            start = f'data-block="{block_id}">\n'
            if html is None:
                for kind in ("block", "block drawn"):
                    page = page.replace(f'<div class="{kind}" {start}{block.html}\n</div>', "")
                continue
            page = page.replace(f"{start}{block.html}", f"{start}{html}")
            words = self.block_words[block_id]
            units = units_of(parse_fragment(html, words.place), block_id, words.graded)
            blocks.append(replace(block, html=html, units=units))
        if page == self.leaflet.html:
            raise ValueError(f"{block_id} does not stand on the page")
        return self.with_page(page, tuple(blocks))

    def with_page(self, page: str, blocks: tuple[ComposedBlock, ...]) -> "Evidence":
        """Return the same evidence with another page and its blocks: for the examples of checks."""
        root = parse_fragment(page.removeprefix(_DOCTYPE), self.layout_place)
        units = units_of(root, "layout", graded=True)
        return replace(self, leaflet=replace(self.leaflet, html=page, blocks=blocks, units=units))


def _is_block(element: ET.Element) -> bool:
    return element.tag == "div" and element.get("data-block") is not None


def _drop_blocks(element: ET.Element) -> None:
    for child in list(element):
        if _is_block(child):
            element.remove(child)
        else:
            _drop_blocks(child)


@dataclass(frozen=True)
class Pages:
    """How a leaflet came out in print.

    Attributes:
        count: pages of paper, at least 1; those of a child's page before it are not counted.
        first_page: the page, from 1, on which each part of the leaflet starts, by its id.
        before: pages of a child's page before it.

    """

    count: int
    first_page: Mapping[str, int]
    before: int = 0


@dataclass(frozen=True)
class Example:
    """An example that a check carries: `change` makes it from the evidence of a routine visit."""

    name: str
    change: Callable[[Evidence], Evidence]


@dataclass(frozen=True)
class LayoutExample:
    """An example that a check of the pages carries: `change` makes it from a routine leaflet and its pages."""

    name: str
    change: Callable[[Evidence, Pages], tuple[Evidence, Pages]]
