"""A leaflet as passages in reading order, for the formats that have lines and no page: text and braille.

The order is that of the page, but for three things that belong to a sheet of paper: the foot comes at the end, a mark
that the words are not approved stands at the start and again at the end, and there is no count of pages. Drawings are
left out, and nothing else: an element that this module does not know stops the leaflet, lest its words be lost.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby
from types import MappingProxyType
from typing import Literal
from xml.etree import ElementTree as ET

from leaflets.compose.tree import parse_fragment
from leaflets.errors import LeafletError
from leaflets.model import Leaflet

PassageKind = Literal["mark", "title", "section", "heading", "paragraph", "item", "day", "foot"]

UNBROKEN_SPACE = "\N{NO-BREAK SPACE}"

_LAYOUT = "templates/layouts/leaflet.html"
_CONTAINERS = frozenset({"html", "body", "header", "section", "div", "tbody"})
_INLINE = frozenset({"span", "strong", "a", "br"})
_PASSAGES: Mapping[str, PassageKind] = MappingProxyType(
    {"h1": "title", "h2": "section", "h3": "heading", "p": "paragraph"}
)
_UNBROKEN = frozenset({"date", "review-day", "measure", "phone"})
_LINE_OF_ITS_OWN = frozenset({"ears", "for-staff"})
_OF_PAPER = frozenset({"pages", "box"})
_SPACES = re.compile(r"\s+")
_NUMBER_AND_NEXT = re.compile(r"(?<![^\s(])(\+?\d+(?:[.,:/-]\d+)*) (?=\S)")


@dataclass(frozen=True)
class Run:
    """A piece of text in one language and direction.

    Attributes:
        text: single spaces; `UNBROKEN_SPACE` where a line must not break: inside a date, a measure, a telephone number,
            and after a number. A lone line feed: a new line begins.
        language: BCP 47.
        direction: ltr or rtl, as the page has it.

    """

    text: str
    language: str
    direction: str


Runs = tuple[Run, ...]


@dataclass(frozen=True)
class Passage:
    """What stands on lines of its own.

    Attributes:
        kind: an item belongs to a list; a day is one of a course of drops.
        place: the template that it comes from.
        number: of an item in a numbered list; None: it has none.
        doses: what a day brings, in order; empty for all other kinds.
        to_tick: whether each of them is to be ticked.

    """

    kind: PassageKind
    runs: Runs
    place: str
    number: int | None = None
    doses: tuple[Runs, ...] = ()
    to_tick: bool = False


@dataclass(frozen=True)
class _Around:
    """What holds for all that an element holds."""

    language: str
    direction: str
    place: str
    unbroken: bool = False

    def within(self, element: ET.Element) -> "_Around":
        block = element.get("data-block")
        return _Around(
            element.get("lang", self.language),
            element.get("dir", self.direction),
            self.place if block is None else f"templates/blocks/{block}.html",
            self.unbroken or not _UNBROKEN.isdisjoint(_classes(element)),
        )

    def refuse(self, what: str) -> LeafletError:
        return LeafletError.at(
            self.place, f"{what} cannot be told in lines of text", "use the markup that DEVELOPERS.md lists, 'A block'"
        )


def passages_of(leaflet: Leaflet) -> tuple[Passage, ...]:
    """Return the passages of a leaflet, in reading order.

    Raises:
        LeafletError: it has an element, a table or loose text that has no form in lines.

    """
    root = parse_fragment(leaflet.html.removeprefix("<!DOCTYPE html>"), _LAYOUT)
    page = root.find("html")
    assert page is not None, "the layout has one"
    found = [one for one in _passages(page, _Around(leaflet.language, "ltr", _LAYOUT).within(page)) if one.runs]
    of_paper = {"mark", "foot"}
    marks = [one for one in found if one.kind == "mark"]
    feet = [one for one in found if one.kind == "foot"]
    return (*marks, *(one for one in found if one.kind not in of_paper), *feet, *marks)


def _classes(element: ET.Element) -> frozenset[str]:
    return frozenset(element.get("class", "").split())


def _passages(element: ET.Element, around: _Around) -> Iterator[Passage]:
    """Yield the passages of an element that holds others."""
    if (element.text or "").strip() or any((child.tail or "").strip() for child in element):
        raise around.refuse(f"loose text in <{element.tag}>")
    for child in element:
        inside = around.within(child)
        if child.tag in _CONTAINERS:
            yield from _in_foot(child, inside) if "foot" in _classes(child) else _passages(child, inside)
        elif child.tag in ("ul", "ol"):
            yield from _items(child, inside)
        elif child.tag == "table":
            yield from _table(child, inside)
        elif child.tag == "img":
            yield from _picture(child, inside)
        elif child.tag in _PASSAGES:
            kind = "mark" if "mark" in _classes(child) else _PASSAGES[child.tag]
            yield Passage(kind, _runs(child, inside), inside.place)
        elif child.tag != "head":
            raise inside.refuse(f"<{child.tag}>")


def _picture(element: ET.Element, around: _Around) -> Iterator[Passage]:
    """Yield the name of the clinic that its logo stands for; no other picture says anything."""
    if "logo" in _classes(element):
        yield Passage("paragraph", (Run(element.get("alt", ""), around.language, around.direction),), around.place)


def _in_foot(element: ET.Element, around: _Around) -> Iterator[Passage]:
    for passage in _passages(element, around):
        yield replace(passage, kind="foot")


def _items(element: ET.Element, around: _Around) -> Iterator[Passage]:
    for number, item in enumerate(element, 1):
        inside = around.within(item)
        if item.tag != "li":
            raise inside.refuse(f"<{item.tag}> in a list")
        yield Passage("item", _runs(item, inside), inside.place, number if element.tag == "ol" else None)


def _table(element: ET.Element, around: _Around) -> Iterator[Passage]:
    if "help-rows" in _classes(element):
        for row in element.iter("tr"):
            for cell in row:
                inside = around.within(row).within(cell)
                if cell.tag == "th":
                    yield Passage("heading", _runs(cell, inside), inside.place)
                else:
                    yield from _passages(cell, inside)
    elif "strip" in _classes(element):
        yield from _days(element, around)
    else:
        raise around.refuse("a table of another kind than the get-help panel and the days of a course")


def _days(element: ET.Element, around: _Around) -> Iterator[Passage]:
    """Yield the columns of a strip of days: what the corner says, then each day with its doses."""
    (corner, *days), *doses = [list(row) for row in element.iter("tr")]
    yield Passage("paragraph", _runs(corner, around.within(corner)), around.place)
    for column, day in enumerate(days, 1):
        to_tick = any("box" in _classes(each) for row in doses for each in row[column].iter("span"))
        told = [_runs(row[0 if to_tick else column], around) for row in doses]
        runs = _runs(day, around.within(day))
        yield Passage("day", runs, around.place, doses=tuple(one for one in told if one), to_tick=to_tick)


def _runs(element: ET.Element, around: _Around) -> Runs:
    """Return the text of an element that holds no other passage, spaces folded."""
    pieces = [
        Run("".join(text for text, _ in same), inside.language, inside.direction)
        for inside, same in groupby(_pieces(element, around), key=lambda piece: piece[1])
    ]
    folded: list[Run] = []
    for run in pieces:
        lines = run.text.split("\n")
        for place, line in enumerate(lines):
            if place:
                folded = [*_without_last_space(folded), replace(run, text="\n")]
            starts = not folded or folded[-1].text[-1] in " \n"
            if text := line.lstrip(" ") if starts else line:
                folded.append(replace(run, text=text))
    return tuple(_without_last_space(folded))


def _without_last_space(runs: list[Run]) -> list[Run]:
    if runs and not (text := runs[-1].text.rstrip(" ")):
        return _without_last_space(runs[:-1])
    return [*runs[:-1], replace(runs[-1], text=text)] if runs else []


def _pieces(element: ET.Element, around: _Around) -> Iterator[tuple[str, _Around]]:
    """Yield the texts within an element with what holds for them; a line feed is a new line, not a space."""
    yield _spaced(element.text or "", around), around
    for child in element:
        inside = around.within(child)
        if child.tag not in _INLINE:
            raise inside.refuse(f"<{child.tag}> in <{element.tag}>")
        if child.tag == "br" or not _LINE_OF_ITS_OWN.isdisjoint(_classes(child)):
            yield "\n", around
        if _OF_PAPER.isdisjoint(_classes(child)):
            yield from _pieces(child, inside)
        yield _spaced(child.tail or "", around), around


def _spaced(text: str, around: _Around) -> str:
    text = _SPACES.sub(" ", text)
    if around.unbroken:
        return text.replace(" ", UNBROKEN_SPACE)
    # A number is not parted from what it counts; a leaflet's own measures are marked as such, a clinic's lines are not.
    return _NUMBER_AND_NEXT.sub(rf"\1{UNBROKEN_SPACE}", text)
