"""What a finished PDF tells a screen reader, looked at with pikepdf: an opinion apart from the program's own code.

The rules come from ISO 14289-1:2014 (PDF/UA-1), the clauses from memory: 7.1 (all content is either in the structure or
an artifact; title; language), 7.3 (figures have alternative text), 7.4 (headings do not skip a level), 7.5 (headers of
tables), 7.18 (annotations).
"""

import io
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pikepdf

PAINTING = {"Tj", "TJ", "'", '"', "f", "F", "f*", "B", "B*", "b", "b*", "S", "s", "sh", "Do", "INLINE IMAGE"}

type_of_page = tuple[int, int]


def structure_faults(source: bytes | Path) -> list[str]:
    """Return what is wrong with the structure of a document, a line each; an empty list when nothing is."""
    with pikepdf.open(io.BytesIO(source) if isinstance(source, bytes) else source) as pdf:
        if "/StructTreeRoot" not in pdf.Root:
            return ["no structure at all"]
        tree = _Tree()
        tree.read(pdf.Root.StructTreeRoot, None)
        faults = list(_document_faults(pdf)) + tree.faults + list(_heading_faults(tree.levels))
        for number, page in enumerate(pdf.pages, 1):
            page_faults = [*_content_faults(page, tree), *_link_faults(page, tree), *_owner_faults(pdf, page, tree)]
            faults += [f"page {number}: {fault}" for fault in page_faults]
        return faults


def embedded_fonts(source: bytes) -> set[str]:
    """Return the names of the fonts that the pages of a document use, without the tag of a subset."""
    with pikepdf.open(io.BytesIO(source)) as pdf:
        fonts = [font for page in pdf.pages for font in page.Resources.get("/Font", {}).values()]
        return {str(font.BaseFont).removeprefix("/").split("+", 1)[-1] for font in fonts}


@dataclass
class _Tree:
    """The structure of a document, as far as the rules ask."""

    owners: dict[tuple[type_of_page, int], Any] = field(default_factory=dict)  # (page, number of content) -> element
    annotations: set[type_of_page] = field(default_factory=set)
    levels: list[int] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)

    def read(self, element: Any, page: Any) -> None:
        page = element.get("/Pg", page)
        kind = str(element.get("/S", ""))
        if kind == "/TH" and "/Scope" not in element.get("/A", {}):
            self.faults.append("a header cell does not say what it heads")
        if kind == "/Figure" and not str(element.get("/Alt", "")).strip():
            self.faults.append("a picture has no text in its place")
        if len(kind) == 3 and kind.startswith("/H") and kind[2].isdigit():
            self.levels.append(int(kind[2]))
        for kid in _kids(element):
            if isinstance(kid, int):
                if (page.objgen, kid) in self.owners:
                    self.faults.append(f"content {kid} is claimed twice")
                self.owners[page.objgen, kid] = element
            elif kid.get("/Type") == "/OBJR":
                self.annotations.add(kid.Obj.objgen)
            else:
                self.read(kid, page)


def _kids(element: Any) -> list[Any]:
    kids = element.get("/K", pikepdf.Array())
    return list(kids) if isinstance(kids, pikepdf.Array) else [kids]


def _document_faults(pdf: pikepdf.Pdf) -> Iterator[str]:
    if not str(pdf.Root.get("/Lang", "")):
        yield "the document has no language"
    if not pdf.Root.get("/ViewerPreferences", {}).get("/DisplayDocTitle"):
        yield "the title of the document is not shown"
    if not pdf.Root.get("/MarkInfo", {}).get("/Marked"):
        yield "the document does not say that it is tagged"
    metadata = pdf.open_metadata()
    if not metadata.get("dc:title"):
        yield "the document has no title"
    if metadata.get("pdfuaid:part") != "1":
        yield "the document does not say that it follows PDF/UA-1"


def _heading_faults(levels: list[int]) -> Iterator[str]:
    for before, level in zip([0, *levels], levels, strict=False):
        if level > before + 1:
            yield f"heading {level} follows heading {before}"


def _content_faults(page: Any, tree: _Tree) -> Iterator[str]:
    painted: Counter[int] = Counter()
    open_sections: list[str] = []  # "artifact", "tagged", or "" for a section that says neither
    for operands, operator in pikepdf.parse_content_stream(page):
        name = str(operator)
        if name in ("BDC", "BMC"):
            section, number = _section(name, operands)
            if section and any(open_sections):
                yield f"{section} content inside {next(filter(None, open_sections))} content"
            if number is not None:
                painted[number] += 1
            open_sections.append(section)
        elif name == "EMC":
            open_sections.pop()
        elif name in PAINTING and not any(open_sections):
            yield f"painted outside the structure: {name}"
    claimed = {number for owner, number in tree.owners if owner == page.obj.objgen}
    for number in sorted(painted.keys() - claimed):
        yield f"content {number} is painted, and stands nowhere in the structure"
    for number in sorted(claimed - painted.keys()):
        yield f"content {number} stands in the structure, and is not painted"
    for number in sorted(number for number, times in painted.items() if times > 1):
        yield f"content {number} is painted more than once"


def _section(name: str, operands: Any) -> tuple[str, int | None]:
    if operands[0] == "/Artifact":
        return "artifact", None
    if name == "BDC" and "/MCID" in operands[1]:
        return "tagged", int(operands[1]["/MCID"])
    return "", None


def _link_faults(page: Any, tree: _Tree) -> Iterator[str]:
    for annotation in page.get("/Annots", []):
        if annotation.objgen not in tree.annotations:
            yield "a link stands nowhere in the structure"
        if not str(annotation.get("/Contents", "")):
            yield "a link has no description"
        if not int(annotation.get("/F", 0)) & 4:
            yield "a link is not printed"


def _owner_faults(pdf: pikepdf.Pdf, page: Any, tree: _Tree) -> Iterator[str]:
    """Compare the way up, from content to its element, with the way down."""
    entries = list(pdf.Root.StructTreeRoot.ParentTree.Nums)
    owners = dict(zip((int(key) for key in entries[::2]), entries[1::2], strict=True))[int(page.StructParents)]
    for (where, number), element in tree.owners.items():
        if where == page.obj.objgen and (number >= len(owners) or owners[number].objgen != element.objgen):
            yield f"content {number} does not know its element"
    for number, owner in enumerate(owners):
        if owner is not None and (page.obj.objgen, number) not in tree.owners:
            yield f"content {number} belongs to an element outside the structure"
