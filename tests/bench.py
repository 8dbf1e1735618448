"""How long a leaflet takes, side by side in one run: make bench. Prints medians and ratios; asserts nothing.

Bare WeasyPrint gets the same HTML and pictures, the same parsed style sheet and fonts, and writes the same kind of
PDF; what is left out is everything of ours: reading the visit, rules, words, checks, the finisher, writing the files.
"""

import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Mapping
from pathlib import Path

from rich.console import Console
from rich.table import Table

from leaflets import demo, fit, make
from leaflets.content import load_content
from leaflets.render.fetcher import Asset, LockedFetcher
from leaflets.render.pdf import RenderedPdf, Stylesheet, require_engine

ROUNDS = 25
COLD_ROUNDS = 7
VISITS = Path(demo.__file__).parent / "visits"
VISIT = VISITS / "02-drops-for-the-right-ear.toml"


def milliseconds(action: Callable[[], object]) -> float:
    """Return how long one call takes."""
    start = time.perf_counter()
    action()
    return (time.perf_counter() - start) * 1000


def what_is_rendered() -> tuple[str, Stylesheet, Mapping[str, Asset]]:
    """Return the HTML, style sheet and pictures that make() hands to the renderer."""
    seen: list[tuple[str, Stylesheet, Mapping[str, Asset]]] = []
    render = fit.render_pdf

    def watch(html: str, *, stylesheet: Stylesheet, assets: Mapping[str, Asset]) -> RenderedPdf:
        seen.append((html, stylesheet, assets))
        return render(html, stylesheet=stylesheet, assets=assets)

    fit.render_pdf = watch  # type: ignore[assignment] # put back below
    try:
        make(VISIT)
    finally:
        fit.render_pdf = render
    return seen[-1]


def main() -> None:
    """Measure, and print one table."""
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder)
        command = [shutil.which("leaflets") or str(Path(sys.executable).parent / "leaflets"), "make", str(VISIT)]
        cold = [
            milliseconds(lambda: subprocess.run([*command, "--out", str(out)], check=True, capture_output=True))
            for _ in range(COLD_ROUNDS)
        ]
        page, stylesheet, assets = what_is_rendered()
        weasyprint = require_engine()
        fetcher = LockedFetcher(assets)

        def bare() -> None:
            source = weasyprint.HTML(string=page, url_fetcher=fetcher)
            document = source.render(
                stylesheets=[stylesheet.css],
                font_config=stylesheet.fonts,
                counter_style=stylesheet.counters.copy(),
                pdf_variant="pdf/ua-1",
            )
            document.write_pdf(pdf_variant="pdf/ua-1")

        def ours() -> None:
            make(VISIT, out=out)

        bare()
        ours()
        bare_times, our_times = [], []
        for turn in range(ROUNDS):
            # Turn about, so that neither always runs on the other's warm caches.
            for action, times in [(bare, bare_times), (ours, our_times)][:: 1 if turn % 2 else -1]:
                times.append(milliseconds(action))
        content_ms = milliseconds(load_content)

    table = Table("What", "Median", "Ratio")
    bare_median, our_median = statistics.median(bare_times), statistics.median(our_times)
    ratios = [ours_ / bare_ for ours_, bare_ in zip(our_times, bare_times, strict=True)]
    table.add_row("cold: leaflets make, from start to files", f"{statistics.median(cold):.0f} ms", "")
    table.add_row("warm: make()", f"{our_median:.1f} ms", f"{our_median / bare_median:.3f} of bare")
    table.add_row("warm: bare WeasyPrint on the same HTML", f"{bare_median:.1f} ms", "1")
    table.add_row("make() to bare, round by round", "", f"{statistics.median(ratios):.3f}")
    table.add_row("content, already read in this process", f"{content_ms:.2f} ms", "")
    Console().print(table)


if __name__ == "__main__":
    main()
