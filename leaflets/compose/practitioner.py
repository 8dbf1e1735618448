"""The page beside a leaflet for the practitioner alone: why it says what it says, what to ask, what to record."""

from markupsafe import Markup

from leaflets import cldr
from leaflets.catalogue import MessageRecorder
from leaflets.compose.leaflet import mark_of
from leaflets.compose.values import Situation, template_values
from leaflets.compose.words import Words, render_template
from leaflets.model import Leaflet, Plan

_LAYOUT = "layouts/practitioner.html"


def compose_practitioner(words: Words, leaflet: Leaflet, plan: Plan, for_staff: Situation) -> str:
    """Return the page for the practitioner. `for_staff`: the situation of the leaflet in the clinic's own language.

    The words of the record stay as they are in every language: they are the trade's.
    """
    recorder = MessageRecorder(for_staff.language, for_staff.catalogue, shared_contexts=words.shared_contexts)
    values = {
        **template_values(for_staff, recorder),
        "leaflet": leaflet,
        "block_ids": frozenset(block.id for block in leaflet.blocks),
        "language_of_leaflet": leaflet.language,
        "language_name": cldr.name_in(leaflet.language, for_staff.language),
        "withheld": plan.withheld,
        "confirmed": tuple(given for given in plan.given if given.confirmed is not None),
        "mark": mark_of(leaflet, recorder),
        "fact": _fact,
        "own_words": lambda text: Markup('<span class="clinic-line">{}</span>').format(text),
        "box": Markup('<span class="box"></span>'),
    }
    return render_template(words, _LAYOUT, values)


def _fact(text: str) -> Markup:
    """Return a word of the record or of the rules, in its own direction."""
    return Markup('<span class="own" dir="ltr">{}</span>').format(text)
