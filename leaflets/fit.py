"""Leaving blocks out until a leaflet fits its words and its paper: the lowest priority first, a safety block never."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache

from leaflets.compose.beside import compose_beside
from leaflets.compose.leaflet import Composition, compose, core_words, next_to_leave_out, without_block
from leaflets.compose.length import estimated_millimetres
from leaflets.compose.practitioner import compose_practitioner
from leaflets.compose.values import Situation
from leaflets.compose.words import reader_block
from leaflets.content import Content
from leaflets.formats import FORMATS, LeafletFormat
from leaflets.model import Leaflet, Plan, PlannedBlock
from leaflets.phone_calendar import CODE_ADDRESS, code_of
from leaflets.render.digits import style_with_digits, with_digits
from leaflets.render.fetcher import Asset
from leaflets.render.html import style_sheet
from leaflets.render.pdf import RenderedPdf, Stylesheet, load_stylesheet, render_pdf

LOGO_ADDRESS = "asset:logo"

_CHILDS_SECTIONS = ("today", "help")
_CHILDS_BLOCKS = ("ears/nothing-inside",)
"""What a child's page is never without."""

_START = "start"
_END_OF_HELP = "help-end"


@dataclass(frozen=True)
class Sheet:
    """What a leaflet is laid out with.

    Attributes:
        style: the style sheet as text.
        assets: pictures by `asset:` address.
        digits: the ten of them, from zero, that its figures are printed in. None: 0 to 9.

    """

    style: str
    assets: Mapping[str, Asset]
    digits: str | None = None

    def page(self, leaflet: Leaflet) -> str:
        """Return a leaflet's page as it is printed and shown."""
        return leaflet.html if self.digits is None else with_digits(leaflet.html, self.digits)


def with_calendar_code(content: Content, situation: Situation) -> Situation:
    """Return the situation with a code for a phone's calendar, where the leaflet is printed and one fits."""
    printed = FORMATS[situation.format].kind == "paper"
    return replace(
        situation, calendar_code=CODE_ADDRESS if printed and code_of(content, situation) is not None else None
    )


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


def compose_childs_page(content: Content, blocks: Sequence[PlannedBlock], situation: Situation) -> Composition:
    """Compose the page of a child, leaving blocks out until it should fit one page.

    Any may go but what was found, when to tell a grown-up, and to put nothing in: all is in the leaflet behind it.
    Blocks that are for grown-ups alone, and have no words for a child, stand there alone.
    """
    row = FORMATS[situation.format]
    for_child = [one for one in blocks if reader_block(situation.reader) in content.words.blocks[one.id].readers]
    composition = _compose_without(content, for_child, situation, ())
    while row.childs_pages is not None and _takes_more_pages(content, situation, composition, row.childs_pages):
        may_go = [
            block
            for block in composition.leaflet.blocks
            if block.section not in _CHILDS_SECTIONS and block.id not in _CHILDS_BLOCKS
        ]
        if not may_go:
            break
        following = min(may_go, key=lambda block: block.priority)
        composition = _compose_without(content, for_child, situation, (*composition.leaflet.left_out, following.id))
    return composition


def _takes_more_pages(content: Content, situation: Situation, composition: Composition, pages: int) -> bool:
    sheet = sheet_for(content, situation, composition)
    rendered = render_pdf(composition.leaflet.html, stylesheet=_parsed(sheet.style), assets=sheet.assets)
    return rendered.pages > pages


