"""What comes out of a leaflet besides its print: the page for a screen, plain text, braille, a calendar."""

from dataclasses import replace

from leaflets.compose.leaflet import Composition
from leaflets.compose.values import Situation
from leaflets.content import Content
from leaflets.fit import Sheet
from leaflets.formats import FORMATS
from leaflets.phone_calendar import calendar_of
from leaflets.render.braille import braille
from leaflets.render.braille_codes import code_of
from leaflets.render.html import render_html, with_telephone_links
from leaflets.render.plain_text import plain_text


def require_braille(situation: Situation) -> None:
    """Refuse braille early where there is none.

    Raises:
        LeafletError: the language has no code of braille, or liblouis is not installed.

    """
    if FORMATS[situation.format].kind == "braille":
        code_of(situation.language)


def outputs_of(content: Content, situation: Situation, composition: Composition, sheet: Sheet) -> dict[str, bytes]:
    """Return the files of a leaflet by their ending, but for those that are laid out on paper.

    Braille has plain text beside it, so that whoever hands it over can read it.

    Raises:
        LeafletError: something cannot be said in the format.

    """
    row, leaflet = FORMATS[situation.format], composition.leaflet
    shown = replace(leaflet, html=sheet.page(leaflet))
    contents: dict[str, bytes] = {}
    if row.kind == "braille":
        contents["brf"] = braille(leaflet)
    if row.kind in ("braille", "text"):
        contents["txt"] = plain_text(shown).encode()
    else:
        page = with_telephone_links(shown.html) if row.telephone_links else shown.html
        contents["html"] = render_html(
            page, sheet.style + content.styles[f"{row.name}-screen.css"], sheet.assets
        ).encode()
    if (entries := calendar_of(content, situation, leaflet.id)) is not None:
        contents["ics"] = entries
    return contents
