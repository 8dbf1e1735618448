"""Finding text that reaches over the edge of its column or page, once a document is laid out.

What is too high goes on to the next page by itself. But a word that is too wide stays where it is, and so does a line
too many in a margin: it is cut, or printed over what stands beside it, without any warning of the layout.
"""

from collections.abc import Iterator
from typing import Any

_TOLERANCE = 1.0  # CSS pixels: what rounding leaves
_PRINTER_MARGIN = 19.0  # CSS pixels, 5 mm: what office printers leave white at most; common practice, no source


def texts_outside(document: Any) -> tuple[str, ...]:  # noqa: ANN401 # WeasyPrint ships no types
    """Return each piece of text of a laid-out document that does not fit the width of what holds it, once."""
    found: dict[str, None] = {}
    for page in document.pages:
        edges = (_PRINTER_MARGIN, page.width - _PRINTER_MARGIN)
        lowest = page.height - _PRINTER_MARGIN / 2
        root = page._page_box  # noqa: SLF001 # there is no other way to it
        found.update(dict.fromkeys(_outside(root, *edges)))
        found.update(dict.fromkeys(_above_or_below(root, _PRINTER_MARGIN / 2, lowest)))
    return tuple(found)


def _above_or_below(box: Any, top: float, bottom: float) -> Iterator[str]:  # noqa: ANN401
    text = getattr(box, "text", None)
    if isinstance(text, str):
        # The box of a script that hangs, as Nastaliq, is far higher than its letters: their base line tells.
        line = box.position_y + box.baseline
        if text.strip() and not top < line < bottom:
            yield text.strip()
        return
    for child in getattr(box, "children", ()):
        yield from _above_or_below(child, top, bottom)


def _outside(box: Any, left: float, right: float) -> Iterator[str]:  # noqa: ANN401
    text = getattr(box, "text", None)
    if isinstance(text, str):
        width = box.width if isinstance(box.width, int | float) else 0.0
        starts, ends = box.position_x, box.position_x + width
        if text.strip() and (starts < left - _TOLERANCE or ends > right + _TOLERANCE):
            yield text.strip()
        return
    if _holds_lines(box):
        left, right = max(left, box.content_box_x()), min(right, box.content_box_x() + box.width)
    for child in getattr(box, "children", ()):
        # What is placed apart from the flow does not stand in the column of its parent.
        apart = getattr(child, "is_absolutely_positioned", lambda: False)()
        yield from _outside(child, *((_PRINTER_MARGIN, float("inf")) if apart else (left, right)))


def _holds_lines(box: Any) -> bool:  # noqa: ANN401
    return any(type(child).__name__ == "LineBox" for child in getattr(box, "children", ()))
