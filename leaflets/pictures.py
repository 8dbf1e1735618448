"""Pictures of printed pages: the only user of pypdfium2, which is an extra."""

import io
from pathlib import Path

from leaflets import demo
from leaflets.compose.leaflet import compose
from leaflets.content import READERS, Content
from leaflets.errors import LeafletError
from leaflets.fit import LOGO_ADDRESS
from leaflets.model import ComposedBlock
from leaflets.pipeline import situation_of
from leaflets.plan import plan
from leaflets.render.fetcher import Asset
from leaflets.render.html import style_sheet
from leaflets.render.pdf import load_stylesheet, render_pdf
from leaflets.visits import read_visit

BLOCK_WIDTH_PIXELS = 1000
_MARGIN_PIXELS = 20
_VISITS = Path(demo.__file__).parent / "visits"
_ONE_BLOCK = (
    '<!DOCTYPE html><html lang="en" dir="ltr"><head><meta charset="utf-8"/><title>{block}</title>'
    '<style id="looks"></style></head><body><h1>{block}</h1><section class="{section}"><div class="block">{html}</div>'
    "</section></body></html>"
)


def picture_of(pdf: bytes | Path, width_pixels: int, *, cropped: bool = False) -> bytes:
    """Return the first page of a PDF as PNG. `cropped`: without the empty paper around what is printed.

    Raises:
        LeafletError: pypdfium2 is not installed.

    """
    try:
        import pypdfium2  # noqa: PLC0415 - an extra
        from PIL import ImageChops  # noqa: PLC0415 - as above
    except ImportError:
        raise LeafletError.at("pictures", "pypdfium2 is not installed", "pip install 'leaflets[pictures]'") from None
    document = pypdfium2.PdfDocument(pdf)
    try:
        page = document[0]
        image = page.render(scale=width_pixels / page.get_width()).to_pil()
    finally:
        document.close()
    if cropped:
        white = image.point(lambda _: 255)
        left, top, right, bottom = ImageChops.difference(image, white).getbbox() or (0, 0, *image.size)
        margin = _MARGIN_PIXELS
        image = image.crop((max(0, left - margin), max(0, top - margin), right + margin, bottom + margin))
    body = io.BytesIO()
    image.save(body, format="PNG", optimize=True)
    return body.getvalue()


def block_pictures(content: Content) -> dict[str, bytes]:
    """Return a picture of each finished English block that a visit of the demonstration gives, as PNG, by its id.

    Raises:
        LeafletError: pypdfium2 is not installed, or this machine is not fit to print.

    """
    pictures: dict[str, bytes] = {}
    style = load_stylesheet(style_sheet(content.styles["a4.css"], content.clinic.accent), {})
    for source in sorted(_VISITS.glob("*.toml")):
        for reader in READERS:
            visit = read_visit(source, content, {"language": "en", "reader": reader})
            planned = plan(visit, content.rule_book.rules.values())
            situation, _ = situation_of(visit, planned, content)
            composition = compose(content.words, planned.blocks, situation, content.clinic.accent)
            assets = {address: Asset(svg.encode(), "image/svg+xml") for address, svg in composition.figures.items()}
            if content.clinic.logo is not None:
                assets[LOGO_ADDRESS] = Asset(*content.clinic.logo)
            for block in composition.leaflet.blocks:
                if block.id not in pictures:
                    rendered = render_pdf(_page(block), stylesheet=style, assets=assets)
                    pictures[block.id] = picture_of(rendered.pdf, BLOCK_WIDTH_PIXELS, cropped=True)
    return pictures


def _page(block: ComposedBlock) -> str:
    return _ONE_BLOCK.format(block=block.id, section=block.section, html=block.html)
