"""The leaflet as one HTML file that opens without a network: style sheet and figures inside it."""

import base64
from collections.abc import Mapping

from leaflets.render.fetcher import Asset

_LOOKS_GO_HERE = '<style id="looks"></style>'


def style_sheet(style: str, accent: str) -> str:
    """Return a format's style sheet in a clinic's colour, `#rrggbb`."""
    return f"{style}\n:root {{ --accent: {accent} }}\n"


def render_html(page: str, style: str, assets: Mapping[str, Asset]) -> str:
    """Return the page with its style sheet and with every `asset:` address replaced by the picture itself."""
    for address, asset in assets.items():
        encoded = base64.b64encode(asset.body).decode("ascii")
        page = page.replace(f'src="{address}"', f'src="data:{asset.media_type};base64,{encoded}"')
    return page.replace(_LOOKS_GO_HERE, f"<style>\n{style}</style>")
