"""What the entries of a leaflet in a phone's calendar are called, in the language of the leaflet."""

from html import unescape

from leaflets.calendar_entry import CalendarWords
from leaflets.catalogue import MessageRecorder
from leaflets.catalogue.recorder import LAYOUT
from leaflets.compose.values import message_functions
from leaflets.compose.words import Words, render_template

_LAYOUT = "layouts/calendar.html"


def calendar_words(words: Words, recorder: MessageRecorder) -> CalendarWords:
    """Return the names of the entries, and let the recorder keep them as words of the leaflet.

    Raises:
        LeafletError: the template does not have a line for each.

    """
    rendered = unescape(render_template(words, _LAYOUT, message_functions(recorder, LAYOUT)))
    dose, review = (line for line in rendered.splitlines() if line.strip())
    return CalendarWords(dose=dose.strip(), review=review.strip())
