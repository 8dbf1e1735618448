"""PAGE01: the get-help panel is not on page 1 as a whole.

What: the panel starts on another page than the first, or does not end on it.
Why: whoever needs it looks once, at the first page.
Source: AAO-HNSF 2017 patient advice; Engel et al. 2012 on safety-netting (from memory).
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from leaflets.checks.evidence import LAYOUT_PLACE, Evidence, LayoutExample, Pages
from leaflets.compose.words import SECTIONS
from leaflets.model import Finding

CODE = "PAGE01"
START = "help"
END = "help-end"
"""The id of the panel's last row, which never breaks over pages, or of an element after it."""

_HINT = "shorten the title, the main message or what was found, so that the panel fits on page 1"


def check(_evidence: Evidence, pages: Pages) -> Iterator[Finding]:
    """Find a panel that is not on page 1 as a whole. Where it ends is known by its end, or by the part after it."""
    first_page = pages.first_page
    if START not in first_page:
        message = "the get-help panel is on no page"
        yield Finding(CODE, "stop", LAYOUT_PLACE, message, "see why the layout does not print it")
    elif first_page[START] != 1:
        message = f"the get-help panel starts on page {first_page[START]}"
        yield Finding(CODE, "stop", LAYOUT_PLACE, message, _HINT)
    elif _page_after(first_page) is None:
        message = "nothing tells on which page the get-help panel ends"
        hint = f'give its last row id="{END}"'
        yield Finding(CODE, "stop", LAYOUT_PLACE, message, hint)
    elif _page_after(first_page) != 1:
        message = f"the get-help panel is not seen to end before page {_page_after(first_page)}"
        yield Finding(CODE, "stop", LAYOUT_PLACE, message, _HINT)


def _page_after(first_page: Mapping[str, int]) -> int | None:
    """Return the page of the first thing after the panel; None: nothing after it has an id."""
    following = (END, *SECTIONS[SECTIONS.index(START) + 1 :])
    return next((first_page[part] for part in following if part in first_page), None)


def _on(**pages_of: int) -> LayoutExample:
    changed = {name.replace("_", "-"): page for name, page in pages_of.items()}
    return LayoutExample(
        f"the panel and what follows: {changed}", lambda evidence, pages: (evidence, replace(pages, first_page=changed))
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
)
