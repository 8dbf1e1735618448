"""What WeasyPrint leaves undone for PDF/UA-1, done on its objects before the file is written.

WeasyPrint 70 tags a document, with three gaps that checkers of PDF/UA-1 report:

- a header cell does not say whether it heads its column or its row;
- what it paints into the margins of a page (page numbers, the leaflet's reference) is marked as text of the document,
  but stands nowhere in its structure; it has to be marked as an artifact, which a screen reader passes over;
- a link is not flagged to be printed.

All this rests on how WeasyPrint builds its objects; a test fails when one of the functions relied on has changed.
"""

from collections.abc import Iterator
from typing import Any

import pydyf
from weasyprint.formatting_structure import boxes

from leaflets.errors import LeafletError, Problem

_PRINT_FLAG = 1 << 2  # ISO 32000-1:2008, table 165, from memory: bit position 3

_KEPT_WORDS = ("ActualText", "Lang")  # what a run says, and in which language: see readable_text.py
_OUR_FAULT = "report this with the leaflet: the document would not be accessible as it stands"


def finish(document: Any, pdf: Any) -> None:  # noqa: ANN401 # WeasyPrint and pydyf ship no types
    """Make a tagged document fit for PDF/UA-1; for `finisher` of WeasyPrint's `Document.write_pdf`.

    Args:
        document: the `weasyprint.Document` that was laid out.
        pdf: the `pydyf.PDF` made of it, changed in place.

    Raises:
        LeafletError: when a picture has no text in its place, a link stands in the margin of a page, an effect such as
            `opacity` takes text out of the structure, or what stands in the margins cannot be told from the text.

    """
    tagged = _TaggedPDF(pdf)
    _require_text_for_pictures(tagged)
    _refuse_links_in_margins(tagged)
    _require_content_on_the_page(tagged)
    _give_headers_their_scope(tagged)
    _print_links(tagged)
    _turn_furniture_into_artifacts(tagged, [_count_furniture(page) for page in document.pages])
    _keep_the_languages_of_parts(tagged, pdf.catalog.get("Lang"))


class _TaggedPDF:
    """The objects of a document by their references, and which elements of structure a reader reaches."""

    def __init__(self, pdf: Any) -> None:  # noqa: ANN401 # pydyf ships no types
        self.objects: dict[bytes, Any] = {each.reference: each for each in pdf.objects}
        self.pages: list[Any] = [self.objects[reference] for reference in pdf.page_references]
        self.tree: Any = self.objects[pdf.catalog["StructTreeRoot"]]
        self.elements: list[Any] = [
            each for each in pdf.objects if isinstance(each, dict) and each.get("Type") == "/StructElem"
        ]
        reached = {id(element) for element in self._below(self.tree)}
        self.furniture: list[Any] = [each for each in self.elements if id(each) not in reached]

    def _below(self, parent: Any) -> Iterator[Any]:  # noqa: ANN401 # as above
        for kid in parent["K"]:
            element = self.objects.get(kid) if isinstance(kid, bytes) else None
            if element is not None and element.get("Type") == "/StructElem":
                yield element
                yield from self._below(element)

    def content(self, page: Any) -> list[Any]:  # noqa: ANN401 # as above
        """Return the operators that paint a page, with what they work on, to be changed in place."""
        stream: list[Any] = self.objects[page["Contents"]].stream
        return stream

    def page_number(self, element: Any) -> int:  # noqa: ANN401 # as above
        """Return the page, counted from 1, that an element of structure stands on."""
        return self.pages.index(self.objects[element["Pg"]]) + 1

    def parent(self, element: Any) -> Any | None:  # noqa: ANN401 # as above
        """Return the element of structure that holds this one, None for the topmost."""
        above = self.objects[element["P"]]
        return above if above.get("Type") == "/StructElem" else None


def _require_text_for_pictures(tagged: _TaggedPDF) -> None:
    silent = [element for element in tagged.elements if element["S"] == "/Figure" and "Alt" not in element]
    if silent:
        raise LeafletError(
            Problem(
                f"page {tagged.page_number(element)}",
                "a picture has no text for those who cannot see it",
                "give the img an alt, or the svg a title as its child",
            )
            for element in silent
        )


def _refuse_links_in_margins(tagged: _TaggedPDF) -> None:
    linked = [
        element
        for element in tagged.furniture
        if any(tagged.objects[kid].get("Type") == "/OBJR" for kid in element["K"] if isinstance(kid, bytes))
    ]
    if linked:
        raise LeafletError(
            Problem(
                f"page {tagged.page_number(element)}",
                "a link stands in the margin of the page, where no screen reader finds it",
                "move the link into the text",
            )
            for element in linked
        )


