"""PAGE01: the get-help panel is not whole on page 1, or, where the format allows it, on page 2.

What: the panel starts on another page than the first, or does not end on it: no leaflet. In a format whose letters or
paper leave too little room on page 1 (formats.py, help_by_page) it may have page 2, whole; page 1 then says so, and a
note tells whoever hands the leaflet over.
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
END = "help-end"
"""The id of the panel's last row, which never breaks over pages, or of an element after it."""

_HINT = "shorten the title, the main message or what was found, or take a format with more room, as a4"


def check(evidence: Evidence, pages: Pages) -> Iterator[Finding]:
    """Find a panel that is not where it has to be. Where it ends is known by its end, or by the part after it."""
    by_page = FORMATS[evidence.situation.format].help_by_page
    if by_page is None:
        return
    first_page = pages.first_page
    start = first_page.get(START)
    if START not in first_page:
        message = "the get-help panel is on no page"
        yield Finding(CODE, "stop", LAYOUT_PLACE, message, "see why the layout does not print it")
    elif start is not None and start > by_page:
        message = f"the get-help panel starts on page {start}"
        yield Finding(CODE, "stop", LAYOUT_PLACE, message, _HINT)
    elif _page_after(first_page) is None:
        message = "nothing tells on which page the get-help panel ends"
        hint = f'give its last row id="{END}"'
        yield Finding(CODE, "stop", LAYOUT_PLACE, message, hint)
    elif _page_after(first_page) != start:
        message = f"the get-help panel is not seen to end before page {_page_after(first_page)}"
        yield Finding(CODE, "stop", LAYOUT_PLACE, message, _HINT)
    elif start != 1:
        message = f"the get-help panel is on page {start}, and page 1 says so"
        yield Finding(CODE, "note", LAYOUT_PLACE, message, "show the person where it is")


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
)
