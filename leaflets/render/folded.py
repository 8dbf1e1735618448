"""A copy of a document for printing and folding: two pages side by side on each side of a sheet, in saddle order.

The outermost sheet holds the last page and the first, the second and the last but one, and so on inwards; blank pages
fill the count to a multiple of four. A document that is read from right to left is bound at the right: the two pages of
each side change places. The copy has no tags, links or outline: whoever reads on a screen needs the other file.
"""

import re
from typing import Any

import pydyf

from leaflets import cldr

_REFERENCE = re.compile(rb"\d+ \d+ R")


def saddle_order(pages: int) -> list[tuple[int | None, int | None]]:
    """Return for each side of each sheet the page on its left and on its right, from 1. None: left blank.

    For a document read from left to right. The sides come front, back, front, back; the sheet turns on its short edge.

    >>> saddle_order(3)
    [(None, 1), (2, 3)]

    """
    full = -(-pages // 4) * 4
    sides = []
    for sheet in range(full // 4):
        sides.append((full - 2 * sheet, 2 * sheet + 1))
        sides.append((2 * sheet + 2, full - 2 * sheet - 1))
    return [(_or_blank(left, pages), _or_blank(right, pages)) for left, right in sides]


def _or_blank(page: int, pages: int) -> int | None:
    return page if page <= pages else None


def impose(document: Any, pdf: Any) -> None:  # noqa: ANN401 # WeasyPrint and pydyf ship no types
    """Put the pages of a document on sheets; for `finisher` of WeasyPrint's `Document.write_pdf`, without a variant.

    Args:
        document: the `weasyprint.Document` that was laid out; all its pages have the size of the first.
        pdf: the `pydyf.PDF` made of it, changed in place.

    """
    objects = {each.reference: each for each in pdf.objects}
    pages = [objects[reference] for reference in _REFERENCE.findall(bytes(pdf.pages["Kids"].data))]
    _, _, width, height = (float(edge) for edge in pages[0]["MediaBox"])
    for page in pages:
        # The content of a page becomes a form, which a sheet draws where it wants it.
        objects[page["Contents"]].extra.update(
            Type="/XObject", Subtype="/Form", BBox=page["MediaBox"], Resources=page["Resources"]
        )
    sheets = []
    for sides in saddle_order(len(pages)):
        halves = sides[::-1] if cldr.is_right_to_left(document.metadata.lang or "") else sides
        sheets.append(
            _sheet(pdf, [None if one is None else pages[one - 1]["Contents"] for one in halves], width, height)
        )
    pdf.pages["Kids"] = pydyf.Array([part for sheet in sheets for part in (sheet.number, 0, "R")])
    pdf.pages["Count"] = len(sheets)
    pdf.catalog["ViewerPreferences"] = pydyf.Dictionary({"Duplex": "/DuplexFlipShortEdge", "DisplayDocTitle": "true"})
    for key in ("Outlines", "Names", "Dests"):
        pdf.catalog.pop(key, None)


def _sheet(pdf: Any, halves: list[Any], width: float, height: float) -> Any:  # noqa: ANN401
    content, forms = pydyf.Stream(compress=True), pydyf.Dictionary()
    for place, form in enumerate(halves):
        if form is not None:
            forms[f"P{place}"] = form
            content.push_state()
            content.set_matrix(1, 0, 0, 1, place * width, 0)
            content.draw_x_object(f"P{place}")
            content.pop_state()
    pdf.add_object(content)
    sheet = pydyf.Dictionary(
        {
            "Type": "/Page",
            "Parent": pdf.pages.reference,
            "MediaBox": pydyf.Array([0, 0, 2 * width, height]),
            "Contents": content.reference,
            "Resources": pydyf.Dictionary({"XObject": forms}),
        }
    )
    pdf.add_object(sheet)
    return sheet
