"""The sources that a leaflet names at its foot (sources.toml), found in what blocks and rules say of theirs."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from leaflets.errors import Problem
from leaflets.rules.toml import TableReader, TomlFile

_KEYS = frozenset({"printed", "named_as"})


@dataclass(frozen=True)
class Source:
    """A source: what the reader sees of it, and the texts by which blocks and rules name it."""

    id: str
    printed: str
    named_as: tuple[str, ...]

    def is_named_in(self, text: str) -> bool:
        """Return whether a block's or rule's `source` names this one."""
        return any(name.casefold() in text.casefold() for name in self.named_as)


def parse_sources(file: TomlFile) -> tuple[tuple[Source, ...], list[Problem]]:
    """Read sources.toml: the sources that are whole, and all that is wrong with the others."""
    sources: list[Source] = []
    problems: list[Problem] = []
    for name, table in file.data.items():
        reader = TableReader(file, (name,), table, _KEYS, problems)
        printed, named_as = reader.text("printed"), reader.texts("named_as")
        if not named_as:
            reader.fault(("named_as",), "names no text", 'write named_as = ["…"], as rules name this source')
        elif printed is not None:
            sources.append(Source(name, printed, named_as))
    return tuple(sources), problems


def named_sources(texts: Iterable[str], sources: Sequence[Source]) -> tuple[Source, ...]:
    """Return the sources that any of the texts names, each once, in the order of sources.toml."""
    said = list(texts)
    return tuple(source for source in sources if any(source.is_named_in(text) for text in said))
