"""The course and the next visit of a leaflet for a phone: as a file, and as a code in print that a camera reads."""

from leaflets.calendar_entry import calendar_file, calendar_for_code
from leaflets.catalogue import MessageRecorder
from leaflets.compose.calendar import calendar_words
from leaflets.compose.values import Situation
from leaflets.content import Content
from leaflets.render.code import code_svg

CODE_ADDRESS = "asset:calendar-code.svg"

_LARGEST_MM = 30.0
"""The largest side of a code: the width of the margin column, where it takes no room from the words."""

_SOME_ID = "L-00000-00000"
"""As long as any leaflet's id, to see whether a code fits before there is a leaflet."""


def calendar_of(content: Content, situation: Situation, leaflet_id: str) -> bytes | None:
    """Return the file for a calendar (RFC 5545). None: there is neither a course nor a next visit."""
    if situation.course is None and situation.calendar.review is None:
        return None
    return calendar_file(
        situation.course,
        situation.calendar.review,
        situation.numbers,
        calendar_words(content.words, _recorder(content, situation)),
        leaflet_id=leaflet_id,
        visit_date=situation.visit.date,
    )


def code_of(content: Content, situation: Situation, leaflet_id: str = _SOME_ID) -> str | None:
    """Return a code of the next visit as SVG. None: there is none, or it does not fit a size that can be read.

    The doses stand in the file alone: with them the code would be half as large again, and readers on phones take one
    entry of a code and no recurrence, so that a course would be entered as one dose out of many.
    """
    if situation.calendar.review is None:
        return None
    text = calendar_for_code(
        None,
        situation.calendar.review,
        situation.numbers,
        calendar_words(content.words, _recorder(content, situation)),
        leaflet_id=leaflet_id,
        visit_date=situation.visit.date,
    )
    return code_svg(text, _LARGEST_MM)


def _recorder(content: Content, situation: Situation) -> MessageRecorder:
    return MessageRecorder(situation.language, situation.catalogue, shared_contexts=content.words.shared_contexts)
