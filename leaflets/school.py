"""A school pack: the steps from an age band to its printed parts, in their order."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from leaflets.checks import in_order
from leaflets.checks.evidence import Evidence
from leaflets.checks.sheets import check_sheet, check_sheet_pages
from leaflets.checks.sheets.does_not_fit import LaidOut
from leaflets.compose.leaflet import Composition
from leaflets.compose.school import (
    LAYOUT,
    PARTS,
    ClassSet,
    Part,
    compose_school_part,
    planned_blocks,
    reader_of,
)
from leaflets.compose.two_languages import one_after_the_other, row_beside_row
from leaflets.content import Content, load_content
from leaflets.model import Finding
from leaflets.outreach.unwanted import unwanted_words
from leaflets.outreach_request import SchoolRequest
from leaflets.outreach_requests import read_request
from leaflets.render.fetcher import Asset
from leaflets.render.files import write_together
from leaflets.render.html import style_sheet
from leaflets.render.pdf import RenderedPdf, Stylesheet, load_stylesheet, render_pdf
from leaflets.results import stops
from leaflets.sheet_result import SheetPart, SheetResult
from leaflets.sheets import evidence_of, situation_for, today

NO_LIST = "RULE19"
"""The code of a note: nobody wrote down which words must not turn up in a word search of the language."""

_ROWS: tuple[Part, ...] = ("child-sheet", "poster")
_LETTERS: tuple[Part, ...] = ("letter",)
_YOUNGEST: Mapping[str, int] = {"5-7": 5, "7-11": 7}
_SIDES = 2
_MOST_PAGES: Mapping[Part, int] = {"child-sheet": 2, "poster": 1, "letter": 2, "notes": 2}
"""Pages of a part in one language: one sheet of paper, both sides; a poster is one side."""


@dataclass(frozen=True)
class _Made:
    """One part in its languages, the second, if any, after the first."""

    part: Part
    versions: tuple[tuple[Evidence, Composition], ...]


def make_school_pack(
    band: str,
    *,
    language: str | None = None,
    beside: str | None = None,
    class_size: int | None = None,
    seed: str | int | None = None,
    country: str | None = None,
    paper: str | None = None,
    date: datetime.date | None = None,
    clinic: Path | str | None = None,
    out: Path | str | None = None,
) -> SheetResult:
    """Make a school pack: a PDF each for the child's sheet, the poster, activities, answers, the letter and the notes.

    Args:
        band: the age of the children, `5-7` or `7-11`.
        language: BCP 47. None: the clinic's own.
        beside: a second language: beside the first on the child's sheet and the poster, after it in the letter.
        class_size: how many different pages of activities, 1 to 60. None: one, to be copied.
        seed: any text; the same seed makes the same pages again. None: "1".
        country: ISO 3166; it sets the emergency numbers. None: the clinic's own.
        paper: `a4` or `letter`; the poster is A3, or twice as large as letter. None: as the clinic has it.
        date: the day it is made, on which a review of its words must not be overdue; never printed. None: today.
        clinic: the clinic's folder, for its colour and what it signed off; None: the invented clinic.
        out: the folder for the files; None: the pack is made and checked, and nothing is written.

    Raises:
        LeafletError: the request, a word for the word search, the clinic's folder, the content or this machine is not
            fit.

    """
    content = load_content(None if clinic is None else Path(clinic))
    given = {
        "band": band,
        "language": language,
        "beside": beside,
        "class_size": class_size,
        "seed": None if seed is None else str(seed),
        "country": country,
        "paper": paper,
        "date": date or today(),
    }
    request = read_request(SchoolRequest, given, content)
    result, contents = _make(request, content)
    if out is None or result.status == "stopped":
        return result
    languages = request.language if request.beside is None else f"{request.language}-{request.beside}"
    name = f"school.{request.band}.{languages}.{request.paper}"
    return result.with_files(write_together(Path(out), name, contents))


def _make(request: SchoolRequest, content: Content) -> tuple[SheetResult, Mapping[str, bytes]]:
    made = [_compose(part, request, content) for part in PARTS]
    findings = [*_no_list_of_unwanted_words(request)]
    findings += [finding for one in made for evidence, _ in one.versions for finding in check_sheet(evidence)]
    parts = [SheetPart.of(one.part, one.versions[0][0]) for one in made]
    contents: dict[str, bytes] = {}
    if not stops(findings):
        parts = []
        for one in made:
            rendered = _render(one, request, content)
            evidence = one.versions[0][0]
            findings += check_sheet_pages(evidence, _laid_out(one, rendered, request))
            parts.append(replace(SheetPart.of(one.part, evidence), pages=rendered.pages))
            contents[f"{one.part}.pdf"] = rendered.pdf
    stopped = stops(findings)
    result = SheetResult(
        sheet="school",
        status="stopped" if stopped else "ok",
        content_version=content.version,
        blocks=(),
        parts=tuple(parts),
        findings=tuple(in_order(findings)),
    )
    return result, {} if stopped else contents


def _no_list_of_unwanted_words(request: SchoolRequest) -> list[Finding]:
    if unwanted_words(request.language):
        return []
    message = f"nobody listed the words that must not turn up in a word search in '{request.language}'"
    hint = "look over each grid before you hand it out"
    return [Finding(NO_LIST, "note", "leaflets/outreach/unwanted.toml", message, hint)]


def _compose(part: Part, request: SchoolRequest, content: Content) -> _Made:
    class_set = ClassSet(request.band, request.class_size, request.seed)
    languages = [request.language]
    if request.beside is not None and part in (*_ROWS, *_LETTERS):
        languages.append(request.beside)
    versions = []
    for language in languages:
        asked = request.model_copy(update={"language": language})
        situation, plan = situation_for(asked, reader_of(part, request.band), _YOUNGEST[request.band], content)
        blocks = planned_blocks(part)
        situation = replace(
            situation, layout=LAYOUT, for_school=True, block_ids=frozenset(block.id for block in blocks)
        )
        composition = compose_school_part(content.words, part, class_set, situation, content.clinic.accent)
        versions.append(
            (evidence_of(replace(plan, blocks=blocks), situation, composition.leaflet, content), composition)
        )
    return _Made(part, tuple(versions))


def _render(made: _Made, request: SchoolRequest, content: Content) -> RenderedPdf:
    (evidence, composition), *others = made.versions
    page = evidence.leaflet.html
    if others:
        join = row_beside_row if made.part in _ROWS else one_after_the_other
        page = join(evidence.leaflet, others[0][0].leaflet)
    figures = dict(composition.figures)
    for _, other in others:
        figures |= other.figures
    assets = {address: Asset(svg.encode(), "image/svg+xml") for address, svg in figures.items()}
    own = _school_style(content.styles["school.css"], request.paper)
    style = content.styles[f"{request.paper}.css"] + content.styles["sheet.css"] + own
    stylesheet = _parsed(style_sheet(style, content.clinic.accent))
    return render_pdf(page, stylesheet=stylesheet, assets=assets, find_outside=True)


def _school_style(style: str, paper: str) -> str:
    """Return the style sheet for a paper: beside letter stands ledger, as A3 stands beside A4."""
    return style.replace("size: A3;", "size: ledger;") if paper == "letter" else style


@cache
def _parsed(style: str) -> Stylesheet:
    return load_stylesheet(style, {})


def _laid_out(made: _Made, rendered: RenderedPdf, request: SchoolRequest) -> LaidOut:
    most, wanted = _MOST_PAGES.get(made.part), {}
    if made.part == "activities":
        most = _SIDES * request.class_size
        for number in range(1, request.class_size + 1):
            wanted[f"sheet-{number}-front"] = _SIDES * number - 1
            wanted[f"sheet-{number}-back"] = _SIDES * number
    elif most is not None and made.part in _LETTERS:
        most *= len(made.versions)
    return LaidOut(rendered.pages, most, rendered.anchors, wanted, rendered.outside)
