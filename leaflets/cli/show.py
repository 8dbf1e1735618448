"""What the commands print for a person."""

from collections.abc import Iterable, Sequence
from typing import Any

from rich.console import Console
from rich.markup import escape
from rich.table import Table

from leaflets.model import Finding, Result
from leaflets.pipeline import Explained
from leaflets.ready import Part
from leaflets.sheet_result import SheetResult

_STYLES = {"stop": "bold red", "warn": "yellow", "note": "dim"}
_console = Console(soft_wrap=True, highlight=False)


def show_result(result: Result) -> None:
    """Print what came of a visit: files or the reasons why there are none, then every finding."""
    show_findings(result.findings)
    if result.status == "stopped":
        for withheld in result.withheld:
            _line("withheld", withheld.rule, withheld.ears, withheld.because)
        for asked in result.asked:
            _line(
                "asked", asked.rule, asked.ears, [*(f"record {path}" for path in asked.not_recorded), *asked.to_confirm]
            )
        _console.print(f"[bold red]Stopped[/]: no leaflet for {escape(result.ref)}.")
        return
    grade = result.readability and result.readability["grade"]
    reading = f", grade {grade}" if grade is not None else ""
    pages = f", {result.pages} pages" if result.pages is not None else ""
    _console.print(f"[bold]{escape(result.ref)}[/]: leaflet {result.leaflet_id}{pages}{reading}")
    for kind, path in result.files.items():
        use = (
            "  (to print and fold: both sides, turned on the short edge; on a screen use the other)"
            if kind == "folded.pdf"
            else ""
        )
        _console.print(f"  {escape(path)}{use}")


def show_sheet(result: SheetResult) -> None:
    """Print what came of a sheet for everybody: files or the reasons why there are none, then every finding."""
    show_findings(result.findings)
    if result.status == "stopped":
        _console.print(f"[bold red]Stopped[/]: no sheet for {escape(result.sheet)}.")
        return
    for part in result.parts:
        grade = part.readability["grade"]
        reading = f", grade {grade}" if grade is not None else ""
        name = f"{result.sheet} {part.name}".strip()
        _console.print(f"[bold]{escape(name)}[/] ({part.language}): {part.leaflet_id}, {part.pages} pages{reading}")
    for path in result.files.values():
        _console.print(f"  {escape(path)}")


def show_findings(findings: Iterable[Finding]) -> None:
    """Print findings, one a line, as they come."""
    for finding in findings:
        _console.print(f"[{_STYLES[finding.severity]}]{escape(str(finding))}[/]")


def show_explanation(explained: Explained) -> None:
    """Print what is given, withheld and asked, each with its reasons."""
    for given in explained.plan.given:
        because = [
            *given.because,
            *([f"confirmed by {explained.visit.practitioner}: {given.confirmed}"] if given.confirmed else []),
        ]
        _line("given", given.rule, given.ears, because)
    for withheld in explained.plan.withheld:
        _line("withheld", withheld.rule, withheld.ears, withheld.because)
    for asked in explained.plan.asked:
        reasons = [
            *(f"{path} is not recorded" for path in asked.not_recorded),
            *(f"confirm: {fact}" for fact in asked.to_confirm),
        ]
        _line("asked", asked.rule, asked.ears, reasons)
    show_findings(explained.findings)


def explanation(explained: Explained) -> dict[str, Any]:
    """Return the explanation as plain values, for a program."""
    plan = explained.plan
    return {
        "ref": explained.visit.ref,
        "given": [
            {"rule": one.rule, "ears": list(one.ears), "because": list(one.because), "confirmed": one.confirmed}
            for one in plan.given
        ],
        "withheld": [
            {"rule": one.rule, "ears": list(one.ears), "because": list(one.because), "planned": one.planned}
            for one in plan.withheld
        ],
        "ask": [
            {
                "rule": one.rule,
                "ears": list(one.ears),
                "not_recorded": list(one.not_recorded),
                "to_confirm": list(one.to_confirm),
                "indicated": one.indicated,
            }
            for one in plan.asked
        ],
        "blocks": [block.id for block in plan.blocks],
        "findings": [finding.as_json() for finding in explained.findings],
    }


def show_parts(parts: Sequence[Part]) -> None:
    """Print what this machine has of what printing needs."""
    table = Table("Part", "Found", "What to do")
    for part in parts:
        table.add_row(
            part.name,
            part.found if part.ok else f"[bold red]{escape(part.found)}[/]",
            "" if part.ok else escape(part.remedy),
        )
    _console.print(table)
    ok = all(part.ok for part in parts)
    _console.print("This machine can print leaflets." if ok else "[bold red]This machine cannot print leaflets yet.[/]")


def _line(kind: str, rule: str, ears: Sequence[str], because: Iterable[str]) -> None:
    where = f" ({' and '.join(ears)})" if ears else ""
    _console.print(f"{kind:<9} [bold]{escape(rule)}[/]{where}: {escape(', '.join(because))}")
