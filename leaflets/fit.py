"""Leaving blocks out until a leaflet fits its words and its paper: the lowest priority first, a safety block never."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache

from leaflets.compose.beside import compose_beside
from leaflets.compose.leaflet import Composition, compose, core_words, next_to_leave_out, without_block
from leaflets.compose.length import estimated_millimetres
from leaflets.compose.values import Situation
from leaflets.content import Content
from leaflets.formats import FORMATS, LeafletFormat
from leaflets.model import PlannedBlock
from leaflets.render.fetcher import Asset
from leaflets.render.html import style_sheet
from leaflets.render.pdf import RenderedPdf, Stylesheet, load_stylesheet, render_pdf

LOGO_ADDRESS = "asset:logo"

_END_OF_HELP = "help-end"


@dataclass(frozen=True)
class Sheet:
    """What a leaflet is laid out with: its style sheet as text, and its pictures by `asset:` address."""

    style: str
    assets: Mapping[str, Asset]


def compose_to_fit(content: Content, blocks: Sequence[PlannedBlock], situation: Situation) -> Composition:
    """Compose, leaving blocks out until it should fit, or only safety blocks stay."""
    words = content.rule_book.numbers.whole("leaflet.core-words")
    row = FORMATS[situation.format]
    pages = _pages_wanted(content, row)
    millimetres = math.inf if pages is None or row.page_mm is None else pages * row.page_mm
    left_out: tuple[str, ...] = ()
    while True:
        composition = _compose_without(content, blocks, situation, left_out)
        shorter = composition.leaflet
        while core_words(shorter) > words or estimated_millimetres(shorter) > millimetres:
            following = next_to_leave_out(shorter)
            if following is None:
                break
            shorter = without_block(shorter, following)
        if shorter.left_out == left_out:
            return composition
        # What the others say may depend on what is left out: compose again, and look again.
        left_out = shorter.left_out


def render_to_fit(
    content: Content, blocks: Sequence[PlannedBlock], situation: Situation, composition: Composition, sheet: Sheet
) -> tuple[Composition, RenderedPdf]:
    """Render, leaving more blocks out while it takes too many pages and there are any to leave out.

    The get-help panel goes to the first of the format's places where it is whole, or else to the last.
    """
    stylesheet = _parsed(sheet.style)
    row = FORMATS[situation.format]
    limit = _pages_wanted(content, row)
    assert limit is not None, "only what is printed on pages is rendered"
    while True:
        rendered = render_pdf(composition.leaflet.html, stylesheet=stylesheet, assets=sheet.assets, folded=row.folded)
        following_place = _next_place_of_help(rendered, situation, row)
        if following_place is not None:
            situation = following_place
            composition = _compose_without(content, blocks, situation, composition.leaflet.left_out)
            continue
        following = next_to_leave_out(composition.leaflet)
        if rendered.pages <= limit or following is None:
            return composition, rendered
        left_out = (*composition.leaflet.left_out, following)
        composition = _compose_without(content, blocks, situation, left_out)


def render_beside(
    content: Content, blocks: Sequence[PlannedBlock], for_staff: Situation, composition: Composition, sheet: Sheet
) -> bytes:
    """Return a PDF with each block of a leaflet beside the same in the language of `for_staff`."""
    in_staff_language = _compose_without(content, blocks, for_staff, composition.leaflet.left_out)
    page = compose_beside(content.words, composition.leaflet, in_staff_language.leaflet, for_staff)
    return render_pdf(page, stylesheet=_parsed(sheet.style), assets=sheet.assets).pdf


def sheet_for(content: Content, situation: Situation, composition: Composition) -> Sheet:
    """Return the style sheet in the clinic's colour, and the figures and the logo that the leaflet shows."""
    assets = {address: Asset(svg.encode(), "image/svg+xml") for address, svg in composition.figures.items()}
    if content.clinic.logo is not None:
        assets[LOGO_ADDRESS] = Asset(*content.clinic.logo)
    return Sheet(style_sheet(content.styles[f"{situation.format}.css"], content.clinic.file.accent), assets)


def _next_place_of_help(rendered: RenderedPdf, situation: Situation, row: LeafletFormat) -> Situation | None:
    """Return the situation with the get-help panel at the next place to try. None: it stays where it is."""
    ends, places = rendered.anchors.get(_END_OF_HELP, 1), row.help_places
    whole_on_page = 2 if situation.help_place.startswith("page-2") else 1
    following = places.index(situation.help_place) + 1
    if ends == whole_on_page or following == len(places):
        return None
    return replace(situation, help_place=places[following])


def _pages_wanted(content: Content, row: LeafletFormat) -> int | None:
    """Return the most pages that a format should take. None: it has no pages."""
    return None if row.pages is None else content.rule_book.numbers.whole(row.pages)


def _compose_without(
    content: Content, blocks: Sequence[PlannedBlock], situation: Situation, left_out: Sequence[str]
) -> Composition:
    """Compose without some blocks, so that no other block speaks as if they were there."""
    staying = replace(situation, block_ids=situation.block_ids.difference(left_out))
    return compose(content.words, blocks, staying, content.clinic.file.accent, left_out)


@cache
def _parsed(style: str) -> Stylesheet:
    return load_stylesheet(style, {})
