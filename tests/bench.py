"""How long a leaflet takes, side by side in one run: make bench. Prints medians and ratios; asserts nothing.

Bare WeasyPrint gets the same HTML and pictures, the same parsed style sheet and fonts, and writes the same kind of
PDF; what is left out is everything of ours: reading the visit, rules, words, checks, the finisher, writing the files.

textstat gets the same 600 words as our readability engine, each time in another order, as it remembers a text it has
seen; its pronunciations come from our own table, as it would otherwise fetch them. It works out seven figures. The
engine is measured with its whole report (eight figures, the interval, a record of each unit), with the same seven
figures alone, with the hard words besides, and with nothing remembered of the words, which it otherwise has all seen.
In a new process both have their bytecode ready, as in an installation.
"""

import compileall
import json
import random
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from pathlib import Path

from rich.console import Console
from rich.table import Table

from leaflets import demo, fit, make, pipeline
from leaflets.content import load_content
from leaflets.formats import FORMATS
from leaflets.readability import counts, second_opinion
from leaflets.readability.formulas import all_formulas
from leaflets.readability.report import Report, grade_units
from leaflets.readability.syllables_en import count_syllables
from leaflets.render.fetcher import Asset, LockedFetcher
from leaflets.render.pdf import RenderedPdf, Stylesheet, require_engine
from leaflets.translation_checks import check_translation
from leaflets.word_checks import check_words

ROUNDS = 25
COLD_ROUNDS = 7
FORMAT_ROUNDS = 5
READABILITY_ROUNDS = 200
WORDS = 600
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


def share_of_checks() -> float:
    """Return the share of the time of a whole make() that all its checks take, readability among them."""
    watched = ("check_plan", "check_leaflet", "check_pages", "grade_units")
    whole: list[float] = []
    checks: list[float] = []

    def watch(action: Callable[..., object]) -> Callable[..., object]:
        def timed(*arguments: object) -> object:
            start = time.perf_counter()
            try:
                return action(*arguments)
            finally:
                checks[-1] += (time.perf_counter() - start) * 1000

        return timed

    actions = {name: getattr(pipeline, name) for name in watched}
    try:
        for name, action in actions.items():
            setattr(pipeline, name, watch(action))
        for _ in range(ROUNDS):
            checks.append(0)
            whole.append(milliseconds(lambda: make(VISIT)))
    finally:
        for name, action in actions.items():
            setattr(pipeline, name, action)
    return statistics.median(part / all_ for part, all_ in zip(checks, whole, strict=True))


def graded_units() -> list[str]:
    """Return about 600 words of leaflets, in their units."""
    units: list[str] = []
    bring_together = pipeline.grade_units

    def keep(texts: Sequence[str], language: str) -> Report:
        units.extend(texts)
        return bring_together(texts, language)

    pipeline.grade_units = keep
    try:
        for visit in sorted(VISITS.glob("*.toml")):
            make(visit)
            if sum(len(unit.split()) for unit in units) > WORDS:
                break
    finally:
        pipeline.grade_units = bring_together
    counted = 0
    kept: list[str] = []
    for unit in units:
        if counted < WORDS:
            kept.append(unit)
            counted += len(unit.split())
    return kept


def seven_figures(units: Sequence[str]) -> list[float]:
    """Return the figures that textstat is asked for, and nothing else."""
    names = ("flesch-kincaid", "flesch-reading-ease", "smog", "fog", "ari", "coleman-liau", "dale-chall-new")
    counted, total = counts.count_units(units, "en")
    measures = counts.Measures(len(counted), total)
    return [all_formulas()[name].value(measures) for name in names]


def grade_unseen(units: Sequence[str]) -> Report:
    """Grade with nothing remembered of any word; the tables are read already."""
    counts._remembered.cache_clear()  # noqa: SLF001 - what is measured is the engine without its memory
    count_syllables.cache_clear()
    return grade_units(units, "en")


WARM: Mapping[str, Callable[[Sequence[str]], object]] = {
    "the whole report": lambda units: grade_units(units, "en"),
    "seven figures alone, as textstat": seven_figures,
    "report and hard words": lambda units: [unit.hard_words for unit in grade_units(units, "en").units],
    "report, no word remembered": grade_unseen,
}


def warm_readability(units: list[str]) -> tuple[Mapping[str, list[float]], list[float]]:
    """Return how long ours and textstat take on the same words, in another order each round, turn about."""
    chance = random.Random(1)  # noqa: S311 - an order, no secret
    ours: dict[str, list[float]] = {name: [] for name in WARM}
    theirs: list[float] = []
    with second_opinion.textstat_formulas({}) as formulas:
        for turn in range(READABILITY_ROUNDS):
            mixed = chance.sample(units, len(units))
            text = " ".join(f"{unit.rstrip('.')}." for unit in mixed)
            both = [
                *((ours[name], lambda mixed=mixed, action=action: action(mixed)) for name, action in WARM.items()),
                (theirs, lambda text=text: [formula(text) for formula in formulas.values()]),
            ]
            for times, action in both[:: 1 if turn % 2 else -1]:
                times.append(milliseconds(action))
    return ours, theirs


