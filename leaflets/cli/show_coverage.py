"""What `leaflets coverage` shows: a table with bars, and a page with a heat map for a manager."""

import html
from collections.abc import Iterable, Sequence
from itertools import groupby

from rich.box import SIMPLE_HEAD
from rich.table import Column, Table

from leaflets import cldr
from leaflets.coverage import CoverageRow

_BAR_WIDTH = 5


def coverage_table(rows: Iterable[CoverageRow]) -> Table:
    """Return a table for the terminal, with a bar for the share of current words."""
    heads = ("In", "Leaflet", "Reader", "Current", "Miss", "Stale", "Draft", "Signed")
    columns = (Column(head, no_wrap=True) for head in heads)
    table = Table(*columns, box=SIMPLE_HEAD, show_edge=False, pad_edge=False, padding=0)
    for row in rows:
        cells = (row.missing, row.stale, row.draft, row.reviewed)
        table.add_row(row.locale, row.kind, row.reader, _bar(row.percent), *map(str, cells))
    return table


def _bar(percent: float) -> str:
    full = int(_BAR_WIDTH * percent / 100)
    return f"{'█' * full}{'░' * (_BAR_WIDTH - full)} {percent:g}%"


def coverage_page(rows: Sequence[CoverageRow]) -> str:
    """Return a page with one table: a row a kind and reader, a column a locale, each cell with its figures.

    A cell says in words what its colour shows.
    """
    locales = list(dict.fromkeys(row.locale for row in rows))
    by_cell = {(row.kind, row.reader, row.locale): row for row in rows}
    lines = list(dict.fromkeys((row.kind, row.reader) for row in rows))
    heads = "".join(
        f'<th scope="col" lang="{locale}">{html.escape(cldr.own_name(locale))}<br/>{locale}</th>' for locale in locales
    )
    body = []
    for kind, of_kind in groupby(lines, key=lambda line: line[0]):
        for _, reader in of_kind:
            cells = "".join(_cell(by_cell.get((kind, reader, locale))) for locale in locales)
            body.append(f'<tr><th scope="row">{html.escape(kind.replace("-", " "))}, {reader}</th>{cells}</tr>')
    return _PAGE.format(heads=heads, body="\n".join(body))


def _cell(row: CoverageRow | None) -> str:
    if row is None:
        return "<td></td>"
    state = _state(row)
    counts = f"{row.missing} missing, {row.stale} stale, {row.draft} drafts, {row.reviewed} reviewed"
    details = f"{row.messages} messages: {counts}"
    return f'<td class="{state}" title="{details}"><b>{row.percent:g} %</b><br/>{_WORDS[state]}</td>'


def _state(row: CoverageRow) -> str:
    if row.missing or row.stale:
        return "gaps" if row.percent >= 90 else "far"
    return "draft" if row.draft else "reviewed"


_WORDS = {
    "far": "much is missing",
    "gaps": "some is missing",
    "draft": "whole, not signed off",
    "reviewed": "signed off",
}
_PAGE = """<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"/><meta name="viewport" content="width=device-width, initial-scale=1"/>
<title>Coverage of leaflets by language</title>
<style>
body {{ font-family: sans-serif; margin: 1rem; color: #111; background: #fff }}
table {{ border-collapse: collapse }} caption {{ text-align: start; padding-block-end: .5rem }}
th, td {{ border: 1px solid #999; padding: .3rem .5rem; text-align: start; font-size: .875rem }}
thead th {{ position: sticky; top: 0; background: #fff }}
.far {{ background: #e9b9a8 }} .gaps {{ background: #f3dcae }}
.draft {{ background: #d7e3ee }} .reviewed {{ background: #b7d8b9 }}
</style></head><body><h1>Coverage of leaflets by language</h1>
<table><caption>Messages with current words, of those a leaflet uses. Point at a cell for its figures.</caption>
<thead><tr><th scope="col">Leaflet, reader</th>{heads}</tr></thead>
<tbody>
{body}
</tbody></table></body></html>
"""
