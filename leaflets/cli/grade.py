"""Grading a plain text of anyone's own: what `leaflets grade` reads, works out and answers a program."""

import sys
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from leaflets import cldr
from leaflets.errors import LeafletError
from leaflets.readability.report import Report
from leaflets.readability.second_opinion import SecondOpinion, second_opinion
from leaflets.readability.segment import Span, base_language
from leaflets.readability.targets import Target, Verdict, target_for, verdict
from leaflets.readability.text_report import grade_text
from leaflets.readability.trouble import Trouble, find_trouble
from leaflets.records import LARGEST_BYTES, shown

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
    """A text with its grade and what makes it hard, worst first, held against what its reader needs.

    `opinion` None: nobody asked for it.
    """

    text: str
    report: Report
    findings: tuple[TextFinding, ...]
    verdict: Verdict
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
            "scores": {name: round(score, 2) for name, score in report.scores.items()},
            "findings": [finding.as_json() for finding in self.findings],
            "counting": report.counting,
            "reading_age_range_years": report.reading_age_range,
            "score": _rounded(report.score),
            "score_low": _rounded(report.score_low),
            "score_high": _rounded(report.score_high),
            "band": report.band,
            "bands": dict(report.bands),
            "notes": list(report.notes),
            "frequent_share": _rounded(report.frequent_share),
            "target": _target(self.verdict.target, report.language),
            "verdict": [
                {"severity": judgement.severity, "message": judgement.message, "hint": judgement.hint}
                for judgement in self.verdict.of_the_whole
            ],
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


def grade_plain_text(
    text: str, language: str, *, reader: str = "adult", format_: str = "a4", ask_second: bool = False
) -> GradedText:
    """Grade a text for a reader and format. `ask_second`: ask textstat too, which must be installed.

    Raises:
        LeafletError: the language, reader or format is not known, or there is no second opinion to be had.

    """
    _require_known(language)
    target = target_for(reader, format_)
    graded = grade_text(text, language)
    units = [unit.text for unit in graded.units]
    trouble = find_trouble(units, language, longest_unit_words=target.unit_words_in(language), stems=graded.stems)
    opinion = second_opinion(units, language) if ask_second else None
    held = verdict(graded.report, trouble, target)
    return GradedText(text, graded.report, _findings(text, graded.units, trouble), held, opinion)


def _require_known(language: str) -> None:
    base, known = base_language(language), cldr.known_languages()
    if base not in known:
        near = get_close_matches(base, known, n=3, cutoff=0.4)
        hint = f"did you mean {', '.join(near)}?" if near else "give its BCP 47 tag, such as en, pl or ur"
        raise LeafletError.at("--language", f"{shown(language)} is not a language that is known", hint)


def _findings(text: str, units: Sequence[Span], troubles: Sequence[Trouble]) -> tuple[TextFinding, ...]:
    line_starts = [0, *(place + 1 for place, letter in enumerate(text) if letter == "\n")]
    found: list[TextFinding] = []
    for trouble in troubles:
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


def _target(target: Target, language: str) -> dict[str, Any]:
    return {
        "reader": target.reader,
        "format": target.format,
        "grade_wanted_up_to": target.grade_wanted_up_to,
        "grade_stops_over": target.grade_stops_over,
        "unit_words_up_to": target.unit_words_in(language),
        "mean_unit_words_up_to": target.mean_unit_words_up_to,
    }


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 2)
