"""What `leaflets grade` prints for a person: the grade, the trouble worst first, the text with it marked, a chart."""

from collections import Counter
from collections.abc import Iterable

from rich.console import Console
from rich.text import Text

from leaflets.cli.grade import GradedText, TextFinding, printable
from leaflets.readability.report import FEWEST_UNITS, Report

_MOST_SHOWN = 20
_BAR_WIDTH = 40
_BANDS = ((1, 5), (6, 10), (11, 15), (16, 20), (21, 25), (26, None))
_STYLE = "bold red underline"
_OPEN, _CLOSE = "\N{MATHEMATICAL LEFT WHITE SQUARE BRACKET}", "\N{MATHEMATICAL RIGHT WHITE SQUARE BRACKET}"


def show_grade(graded: GradedText, console: Console | None = None) -> None:
    """Print all there is to say of a text. Where there is no colour, trouble stands between white brackets."""
    console = console or Console(soft_wrap=True, highlight=False)
    for line in _summary(graded):
        console.print(Text(line))
    if graded.findings:
        console.print(Text("\nWorst first:"))
    for finding in graded.findings[:_MOST_SHOWN]:
        console.print(Text(f"{finding.line}:{finding.column}: {finding.code}: {finding.message} ({finding.hint})"))
    if (more := len(graded.findings) - _MOST_SHOWN) > 0:
        console.print(Text(f"and {more} more: --json has all"))
    console.print(Text("\nThe text:"))
    console.print(_marked(graded, in_colour=console.color_system is not None and not console.no_color))
    if graded.report.units:
        console.print(Text("\nWords in a sentence:"))
        for line in _chart(unit.words for unit in graded.report.units):
            console.print(Text(line))


def _summary(graded: GradedText) -> Iterable[str]:
    report = graded.report
    yield f"{report.words} words in {report.sentences} sentences, language {report.language}"
    if report.grade is None or report.low is None or report.high is None or report.reading_age_range is None:
        yield f"No grade: {_why_none(report)}."
    else:
        yield (
            f"Grade {report.grade:.1f} by {report.formula} ({report.status}), "
            f"95 % interval {report.low:.1f} to {report.high:.1f}, reading age {_ages(*report.reading_age_range)}"
        )
    if report.score is not None and report.score_low is not None and report.score_high is not None:
        main = f"{report.score:.1f}, 95 % interval {report.score_low:.1f} to {report.score_high:.1f}"
        if report.grade is None:
            yield f"{report.formula} ({report.status}): {main}" + (f": {report.band}" if report.band else "")
        others = [f"{name} {score:.1f}" for name, score in report.scores.items() if name != report.formula]
        if others:
            yield f"Others, each on its own scale: {', '.join(others)}"
    if report.frequent_share is not None:
        yield f"Frequent words of the language: {report.frequent_share:.0%}, to compare with other texts in it"
    for note in report.notes:
        yield f"  {note}"
    for judgement in graded.verdict.of_the_whole:
        yield f"For the reader '{graded.verdict.target.reader}': {judgement.message} ({judgement.hint})"
    if graded.opinion is not None:
        yield f"Second opinion, textstat {graded.opinion.version}:"
        for name, score in graded.opinion.scores.items():
            fault = graded.opinion.known_faults.get(name)
            yield f"  {name} {score:.1f}" + (f" (known fault: {fault})" if fault else "")


def _ages(low: int, high: int) -> str:
    return f"about {low} years" if low == high else f"about {low} to {high} years"


def _why_none(report: Report) -> str:
    if report.formula is None:
        return f"there is no formula for '{report.language}'"
    if report.score is not None:
        return f"the formulas for '{report.language}' have other scales"
    if report.sentences < FEWEST_UNITS:
        return f"{report.sentences} sentences are too few, {FEWEST_UNITS} are needed"
    return "too many words could not be counted"


def _marked(graded: GradedText, *, in_colour: bool) -> Text:
    shown = printable(graded.text).rstrip("\n")
    if in_colour:
        text = Text(shown)
        for finding in graded.findings:
            text.stylize(_STYLE, finding.start, finding.end)
        return text
    return Text(_bracketed(shown, graded.findings))


def _bracketed(text: str, findings: Iterable[TextFinding]) -> str:
    opened = Counter(finding.start for finding in findings)
    closed = Counter(finding.end for finding in findings)
    pieces: list[str] = []
    last = 0
    for place in sorted({*opened, *closed}):
        pieces += [text[last:place], _CLOSE * closed[place], _OPEN * opened[place]]
        last = place
    return "".join([*pieces, text[last:]])


def _chart(lengths: Iterable[int]) -> Iterable[str]:
    """Draw how many sentences have how many words, the longest bar at most `_BAR_WIDTH` wide."""
    counted = Counter(next(band for band in _BANDS if band[1] is None or length <= band[1]) for length in lengths)
    most = max(counted.values())
    for band in _BANDS:
        low, high = band
        name = f"{low} to {high}" if high is not None else f"{low} and more"
        bar = "█" * -(-counted[band] * _BAR_WIDTH // most)
        yield f"{name:>11} {bar} {counted[band]}"
