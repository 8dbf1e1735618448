"""A leaflet in two languages, block beside block, so that staff know what they hand over."""

import re
from dataclasses import dataclass

from markupsafe import Markup

from leaflets import cldr
from leaflets.catalogue import MessageRecorder
from leaflets.catalogue.recorder import LAYOUT
from leaflets.compose.leaflet import mark_of
from leaflets.compose.values import Situation, code, message_functions
from leaflets.compose.words import Words, render_template
from leaflets.model import Leaflet

_LAYOUT = "layouts/beside.html"
_HEADING = re.compile("(</?)h3")
_ID = re.compile(r' id="[^"]*"')


@dataclass(frozen=True)
class BesideRow:
    """The same words twice: as the leaflet says them, and in the language of the staff."""

    own: Markup
    staff: Markup


def compose_beside(words: Words, leaflet: Leaflet, staff: Leaflet, situation: Situation) -> str:
    """Return a page with each block of a leaflet beside the same block in another language.

    `staff`: the same leaflet in the language of the staff. `situation`: that of the leaflet for the staff.
    """
    in_staff_language = {block.id: block.html for block in staff.blocks}
    rows = [BesideRow(_sentence(leaflet.main_message), _sentence(staff.main_message))]
    rows += [
        BesideRow(_without_ids(block.html), _without_ids(in_staff_language[block.id]))
        for block in leaflet.blocks
        if block.id in in_staff_language
    ]
    recorder = MessageRecorder(situation.language, situation.catalogue, shared_contexts=words.shared_contexts)
    values = {
        **message_functions(recorder, LAYOUT),
        "code": code,
        "mark": mark_of(leaflet, recorder),
        "rows": rows,
        "language": leaflet.language,
        "direction": "rtl" if cldr.is_right_to_left(leaflet.language) else "ltr",
        "staff_language": staff.language,
        "staff_direction": situation.direction,
        "leaflet_id": leaflet.id,
        "content_version": situation.content_version,
        "page_number": Markup('<span class="page-number"></span>'),
        "page_count": Markup('<span class="page-count"></span>'),
    }
    return render_template(words, _LAYOUT, values)


def _sentence(text: str) -> Markup:
    return Markup("<p><strong>{}</strong></p>").format(Markup(text))  # noqa: S704 - a main message is markup already


def _without_ids(html: str) -> Markup:
    """Return a block whose ids do not stand twice on a page, and whose heading follows the page's."""
    return Markup(_HEADING.sub(r"\1h2", _ID.sub("", html)))  # noqa: S704 - a composed block, escaped by its template
