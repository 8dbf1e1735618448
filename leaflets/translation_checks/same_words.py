"""TRAN15: two messages of one block that say the same.

What: no two messages of a block for one reader, different in English, have the same translation.
Why: left and right, or two warning signs, that were copied and not changed: the sign that is lost is never missed.
Source: common practice, no source.
"""

from collections.abc import Iterable, Iterator

from leaflets.model import Finding
from leaflets.translation_checks.pair import Example, Pair

CODE = "TRAN15"

_EVERY_READER = ("",)


def find(pairs: Iterable[Pair]) -> Iterator[Finding]:
    """Find messages that have the words of another of their block."""
    said: dict[tuple[str, str, tuple[str, ...]], Pair] = {}
    for pair in pairs:
        key = pair.message.key
        for reader in pair.message.readers or _EVERY_READER:
            first = said.setdefault((key.context, reader, pair.translation.forms), pair)
            if first.message.key != key and any(pair.translation.forms):
                message = f"it has the words of “{first.message.key.source}”, for “{key.source}”"
                yield Finding(CODE, "stop", pair.translation.place, message, "translate the two apart")


GOOD = ((Example("left", "Your left ear.", ("Lewe ucho.",)), Example("right", "Your right ear.", ("Prawe ucho.",))),)
BAD = ((Example("left", "Your left ear.", ("Lewe ucho.",)), Example("right", "Your right ear.", ("Lewe ucho.",))),)
