"""The result of a visit, from what the steps of the pipeline found."""

from collections.abc import Iterable, Sequence

from leaflets.catalogue import coverage
from leaflets.checks import in_order
from leaflets.checks.evidence import Evidence
from leaflets.model import Finding, Plan, PlannedBlock, Result
from leaflets.readability.report import Report
from leaflets.visit import Visit


def stops(findings: Iterable[Finding]) -> bool:
    """Return whether any finding forbids the leaflet."""
    return any(finding.severity == "stop" for finding in findings)


def result_of(
    visit: Visit,
    plan: Plan,
    content_version: str,
    findings: Sequence[Finding],
    evidence: Evidence | None = None,
    childs: Evidence | None = None,
    pages: int | None = None,
) -> Result:
    """Return the result, nothing written yet.

    `evidence` None: it was stopped before there was a leaflet. `childs`: of a child's page before it, whose words are
    then those that readability is told of. None: there is none.
    """
    return Result(
        ref=visit.ref,
        practitioner=visit.practitioner,
        status="stopped" if stops(findings) else "ok",
        leaflet_id=evidence.leaflet.id if evidence else None,
        content_version=content_version,
        blocks=_blocks(plan, evidence),
        withheld=plan.withheld,
        asked=plan.asked,
        confirmed=tuple(given for given in plan.given if given.confirmed is not None),
        readability=readability_of((childs or evidence).report) if evidence else None,
        coverage=coverage(evidence.leaflet) if evidence else None,
        findings=tuple(in_order(findings)),
        pages=pages,
        files={},
    )


def _blocks(plan: Plan, evidence: Evidence | None) -> tuple[PlannedBlock, ...]:
    """Return the blocks in the order of the leaflet; before there is one, all that would be given."""
    if evidence is None:
        return plan.blocks
    planned = {block.id: block for block in plan.blocks}
    return tuple(planned[block.id] for block in evidence.leaflet.blocks)


def readability_of(report: Report) -> dict[str, str | int | float | None]:
    """Return what a result says of how hard its words are."""
    return {
        "formula": report.formula,
        "grade": _rounded(report.grade),
        "low": _rounded(report.low),
        "high": _rounded(report.high),
        "reading_age_years": report.reading_age_years,
        "words": report.words,
    }


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 1)
