"""Sheets for everybody, without a visit: the steps from a topic to a printed prevention leaflet, in their order."""

import datetime
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from leaflets.checks import in_order
from leaflets.checks.evidence import Evidence
from leaflets.checks.sheets import check_sheet, check_sheet_pages, does_not_fit
from leaflets.checks.sheets.does_not_fit import LaidOut
from leaflets.compose.leaflet import Composition
from leaflets.compose.two_languages import one_after_the_other
from leaflets.compose.values import Situation
from leaflets.content import Content, load_content
from leaflets.fit import Sheet, compose_to_fit, render_to_fit, sheet_for
from leaflets.model import Leaflet, Plan, PlannedBlock
from leaflets.outreach_request import SchoolRequest, TopicRequest, nobodys_visit
from leaflets.outreach_requests import read_request
from leaflets.pipeline import situation_of
from leaflets.plan import plan as judge
from leaflets.readability.report import grade_units
from leaflets.render.files import write_together
from leaflets.render.fonts import missing_characters
from leaflets.render.html import render_html
from leaflets.render.pdf import load_stylesheet, render_pdf
from leaflets.results import stops
from leaflets.rules.topics import Topic
from leaflets.sheet_result import SheetPart, SheetResult
from leaflets.vocabulary import EarName, Reader

_BOTH_EARS: tuple[EarName, ...] = ("left", "right")
_LAYOUT = "layouts/topic.html"


def make_sheet(
    topic: str,
    *,
    language: str | None = None,
    beside: str | None = None,
    country: str | None = None,
    paper: str | None = None,
    date: datetime.date | None = None,
    clinic: Path | str | None = None,
    out: Path | str | None = None,
) -> SheetResult:
    """Make a prevention leaflet on one topic, for everybody.

    Args:
        topic: one of topics.toml, such as `wax`.
        language: BCP 47. None: the clinic's own.
        beside: a second language, whose pages follow those of the first in the same file. None: there is none.
        country: ISO 3166; it sets the emergency numbers. None: the clinic's own.
        paper: `a4` or `letter`. None: as the clinic has it.
        date: the day it is made, on which a review of its words must not be overdue. None: today.
        clinic: the clinic's folder, whose number is the one to call; None: the invented clinic.
        out: the folder for the files; None: the leaflet is made and checked, and nothing is written.

    Raises:
        LeafletError: the request, the clinic's folder, the content or this machine is not fit.

    """
    content = load_content(None if clinic is None else Path(clinic))
    given = {"topic": topic, "language": language, "beside": beside, "country": country, "paper": paper}
    request = read_request(TopicRequest, {**given, "date": date or today()}, content)
    result, contents = _make(request, content)
    if out is None or result.status == "stopped":
        return result
    languages = request.language if request.beside is None else f"{request.language}-{request.beside}"
    name = f"{request.topic}.{languages}.{request.paper}"
    return result.with_files(write_together(Path(out), name, contents))


def today() -> datetime.date:
    """Return the day on this machine."""
    return datetime.datetime.now().astimezone().date()


