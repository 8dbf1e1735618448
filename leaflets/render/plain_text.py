"""The leaflet as plain text, for a message or an e-mail.

Lines are wrapped at 72 columns of display width, which letters and the marks above and below them share as a terminal
shows them. A date, a measure, a telephone number or a number with what it counts never breaks over a line.

From right to left the text stands in logical order. Where a piece runs the other way than its leaflet, as a telephone
number or a name in Latin letters does in Arabic, it is put between isolates (Unicode Standard Annex 9, U+2066 to
U+2069): without them "01632 960 123" would be shown as "123 960 01632", since each group is a number of its own. A lone
whole number needs none. Each line closes its own isolates, as every line is a paragraph to the program that shows it. A
line that has no letter outside them, such as the one below a heading, begins with a mark of its direction (U+200F), or
it would stand at the other edge.
"""

import re
import unicodedata
from collections.abc import Iterator, Sequence
from itertools import pairwise

from wcwidth import wcswidth

from leaflets import cldr
from leaflets.model import Leaflet
from leaflets.render.passages import UNBROKEN_SPACE, Passage, PassageKind, Runs, passages_of

COLUMNS = 72

_ISOLATES = {"ltr": "\N{LEFT-TO-RIGHT ISOLATE}", "rtl": "\N{RIGHT-TO-LEFT ISOLATE}"}
_END_OF_ISOLATE = "\N{POP DIRECTIONAL ISOLATE}"
_RIGHT_TO_LEFT_MARK = "\N{RIGHT-TO-LEFT MARK}"
_ISOLATED = re.compile(f"[{''.join(_ISOLATES.values())}].*?{_END_OF_ISOLATE}")
_STRONG = frozenset({"L", "R", "AL"})
_BOX = f"[{UNBROKEN_SPACE}]{UNBROKEN_SPACE}"
_UNDERLINES: dict[PassageKind, str] = {"title": "=", "section": "-"}
_LISTED: frozenset[PassageKind] = frozenset({"item", "day"})


def plain_text(leaflet: Leaflet) -> str:
    """Return the leaflet as text in UTF-8, with line feeds, ending with one.

    A word that is longer than a line, such as an address on the web, stands on a line of its own and is not cut.

    Raises:
        LeafletError: the leaflet has an element that has no form in lines.

    """
    direction = "rtl" if cldr.is_right_to_left(leaflet.language) else "ltr"
    passages = passages_of(leaflet)
    lines: list[str] = []
    for before, passage in pairwise([None, *passages]):
        assert passage is not None, "only the first has none before it"
        if before is not None and not _follows_closely(before, passage):
            lines.append("")
        lines += (_from_its_edge(line, direction) for line in _lines(passage, direction))
    return "\n".join(lines) + "\n"


def _follows_closely(before: Passage, passage: Passage) -> bool:
    """Whether no blank line stands between: a heading and what it heads, the items of a list."""
    if before.kind in _LISTED:
        return passage.kind == before.kind and (passage.number is None) == (before.number is None)
    return before.kind == "heading" and passage.kind not in ("heading", "section")


def _lines(passage: Passage, direction: str) -> Iterator[str]:
    text = _isolated(passage.runs, direction)
    if passage.doses:
        box = _BOX if passage.to_tick else ""
        doses = (_isolated(dose, direction).replace(" ", UNBROKEN_SPACE) for dose in passage.doses)
        text = f"{text}: {' '.join(f'{box}{dose}' for dose in doses)}"
    marker = f"{'-' if passage.number is None else f'{passage.number}.'} " if passage.kind in _LISTED else ""
    wrapped = list(wrap(text, COLUMNS - len(marker)))
    for place, line in enumerate(wrapped):
        yield f"{' ' * len(marker) if place else marker}{line}"
    if underline := _UNDERLINES.get(passage.kind):
        yield underline * max(map(wcswidth, wrapped))


def _isolated(runs: Runs, direction: str) -> str:
    return "".join(
        run.text
        if run.direction == direction or run.text.isdigit() or run.text.isspace()
        else f"{_ISOLATES[run.direction]}{run.text}{_END_OF_ISOLATE}"
        for run in runs
    )


def _from_its_edge(line: str, direction: str) -> str:
    has_letters = any(unicodedata.bidirectional(one) in _STRONG for one in _ISOLATED.sub("", line))
    return line if direction == "ltr" or has_letters else f"{_RIGHT_TO_LEFT_MARK}{line}"


def wrap(text: str, columns: int) -> Iterator[str]:
    r"""Yield the lines of a text, each at most `columns` wide where no single word is wider.

    A line breaks at a space, at a line feed always, and at an unbroken space only where the piece is wider than a line.

    >>> list(wrap("Call 01632\u00a0960\u00a0123 now", 15))
    ['Call', '01632 960 123', 'now']

    """
    opened: list[str] = []
    for paragraph in text.split("\n"):
        line = ""
        for word in _words(paragraph, columns):
            if line and wcswidth(f"{line} {word}") > columns:
                yield _closed(line, opened)
                line = word
            else:
                line = f"{line} {word}" if line else word
        yield _closed(line, opened)


def _words(paragraph: str, columns: int) -> Iterator[str]:
    for word in paragraph.split(" "):
        parts: Sequence[str] = [word]
        if wcswidth(word) > columns:
            parts = word.split(UNBROKEN_SPACE)
        yield from parts


def _closed(line: str, opened: list[str]) -> str:
    """Return a line that opens again what the last one had open, and closes what is open at its end.

    `opened`: isolates that are open where the line begins; afterwards, those that are open where it ends.
    """
    again = "".join(opened)
    for character in line:
        if character in _ISOLATES.values():
            opened.append(character)
        elif character == _END_OF_ISOLATE:
            opened.pop()
    return f"{again}{line}{_END_OF_ISOLATE * len(opened)}".replace(UNBROKEN_SPACE, " ")
