"""A leaflet from its parts: blocks in their order, one main message, the figures, the whole page."""

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from markupsafe import Markup

from leaflets import cldr
from leaflets.catalogue import MessageRecorder
from leaflets.catalogue.recorder import LAYOUT
from leaflets.compose.reflow import heading_of, pictured, reflowed
from leaflets.compose.tree import parse_fragment, units_of
from leaflets.compose.values import Situation, block_values, template_values
from leaflets.compose.words import SECTIONS, BlockWords, Words, reader_block, render_template, render_words
from leaflets.errors import LeafletError, Problem
from leaflets.formats import FORMATS
from leaflets.model import ComposedBlock, Leaflet, PlannedBlock
from leaflets.readability.segment import base_language
from leaflets.rules.sources import named_sources
from leaflets.vocabulary import EarName

_LAYOUT = "layouts/leaflet.html"
DRAFT_MARKS = frozenset(
    {
        "Draft. These words are not approved for patients.",
        "Example with an invented clinic. Its words are not approved for patients.",
    }
)
"""The messages that say that others are not approved; whether they are approved themselves decides nothing."""

_ID_GOES_HERE = "\ue000"  # for private use: no record and no clinic can hold it, as it cannot be printed
_SECTION_ORDER: Mapping[str, int] = {name: place for place, name in enumerate(SECTIONS)}
_CORE_SECTIONS = frozenset({"now", "expect", "care", "next"})


@dataclass
class _Figures:
    """Draws the figures a leaflet asks for, each once, and keeps them by address."""

    words: Words
    accent: str
    drawn: dict[str, str] = field(default_factory=dict)

    def figure(self, name: str, side: str, alternative: str) -> Markup:
        address = f"asset:{name}-{side}.svg"
        if address not in self.drawn:
            values = {"side": side, "accent": self.accent}
            self.drawn[address] = render_template(self.words, f"figures/{name}.svg", values)
        return Markup('<img class="figure" src="{}" alt="{}"/>').format(address, alternative)


@dataclass(frozen=True)
class Composition:
    """A leaflet with the figures that its page shows, by their `asset:` address."""

    leaflet: Leaflet
    figures: Mapping[str, str]


def compose(
    words: Words, planned: Sequence[PlannedBlock], situation: Situation, accent: str, leave_out: Iterable[str] = ()
) -> Composition:
    """Put a leaflet together.

    `leave_out`: ids of blocks that go for want of room, in the order in which they went; see `next_to_leave_out`.
    `accent`: the clinic's colour, as `#rrggbb`.

    Raises:
        LeafletError: a block has no words, or none for this reader.

    """
    left_out = tuple(leave_out)
    signed_off, contexts = situation.signed_off, words.shared_contexts
    gaps_in = [block.id for block in words.blocks.values() if not block.safety] if situation.allow_gaps else ()
    recorder = MessageRecorder(situation.language, situation.catalogue, signed_off, contexts, gaps_in)
    for_staff = MessageRecorder(situation.clinic_language, situation.clinic_catalogue, signed_off, contexts)
    figures = _Figures(words, accent)
    shared = {**template_values(situation, recorder), "figure": figures.figure}
    blocks: list[ComposedBlock] = []
    problems: list[Problem] = []
    for one in planned:
        if one.id not in left_out:
            try:
                blocks.append(_compose_block(words, one, situation, shared, recorder, figures))
            except LeafletError as error:
                problems += error.problems
    if problems:
        raise LeafletError(problems)
    blocks.sort(key=lambda block: (_SECTION_ORDER[block.section], -block.priority, block.id))
    main_message = _main_message(words, blocks, situation, shared, recorder)
    values = {
        **shared,
        "sections": {name: [block for block in blocks if block.section == name] for name in SECTIONS},
        "main_message": main_message,
        "leaflet_id": _ID_GOES_HERE,
        "sources": [source.printed for source in named_sources((block.source for block in blocks), situation.sources)],
        "oldest_review": min(block.reviewed for block in blocks),
        "for_staff": lambda message: for_staff.message(message, LAYOUT),
        "for_staff_too": base_language(situation.clinic_language) != base_language(situation.language),
        "clinic_direction": "rtl" if cldr.is_right_to_left(situation.clinic_language) else "ltr",
        "approved": False,
    }
    page = render_template(words, _LAYOUT, values)
    if all(message.state == "reviewed" for message in recorder.used if message.source not in DRAFT_MARKS):
        page = render_template(words, _LAYOUT, {**values, "approved": True})
    digest = hashlib.blake2b(f"{situation.content_version}\n{page}".encode(), digest_size=5).hexdigest().upper()
    leaflet_id = f"L-{digest[:5]}-{digest[5:]}"
    page = page.replace(_ID_GOES_HERE, leaflet_id)
    root = parse_fragment(page.removeprefix("<!DOCTYPE html>"), f"templates/{_LAYOUT}")
    title = root.findtext("html/head/title", "").strip()
    leaflet = Leaflet(
        id=leaflet_id,
        language=situation.language,
        reader=situation.reader,
        format=situation.format,
        title=title,
        main_message=str(main_message),
        html=page,
        blocks=tuple(blocks),
        left_out=left_out,
        messages=recorder.used,
        units=units_of(root, "layout", graded=True, inner={block.id: block.units for block in blocks}),
    )
    return Composition(leaflet, figures.drawn)