def _make(request: TopicRequest, content: Content) -> tuple[SheetResult, Mapping[str, bytes]]:
    topic = content.rule_book.topics[request.topic]
    languages = [request.language, *([] if request.beside is None else [request.beside])]
    made = [_compose(request.model_copy(update={"language": one}), topic, content) for one in languages]
    findings = [finding for evidence, _ in made for finding in check_sheet(evidence)]
    parts = [SheetPart.of("", evidence) for evidence, _ in made]
    evidence, composition = made[0]
    result = SheetResult(
        sheet=topic.id,
        status="stopped",
        content_version=content.version,
        blocks=_blocks(evidence),
        parts=tuple(parts),
        findings=tuple(in_order(findings)),
    )
    if stops(findings):
        return result, {}
    fits: list[Evidence] = []
    parts = []
    for evidence, composition in made:
        sheet = _sheet(content, evidence, composition)
        fitted, sheet, rendered = render_to_fit(content, evidence.plan.blocks, evidence.situation, composition, sheet)
        again = replace(evidence, leaflet=fitted.leaflet)
        findings += check_sheet(again) if fitted.leaflet is not evidence.leaflet else []
        findings += check_sheet_pages(again, LaidOut(rendered.pages, first_page=rendered.anchors))
        parts.append(replace(SheetPart.of("", again), pages=rendered.pages))
        fits.append(again)
    sheet = _for_all([_sheet(content, evidence, composition) for evidence, composition in made])
    pages = [evidence.leaflet for evidence in fits]
    page = sheet.page(pages[0]) if len(pages) == 1 else one_after_the_other(pages[0], pages[1])
    printed = render_pdf(page, stylesheet=load_stylesheet(sheet.style, {}), assets=sheet.assets, find_outside=True)
    findings += does_not_fit.check(made[0][0], LaidOut(printed.pages, outside=printed.outside))
    stopped = stops(findings)
    result = replace(
        result,
        status="stopped" if stopped else "ok",
        blocks=_blocks(fits[0]),
        parts=tuple(parts),
        findings=tuple(in_order(findings)),
    )
    if stopped:
        return result, {}
    html = render_html(page, sheet.style + content.styles[f"{request.paper}-screen.css"], sheet.assets)
    return result, {"pdf": printed.pdf, "html": html.encode()}


def _sheet(content: Content, evidence: Evidence, composition: Composition) -> Sheet:
    sheet = sheet_for(content, evidence.situation, composition)
    return replace(sheet, style=sheet.style + content.styles["sheet.css"])


def _for_all(sheets: list[Sheet]) -> Sheet:
    """Return what the pages of all languages are laid out with."""
    return replace(sheets[0], assets={address: asset for sheet in sheets for address, asset in sheet.assets.items()})


def _compose(request: TopicRequest, topic: Topic, content: Content) -> tuple[Evidence, Composition]:
    adult = content.rule_book.numbers.whole("age.child-up-to") + 1
    situation, plan = situation_for(request, topic.reader, adult if topic.reader == "adult" else None, content)
    blocks = tuple(
        PlannedBlock(block_id, f"topics/{topic.id}", _BOTH_EARS, (f"topic = {topic.id}",)) for block_id in topic.blocks
    )
    situation = replace(situation, layout=_LAYOUT, topic=topic.id, block_ids=frozenset(topic.blocks))
    composition = compose_to_fit(content, blocks, situation)
    return evidence_of(replace(plan, blocks=blocks), situation, composition.leaflet, content), composition


def situation_for(
    request: TopicRequest | SchoolRequest, reader: Reader, age_years: int | None, content: Content
) -> tuple[Situation, Plan]:
    """Return what the words of a sheet depend on, and the plan of the signs that its get-help panel tells.

    `age_years`: of those whom it is about. None: of every age.
    """
    visit = nobodys_visit(request, reader, age_years)
    rules = [rule for rule in content.rule_book.rules.values() if rule.urgency is not None]
    judged = judge(visit, rules)
    situation, _ = situation_of(visit, judged, content)
    return situation, Plan(judged.given, (), (), ())


def evidence_of(plan: Plan, situation: Situation, leaflet: Leaflet, content: Content) -> Evidence:
    """Grade a sheet, and bring together what checks look at."""
    graded = [unit.text for unit in leaflet.units if unit.kind in ("sentence", "item")]
    return Evidence(
        visit=situation.visit,
        plan=plan,
        situation=situation,
        leaflet=leaflet,
        rules=content.rule_book.rules,
        words=content.words,
        report=grade_units(graded, leaflet.language),
        missing_characters=missing_characters,
    )


def _blocks(evidence: Evidence) -> tuple[PlannedBlock, ...]:
    planned = {block.id: block for block in evidence.plan.blocks}
    return tuple(planned[block.id] for block in evidence.leaflet.blocks)
