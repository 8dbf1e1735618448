"""The grade of any plain text, from the text itself."""

from collections.abc import Mapping
from dataclasses import dataclass

from leaflets.readability.report import Report, grade_units
from leaflets.readability.segment import Span, split_units
from leaflets.readability.trouble import stems_of


@dataclass(frozen=True, slots=True)
class TextReport:
    """A report of a text, with the units that it rests on.

    Attributes:
        units: in the same order as `report.units`.
        stems: by the index of each item of a list, the index of the unit that opens the list.

    """

    report: Report
    units: tuple[Span, ...]
    stems: Mapping[int, int]


def grade_text(text: str, language: str) -> TextReport:
    r"""Split a text into its sentences and list items, and grade them. A line that starts with # is a heading.

    `language`: a BCP 47 tag; a language without a formula is no error, its report has the status "none".

    >>> grade_text("# Your ear\nKeep it dry. Call us.", "en").report.sentences
    2
    >>> dict(grade_text("Call us if:\n- it bleeds\n- it hurts\nRest.", "en").stems)
    {1: 0, 2: 0}

    """
    lines = text.splitlines(keepends=True)
    prose = "".join(" " * len(line) if line.lstrip().startswith("#") else line for line in lines)
    units = split_units(prose, language)
    stems = stems_of([unit.text for unit in units], [_is_item(prose, unit) for unit in units])
    return TextReport(grade_units([unit.text for unit in units], language), units, stems)


def _is_item(text: str, unit: Span) -> bool:
    """Whether nothing but a list marker, which `split_units` takes away, stands before a unit in its line."""
    before = text[: unit.start].rpartition("\n")[2].strip()
    return bool(before) and [one.text for one in split_units(f"{before} x")] == ["x"]
