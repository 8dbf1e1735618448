"""The grade of any plain text, from the text itself."""

from dataclasses import dataclass

from leaflets.readability.languages import require_known
from leaflets.readability.report import Report, grade_units
from leaflets.readability.segment import Span, base_language, split_units


@dataclass(frozen=True, slots=True)
class TextReport:
    """A report of a text, with the units that it rests on, in the same order as `report.units`."""

    report: Report
    units: tuple[Span, ...]


def grade_text(text: str, language: str) -> TextReport:
    r"""Split a text into its sentences and list items, and grade them. A line that starts with # is a heading.

    Raises:
        LeafletError: the language is not known; with the nearest that are. A known language without a formula is no
            error: its report has status "none".

    >>> grade_text("# Your ear\nKeep it dry. Call us.", "en").report.sentences
    2

    """
    require_known(base_language(language), language)
    prose = "".join(
        " " * len(line) if line.lstrip().startswith("#") else line for line in text.splitlines(keepends=True)
    )
    units = split_units(prose, language)
    return TextReport(grade_units([unit.text for unit in units], language), units)
