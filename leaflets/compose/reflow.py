"""A composed block laid out another way for a format: the same words in the same order, other elements around them."""

import re
from collections.abc import Iterator
from xml.etree import ElementTree as ET

from leaflets.compose.tree import parse_fragment
from leaflets.formats import LeafletFormat

_EMPTY = re.compile(r"<(br|img)([^<>]*)></\1>")


def reflowed(html: str, place: str, row: LeafletFormat) -> str:
    """Return the markup of a block as a format wants it; unchanged where it wants nothing else.

    `place`: of the template, for a message.

    Raises:
        LeafletError: the markup is not well formed.

    """
    if not row.course_by_day:
        return html
    root = parse_fragment(html, place)
    changed = False
    if row.course_by_day:
        changed = _course_by_day(root)
    return _inner_markup(root) if changed else html


def _inner_markup(root: ET.Element) -> str:
    """Return the markup within an element, well formed and as browsers read it: only `br` and `img` are empty."""
    body = "".join(ET.tostring(child, encoding="unicode", short_empty_elements=False) for child in root)
    return _EMPTY.sub(r"<\1\2/>", f"{root.text or ''}{body}")


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
