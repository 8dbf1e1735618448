"""The formats of a leaflet: one row each, with all in which they differ. A new format is one row.

Every format has the same approved words, and the same safety blocks in the same order; how they are laid out differs,
and how many of the other blocks there is room for.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from leaflets.vocabulary import Format

FormatKind = Literal["paper", "page", "text", "braille"]
"""What comes out: pages of paper as PDF with the same as HTML, one HTML page, plain text, a braille file."""


HelpPlace = Literal["after-today", "first", "page-2", "page-2-first", "over-pages"]
"""Where the get-help panel stands, in the order in which the places are tried until it is whole.

after-today: after what was found. first: before that. page-2: on a page of its own, what was found before it fills
page 1, which says where the panel is. page-2-first: the same, where what was found does not fit page 1. over-pages:
first, and going on over the page, since no page holds it; only between its rows.
"""


@dataclass(frozen=True)
class LeafletFormat:
    """One format.

    Attributes:
        name: the word of the record.
        kind: what comes out.
        style_sheets: names of files in templates/styles, the later over the earlier; none for text and braille.
        screen_style_sheets: what a browser needs besides, for the HTML file.
        pages: the id of the number of pages that are wanted. None: there are no pages.
        page_mm: how many millimetres of A4 text, as `compose.length` estimates it, one page holds; generous, as the
            laid-out page decides. None: there are no pages.
        help_places: where the get-help panel may stand, the best first; one alone where there are no pages.
        course_by_day: whether the strip of a course is set as a list, a line for each day, since it is too wide as a
            table.
        one_sentence_a_row: whether each sentence has a row of its own, with the block's drawing beside the first.
        folded: whether a second file is made, two pages on a sheet, in the order in which a folded sheet is printed.
        childs_pages: how many pages a child's page may take. None: there are no pages.
        telephone_links: whether a tap on a telephone number calls it.

    """

    name: Format
    kind: FormatKind
    style_sheets: tuple[str, ...] = ()
    screen_style_sheets: tuple[str, ...] = ()
    pages: str | None = None
    page_mm: int | None = None
    help_places: tuple[HelpPlace, ...] = ("first",)
    course_by_day: bool = False
    one_sentence_a_row: bool = False
    folded: bool = False
    childs_pages: int | None = None
    telephone_links: bool = False


_WHOLE_ON_PAGE_1: tuple[HelpPlace, ...] = ("after-today", "first")
_WHOLE_ON_PAGE_2: tuple[HelpPlace, ...] = ("page-2", "page-2-first")
_LARGE: tuple[HelpPlace, ...] = ("first", *_WHOLE_ON_PAGE_2, "over-pages")
_SCREEN = ("screen.css",)

# The text area of A4 is 267 mm high, of Letter 249: the paper without the margins of a4.css.
_ROWS = (
    LeafletFormat("a4", "paper", ("a4.css",), _SCREEN, "leaflet.pages", 267, _WHOLE_ON_PAGE_1, childs_pages=1),
    LeafletFormat(
        "letter", "paper", ("a4.css", "letter.css"), _SCREEN, "leaflet.pages", 249, _WHOLE_ON_PAGE_1, childs_pages=1
    ),
    LeafletFormat(
        "a5",
        "paper",
        ("a4.css", "stacked.css", "a5.css"),
        _SCREEN,
        "leaflet.pages-a5",
        160,
        (*_WHOLE_ON_PAGE_1, *_WHOLE_ON_PAGE_2, "over-pages"),
        course_by_day=True,
        folded=True,
        childs_pages=2,
    ),
    LeafletFormat(
        "large-print",
        "paper",
        ("a4.css", "stacked.css", "large-print.css"),
        _SCREEN,
        "leaflet.pages-large-print",
        130,
        _LARGE,
        course_by_day=True,
        childs_pages=3,
    ),
    LeafletFormat(
        "easy-read",
        "paper",
        ("a4.css", "stacked.css", "easy-read.css"),
        _SCREEN,
        "leaflet.pages-easy-read",
        130,
        _LARGE,
        course_by_day=True,
        childs_pages=3,
        one_sentence_a_row=True,
    ),
    LeafletFormat("text", "text"),
    LeafletFormat("braille", "braille"),
    LeafletFormat("phone", "page", ("phone.css",), course_by_day=True, telephone_links=True),
)

FORMATS: Mapping[str, LeafletFormat] = MappingProxyType({row.name: row for row in _ROWS})
"""The formats that leaflets are made in, by the word of the record."""