def _require_content_on_the_page(tagged: _TaggedPDF) -> None:
    """Refuse what WeasyPrint paints as a group of its own: its marks are not found from the structure."""
    numbers = tagged.objects[tagged.tree["ParentTree"]]["Nums"]
    owners = dict(zip(numbers[::2], numbers[1::2], strict=True))
    lost = [
        number
        for number, page in enumerate(tagged.pages, 1)
        if len(list(_marked(tagged.content(page)))) != len(owners[page["StructParents"]])
    ]
    if lost:
        raise LeafletError(
            Problem(
                f"page {number}",
                "a part of the page has an effect that hides it from a screen reader",
                "take opacity, filters and blending out of the style sheet",
            )
            for number in lost
        )


def _marked(stream: list[Any]) -> Iterator[tuple[int, int]]:
    """Find the marked pieces of a page's content: the position of each one's properties, and its number."""
    for position, operator in enumerate(stream):
        if operator == b"BDC" and "MCID" in stream[position - 1]:
            yield position - 1, stream[position - 1]["MCID"]


def _give_headers_their_scope(tagged: _TaggedPDF) -> None:
    for element in tagged.elements:
        if element["S"] == "/TH":
            element["A"]["Scope"] = "/Column" if _stands_in_table_head(tagged, element) else "/Row"


def _stands_in_table_head(tagged: _TaggedPDF, cell: Any) -> bool:  # noqa: ANN401 # pydyf ships no types
    above = tagged.parent(cell)
    while above is not None and above["S"] != "/Table":
        if above["S"] == "/THead":
            return True
        above = tagged.parent(above)
    return False


def _print_links(tagged: _TaggedPDF) -> None:
    for each in tagged.objects.values():
        if isinstance(each, dict) and each.get("Subtype") == "/Link":
            each["F"] = each.get("F", 0) | _PRINT_FLAG


def _turn_furniture_into_artifacts(tagged: _TaggedPDF, expected: list[int]) -> None:
    """Take what stands in the margins out of the structure.

    Args:
        tagged: the document.
        expected: how many pieces of text and pictures stand in the margins of each page. Were the structure to lack
            anything else, that would be hidden from a screen reader here: the count has to be met exactly.

    """
    numbers: list[set[int]] = [set() for _ in tagged.pages]
    for element in tagged.furniture:
        numbers[tagged.page_number(element) - 1].update(kid for kid in element["K"] if isinstance(kid, int))
    found = [
        _mark_as_artifacts(tagged.content(page), wanted) for page, wanted in zip(tagged.pages, numbers, strict=True)
    ]
    if found != expected or [len(wanted) for wanted in numbers] != expected:
        raise LeafletError(
            Problem(f"page {number}", "text of the page would be hidden from a screen reader", _OUR_FAULT)
            for number, (painted, wanted, margins) in enumerate(zip(found, numbers, expected, strict=True), 1)
            if not painted == len(wanted) == margins
        )
    _forget(tagged)


def _count_furniture(page: Any) -> int:  # noqa: ANN401 # WeasyPrint ships no types
    """Count the pieces of text and pictures in the margins of one page."""
    margins = (box for box in page._page_box.children if isinstance(box, boxes.MarginBox))  # noqa: SLF001 # no other way
    return sum(
        isinstance(box, (boxes.TextBox, boxes.ReplacedBox))
        for margin in margins
        for box in margin.descendants(placeholders=True)
    )


def _mark_as_artifacts(stream: list[Any], numbers: set[int]) -> int:
    """Rename marked pieces of a page's content by their numbers, and return how many there were.

    What a piece says stands in a span within the artifact: readers of PDF ignore it on the artifact itself.
    """
    furniture = [position for position, number in _marked(stream) if number in numbers]
    for position in reversed(furniture):
        words = {name: value for name, value in stream[position].items() if name in _KEPT_WORDS}
        artifact = ["/Artifact", pydyf.Dictionary({"Type": "/Pagination"})]
        if words:
            end = stream.index(b"EMC", position)
            stream.insert(end, b"EMC")
            artifact += [b"BDC", "/Span", pydyf.Dictionary(words)]
        stream[position - 1 : position + 1] = artifact
    return len(furniture)


def _keep_the_languages_of_parts(tagged: _TaggedPDF, language: Any) -> None:  # noqa: ANN401
    """Take the language off every run that has the document's own, so that only those of parts stay."""
    for page in tagged.pages:
        for each in tagged.content(page):
            if isinstance(each, pydyf.Dictionary) and "Lang" in each and _same(each["Lang"], language):
                del each["Lang"]


def _same(one: Any, other: Any) -> bool:  # noqa: ANN401
    return other is not None and getattr(one, "string", one) == getattr(other, "string", other)


def _forget(tagged: _TaggedPDF) -> None:
    """Empty the elements of structure of the margins, and leave nothing that points at them."""
    gone = {element.reference for element in tagged.furniture}
    numbers = tagged.objects[tagged.tree["ParentTree"]]["Nums"]
    for owners in numbers[1::2]:
        if isinstance(owners, list):
            owners[:] = [b"null" if owner in gone else owner for owner in owners]
    for element in tagged.furniture:
        # To mark the object itself as free would break the table of objects that pydyf writes.
        element.clear()
