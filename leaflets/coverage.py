"""How far each language is translated and signed off, for each kind of leaflet: what a clinic's manager asks.

A kind is a leaflet as it is made of one of the demonstration's visits, with every block that its outcome gives; the
last kind of a locale, "all", is everything there is to translate. Coverage counts the messages of the leaflet itself;
for a child, those of the child's page.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

from leaflets import demo
from leaflets.catalogue import SourceMessage
from leaflets.compose.leaflet import compose
from leaflets.compose.messages import source_messages
from leaflets.compose.words import reader_block
from leaflets.content import READERS, Content
from leaflets.model import MessageState
from leaflets.pipeline import situation_of
from leaflets.plan import plan
from leaflets.review import state_of
from leaflets.visits import read_visit
from leaflets.vocabulary import CHILD_READERS

ALL = "all"
EVERY_READER = "every"

_VISITS = Path(demo.__file__).parent / "visits"


@dataclass(frozen=True)
class CoverageRow:
    """The messages of one kind of leaflet in one locale for one reader, by their state.

    Attributes:
        percent: of the messages that have current words, 0 to 100, rounded down to one decimal, so that 100 is all.

    """

    locale: str
    kind: str
    reader: str
    messages: int
    missing: int
    stale: int
    draft: int
    reviewed: int

    @property
    def percent(self) -> float:
        """Messages with current words, of all."""
        current = self.draft + self.reviewed
        return int(1000 * current / self.messages) / 10 if self.messages else 100.0

    def as_json(self) -> dict[str, str | int | float]:
        """Return the row as plain values."""
        return {**asdict(self), "percent": self.percent}


def coverage_rows(content: Content, languages: Iterable[str]) -> Iterator[CoverageRow]:
    """Return the rows of languages that leaflets are made in, language by language."""
    messages = source_messages(content.words)
    for locale in languages:
        for visit in sorted(_VISITS.glob("*.toml")):
            for reader in (*READERS, *CHILD_READERS):
                yield _of_leaflet(content, visit, locale, reader)
        yield _of_everything(content, locale, messages)


def kind_of(visit: Path) -> str:
    """Return the kind that a visit of the demonstration stands for, from its file's name."""
    return visit.stem.partition("-")[2]


def _of_leaflet(content: Content, source: Path, locale: str, reader: str) -> CoverageRow:
    visit = read_visit(source, content, {"language": locale, "reader": reader})
    planned = plan(visit, content.rule_book.rules.values())
    situation, _ = situation_of(visit, planned, content)
    blocks = [one for one in planned.blocks if reader_block(reader) in content.words.blocks[one.id].readers]
    leaflet = compose(content.words, blocks, situation, content.clinic.accent).leaflet
    return _row(locale, kind_of(source), reader, Counter(message.state for message in leaflet.messages))


def _of_everything(content: Content, locale: str, messages: tuple[SourceMessage, ...]) -> CoverageRow:
    catalogue = content.catalogue(locale)
    states = Counter(state_of(message, catalogue, content.ledger.approved) for message in messages)
    return _row(locale, ALL, EVERY_READER, states)


def _row(locale: str, kind: str, reader: str, states: Counter[MessageState]) -> CoverageRow:
    return CoverageRow(
        locale,
        kind,
        reader,
        messages=states.total(),
        missing=states["missing"],
        stale=states["stale"],
        draft=states["draft"],
        reviewed=states["reviewed"],
    )
