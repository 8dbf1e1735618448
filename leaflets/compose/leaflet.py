"""A leaflet from its parts: blocks in their order, one main message, the figures, the whole page."""

import hashlib
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from markupsafe import Markup

from leaflets import cldr
from leaflets.catalogue import MessageRecorder
from leaflets.catalogue.recorder import LAYOUT
from leaflets.compose.calendar import calendar_words
from leaflets.compose.reflow import pictured, reflowed
from leaflets.compose.tree import parse_fragment, units_of, without_childs_page
from leaflets.compose.values import Situation, block_values, template_values
from leaflets.compose.words import (
    CHILDS_LAYOUT,
    LEAFLET_LAYOUT,
    SECTIONS,
    Words,
    reader_block,
    render_template,
    render_words,
)
from leaflets.errors import LeafletError, Problem
from leaflets.formats import FORMATS
from leaflets.model import ComposedBlock, Leaflet, Message, PlannedBlock
from leaflets.readability.segment import base_language
from leaflets.rules.sources import named_sources
from leaflets.vocabulary import CHILD_READERS

DRAFT_MARKS = frozenset(
    {
        "Draft. These words are not approved for patients.",
        "Example with an invented clinic. Its words are not approved for patients.",
    }
)
"""The messages that say that others are not approved; whether they are approved themselves decides nothing."""

_FIGURE_SHOWN = re.compile(r'src="asset:([a-z-]+)-(left|right)\.svg"')
_ID_GOES_HERE = "\ue000"  # for private use: no record and no clinic can hold it, as it cannot be printed
_SECTION_ORDER: Mapping[str, int] = {name: place for place, name in enumerate(SECTIONS)}
_CORE_SECTIONS = frozenset({"now", "expect", "care", "next"})


@dataclass
class Figures:
    """Draws the figures a leaflet asks for, each once, and keeps them by address."""

    words: Words
    accent: str
    drawn: dict[str, str] = field(default_factory=dict)

    def figure(self, name: str, side: str, alternative: str) -> Markup:
        """Return a drawing for one ear, with what it shows in words."""
        address = f"asset:{name}-{side}.svg"
        if address not in self.drawn:
            values = {"side": side, "accent": self.accent}
            self.drawn[address] = render_template(self.words, f"figures/{name}.svg", values)
        return Markup('<img class="figure" src="{}" alt="{}"/>').format(address, alternative)

    def draw_those_of(self, leaflet: Leaflet) -> None:
        """Draw the figures that another leaflet shows, too."""
        for name, side in _FIGURE_SHOWN.findall(leaflet.html):
            self.figure(name, side, "")


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
    for_child = situation.reader in CHILD_READERS
    signed_off, contexts = situation.signed_off, words.childs_contexts if for_child else words.shared_contexts
    gaps_in = [block.id for block in words.blocks.values() if not block.safety] if situation.allow_gaps else ()
    recorder = MessageRecorder(situation.language, situation.catalogue, signed_off, contexts, gaps_in, for_child)
    figures = Figures(words, accent)
    shared = {**template_values(situation, recorder), "figure": figures.figure}
    blocks: list[ComposedBlock] = []
    problems: list[Problem] = []
    for one in planned:
        if one.id not in left_out:
            try:
                blocks.append(compose_block(words, one, situation, shared, recorder))
            except LeafletError as error:
                problems += error.problems
    if problems:
        raise LeafletError(problems)
    blocks.sort(key=lambda block: (_SECTION_ORDER[block.section], -block.priority, block.id))
    if situation.course is not None or situation.calendar.review is not None:
        calendar_words(words, recorder)  # what goes into the phone is part of the leaflet, and is checked with it
    main_message = _main_message(words, blocks, situation, shared, recorder)
    if situation.childs_page is not None:
        figures.draw_those_of(situation.childs_page)
    return Composition(assemble(words, blocks, situation, shared, recorder, main_message, left_out), figures.drawn)


def assemble(
    words: Words,
    blocks: Sequence[ComposedBlock],
    situation: Situation,
    shared: Mapping[str, object],
    recorder: MessageRecorder,
    main_message: str = "",
    left_out: tuple[str, ...] = (),
) -> Leaflet:
    """Put blocks on the page of the situation's layout. `shared`: the values that all templates see."""
    for_staff = MessageRecorder(
        situation.clinic_language, situation.clinic_catalogue, situation.signed_off, words.shared_contexts
    )
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
        "childs_page": _within_body(situation.childs_page),
    }
    of_a_visit = situation.layout == LEAFLET_LAYOUT
    layout = CHILDS_LAYOUT if of_a_visit and situation.reader in CHILD_READERS else situation.layout
    page = render_template(words, layout, values)
    messages = _with_the_childs(recorder.used, situation.childs_page)
    if all(message.state == "reviewed" for message in messages if message.source not in DRAFT_MARKS):
        page = render_template(words, layout, {**values, "approved": True})
        messages = _with_the_childs(recorder.used, situation.childs_page)
    digest = hashlib.blake2b(f"{situation.content_version}\n{page}".encode(), digest_size=5).hexdigest().upper()
    leaflet_id = f"L-{digest[:5]}-{digest[5:]}"
    page = page.replace(_ID_GOES_HERE, leaflet_id)
    root = parse_fragment(page.removeprefix("<!DOCTYPE html>"), f"templates/{layout}")
    if situation.childs_page is not None:
        without_childs_page(root)
    return Leaflet(
        id=leaflet_id,
        language=situation.language,
        reader=situation.reader,
        format=situation.format,
        title=root.findtext("html/head/title", "").strip(),
        main_message=str(main_message),
        html=page,
        blocks=tuple(blocks),
        left_out=left_out,
        messages=messages,
        units=units_of(root, "layout", graded=True, inner={block.id: block.units for block in blocks}),
    )


def _with_the_childs(messages: tuple[Message, ...], childs_page: Leaflet | None) -> tuple[Message, ...]:
    """Return the messages of a leaflet with those of the child's page before it, each once."""
    more = () if childs_page is None else childs_page.messages
    return tuple(dict.fromkeys((*messages, *more)))


def _within_body(childs_page: Leaflet | None) -> Markup | None:
    """Return what stands on a child's page, to be put before the leaflet of a grown-up."""
    if childs_page is None:
        return None
    _, _, rest = childs_page.html.partition("<body>")
    inner, _, _ = rest.partition("</body>")
    return Markup(inner.replace(' data-block="', ' data-childs-block="'))  # noqa: S704 - a composed page


def mark_of(leaflet: Leaflet, recorder: MessageRecorder) -> str | None:
    """Return the mark that a leaflet carries, in the recorder's language. None: its words are approved."""
    marks = [message.source for message in leaflet.messages if message.source in DRAFT_MARKS]
    return recorder.message(marks[0], LAYOUT) if marks else None


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


def compose_block(
    words: Words,
    planned: PlannedBlock,
    situation: Situation,
    shared: Mapping[str, object],
    recorder: MessageRecorder,
) -> ComposedBlock:
    """Return one block with its words in place. `shared`: the values that are the same for every block.

    Raises:
        LeafletError: it has no words, or none for this reader.

    """
    block = words.words_of(planned.id)
    if block is None:
        place = f"templates/blocks/{planned.id}.html"
        raise LeafletError.at(place, f"is named by the rule {planned.rule} but does not exist", "write the block")
    values = {**shared, **block_values(planned.id, planned.ears, situation, recorder)}
    row = FORMATS[situation.format]
    html = reflowed(render_words(block, reader_block(situation.reader), values), block.place, row)
    if row.one_sentence_a_row:
        html = pictured(html)
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
