"""How easy a leaflet must be for its reader and format, and the verdict on one: its units first, then its score."""

import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal

from leaflets.errors import LeafletError, did_you_mean
from leaflets.readability.formulas import FLESCH_KINCAID
from leaflets.readability.languages import LONGEST_ENGLISH_UNIT_WORDS, longest_unit_words
from leaflets.readability.report import FEWEST_UNITS, Report
from leaflets.readability.segment import base_language
from leaflets.readability.trouble import Trouble
from leaflets.vocabulary import Format

TARGETS_PATH = Path(__file__).with_name("targets.toml")

Severity = Literal["stop", "warn", "note"]

_FORMATS: tuple[str, ...] = Format.__args__  # type: ignore[attr-defined]
_SHORTEN = "shorten the longest sentences and replace the hard words"


@dataclass(frozen=True, slots=True)
class Target:
    """What a leaflet for one reader in one format must keep to.

    Attributes:
        reader: as in the visit's record.
        format: as in the visit's record. None: none is asked for, which is as a printed page.
        grade_wanted_up_to: US school grade by Flesch-Kincaid, for English.
        grade_stops_over: a leaflet over it is not to be issued; at least `grade_wanted_up_to`.
        unit_words_up_to: the most words in a sentence or list item.
        mean_unit_words_up_to: the most words in the mean of them. None: no limit.
        source: where the figures come from.

    """

    reader: str
    format: str | None
    grade_wanted_up_to: float
    grade_stops_over: float
    unit_words_up_to: int
    mean_unit_words_up_to: float | None
    source: str

    def unit_words_in(self, language: str) -> int | None:
        """Return the most words in a sentence or list item of a language, in proportion to English.

        `language`: BCP 47. None: how long the sentences of the language are was not measured.
        """
        longest = longest_unit_words(base_language(language))
        return None if longest is None else round(self.unit_words_up_to * longest / LONGEST_ENGLISH_UNIT_WORDS)


@dataclass(frozen=True, slots=True)
class Judgement:
    """One thing that the verdict says.

    Attributes:
        severity: "stop": over a limit that stops; "warn": may be too hard, or a writer can make it easier; "note":
            was not measured, which is never a pass.
        message: what is so.
        hint: what to do.
        trouble: what it is about. None: the text as a whole.

    """

    severity: Severity
    message: str
    hint: str
    trouble: Trouble | None = None


@dataclass(frozen=True, slots=True)
class Verdict:
    """What is to be said of a text against its target.

    Attributes:
        target: what it was held against.
        judgements: of units, worst first, then of the text as a whole; empty: all is well, and was measured.

    """

    target: Target
    judgements: tuple[Judgement, ...]

    @property
    def of_the_whole(self) -> tuple[Judgement, ...]:
        """The judgements of the text as a whole."""
        return tuple(judgement for judgement in self.judgements if judgement.trouble is None)

    @property
    def severity(self) -> Severity | None:
        """The gravest of the judgements. None: there is none."""
        severities = {judgement.severity for judgement in self.judgements}
        return "stop" if "stop" in severities else "warn" if "warn" in severities else "note" if severities else None


@cache
def _tables() -> dict[str, Any]:
    return tomllib.loads(TARGETS_PATH.read_text(encoding="utf-8"))


def target_for(reader: str, format: str | None = None) -> Target:  # noqa: A002 - the record's own word
    """Return the target of a reader and format. None: no format is asked for.

    A format that has a table of its own tightens what holds for the reader, and never loosens it.

    Raises:
        LeafletError: there is no such reader or format.

    >>> target_for("adult").grade_wanted_up_to, target_for("child-5-7", "easy-read").unit_words_up_to
    (6.0, 8)

    """
    readers, formats = _tables()["reader"], _tables()["format"]
    if reader not in readers:
        raise LeafletError.at(
            "--reader", f"'{reader}' is not a reader that has a target", did_you_mean(reader, readers)
        )
    if format is not None and format not in _FORMATS:
        raise LeafletError.at("format", f"'{format}' is not a format", did_you_mean(format, _FORMATS))
    own, of_format = readers[reader], formats.get(format, {})
    sources = [own["source"], *([of_format["source"]] if of_format else [])]
    mean = of_format.get("mean_unit_words_up_to")
    return Target(
        reader=reader,
        format=format,
        grade_wanted_up_to=float(own["grade_wanted_up_to"]),
        grade_stops_over=float(own["grade_stops_over"]),
        unit_words_up_to=min(own["unit_words_up_to"], of_format.get("unit_words_up_to", own["unit_words_up_to"])),
        mean_unit_words_up_to=None if mean is None else float(mean),
        source="; ".join(sources),
    )


def verdict(report: Report, trouble: Sequence[Trouble], target: Target) -> Verdict:
    """Hold a text against its target: what its units have, in the order given, then its mean length, then its grade.

    `trouble` is what `find_trouble` found in the same units with the target's `unit_words_up_to`. A grade that cannot
    be given, or is not by Flesch-Kincaid, is noted as not measured: the targets are grades of that formula.
    """
    of_units = (Judgement("warn", one.message, one.hint, one) for one in trouble)
    return Verdict(target, (*of_units, *_of_mean_length(report, target), *_of_grade(report, target)))


def _of_mean_length(report: Report, target: Target) -> Iterator[Judgement]:
    limit = target.mean_unit_words_up_to
    if limit is None:
        return
    if report.sentences == 0:
        yield Judgement("note", "the length of sentences was not measured: there is none", "give the text to measure")
    elif report.words / report.sentences > limit:
        mean = report.words / report.sentences
        yield Judgement("warn", f"{mean:.1f} words in a sentence in the mean are over {limit:g}", _SHORTEN)


def _of_grade(report: Report, target: Target) -> Iterator[Judgement]:
    grade, high = report.grade, report.high
    wanted, stops = target.grade_wanted_up_to, target.grade_stops_over
    if report.formula == FLESCH_KINCAID and report.sentences < FEWEST_UNITS:
        message = f"readability was not measured: {report.sentences} sentences are too few, {FEWEST_UNITS} are needed"
        yield Judgement("note", message, "let somebody read it, or grade it with what stands beside it")
    elif grade is None or high is None or report.formula != FLESCH_KINCAID:
        message = f"readability was not measured: no grade by {FLESCH_KINCAID} for '{report.language}'"
        hint = "let somebody who reads this language at an easy level read it"
        yield Judgement("note", message, hint)
    elif grade > stops:
        yield Judgement("stop", f"grade {grade:.1f} is over {stops:g}: too hard to read", _SHORTEN)
    elif grade > wanted:
        yield Judgement("warn", f"grade {grade:.1f} is over {wanted:g}, which is wanted", _SHORTEN)
    elif high > stops:
        yield Judgement("warn", f"grade {grade:.1f} may be as high as {high:.1f}, over {stops:g}", _SHORTEN)
