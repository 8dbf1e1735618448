"""RULE18: a sheet whose words nobody approved, without the mark that says so.

What: a message of the sheet is not reviewed, or the clinic is the invented one, and the page has no mark with words.
The mark stands in the margin of every page.
Why: what is drafted looks finished once it is printed, and a sheet goes to a whole class.
Source: DCB0129, change control; common practice, no source.
"""

from collections.abc import Iterator

from leaflets.checks.evidence import Evidence, Example
from leaflets.compose.leaflet import DRAFT_MARKS
from leaflets.compose.tree import text_of
from leaflets.model import Finding

CODE = "RULE18"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find a page without its mark."""
    reviewed = all(one.state == "reviewed" for one in evidence.leaflet.messages if one.source not in DRAFT_MARKS)
    if reviewed and not evidence.situation.clinic.invented:
        return
    marks = [one for one in evidence.page_tree().iter("p") if "mark" in one.get("class", "").split()]
    if not any(text_of(mark) for mark in marks):
        message = "its words are not approved, and no mark on the page says so"
        yield Finding(CODE, "stop", evidence.layout_place, message, "print mark() of macros/sheet_page.html")


def _unmarked(evidence: Evidence) -> Evidence:
    page = evidence.leaflet.html.replace('class="mark fact"', 'class="fact"')
    return evidence.with_page(page, evidence.leaflet.blocks)


GOOD = (Example("a marked draft", lambda evidence: evidence),)
BAD = (Example("a draft without its mark", _unmarked),)
