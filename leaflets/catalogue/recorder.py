"""Gives a leaflet its words, and keeps what it gave."""

from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass, field

from leaflets.catalogue.message import SOURCE_LANGUAGE, MessageKey, child_context, sign_off_hash
from leaflets.catalogue.translations import Catalogue, Translation
from leaflets.model import Leaflet, Message, MessageState

GAP = "A sentence is missing here: ask us about it."
"""The message in place of one that is not translated, where a clinic allows that. It stands in the layout."""

LAYOUT = "layout"
"""The name that composing gives, in place of a block, to what belongs to none."""


@dataclass
class MessageRecorder:
    """Gives a leaflet its words and keeps what it gave, each message once, in the order of first use.

    Attributes:
        language: BCP 47.
        catalogue: None for the source language, whose messages are their own text.
        approved: hashes of what somebody signed off.
        shared_contexts: contexts of what blocks share, macros and layouts, in the order in which to look.
        gaps_in: blocks in which a message without a translation is a marked gap.
        for_child: whether a child is spoken to.

    """

    language: str
    catalogue: Catalogue | None = None
    approved: Collection[str] = frozenset()
    shared_contexts: tuple[str, ...] = ()
    gaps_in: Collection[str] = frozenset()
    for_child: bool = False
    _used: dict[MessageKey, Message] = field(default_factory=dict)

    def message(self, source: str, block: str) -> str:
        """Return the words of a message. Those of one that has none are its source: a check stops such a leaflet."""
        return self._given(source, None, None, block)

    def counted_message(self, singular: str, plural: str, count: float, block: str) -> str:
        """Return the form of a message that fits a count; as `message`."""
        return self._given(singular, plural, count, block)

    @property
    def used(self) -> tuple[Message, ...]:
        """Every message given so far."""
        return tuple(self._used.values())

    def _given(self, source: str, plural: str | None, count: float | None, block: str) -> str:
        keys = [MessageKey(context, source, plural) for context in self._contexts(block)]
        key, translation = self._translation(keys)
        state = self._state(keys, key)
        words = source if plural is None or count == 1 else plural
        if self.catalogue is not None and translation is not None and translation.is_whole:
            words = translation.forms[0] if count is None else self.catalogue.form(translation, count)
        place = None if translation is None else translation.place
        if state in ("missing", "stale") and block in self.gaps_in:
            words = self.message(GAP, LAYOUT)
        self._used.setdefault(key, Message(source, words, block, plural, key.context, state, place))
        return words

    def _contexts(self, block: str) -> tuple[str, ...]:
        if block == LAYOUT:
            return self.shared_contexts or (block,)
        return (child_context(block) if self.for_child else block, *self.shared_contexts)

    def _translation(self, keys: list[MessageKey]) -> tuple[MessageKey, Translation | None]:
        if self.catalogue is not None:
            for key in keys:
                if (translation := self.catalogue.translations.get(key)) is not None:
                    return key, translation
        return keys[0], None

    def _state(self, keys: list[MessageKey], key: MessageKey) -> MessageState:
        if self.catalogue is not None:
            return self.catalogue.state(key, self.approved)
        # Which of the templates a message of the source language stands in is not known here: any of them will do.
        signed = self.approved and any(sign_off_hash(SOURCE_LANGUAGE, one, ()) in self.approved for one in keys)
        return "reviewed" if signed else "draft"


def coverage(leaflet: Leaflet) -> dict[str, str | int]:
    """Return how many of a leaflet's messages are missing, stale, draft and reviewed.

    The words of the source language are never missing or stale; until a clinic has signed them off they are draft.
    """
    states = Counter(message.state for message in leaflet.messages)
    return {
        "language": leaflet.language,
        "messages": len(leaflet.messages),
        "missing": states["missing"],
        "stale": states["stale"],
        "draft": states["draft"],
        "reviewed": states["reviewed"],
    }
