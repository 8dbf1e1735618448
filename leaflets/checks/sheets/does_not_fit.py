"""PAGE05: a sheet that does not fit its paper.

What: a part of a school pack takes more pages than it may; one of its pieces starts on another page than it has to; or
a piece of text reaches over the edge of its column or its page.
Why: what runs off a sheet is not read, and half an activity is none. Nothing is ever cut or made smaller instead.
Source: Royal National Institute of Blind People and UKAAF, clear print (nothing clipped; read second-hand).
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from leaflets.checks.evidence import Evidence
from leaflets.model import Finding

CODE = "PAGE05"

_SHORTEN = "shorten the words, or choose shorter ones in the catalogue"


@dataclass(frozen=True)
class LaidOut:
    """How a sheet came out in print, and how it has to.

    Attributes:
        pages: pages of paper, at least 1.
        most_pages: the most that it may take. None: there is no limit.
        first_page: the page, from 1, on which each element with an id starts.
        wanted_page: the page on which it has to start, by its id.
        outside: pieces of text that reach over the edge of their column or page.

    """

    pages: int
    most_pages: int | None = None
    first_page: Mapping[str, int] = field(default_factory=dict)
    wanted_page: Mapping[str, int] = field(default_factory=dict)
    outside: tuple[str, ...] = ()


@dataclass(frozen=True)
class SheetExample:
    """An example that the check carries: how a sheet came out."""

    name: str
    laid_out: LaidOut


def check(evidence: Evidence, laid_out: LaidOut) -> Iterator[Finding]:
    """Find what does not fit."""
    place = evidence.layout_place if evidence.situation.topic else evidence.place(evidence.leaflet.blocks[0].id)
    if laid_out.most_pages is not None and laid_out.pages > laid_out.most_pages:
        message = f"takes {laid_out.pages} pages, and {laid_out.most_pages} is the most"
        yield Finding(CODE, "stop", place, message, _SHORTEN)
    else:
        for name, wanted in laid_out.wanted_page.items():
            if laid_out.first_page.get(name) != wanted:
                came = laid_out.first_page.get(name, "none")
                yield Finding(CODE, "stop", place, f"'{name}' starts on page {came} instead of {wanted}", _SHORTEN)
    for text in laid_out.outside:
        yield Finding(CODE, "stop", place, f"“{text}” reaches over the edge of its column", _SHORTEN)


_ONE_PAGE = LaidOut(pages=1, most_pages=1, first_page={"ideas": 1}, wanted_page={"ideas": 1})

GOOD = (SheetExample("one page", _ONE_PAGE), SheetExample("no limit", LaidOut(pages=9)))
BAD = (
    SheetExample("a page too many", replace(_ONE_PAGE, pages=2)),
    SheetExample("a piece on a later page", replace(_ONE_PAGE, wanted_page={"ideas": 2})),
    SheetExample("a piece that is nowhere", replace(_ONE_PAGE, first_page={})),
    SheetExample("a word over the edge", replace(_ONE_PAGE, outside=("Incomprehensibilities",))),
)
