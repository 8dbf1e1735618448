"""PAGE01: the get-help panel is not whole on page 1, or, where the format allows it, on page 2.

What: the panel starts on another page than the first, or does not end on it: no leaflet. In a format whose letters or
paper leave too little room on page 1 (formats.py, help_places) it may have page 2, whole; page 1 then says so, and a
note tells whoever hands the leaflet over. Where no page of that format holds it, it starts on page 1 and goes on on the
next, between two rows, with the row for now on page 1: a warning.
Why: whoever needs it looks once, at the first page; a panel in two halves hides the second.
Source: AAO-HNSF 2017 patient advice; Engel et al. 2012 on safety-netting (from memory).
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from leaflets.checks.changes import situation_with
from leaflets.checks.evidence import LAYOUT_PLACE, Evidence, LayoutExample, Pages
from leaflets.compose.words import SECTIONS
from leaflets.formats import FORMATS
from leaflets.model import Finding

CODE = "PAGE01"
START = "help"
NOW = "help-now"
"""The id of the row of signs to act on now, which never breaks over pages."""
END = "help-end"
"""The id of the panel's last row, which never breaks over pages, or of an element after it."""

_HINT = "shorten the title, the main message or what was found, or take a format with more room, as a4"


def check(evidence: Evidence, pages: Pages) -> Iterator[Finding]:
    """Find a panel that is not where it has to be. Where it ends is known by its end, or by the part after it."""
    row = FORMATS[evidence.situation.format]
    if row.pages is None:
        return
    start, after = pages.first_page.get(START), _page_after(pages.first_page)
    if start is None:
        message = "the get-help panel is on no page"
        yield Finding(CODE, "stop", LAYOUT_PLACE, message, "see why the layout does not print it")
    elif after is None:
        message = "nothing tells on which page the get-help panel ends"
        yield Finding(CODE, "stop", LAYOUT_PLACE, message, f'give its last row id="{END}"')
    elif (start, after) == (1, 1):
        return
    elif (start, after) == (2, 2) and "page-2" in row.help_places:
        message = "the get-help panel is on page 2, and page 1 says so"
        yield Finding(CODE, "note", LAYOUT_PLACE, message, "show the person where it is")
    elif (start, pages.first_page.get(NOW), after) == (1, 1, 2) and "over-pages" in row.help_places:
        message = "the get-help panel is too long for a page and goes on on page 2; what to act on now is on page 1"
        yield Finding(CODE, "warn", LAYOUT_PLACE, message, "show the person both pages, and print them on one sheet")
    elif start > 1:
        yield Finding(CODE, "stop", LAYOUT_PLACE, f"the get-help panel starts on page {start}", _HINT)
    else:
        message = f"the get-help panel is not seen to end before page {after}"
        yield Finding(CODE, "stop", LAYOUT_PLACE, message, _HINT)


def _page_after(first_page: Mapping[str, int]) -> int | None:
    """Return the page of the first thing after the panel; None: nothing after it has an id."""
    following = (END, *SECTIONS[SECTIONS.index(START) + 1 :])
    return next((first_page[part] for part in following if part in first_page), None)


def _on(format_: str = "a4", **pages_of: int) -> LayoutExample:
    changed = {name.replace("_", "-"): page for name, page in pages_of.items()}
    return LayoutExample(
        f"the panel and what follows in {format_}: {changed}",
        lambda evidence, pages: (situation_with(evidence, format=format_), replace(pages, first_page=changed)),
    )


GOOD = (
    _on(today=1, help=1, help_end=1, now=2),
    _on(today=1, help=1, now=1, care=2),
)
BAD = (
    _on(today=1, now=1),
    _on(today=1, help=2, help_end=2),
    _on(today=1, help=1, help_end=2, now=2),
    _on(today=1, help=1, now=2),
    _on(today=1, help=1),
    _on("large-print", today=1, help=2, help_end=3),
    _on("large-print", today=2, help=3, help_end=3),
    _on("large-print", today=1, help=2, help_end=2),  # a note
    _on("large-print", help=1, help_now=1, help_end=2, today=3),  # a warning
    _on("large-print", help=1, help_now=2, help_end=2, today=3),
    _on("large-print", help=1, help_now=1, help_end=3, today=3),
)
