"""A composed block laid out another way for a format: the same words in the same order, other elements around them."""

import re
from collections.abc import Iterator
from itertools import pairwise
from xml.etree import ElementTree as ET
from xml.sax.saxutils import escape

from leaflets.compose.tree import parse_fragment
from leaflets.formats import LeafletFormat
from leaflets.readability.segment import split_units

_TEXT = frozenset({"p", "li"})
_NOT_INLINE = frozenset({"p", "li", "ul", "ol", "div", "table", "br"})
_SPACES = re.compile(r"\s+")
_DRAWINGS = re.compile(r'(?:<img class="figure[^>]*/>\s*)+')
_EMPTY = re.compile(r"<(br|img)([^<>]*)></\1>")


def reflowed(html: str, place: str, row: LeafletFormat) -> str:
    """Return the markup of a block as a format wants it; unchanged where it wants nothing else.

    `place`: of the template, for a message.

    Raises:
        LeafletError: the markup is not well formed.

    """
    if not (row.course_by_day or row.one_sentence_a_row):
        return html
    root = parse_fragment(html, place)
    if row.course_by_day:
        _course_by_day(root)
    if row.one_sentence_a_row:
        of_days = {id(line) for listed in root.iter("ul") if listed.get("class") == "days" for line in listed}
        for element in [one for one in root.iter() if one.tag in _TEXT and id(one) not in of_days]:
            _one_sentence_a_row(element)
    return _inner_markup(root)


def pictured(html: str) -> str:
    """Return the markup of a block with its drawings beside its words, before them in the direction of the writing.

    Drawings are those that the block begins with; one without any comes back as it is.
    """
    drawings = _DRAWINGS.match(html)
    if drawings is None:
        return html
    words = html[drawings.end() :]
    return f'<div class="pictured"><div class="picture">{drawings[0]}</div><div class="words">{words}</div></div>'


def _inner_markup(root: ET.Element) -> str:
    """Return the markup within an element, well formed and as browsers read it: only `br` and `img` are empty."""
    body = "".join(ET.tostring(child, encoding="unicode", short_empty_elements=False) for child in root)
    return _EMPTY.sub(r"<\1\2/>", f"{escape(root.text or '')}{body}")


def _one_sentence_a_row(element: ET.Element) -> None:
    """Put each sentence of a paragraph or list item into an element of its own, with all that is around its words.

    What already stands in lines of its own (`br`), or holds other paragraphs, stays as it is.
    """
    if any(inner.tag in _NOT_INLINE for inner in element.iter() if inner is not element):
        return
    leaves = [(_SPACES.sub(" ", text), around) for text, around in _leaves(element, ())]
    # Spaces at the joint of two leaves count once, as a browser shows them.
    text = "".join(leaf for leaf, _ in leaves)
    starts = [unit.start for unit in split_units(text)][1:]
    rows = [ET.Element("span", {"class": "sentence"})]
    copies: dict[tuple[int, tuple[int, ...]], ET.Element] = {}
    place = 0
    for leaf, around in leaves:
        end = place + len(leaf)
        cuts = [place, *(start for start in starts if place < start < end), end]
        for piece_start, piece_end in pairwise(cuts):
            if piece_start in starts and starts.index(piece_start) == len(rows) - 1:
                rows[-1].tail = " "
                rows.append(ET.Element("span", {"class": "sentence"}))
            _append(rows, around, text[piece_start:piece_end], copies)
        place = end
    for child in list(element):
        element.remove(child)
    element.text = ""
    element.extend(rows)


def _leaves(element: ET.Element, around: tuple[ET.Element, ...]) -> Iterator[tuple[str, tuple[ET.Element, ...]]]:
    """Return the texts below an element in their order, each with the elements around it."""
    yield element.text or "", around
    for child in element:
        yield from _leaves(child, (*around, child))
        yield child.tail or "", around


def _append(
    rows: list[ET.Element],
    around: tuple[ET.Element, ...],
    text: str,
    copies: dict[tuple[int, tuple[int, ...]], ET.Element],
) -> None:
    """Add a text to the last row, within copies of the elements around it, each made once a row."""
    here = rows[-1]
    for depth, original in enumerate(around, 1):
        key = (len(rows), tuple(id(one) for one in around[:depth]))
        if key not in copies:
            copies[key] = ET.SubElement(here, original.tag, original.attrib)
        here = copies[key]
    if len(here):
        here[-1].tail = f"{here[-1].tail or ''}{text}"
    else:
        here.text = f"{here.text or ''}{text}"


def _course_by_day(parent: ET.Element) -> bool:
    """Set the strips below an element as lists, a line for each day; say whether there was any."""
    found = False
    for child in list(parent):
        if child.tag == "table" and "strip" in child.get("class", "").split():
            lines = list(_days_of(child, titled=not found))
            lines[-1].tail = child.tail
            place = list(parent).index(child)
            parent.remove(child)
            for offset, line in enumerate(lines):
                parent.insert(place + offset, line)
            found = True
        else:
            found = _course_by_day(child) or found
    return found


def _days_of(strip: ET.Element, *, titled: bool) -> Iterator[ET.Element]:
    """Return a strip as its title, where that is wanted, and the list of its days."""
    corner, *days = strip.iter("th") if (head := strip.find("thead")) is None else head.iter("th")
    rows = [row for body in strip.iter("tbody") for row in body.iter("tr")]
    if titled:
        title = ET.Element("p", {"class": "fact days-title"})
        title.text = "".join(corner.itertext())
        yield title
    listed = ET.Element("ul", {"class": "days"})
    for column, day in enumerate(days, 1):
        review = "review" in day.get("class", "").split()
        line = ET.SubElement(listed, "li", {"class": "fact review" if review else "fact"})
        line.extend(day)
        for row in rows:
            name, *cells = row
            cell = cells[column - 1]
            box = cell.find("span")
            dose = ET.Element("span", {"class": "dose"})
            if box is not None:
                box.tail = "".join(name.itertext()).strip()
                dose.append(box)
            elif text := "".join(cell.itertext()).strip():
                dose.text = text
            else:
                continue
            line[-1].tail = " "
            line.append(dose)
    yield listed
