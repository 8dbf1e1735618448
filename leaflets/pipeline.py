"""The steps from a visit to a printed leaflet, in their order; nothing else."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from leaflets.checks import check_childs_page, check_leaflet, check_pages, check_plan, in_order
from leaflets.checks.evidence import Evidence, Pages
from leaflets.compose.values import Situation
from leaflets.content import Content, load_content
from leaflets.course import plan_calendar, plan_course
from leaflets.errors import LeafletError, did_you_mean
from leaflets.fit import (
    LOGO_ADDRESS,
    compose_childs_page,
    compose_to_fit,
    pages_before,
    pages_of_leaflet,
    render_beside,
    render_for_practitioner,
    render_for_screen,
    render_to_fit,
    sheet_for,
    with_calendar_code,
)
from leaflets.formats import FORMATS
from leaflets.model import Finding, Leaflet, Plan, Result
from leaflets.outputs import outputs_of, require_braille
from leaflets.plan import plan as judge
from leaflets.readability.report import grade_units
from leaflets.render.files import file_place, write_together
from leaflets.render.fonts import missing_characters
from leaflets.results import result_of, stops
from leaflets.visit import Visit
from leaflets.visits import VisitSource, read_visit
from leaflets.vocabulary import CHILD_READERS, Reader

_BEHIND_A_CHILDS_PAGE: Reader = "carer"
_FOLDED = "-folded.pdf"
_ENDINGS = ("pdf", "html", "txt", "brf", "ics", _FOLDED)


def make(
    source: VisitSource,
    *,
    clinic: Path | str | None = None,
    out: Path | str | None = None,
    language: str | None = None,
    reader: str | None = None,
    format: str | None = None,  # noqa: A002 - the word of the record
    beside: str | None = None,
    practitioner: bool = False,
) -> Result:
    """Make the leaflet of one visit.

    Args:
        source: a visit, its plain values, or the path of its record.
        clinic: the clinic's folder; None: the invented clinic, whose leaflets are marked as examples.
        out: the folder for the files; None: the leaflet is made and checked, and nothing is written.
        language: instead of what the record says.
        reader: instead of what the record says.
        format: instead of what the record says.
        beside: a language of the staff: a page for them, with the leaflet block by block in both, is made too.
        practitioner: whether a page for the practitioner alone is made too: reasons, questions to ask, what to record.

    Returns:
        The result. Where its status is "stopped", nothing was written.

    Raises:
        LeafletError: the input, the clinic's folder, the content or this machine is not fit.

    """
    content = load_content(None if clinic is None else Path(clinic))
    chosen = {"language": language, "reader": reader, "format": format}
    visit = read_visit(source, content, {key: value for key, value in chosen.items() if value is not None})
    if beside is not None and beside not in content.languages:
        hint = did_you_mean(beside, content.languages)
        raise LeafletError.at("--beside", f"there are no leaflets in the language '{beside}'", hint)
    result, contents, _ = _make(visit, content, beside, practitioner=practitioner)
    if out is None:
        return result
    name = f"{visit.ref}.{visit.reader}.{visit.language}.{visit.format}"
    if result.status == "ok":
        return replace(result, files=write_together(Path(out), name, contents))
    return _with_warning_of_earlier(result, Path(out), name)


@dataclass(frozen=True)
class Checked:
    """The result of a visit, nothing written, and what the checks looked at. `evidence` None: there is no leaflet."""

    result: Result
    evidence: Evidence | None


def check(source: VisitSource, *, clinic: Path | None = None) -> Checked:
    """Make the leaflet of one visit without writing it, and keep what the checks looked at.

    Raises:
        LeafletError: the input, the clinic's folder, the content or this machine is not fit.

    """
    content = load_content(clinic)
    result, _, evidence = _make(read_visit(source, content, {}), content)
    return Checked(result, evidence)


def _make(
    visit: Visit, content: Content, beside: str | None = None, *, practitioner: bool = False
) -> tuple[Result, Mapping[str, bytes], Evidence | None]:
    """Take a visit through all steps; return the result, the files' contents by their ending, and the evidence."""
    childs = _childs_page(visit, content)
    about_child = [] if childs is None else check_childs_page(childs)
    if childs is not None:
        visit = visit.model_copy(update={"reader": _BEHIND_A_CHILDS_PAGE})
    plan = judge(visit, content.rule_book.rules.values())
    situation, about_plan = situation_of(visit, plan, content)
    require_braille(situation)
    about_plan += check_plan(plan, content.rule_book.rules.values(), content.words.blocks)
    if stops(about_plan):
        return result_of(visit, plan, content.version, about_plan), {}, None

    situation = replace(situation, childs_page=None if childs is None else childs.leaflet)
    situation = with_calendar_code(content, situation)
    composition = compose_to_fit(content, plan.blocks, situation)
    evidence = _evidence(visit, plan, situation, composition.leaflet, content)
    about_words = [*about_child, *check_leaflet(evidence)]
    if stops(about_words):
        return result_of(visit, plan, content.version, [*about_plan, *about_words], evidence, childs), {}, evidence

    sheet = sheet_for(content, situation, composition)
    contents: dict[str, bytes] = {}
    pages: int | None = None
    about_pages: list[Finding] = []
    if FORMATS[situation.format].kind == "paper":
        composition, sheet, rendered = render_to_fit(content, plan.blocks, situation, composition, sheet)
        if composition.leaflet is not evidence.leaflet:
            evidence = _evidence(visit, plan, situation, composition.leaflet, content)
            about_words = [*about_child, *check_leaflet(evidence)]
        about_pages = check_pages(evidence, Pages(*pages_of_leaflet(rendered), pages_before(rendered)))
        pages, contents["pdf"] = rendered.pages, rendered.pdf
        if rendered.folded is not None:
            contents[_FOLDED] = rendered.folded
        if (for_screen := render_for_screen(content, composition, sheet)) is not None:
            contents["screen.pdf"] = for_screen
    contents |= outputs_of(content, situation, composition, sheet)
    if beside is not None:
        for_staff = _in_language(visit, plan, content, beside)
        contents[f"beside-{beside}.pdf"] = render_beside(content, plan.blocks, for_staff, composition, sheet)
    if practitioner:
        for_staff = _in_language(visit, plan, content, content.clinic.file.language)
        contents["practitioner.pdf"] = render_for_practitioner(content, plan, for_staff, composition, sheet)
    findings = [*about_plan, *about_words, *about_pages]
    return result_of(visit, plan, content.version, findings, evidence, childs, pages), contents, evidence


