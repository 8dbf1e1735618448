"""The messages of one language, and which of them a leaflet used.

The source language is British English: there a message is its own text. Composing records each message it uses, so
that coverage is a property of the leaflet and not of the catalogue.
"""

from dataclasses import dataclass, field

from leaflets.model import Leaflet, Message

SOURCE_LANGUAGE = "en"


@dataclass
class MessageRecorder:
    """Gives a leaflet its words and keeps what it gave, each message once, in the order of first use."""

    language: str
    _used: dict[tuple[str, str | None], Message] = field(default_factory=dict)

    def message(self, source: str, block: str) -> str:
        """Return the words of a message."""
        self._used.setdefault((source, None), Message(source, source, block))
        return source

    def counted_message(self, singular: str, plural: str, count: float, block: str) -> str:
        """Return the form of a message that fits a count."""
        chosen = singular if count == 1 else plural
        self._used.setdefault((singular, plural), Message(singular, chosen, block))
        return chosen

    @property
    def used(self) -> tuple[Message, ...]:
        """Every message given so far."""
        return tuple(self._used.values())


def coverage(leaflet: Leaflet) -> dict[str, str | int]:
    """Return how many of a leaflet's messages are missing, stale, draft and reviewed.

    The words of the source language are never missing or stale; until a clinic has signed them off they are draft.
    """
    count = len(leaflet.messages)
    return {
        "language": leaflet.language,
        "messages": count,
        "missing": 0,
        "stale": 0,
        "draft": count,
        "reviewed": 0,
    }
