"""The demonstration: the leaflets of invented visits, a table of what came out, and a gallery of first pages."""

import html
from pathlib import Path

from rich.console import Console
from rich.progress import track
from rich.table import Table

from leaflets import demo
from leaflets.model import Result
from leaflets.pictures import picture_of
from leaflets.pipeline import make

_VISITS = Path(demo.__file__).parent / "visits"
_PICTURE_WIDTH_PIXELS = 620
_TABLE_WIDTH = 120

_PAGE = """<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>Leaflets of invented visits</title>
<style>
body {{ font-family: sans-serif; margin: 2rem auto; max-width: 75rem; padding: 0 1rem; color: #111; line-height: 1.5 }}
ul {{ list-style: none; padding: 0 }}
ul {{ display: grid; grid-template-columns: repeat(auto-fill, minmax(18rem, 1fr)); gap: 2rem }}
img {{ width: 100%; border: 1px solid #999 }}
h2 {{ font-size: 1rem }}
p {{ margin: 0.3rem 0 }}
</style></head><body>
<h1>Leaflets of invented visits</h1>
<p>Everyone here is invented, and so is the clinic. The words are drafts that no clinic has approved for patients.</p>
<ul>
{items}
</ul></body></html>
"""


def make_demo(out: Path) -> bool:
    """Make all leaflets and the gallery, and print the table. Return whether any leaflet was stopped.

    Raises:
        LeafletError: this machine or the content is not fit.

    """
    console = Console()
    if not console.is_terminal:
        console.width = _TABLE_WIDTH
    visits = sorted(_VISITS.glob("*.toml"))
    results = [(visit, make(visit, out=out)) for visit in track(visits, description="Making leaflets", console=console)]
    table = Table("Visit", "Reader", "Pages", "Words", "Grade, 95 % interval", "Blocks", "Findings")
    for visit, result in results:
        reading = result.readability or {}
        table.add_row(
            visit.stem,
            _reader(result),
            str(result.pages or "-"),
            str(reading.get("words", "-")),
            f"{reading['grade']} ({reading['low']} to {reading['high']})" if reading.get("grade") is not None else "-",
            str(len(result.blocks)),
            ", ".join(sorted({finding.code for finding in result.findings})) or "none",
        )
    console.print(table)
    gallery = out / "index.html"
    gallery.write_text(_PAGE.format(items="\n".join(_item(visit, result) for visit, result in results)), "utf-8")
    console.print(f"Look at them: {gallery}")
    return any(result.status == "stopped" for _, result in results)


def _reader(result: Result) -> str:
    pdf = result.files.get("pdf")
    return Path(pdf).name.split(".")[1] if pdf else "-"


def _item(visit: Path, result: Result) -> str:
    title = html.escape(visit.stem.split("-", 1)[1].replace("-", " ").capitalize())
    if result.status == "stopped":
        reasons = html.escape("; ".join(finding.message for finding in result.findings if finding.severity == "stop"))
        return f"<li><h2>{title}</h2><p>Stopped: {reasons}</p></li>"
    pdf, page = Path(result.files["pdf"]), Path(result.files["html"])
    picture = _draw_first_page(pdf)
    return (
        f'<li><h2>{title}</h2><a href="{pdf.name}"><img src="{picture.name}" alt="First page: {title}"></a>'
        f'<p><a href="{pdf.name}">PDF, {result.pages} pages</a>, <a href="{page.name}">HTML</a></p></li>'
    )


def _draw_first_page(pdf: Path) -> Path:
    """Draw the first page of a PDF as a picture beside it.

    Raises:
        LeafletError: the library that draws is not installed.

    """
    picture = pdf.with_suffix(".png")
    picture.write_bytes(picture_of(pdf, _PICTURE_WIDTH_PIXELS))
    return picture
