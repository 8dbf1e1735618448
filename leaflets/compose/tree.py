"""The tree of a leaflet's words: well-formed HTML in, units of text out.

Every format and every check reads this one tree.
"""

import re
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from xml.etree import ElementTree as ET

from leaflets.errors import LeafletError
from leaflets.model import Unit, UnitKind
from leaflets.readability.segment import split_units

_KINDS: dict[str, UnitKind] = {
    "h1": "heading",
    "h2": "heading",
    "h3": "heading",
    "p": "sentence",
    "li": "item",
    "td": "field",
    "th": "field",
    "caption": "heading",
}
_SPACE = re.compile(r"\s+")


CHILDS_PAGE = "childs-page"
"""The class of the element that holds a child's page in front of a leaflet for a grown-up."""


def without_childs_page(root: ET.Element) -> ET.Element:
    """Take the child's page out of the tree of a leaflet, where it has one, and return the tree."""
    for parent in root.iter():
        for child in [one for one in parent if CHILDS_PAGE in one.get("class", "").split()]:
            parent.remove(child)
    return root


def parse_fragment(html: str, place: str) -> ET.Element:
    """Parse a fragment of a leaflet.

    Raises:
        LeafletError: it is not well formed: a template has a tag that is not closed, or crosses another.

    """
    try:
        return ET.fromstring(f"<div>{html}</div>")  # noqa: S314 - our own templates, every value in them escaped
    except ET.ParseError as error:
        raise LeafletError.at(place, f"is not well-formed HTML: {error}", "close the tags in their order") from None


def text_of(element: ET.Element) -> str:
    """Return the text of an element, spaces folded; a new line is a space."""
    return _SPACE.sub(" ", "".join(_texts(element))).strip()


def _texts(element: ET.Element) -> Iterator[str]:
    yield element.text or ""
    for child in element:
        if child.tag == "br":
            yield " "
        yield from _texts(child)
        yield child.tail or ""


def units_of(
    root: ET.Element, block: str, graded: bool, inner: Mapping[str, tuple[Unit, ...]] = MappingProxyType({})
) -> tuple[Unit, ...]:
    """Return the units of text below an element, in reading order.

    `graded` false: they are lines of an address, not prose. `inner`: the units of blocks that stand within, by id.
    """
    return tuple(_units(root, block, graded, inner))


def _units(element: ET.Element, block: str, graded: bool, inner: Mapping[str, tuple[Unit, ...]]) -> Iterator[Unit]:
    for child in element:
        kind = _KINDS.get(child.tag)
        if (inner_id := child.get("data-block")) in inner:
            yield from inner[str(inner_id)]
        elif kind is None or any(part.tag in _KINDS for part in child.iter() if part is not child):
            yield from _units(child, block, graded, inner)
        elif kind in ("sentence", "item") and "fact" in child.get("class", "").split():
            yield Unit("field", text_of(child), block)
        elif kind in ("sentence", "item"):
            for sentence in split_units(text_of(child)):
                yield Unit(kind if graded else "contact", sentence.text, block)
        elif text := text_of(child):
            yield Unit(kind, text, block)
