"""Grading a plain text of anyone's own: what `leaflets grade` reads, works out and answers a program."""

import sys
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from leaflets.cli.plain_text import find_trouble, grade_text
from leaflets.errors import LeafletError
from leaflets.readability.formulas import FLESCH_KINCAID
from leaflets.readability.report import Report
from leaflets.readability.second_opinion import SecondOpinion, second_opinion
from leaflets.readability.segment import Span
from leaflets.records import LARGEST_BYTES

FLESCH_READING_EASE = "flesch-reading-ease"
STANDARD_INPUT = "-"

_JOINERS = "\u200c\u200d"  # they shape letters in Persian and Indic scripts


@dataclass(frozen=True)
class TextFinding:
    """Something in a text that makes it hard to read.

    Attributes:
        code: as for findings of leaflets.
        start: where it starts in the text, in characters from 0.
        end: where it ends.
        line: of its start, from 1.
        column: of its start, in characters from 1.
        message: what is hard.
        hint: what to do.

    """

    code: str
    start: int
    end: int
    line: int
    column: int
    message: str
    hint: str

    def as_json(self) -> dict[str, Any]:
        """Return the finding as plain values."""
        return {name: getattr(self, name) for name in ("line", "column", "code", "message", "hint")}


@dataclass(frozen=True)
class GradedText:
    """A text with its grade and what makes it hard, worst first. `opinion` None: nobody asked for it."""

    text: str
    report: Report
    findings: tuple[TextFinding, ...]
    opinion: SecondOpinion | None

    def as_json(self) -> dict[str, Any]:
        """Return the answer as plain values, figures to two decimals; None where there is no figure."""
        report = self.report
        answer = {
            "language": report.language,
            "formula": report.formula,
            "status": report.status,
            "words": report.words,
            "sentences": report.sentences,
            "syllables": report.syllables,
            "grade": _rounded(report.grade),
            "low": _rounded(report.low),
            "high": _rounded(report.high),
            "reading_age_years": report.reading_age_years,
            "scores": {name: round(score, 2) for name, score in _scores(report).items()},
            "findings": [finding.as_json() for finding in self.findings],
        }
        return answer if self.opinion is None else {**answer, "second_opinion": self.opinion.as_json()}


def read_plain_text(source: str) -> str:
    """Return the text of a file, or of standard input for "-", its lines ended by newlines alone.

    Raises:
        LeafletError: it cannot be read, is too large, is not UTF-8, or is empty.

    """
    name = "standard input" if source == STANDARD_INPUT else source
    try:
        if source == STANDARD_INPUT:
            body = sys.stdin.buffer.read(LARGEST_BYTES + 1)
        else:
            with Path(source).open("rb") as file:
                body = file.read(LARGEST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else "the path is not a path"
        raise LeafletError.at(printable(name), f"cannot be read: {reason}", "give the path of a text, or -") from None
    if len(body) > LARGEST_BYTES:
        message = f"is too large: a text has {LARGEST_BYTES} bytes at most"
        raise LeafletError.at(name, message, "grade it in parts")
    try:
        text = body.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = body.count(b"\n", 0, error.start) + 1
        raise LeafletError.at(f"{name}:{line}", f"is not UTF-8: byte {error.start}", "save the file as UTF-8") from None
    if not text.strip():
        raise LeafletError.at(name, "is empty", "give a text to grade")
    return text.replace("\r\n", "\n").replace("\r", "\n")


def grade_plain_text(text: str, language: str, *, ask_second: bool = False) -> GradedText:
    """Grade a text. `ask_second`: ask textstat too, which must be installed.

    Raises:
        LeafletError: the language is not known, or there is no second opinion to be had.

    """
    graded = grade_text(text, language)
    opinion = second_opinion([unit.text for unit in graded.units], language) if ask_second else None
    return GradedText(text, graded.report, _findings(text, graded.units, language), opinion)


def _findings(text: str, units: Sequence[Span], language: str) -> tuple[TextFinding, ...]:
    line_starts = [0, *(place + 1 for place, letter in enumerate(text) if letter == "\n")]
    found: list[TextFinding] = []
    for trouble in find_trouble([unit.text for unit in units], language):
        start = units[trouble.unit].start + trouble.start
        line = bisect_right(line_starts, start)
        found.append(
            TextFinding(
                code=trouble.code,
                start=start,
                end=units[trouble.unit].start + trouble.end,
                line=line,
                column=start - line_starts[line - 1] + 1,
                message=printable(trouble.message),
                hint=printable(trouble.hint),
            )
        )
    return tuple(found)


def printable(text: str) -> str:
    r"""Return a text, as long as it was, without what would steer a terminal or turn the direction of writing.

    >>> printable("red \x1b[31m")
    'red \ufffd[31m'

    """
    return "".join(
        letter if letter.isprintable() or letter in "\n\t" or letter in _JOINERS else "\N{REPLACEMENT CHARACTER}"
        for letter in text
    )


def _scores(report: Report) -> dict[str, float]:
    """Return the figures there are, by the name of the formula."""
    figures = {FLESCH_KINCAID: report.grade, FLESCH_READING_EASE: report.reading_ease}
    return {name: figure for name, figure in figures.items() if figure is not None}


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 2)