def render_to_fit(
    content: Content, blocks: Sequence[PlannedBlock], situation: Situation, composition: Composition, sheet: Sheet
) -> tuple[Composition, Sheet, RenderedPdf]:
    """Render, leaving more blocks out while it takes too many pages and there are any to leave out.

    What is laid out again has pictures and a code of its own. The get-help panel goes to the first of the format's
    places where it is whole, or else to the last.
    """
    stylesheet = _parsed(sheet.style)
    row = FORMATS[situation.format]
    limit = _pages_wanted(content, row)
    assert limit is not None, "only what is printed on pages is rendered"
    while True:
        page = sheet.page(composition.leaflet)
        rendered = render_pdf(page, stylesheet=stylesheet, assets=sheet.assets, folded=row.folded)
        following_place = _next_place_of_help(rendered, situation, row)
        if following_place is not None:
            situation = following_place
            composition = _compose_without(content, blocks, situation, composition.leaflet.left_out)
            sheet = sheet_for(content, situation, composition)
            continue
        following = next_to_leave_out(composition.leaflet)
        if rendered.pages - pages_before(rendered) <= limit or following is None:
            return composition, sheet, rendered
        left_out = (*composition.leaflet.left_out, following)
        composition = _compose_without(content, blocks, situation, left_out)
        sheet = sheet_for(content, situation, composition)


def pages_before(rendered: RenderedPdf) -> int:
    """Return how many pages stand before the leaflet itself: those of a child, or none."""
    return rendered.anchors.get(_START, 1) - 1


def pages_of_leaflet(rendered: RenderedPdf) -> tuple[int, Mapping[str, int]]:
    """Return how many pages the leaflet itself has, and the page of each part, counted from its own first."""
    before = pages_before(rendered)
    return rendered.pages - before, {part: page - before for part, page in rendered.anchors.items()}


def render_beside(
    content: Content, blocks: Sequence[PlannedBlock], for_staff: Situation, composition: Composition, sheet: Sheet
) -> bytes:
    """Return a PDF with each block of a leaflet beside the same in the language of `for_staff`."""
    in_staff_language = _compose_without(content, blocks, for_staff, composition.leaflet.left_out)
    page = compose_beside(content.words, composition.leaflet, in_staff_language.leaflet, for_staff)
    return render_pdf(page, stylesheet=_parsed(sheet.style), assets=sheet.assets).pdf


def render_for_practitioner(
    content: Content, plan: Plan, for_staff: Situation, composition: Composition, sheet: Sheet
) -> bytes:
    """Return a PDF for the practitioner alone, in the language of `for_staff`."""
    page = compose_practitioner(content.words, composition.leaflet, plan, for_staff)
    return render_pdf(page, stylesheet=_parsed(sheet.style), assets=sheet.assets).pdf


def render_for_screen(content: Content, composition: Composition, sheet: Sheet) -> bytes | None:
    """Return a PDF for the screen. None: the printed one serves, as its words come back from it whole.

    Such a language has a style sheet `on-screen.LANGUAGE.css`.
    """
    style = content.styles.get(f"on-screen.{composition.leaflet.language}.css")
    if style is None:
        return None
    page = sheet.page(composition.leaflet)
    return render_pdf(page, stylesheet=_parsed(sheet.style + style), assets=sheet.assets).pdf


def sheet_for(content: Content, situation: Situation, composition: Composition) -> Sheet:
    """Return the style sheet in the clinic's colour, and the figures and the logo that the leaflet shows."""
    assets = {address: Asset(svg.encode(), "image/svg+xml") for address, svg in composition.figures.items()}
    if CODE_ADDRESS in composition.leaflet.html:
        code = code_of(content, situation, composition.leaflet.id)
        assert code is not None, "a leaflet's id takes as much room as any"
        assets[CODE_ADDRESS] = Asset(code.encode(), "image/svg+xml")
    if content.clinic.logo is not None:
        assets[LOGO_ADDRESS] = Asset(*content.clinic.logo)
    style = style_sheet(content.styles[f"{situation.format}.css"], content.clinic.accent)
    digits = content.clinic.digits(situation.language)
    return Sheet(style if digits is None else style_with_digits(style, digits), assets, digits)


def _next_place_of_help(rendered: RenderedPdf, situation: Situation, row: LeafletFormat) -> Situation | None:
    """Return the situation with the get-help panel at the next place to try. None: it stays where it is."""
    ends, places = rendered.anchors.get(_END_OF_HELP, 1) - pages_before(rendered), row.help_places
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
    return compose(content.words, blocks, staying, content.clinic.accent, left_out)


@cache
def _parsed(style: str) -> Stylesheet:
    return load_stylesheet(style, {})
