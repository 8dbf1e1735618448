"""PAGE02: more pages than a leaflet should have.

What: the leaflet takes more pages than its format should (leaflet.pages…), although all that may be left out is left
out; or the page for a child before it takes more than one.
Why: one sheet is kept and read; a second one is lost.
Source: one sheet, both sides: derived from word counts of leaflets that are read, common practice, no source.
"""

from collections.abc import Iterator
from dataclasses import replace

from leaflets.checks.evidence import LAYOUT_PLACE, Evidence, LayoutExample, Pages
from leaflets.formats import FORMATS
from leaflets.model import Finding

CODE = "PAGE02"


def check(evidence: Evidence, pages: Pages) -> Iterator[Finding]:
    """Find a leaflet that is too long."""
    wanted = FORMATS[evidence.situation.format].pages
    if wanted is None:
        return
    most = evidence.situation.numbers.whole(wanted)
    if pages.count > most:
        message = f"the leaflet takes {pages.count} pages, and {most} are wanted"
        yield Finding(CODE, "warn", LAYOUT_PLACE, message, "staple the sheets, or have its words shortened")
    most = FORMATS[evidence.situation.format].childs_pages or pages.before
    if pages.before > most:
        message = f"the child's page takes {pages.before} pages, and {most} are wanted"
        yield Finding(CODE, "warn", "templates/layouts/child.html", message, "have its words shortened")


def _pages(count: int) -> LayoutExample:
    return LayoutExample(f"{count} pages", lambda evidence, pages: (evidence, replace(pages, count=count)))


GOOD = (_pages(1), _pages(2))
BAD = (
    _pages(3),
    LayoutExample("a child's page of two pages", lambda evidence, pages: (evidence, replace(pages, before=2))),
)
