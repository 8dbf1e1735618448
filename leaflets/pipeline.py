"""The steps from a visit to a printed leaflet, in their order; nothing else."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from leaflets.catalogue import coverage
from leaflets.checks import check_leaflet, check_pages, check_plan, in_order
from leaflets.checks.evidence import Evidence, Pages
from leaflets.compose.leaflet import Composition, compose, core_words, next_to_leave_out
from leaflets.compose.values import Situation
from leaflets.content import Content, load_content
from leaflets.course import plan_calendar, plan_course
from leaflets.model import Finding, Plan, Result
from leaflets.plan import plan as judge
from leaflets.readability.report import Report, grade_units
from leaflets.render.fetcher import Asset
from leaflets.render.files import write_together
from leaflets.render.fonts import missing_characters
from leaflets.render.html import render_html, style_sheet
from leaflets.render.pdf import RenderedPdf, Stylesheet, load_stylesheet, render_pdf
from leaflets.visit import Visit
from leaflets.visits import VisitSource, read_visit

_GRADED = ("sentence", "item")
_LOGO_ADDRESS = "asset:logo"


def make(
    source: VisitSource,
    *,
    clinic: Path | None = None,
    out: Path | None = None,
    language: str | None = None,
    reader: str | None = None,
    format: str | None = None,  # noqa: A002 - the word of the record
) -> Result:
    """Make the leaflet of one visit.

    Args:
        source: a visit, its plain values, or the path of its record.
        clinic: the clinic's folder; None: the invented clinic, whose leaflets are marked as examples.
        out: the folder for the files; None: the leaflet is made and checked, and nothing is written.
        language: instead of what the record says.
        reader: instead of what the record says.
        format: instead of what the record says.

    Returns:
        The result. Where its status is "stopped", nothing was written.

    Raises:
        LeafletError: the input, the clinic's folder, the content or this machine is not fit.

    """
    content = load_content(clinic)
    chosen = {"language": language, "reader": reader, "format": format}
    visit = read_visit(source, content, {key: value for key, value in chosen.items() if value is not None})
    plan = judge(visit, content.rule_book.rules.values())
    situation, findings = _situation(visit, plan, content)
    findings += check_plan(plan)
    if _stops(findings):
        return _result(visit, plan, content, in_order(findings))

    composition = _compose_within_words(content, plan, situation)
    report = _grade(composition)
    evidence = _evidence(visit, plan, situation, composition, content, report)
    findings += check_leaflet(evidence)
    if _stops(findings):
        return _result(visit, plan, content, in_order(findings), evidence)

    assets = _assets(composition, content)
    style = style_sheet(content.styles[f"{situation.format}.css"], content.clinic.file.accent)
    composition, rendered = _render_within_pages(content, plan, situation, composition, style, assets)
    if composition.leaflet is not evidence.leaflet:
        report = _grade(composition)
        evidence = _evidence(visit, plan, situation, composition, content, report)
        findings += check_leaflet(evidence)
    findings += check_pages(evidence, Pages(rendered.pages, rendered.anchors))
    if _stops(findings):
        return _result(visit, plan, content, in_order(findings), evidence, rendered.pages)

    files: dict[str, str] = {}
    if out is not None:
        html = render_html(composition.leaflet.html, style + content.styles["screen.css"], assets)
        name = f"{visit.ref}.{situation.reader}.{situation.language}.{situation.format}"
        files = write_together(out, name, {"pdf": rendered.pdf, "html": html.encode()})
    return replace(_result(visit, plan, content, in_order(findings), evidence, rendered.pages), files=files)


@dataclass(frozen=True)
class Explained:
    """What the rules make of a visit, with the findings on the plan and its dates."""

    visit: Visit
    plan: Plan
    findings: tuple[Finding, ...]

    @property
    def stopped(self) -> bool:
        """Whether no leaflet can be made of this plan."""
        return _stops(self.findings)


def explain(source: VisitSource, *, clinic: Path | None = None) -> Explained:
    """Judge a visit by the rules, and go no further.

    Raises:
        LeafletError: the input, the clinic's folder or the content is not fit.

    """
    content = load_content(clinic)
    visit = read_visit(source, content, {})
    plan = judge(visit, content.rule_book.rules.values())
    _, findings = _situation(visit, plan, content)
    return Explained(visit, plan, tuple(in_order([*findings, *check_plan(plan)])))


def _situation(visit: Visit, plan: Plan, content: Content) -> tuple[Situation, list[Finding]]:
    """Work out the dates, and bring together what the words depend on."""
    course, findings = plan_course(visit, plan, content.rule_book.numbers)
    calendar, more = plan_calendar(visit, course, content.rule_book.numbers, content.clinic.closed_because)
    assert visit.country is not None, "read_visit settles it"
    assert visit.language is not None, "read_visit settles it"
    assert visit.format is not None, "read_visit settles it"
    signs = tuple(
        given.rule.split("/")[1] for given in plan.given if content.rule_book.rules[given.rule].urgency is not None
    )
    situation = Situation(
        visit=visit,
        language=visit.language,
        reader=visit.reader,
        format=visit.format,
        course=course,
        calendar=calendar,
        clinic=content.clinic.details(_LOGO_ADDRESS if content.clinic.logo else None),
        country=content.rule_book.countries[visit.country],
        numbers=content.rule_book.numbers,
        sources=content.rule_book.sources,
        signs=signs,
        block_ids=frozenset(block.id for block in plan.blocks),
        content_version=content.version,
        approved=False,
    )
    return situation, findings + more


def _compose_without(content: Content, plan: Plan, situation: Situation, left_out: Sequence[str]) -> Composition:
    """Compose without some blocks, so that no other block speaks as if they were there."""
    staying = replace(situation, block_ids=situation.block_ids.difference(left_out))
    return compose(content.words, plan.blocks, staying, content.clinic.file.accent, left_out)


def _compose_within_words(content: Content, plan: Plan, situation: Situation) -> Composition:
    """Compose, leaving blocks of low priority out until the core text is short enough or only safety blocks stay."""
    left_out: list[str] = []
    limit = content.rule_book.numbers.whole("leaflet.core-words")
    while True:
        composition = _compose_without(content, plan, situation, left_out)
        following = next_to_leave_out(composition.leaflet)
        if core_words(composition.leaflet) <= limit or following is None:
            return composition
        left_out.append(following)


def _render_within_pages(
    content: Content,
    plan: Plan,
    situation: Situation,
    composition: Composition,
    style: str,
    assets: dict[str, Asset],
) -> tuple[Composition, RenderedPdf]:
    """Render, leaving more blocks out while it takes too many pages and there are any to leave out."""
    stylesheet = _stylesheet(style)
    limit = content.rule_book.numbers.whole("leaflet.pages")
    while True:
        rendered = render_pdf(composition.leaflet.html, stylesheet=stylesheet, assets=assets)
        following = next_to_leave_out(composition.leaflet)
        if rendered.pages <= limit or following is None:
            return composition, rendered
        composition = _compose_without(content, plan, situation, (*composition.leaflet.left_out, following))


@cache
def _stylesheet(style: str) -> Stylesheet:
    return load_stylesheet(style, {})


def _assets(composition: Composition, content: Content) -> dict[str, Asset]:
    assets = {address: Asset(svg.encode(), "image/svg+xml") for address, svg in composition.figures.items()}
    if content.clinic.logo is not None:
        assets[_LOGO_ADDRESS] = Asset(*content.clinic.logo)
    return assets


def _grade(composition: Composition) -> Report:
    leaflet = composition.leaflet
    return grade_units([unit.text for unit in leaflet.units if unit.kind in _GRADED], leaflet.language)


def _evidence(
    visit: Visit, plan: Plan, situation: Situation, composition: Composition, content: Content, report: Report
) -> Evidence:
    return Evidence(
        visit=visit,
        plan=plan,
        situation=situation,
        leaflet=composition.leaflet,
        rules=content.rule_book.rules,
        block_words=content.words.blocks,
        report=report,
        missing_characters=missing_characters,
    )


def _stops(findings: Sequence[Finding]) -> bool:
    return any(finding.severity == "stop" for finding in findings)


def _result(
    visit: Visit,
    plan: Plan,
    content: Content,
    findings: Sequence[Finding],
    evidence: Evidence | None = None,
    pages: int | None = None,
) -> Result:
    blocks = plan.blocks
    readability = None
    if evidence is not None:
        order = {block.id: place for place, block in enumerate(evidence.leaflet.blocks)}
        blocks = tuple(sorted((block for block in blocks if block.id in order), key=lambda block: order[block.id]))
        report = evidence.report
        readability = {
            "formula": report.formula,
            "grade": _rounded(report.grade),
            "low": _rounded(report.low),
            "high": _rounded(report.high),
            "reading_age_years": report.reading_age_years,
            "words": report.words,
        }
    return Result(
        ref=visit.ref,
        status="stopped" if _stops(findings) else "ok",
        leaflet_id=evidence.leaflet.id if evidence else None,
        content_version=content.version,
        blocks=blocks,
        withheld=plan.withheld,
        asked=plan.asked,
        confirmed=tuple(given for given in plan.given if given.confirmed is not None),
        readability=readability,
        coverage=coverage(evidence.leaflet) if evidence else None,
        findings=tuple(findings),
        pages=pages,
        files={},
    )


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 1)
