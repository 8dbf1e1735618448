"""The topics of prevention leaflets (topics.toml): which blocks tell everybody about each."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from leaflets.errors import Problem, did_you_mean
from leaflets.rules.toml import TableReader, TomlFile

IN_EVERY_LEAFLET = ("ears/nothing-inside", "help/urgent", "next/contact")
"""The blocks of a prevention leaflet of any topic."""
FOR_EVERYBODY = frozenset({"child", "ears", "hair", "help", "life", "next"})
"""The folders of blocks that such a leaflet may be made of: none of what was found, done or planned in an ear."""

_READERS: tuple[Literal["adult", "carer"], ...] = ("adult", "carer")
_KEYS = frozenset({"blocks", "reader", "source", "reviewed"})


@dataclass(frozen=True)
class Topic:
    """A topic.

    Attributes:
        id: its name in topics.toml.
        reader: whom its leaflet speaks to.
        blocks: of its leaflet, those of every leaflet included.
        place: file and line, for messages.

    """

    id: str
    reader: Literal["adult", "carer"]
    blocks: tuple[str, ...]
    source: str
    reviewed: datetime.date
    place: str


def parse_topics(file: TomlFile) -> tuple[Mapping[str, Topic], list[Problem]]:
    """Read topics.toml: the topics that are whole, by id, and all that is wrong with the others."""
    topics: dict[str, Topic] = {}
    problems: list[Problem] = []
    for name, table in file.data.items():
        before = len(problems)
        reader = TableReader(file, (name,), table, _KEYS, problems)
        blocks, source, reviewed = reader.texts("blocks"), reader.text("source"), reader.date("reviewed")
        if not blocks:
            reader.fault(("blocks",), "names no block", 'write blocks = ["ears/…"]')
        for number, block_id in enumerate(blocks):
            if block_id.split("/")[0] not in FOR_EVERYBODY:
                hint = f"take one of {', '.join(sorted(FOR_EVERYBODY))}"
                reader.fault(("blocks", number), f"'{block_id}' is about a visit, and not for everybody", hint)
        reader_name = next((known for known in _READERS if known == (reader.get("reader") or "adult")), None)
        if reader_name is None:
            reader.fault(
                ("reader",), "is not a reader of these leaflets", did_you_mean(str(reader.get("reader")), _READERS)
            )
        elif source is not None and reviewed is not None and len(problems) == before:
            every = tuple(dict.fromkeys((*blocks, *IN_EVERY_LEAFLET)))
            topics[name] = Topic(name, reader_name, every, source, reviewed, file.place(name))
    return topics, problems
