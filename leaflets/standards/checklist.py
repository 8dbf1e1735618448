"""A published checklist: its items from a table, and the answers to them for one leaflet."""

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any, Literal, NamedTuple, get_args

from leaflets.checks.evidence import Evidence
from leaflets.errors import LeafletError, Problem, did_you_mean
from leaflets.rules.toml import TableReader, TomlFile

Computed = Literal["whole", "in part", "no"]
Answer = Literal["met", "not met", "not applicable", "for a person to judge"]

_FOLDER = "leaflets/standards"
_KEYS = frozenset({"name", "source", "rule", "item"})
_ITEM_KEYS = frozenset({"number", "scale", "asks", "computed"})
_NO_EVIDENCE = "the program cannot tell"


class Found(NamedTuple):
    """What the program found about an item. `evidence`: what the answer rests on, in words."""

    answer: Answer
    evidence: str


@dataclass(frozen=True)
class Item:
    """One item of a checklist.

    Attributes:
        number: as in the published tool.
        scale: the part of the tool that it belongs to.
        asks: what it asks for, in our own words.
        computed: "whole": the program answers it. "in part": the program may find it not met or not applicable, never
            met. "no": a person answers it.

    """

    number: int
    scale: str
    asks: str
    computed: Computed


@dataclass(frozen=True)
class Checklist:
    """A published checklist. `rule`: how its answers are counted, in our own words."""

    name: str
    source: str
    rule: str
    items: tuple[Item, ...]


@dataclass(frozen=True)
class JudgedItem:
    """An item with its answer for one leaflet, and what that rests on."""

    item: Item
    answer: Answer
    evidence: str

    def as_json(self) -> dict[str, Any]:
        """Return the answer as plain values."""
        return {
            "item": self.item.number,
            "scale": self.item.scale,
            "asks": self.item.asks,
            "computed": self.item.computed,
            "answer": self.answer,
            "evidence": self.evidence,
        }


@dataclass(frozen=True)
class JudgedStandard:
    """All items of a checklist with their answers. No share is worked out: that takes the person's answers too."""

    checklist: Checklist
    items: tuple[JudgedItem, ...]

    def as_json(self) -> dict[str, Any]:
        """Return the answers as plain values, with how many there are of each."""
        counted = Counter(one.answer for one in self.items)
        return {
            "name": self.checklist.name,
            "source": self.checklist.source,
            "rule": self.checklist.rule,
            "counted": {answer: counted[answer] for answer in get_args(Answer)},
            "items": [one.as_json() for one in self.items],
        }


@cache
def load_checklist(file_name: str) -> Checklist:
    """Return the checklist in a file beside this module.

    Raises:
        LeafletError: the file is not a checklist; with every fault and its line.

    """
    text = resources.files("leaflets.standards").joinpath(file_name).read_text("utf-8")
    return parse_checklist(f"{_FOLDER}/{file_name}", text)


def parse_checklist(name: str, text: str) -> Checklist:
    """Parse a checklist. `name`: the file, for messages.

    Raises:
        LeafletError: it is not a checklist; with every fault and its line.

    """
    file = TomlFile.parse(name, text)
    problems: list[Problem] = []
    reader = TableReader(file, (), dict(file.data), _KEYS, problems)
    title, source, rule = (reader.text(key) for key in ("name", "source", "rule"))
    rows = file.data.get("item")
    items = [_parse_item(file, row, problems) for row in (rows if isinstance(rows, list) else [])]
    numbers = [item.number for item in items if item is not None]
    problems += [
        Problem(name, f"item {number} stands there twice", "give each item its own number")
        for number, times in Counter(numbers).items()
        if times > 1
    ]
    if not items:
        reader.fault(("item",), "has no item", "write [[item]] and its keys below")
    if problems or title is None or source is None or rule is None:
        raise LeafletError(problems)
    return Checklist(title, source, rule, tuple(item for item in items if item is not None))


def _parse_item(file: TomlFile, row: object, problems: list[Problem]) -> Item | None:
    reader = TableReader(file, ("item",), row, _ITEM_KEYS, problems)
    number, scale, asks = reader.number("number"), reader.text("scale"), reader.text("asks")
    known: tuple[Computed, ...] = get_args(Computed)
    computed = next((one for one in known if one == reader.get("computed")), None)
    if computed is None:
        reader.fault(
            ("computed",), "computed is not one of its values", did_you_mean(str(reader.get("computed")), known)
        )
    if number is None or scale is None or asks is None or computed is None:
        return None
    return Item(int(number), scale, asks, computed)


def judge(
    checklist: Checklist, computed: Mapping[int, Callable[[Evidence], Found]], evidence: Evidence
) -> JudgedStandard:
    """Answer a checklist for a leaflet. `computed`: what the program can find, by the item's number."""
    return JudgedStandard(
        checklist, tuple(_judge_item(item, computed.get(item.number), evidence) for item in checklist.items)
    )


def _judge_item(item: Item, find: Callable[[Evidence], Found] | None, evidence: Evidence) -> JudgedItem:
    if find is None:
        return JudgedItem(item, "for a person to judge", _NO_EVIDENCE)
    found = find(evidence)
    if found.answer == "met" and item.computed != "whole":
        # What a program can only fault is not met because it found no fault.
        return JudgedItem(item, "for a person to judge", found.evidence)
    return JudgedItem(item, found.answer, found.evidence)
