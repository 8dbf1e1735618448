"""The same sheet in two languages: row beside row, or one after the other."""

import re
from collections.abc import Sequence
from xml.etree import ElementTree as ET

from leaflets import cldr
from leaflets.compose.tree import parse_fragment
from leaflets.errors import LeafletError
from leaflets.model import Leaflet

_BODY = re.compile(r"<body>\n(.*)</body>", re.DOTALL)
_ID = re.compile(r' id="[^"]*"')


def row_beside_row(first: Leaflet, second: Leaflet) -> str:
    """Return the page of a sheet of rows with the words of a second language beside each row's own.

    A row is a drawing, if it has one, and one element with the words.

    Raises:
        LeafletError: the two have not the same rows.

    """
    page = first.html
    for own, other in zip(first.blocks, second.blocks, strict=True):
        rows, others = _rows(own.html, own.id), _rows(other.html, other.id)
        if len(rows) != len(others):
            message = f"has {len(rows)} rows in '{first.language}' and {len(others)} in '{second.language}'"
            raise LeafletError.at(f"templates/{own.id}.html", message, "give both the same rows")
        for row, beside in zip(rows, others, strict=True):
            _mark(row[-1], first.language)
            words = beside[-1]
            _mark(words, second.language)
            words.set("class", "words second")
            row.append(words)
        page = page.replace(str(own.html), "\n".join(ET.tostring(row, encoding="unicode") for row in rows))
    return _named_by_both(page, first, second).replace('class="', 'class="two-languages ', 1)


def one_after_the_other(first: Leaflet, second: Leaflet) -> str:
    """Return the pages of a sheet, and after them those of the same sheet in a second language."""
    inner = _BODY.search(second.html)
    assert inner is not None, "every layout has a body"
    direction = "rtl" if cldr.is_right_to_left(second.language) else "ltr"
    pages = f'<div class="second-language" id="second-language" lang="{second.language}" dir="{direction}">\n'
    pages += _ID.sub("", inner[1]) + "</div>\n"
    return _named_by_both(first.html, first, second, foot=False).replace("</body>", f"{pages}</body>")


def _rows(html: str, block_id: str) -> Sequence[ET.Element]:
    return list(parse_fragment(html, block_id))


def _mark(words: ET.Element, language: str) -> None:
    words.set("lang", language)
    words.set("dir", "rtl" if cldr.is_right_to_left(language) else "ltr")


def _named_by_both(page: str, first: Leaflet, second: Leaflet, *, foot: bool = True) -> str:
    """Put the second title beside the first, and the second id beside the first where one foot stands for both."""
    both = f"<title>{first.title} \N{EM DASH} {second.title}</title>"
    page = page.replace(f"<title>{first.title}</title>", both, 1)
    return page.replace(f">{first.id}<", f">{first.id} {second.id}<") if foot else page