def _childs_page(visit: Visit, content: Content) -> Evidence | None:
    """Compose the page of a child who reads. None: the leaflet is for a grown-up."""
    if visit.reader not in CHILD_READERS:
        return None
    plan = judge(visit, content.rule_book.rules.values())
    situation, _ = situation_of(visit, plan, content)
    composition = compose_childs_page(content, plan.blocks, situation)
    of_child = frozenset(block.id for block in composition.leaflet.blocks)
    plan = replace(plan, blocks=tuple(block for block in plan.blocks if block.id in of_child))
    return _evidence(visit, plan, situation, composition.leaflet, content)


def _in_language(visit: Visit, plan: Plan, content: Content, language: str) -> Situation:
    """Return the situation of the same visit for people who read another language."""
    return situation_of(visit.model_copy(update={"language": language}), plan, content)[0]


def _with_warning_of_earlier(result: Result, out: Path, name: str) -> Result:
    """Return a stopped result that also warns of an earlier leaflet of the same reference, which is left as it is."""
    earlier = [path for ending in _ENDINGS if (path := file_place(out, name, ending)).exists()]
    warnings = [
        Finding(
            "RULE15",
            "warn",
            str(path),
            "an earlier leaflet of this reference is still there, and this visit was stopped",
            "do not hand it out before you know why; take it away if it is wrong",
        )
        for path in earlier
    ]
    return replace(result, findings=tuple(in_order([*result.findings, *warnings])))


@dataclass(frozen=True)
class Explained:
    """What the rules make of a visit, with the findings on the plan and its dates."""

    visit: Visit
    plan: Plan
    findings: tuple[Finding, ...]

    @property
    def stopped(self) -> bool:
        """Whether no leaflet can be made of this plan."""
        return stops(self.findings)


def explain(source: VisitSource, *, clinic: Path | None = None) -> Explained:
    """Judge a visit by the rules, and go no further.

    Raises:
        LeafletError: the input, the clinic's folder or the content is not fit.

    """
    content = load_content(clinic)
    visit = read_visit(source, content, {})
    plan = judge(visit, content.rule_book.rules.values())
    _, findings = situation_of(visit, plan, content)
    return Explained(
        visit,
        plan,
        tuple(in_order([*findings, *check_plan(plan, content.rule_book.rules.values(), content.words.blocks)])),
    )


def situation_of(visit: Visit, plan: Plan, content: Content) -> tuple[Situation, list[Finding]]:
    """Work out the dates, and bring together what the words depend on.

    `visit`: as `read_visit` returns it. With the findings on its dates.
    """
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
        help_place=FORMATS[visit.format].help_places[0],
        course=course,
        calendar=calendar,
        clinic=content.clinic.details(LOGO_ADDRESS if content.clinic.logo else None, visit.language),
        country=content.clinic.care_in(content.rule_book.countries[visit.country]),
        numbers=content.rule_book.numbers,
        sources=content.rule_book.sources,
        signs=signs,
        block_ids=frozenset(block.id for block in plan.blocks),
        content_version=content.version,
        catalogue=content.catalogue(visit.language),
        glossary=content.glossary(visit.language),
        signed_off=content.ledger.approved,
        issue_drafts=content.clinic.file.issue_drafts,
        allow_gaps=content.clinic.file.allow_gaps,
        clinic_language=content.clinic.file.language,
        clinic_catalogue=content.catalogue(content.clinic.file.language),
    )
    return situation, findings + more


def _evidence(visit: Visit, plan: Plan, situation: Situation, leaflet: Leaflet, content: Content) -> Evidence:
    """Grade the leaflet, and bring together what checks look at."""
    graded = [unit.text for unit in leaflet.units if unit.kind in ("sentence", "item")]
    return Evidence(
        visit=visit,
        plan=plan,
        situation=situation,
        leaflet=leaflet,
        rules=content.rule_book.rules,
        words=content.words,
        report=grade_units(graded, leaflet.language),
        missing_characters=missing_characters,
    )
