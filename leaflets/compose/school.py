"""The parts of a school pack: a child's sheet, a poster, activities and answers, a letter home, teacher's notes."""

from dataclasses import dataclass, replace
from typing import Literal, get_args

from markupsafe import Markup

from leaflets.catalogue import MessageRecorder
from leaflets.compose.activities import ActivityPage, activity_pages, all_statements, parts_of_the_ear
from leaflets.compose.leaflet import Composition, Figures, assemble, compose_block
from leaflets.compose.tree import parse_fragment, text_of
from leaflets.compose.values import Situation, template_values
from leaflets.compose.words import Words, render_template
from leaflets.model import ComposedBlock, PlannedBlock
from leaflets.outreach.letters import alphabet
from leaflets.outreach.wax_path import svg_path_data
from leaflets.vocabulary import CHILD_READERS, AgeBand, Reader

Part = Literal["child-sheet", "poster", "activities", "answers", "letter", "notes"]
PARTS: tuple[Part, ...] = get_args(Part)
PANEL = "help/urgent"
LAYOUT = "layouts/school.html"

_WITH_PANEL: tuple[Part, ...] = ("letter", "notes")
_MADE_AFRESH: tuple[Part, ...] = ("activities", "answers")
_CELL = 16.0
_EAR_TO_LABEL: dict[AgeBand, str] = {"5-7": "label-ear", "7-11": "label-inner-ear"}
_LOUDEST = "sound.volume-percent"


@dataclass(frozen=True)
class ClassSet:
    """Whom a pack is for. `class_size`: pages of activities; `seed`: decides what stands on them."""

    band: AgeBand
    class_size: int
    seed: str


def reader_of(part: Part, band: AgeBand) -> Reader:
    """Return whom a part speaks to.

    >>> reader_of("poster", "5-7"), reader_of("notes", "5-7")
    ('child-5-7', 'carer')

    """
    if part in _WITH_PANEL:
        return "carer"
    if part == "answers":
        return "adult"
    return "child-5-7" if band == "5-7" else "child-7-11"


def planned_blocks(part: Part) -> tuple[PlannedBlock, ...]:
    """Return the blocks of a part: its own, and the get-help panel where grown-ups read it."""
    own = PlannedBlock(f"school/{part}", "school pack", (), ())
    panel = PlannedBlock(PANEL, "help/urgent", (), ())
    return (own, panel) if part in _WITH_PANEL else (own,)


def compose_school_part(
    words: Words, part: Part, class_set: ClassSet, situation: Situation, accent: str
) -> Composition:
    """Put one part together. `accent`: the clinic's colour, as `#rrggbb`.

    Raises:
        LeafletError: the template has no words for its reader, or a word of the word search is unfit.

    """
    recorder = MessageRecorder(
        situation.language,
        situation.catalogue,
        situation.signed_off,
        words.shared_contexts,
        for_child=situation.reader in CHILD_READERS,
    )
    figures = Figures(words, accent)
    pages: tuple[ActivityPage, ...] = ()
    if part in _MADE_AFRESH:
        pages = activity_pages(words, recorder, class_set.band, f"school/{part}", class_set.seed, class_set.class_size)
    band = class_set.band
    shared = {
        **template_values(situation, recorder),
        "figure": figures.figure,
        "part": part,
        "band": band,
        "band_name": Markup('<span class="age" dir="ltr">{}</span>').format(band.replace("-", "\N{EN DASH}")),
        "seed": class_set.seed,
        "own_words": lambda text: Markup('<span class="seed">{}</span>').format(text),
        "volume_percent": Markup('<span class="measure">{}</span>').format(situation.numbers.whole(_LOUDEST)),
        "activity_pages": pages,
        "statements": all_statements(words, band),
        "labels": parts_of_the_ear(words, band),
        "ear_to_label": _EAR_TO_LABEL[band],
        "letters_direction": _direction_of_letters(pages),
        "maze": lambda page, solved, shown: _maze(words, figures, page, shown, solved=solved),
    }
    blocks = [compose_block(words, one, situation, shared, recorder) for one in planned_blocks(part)]
    blocks = [replace(block, units=tuple(dict.fromkeys(block.units))) for block in blocks]
    leaflet = assemble(words, blocks, situation, {**shared, "title": _title(blocks[0])}, recorder)
    return Composition(leaflet, figures.drawn)


def _title(block: ComposedBlock) -> str:
    heading = parse_fragment(block.html, block.id).find(".//h1")
    assert heading is not None, "every part has a title"
    return text_of(heading)


def _direction_of_letters(pages: tuple[ActivityPage, ...]) -> str:
    return "rtl" if pages and alphabet(pages[0].search.language).right_to_left else "ltr"


def _maze(words: Words, figures: Figures, page: ActivityPage, shown: str, *, solved: bool) -> Markup:
    """Draw the path of wax of a page. `shown`: what stands in place of the picture."""
    address = f"asset:wax-path-{page.number}{'-solved' if solved else ''}.svg"
    data = svg_path_data(page.path, _CELL)
    values: dict[str, object] = {
        "walls": data.walls,
        "way": data.way if solved else "",
        "width": data.width,
        "height": data.height,
        "half": _CELL / 2,
        "start": (page.path.drum.row + 0.5) * _CELL,
        "end": (page.path.entrance.row + 0.5) * _CELL,
        "accent": figures.accent,
    }
    figures.drawn[address] = render_template(words, "school/wax-path.svg", values)
    return Markup('<img class="maze" src="{}" alt="{}"/>').format(address, shown)
