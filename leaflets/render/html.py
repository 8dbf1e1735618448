"""The leaflet as one HTML file that opens without a network: style sheet and figures inside it."""

import base64
import re
from collections.abc import Mapping

from leaflets.colours import lightened
from leaflets.render.fetcher import Asset

DARK_GROUND = "#16181a"
"""The ground of phone.css in the dark."""

LEAST_CONTRAST = 7.0
"""Of the clinic's colour on it: WCAG 2.2, 1.4.6 (enhanced)."""

_DIALLED = "+0123456789"
_TELEPHONE = re.compile(r'<span class="phone" dir="ltr">(\+?[0-9][0-9 ()-]*)</span>')
_LOOKS_GO_HERE = '<style id="looks"></style>'


def style_sheet(style: str, accent: str) -> str:
    """Return a format's style sheet in a clinic's colour, `#rrggbb`."""
    light = lightened(accent, DARK_GROUND, LEAST_CONTRAST)
    return f"{style}\n:root {{ --accent: {accent}; --accent-on-dark: {light} }}\n"


def with_telephone_links(page: str) -> str:
    """Return the page with a link to call in place of each telephone number that can be dialled as it is written.

    >>> with_telephone_links('<span class="phone" dir="ltr">01632 960 123</span>')
    '<a class="phone" dir="ltr" href="tel:01632960123">01632 960 123</a>'

    """
    return _TELEPHONE.sub(_linked, page)


def _linked(number: re.Match[str]) -> str:
    dialled = "".join(sign for sign in number[1] if sign in _DIALLED)
    return f'<a class="phone" dir="ltr" href="tel:{dialled}">{number[1]}</a>'


def render_html(page: str, style: str, assets: Mapping[str, Asset]) -> str:
    """Return the page with its style sheet and with every `asset:` address replaced by the picture itself."""
    for address, asset in assets.items():
        encoded = base64.b64encode(asset.body).decode("ascii")
        page = page.replace(f'src="{address}"', f'src="data:{asset.media_type};base64,{encoded}"')
    return page.replace(_LOOKS_GO_HERE, f"<style>\n{style}</style>")
