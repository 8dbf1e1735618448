"""What stands for one message: its key, what a translator is told of it, and the hash by which it is signed off."""

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

SOURCE_LANGUAGE = "en"

_HASH_BYTES = 12
_FOR_A_CHILD = " (child)"


class MessageKey(NamedTuple):
    """What tells one message from another, as in gettext.

    Attributes:
        context: the template it stands in: the id of a block, "macros/…" or "layouts/…"; the words of a block for
            children have one of their own, as many languages address a child otherwise.
        source: British English; the singular of a message that is counted.
        plural: its plural. None: the message is not counted.

    """

    context: str
    source: str
    plural: str | None


def child_context(block: str) -> str:
    """Return the context of a block's words for children.

    >>> child_context("after/dizzy")
    'after/dizzy (child)'

    """
    return f"{block}{_FOR_A_CHILD}"


def block_of_context(context: str) -> str:
    """Return the block, macro or layout that a context stands for.

    >>> block_of_context("after/dizzy (child)"), block_of_context("after/dizzy")
    ('after/dizzy', 'after/dizzy')

    """
    return context.removesuffix(_FOR_A_CHILD)


@dataclass(frozen=True)
class SourceMessage:
    """A message as the templates hold it.

    Attributes:
        key: what tells it from others.
        places: where it stands, as `path:line`, at least one.
        readers: whose words it is in; empty: everybody's, as in a layout.
        section: of the leaflet. None: it stands in no block.
        safety: whether it must never be wrong or missing: it stands in a block that is never left out, or in what every
            leaflet shares.
        comments: what the writer tells translators.

    """

    key: MessageKey
    places: tuple[str, ...]
    readers: tuple[str, ...]
    section: str | None
    safety: bool
    comments: tuple[str, ...]


def sign_off_hash(locale: str, key: MessageKey, forms: Sequence[str]) -> str:
    """Return what a sign-off stands for: change a letter of source or translation, and it is another.

    `forms`: the translation, one text or one for each plural form; empty for the source language itself.
    """
    body = json.dumps([locale, *key, *forms], ensure_ascii=False, separators=(",", ":"))
    return hashlib.blake2b(body.encode(), digest_size=_HASH_BYTES).hexdigest()