def cold_readability(units: list[str]) -> tuple[float, float]:
    """Return how long ours and textstat take in a new process, import included, less what an empty process takes.

    textstat's own list of pronunciations, which takes most of a second to parse, is not in it.
    """
    compileall.compile_dir(Path(pipeline.__file__).parent, quiet=1)
    text = json.dumps(units)
    start = "import json, sys; units = json.loads(sys.stdin.read()); "
    programs = (
        "",
        "from leaflets.readability.report import grade_units; grade_units(units, 'en')",
        "import textstat; from leaflets.readability.second_opinion import second_opinion; second_opinion(units, 'en')",
    )
    medians = []
    for program in programs:
        command = [sys.executable, "-c", start + program]
        run = partial(subprocess.run, command, input=text, text=True, check=True, capture_output=True)
        medians.append(statistics.median(milliseconds(run) for _ in range(COLD_ROUNDS)))
    empty, ours, theirs = medians
    return ours - empty, theirs - empty


def content_check(locales: int) -> float:
    """Return how long every check of every message takes for so many locales, nothing remembered."""
    content = load_content()
    check_translation.cache_clear()
    names = [name for name in content.languages if name != "en"][:locales]
    return milliseconds(lambda: [check_words(content, name) for name in names])


def warm_formats(out: Path) -> Mapping[str, float]:
    """Return the median of each format's make(), turn about, with its fonts and style sheet read before."""
    times: dict[str, list[float]] = {name: [] for name in FORMATS}
    for turn in range(FORMAT_ROUNDS + 1):
        for name in list(FORMATS)[:: 1 if turn % 2 else -1]:
            took = milliseconds(partial(make, VISIT, format=name, out=out))
            if turn:
                times[name].append(took)
    return {name: statistics.median(taken) for name, taken in times.items()}


def all_formats_in_new_processes(out: Path) -> tuple[float, float]:
    """Return how long one visit takes in all formats: in one new process, and in one for each, both with imports."""
    program = (
        "import sys; from leaflets import make; [make(sys.argv[1], out=sys.argv[2], format=f) for f in sys.argv[3:]]"
    )
    run = partial(subprocess.run, check=True, capture_output=True)
    command = [sys.executable, "-c", program, str(VISIT), str(out)]
    together, apart = [], []
    for _ in range(COLD_ROUNDS):
        together.append(milliseconds(lambda: run([*command, *FORMATS])))
        apart.append(sum(milliseconds(partial(run, [*command, name])) for name in FORMATS))
    return statistics.median(together), statistics.median(apart)


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
        by_format, (together, apart) = warm_formats(out), all_formats_in_new_processes(out)

    table = Table("What", "Median", "Ratio")
    bare_median, our_median = statistics.median(bare_times), statistics.median(our_times)
    ratios = [ours_ / bare_ for ours_, bare_ in zip(our_times, bare_times, strict=True)]
    table.add_row("cold: leaflets make, from start to files", f"{statistics.median(cold):.0f} ms", "")
    table.add_row("warm: make()", f"{our_median:.1f} ms", f"{our_median / bare_median:.3f} of bare")
    table.add_row("warm: bare WeasyPrint on the same HTML", f"{bare_median:.1f} ms", "1")
    table.add_row("make() to bare, round by round", "", f"{statistics.median(ratios):.3f}")
    for name, took in by_format.items():
        table.add_row(f"warm: make() in {name}", f"{took:.0f} ms", f"{took / by_format['a4']:.2f} of a4")
    table.add_row(f"cold: one visit in {len(FORMATS)} formats, a process each", f"{apart:.0f} ms", "1")
    table.add_row("cold: the same in one process", f"{together:.0f} ms", f"{together / apart:.2f}")
    table.add_row("all checks, of a whole make()", "", f"{share_of_checks():.3f}")
    units = graded_units()
    ours_warm, theirs_warm = warm_readability(units)
    theirs_ms = statistics.median(theirs_warm)
    words = sum(len(unit.split()) for unit in units)
    table.add_row(f"warm: textstat, seven figures of {words} words", f"{theirs_ms:.2f} ms", "1")
    for name, times in ours_warm.items():
        ours_ms = statistics.median(times)
        table.add_row(f"warm: readability, {name}", f"{ours_ms:.2f} ms", f"textstat {theirs_ms / ours_ms:.1f} times")
    ours_cold, theirs_cold = cold_readability(units)
    table.add_row("cold: textstat, its import, our syllables", f"{theirs_cold:.0f} ms", "1")
    table.add_row(
        "cold: readability, with its import", f"{ours_cold:.0f} ms", f"textstat {theirs_cold / ours_cold:.1f} times"
    )
    check_words(load_content(), "pl")  # catalogues, glossaries and patterns are read once
    one, all_ = content_check(1), content_check(len(load_content().languages) - 1)
    count = len(load_content().languages) - 1
    table.add_row("all checks of all messages, one locale", f"{one:.0f} ms", "1")
    table.add_row(f"the same, {count} locales", f"{all_:.0f} ms", f"{all_ / one:.1f} for {count}")
    table.add_row("content, already read in this process", f"{content_ms:.2f} ms", "")
    Console().print(table)


if __name__ == "__main__":
    main()