def next_to_leave_out(leaflet: Leaflet) -> str | None:
    """Return the block to leave out next: the lowest priority, the later on the page; None: only safety blocks stay."""
    candidates = [(block.priority, -place, block.id) for place, block in enumerate(leaflet.blocks) if not block.safety]
    return min(candidates)[2] if candidates else None


def without_block(leaflet: Leaflet, block_id: str) -> Leaflet:
    """Return the leaflet's blocks without one, for measuring; its page is not composed anew."""
    blocks = tuple(block for block in leaflet.blocks if block.id != block_id)
    return replace(leaflet, blocks=blocks, left_out=(*leaflet.left_out, block_id))


def core_words(leaflet: Leaflet) -> int:
    """Return the number of words in the core text: all but the title, today, the get-help box and the foot."""
    return sum(
        len(unit.text.split()) for block in leaflet.blocks if block.section in _CORE_SECTIONS for unit in block.units
    )


def _compose_block(
    words: Words,
    planned: PlannedBlock,
    situation: Situation,
    shared: Mapping[str, object],
    recorder: MessageRecorder,
    figures: _Figures,
) -> ComposedBlock:
    block = words.blocks.get(planned.id)
    if block is None:
        place = f"templates/blocks/{planned.id}.html"
        raise LeafletError.at(place, f"is named by the rule {planned.rule} but does not exist", "write the block")
    values = {**shared, **block_values(planned.id, planned.ears, situation, recorder)}
    row = FORMATS[situation.format]
    html = reflowed(render_words(block, reader_block(situation.reader), values), block.place, row)
    if row.one_sentence_a_row and block.figure is not None:
        html = pictured(html, _drawing_of(block.figure, html, block, planned.ears, figures))
    return ComposedBlock(
        id=planned.id,
        rule=planned.rule,
        ears=planned.ears,
        because=planned.because,
        section=block.section,
        priority=block.priority,
        safety=block.safety,
        html=Markup(html),  # noqa: S704 - autoescaped by the template
        source=block.source,
        reviewed=block.reviewed,
        units=units_of(parse_fragment(html, block.place), planned.id, block.graded),
    )


def _drawing_of(name: str, html: str, block: BlockWords, ears: tuple[EarName, ...], figures: _Figures) -> Markup:
    """Return the drawing of a block, whose heading says in words what it is about."""
    heading = heading_of(html, block.place)
    if heading is None:
        raise LeafletError.at(block.place, "has a figure and no heading to stand for it", "write an h3, or take it out")
    return figures.figure(name, ears[0] if len(ears) == 1 else "right", heading)


def _main_message(
    words: Words,
    blocks: Sequence[ComposedBlock],
    situation: Situation,
    shared: Mapping[str, object],
    recorder: MessageRecorder,
) -> Markup:
    """Return the one message of the block that claims it most."""
    claims = [
        (claim, -place, block)
        for place, block in enumerate(blocks)
        if (claim := words.blocks[block.id].main) is not None
    ]
    if not claims:
        raise LeafletError.at("templates/blocks", "no block of this leaflet has a main message", "give one a `main`")
    _, _, block = max(claims, key=lambda claim: claim[:2])
    values = {**shared, **block_values(block.id, block.ears, situation, recorder)}
    text = render_words(words.blocks[block.id], f"{reader_block(situation.reader)}_main", values)
    return Markup(text)  # noqa: S704 - autoescaped by the template
