"""Taking the messages out of templates, with what a translator has to know of each, through Babel."""

import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import NamedTuple

from babel.messages.extract import extract

from leaflets.catalogue.message import MessageKey, SourceMessage, child_context

_OPTIONS: Mapping[str, str] = MappingProxyType(
    {
        "trimmed": "true",
        "newstyle_gettext": "true",
        "extensions": "jinja2.ext.i18n",
        "trim_blocks": "true",
        "lstrip_blocks": "true",
    }
)
_KEYWORDS: Mapping[str, tuple[int, ...] | None] = MappingProxyType(
    {"_": None, "N_": None, "gettext": None, "ngettext": (1, 2), "for_staff": None}
)
_COMMENT_TAG = "Translators:"
_BLOCK_STARTS = re.compile(r"{%-?\s*block\s+(\w+)")
_BLOCK_ENDS = re.compile(r"{%-?\s*endblock")
_MAIN = "_main"
_CHILD = "child-"


@dataclass(frozen=True)
class Template:
    """One template whose messages are taken out.

    Attributes:
        context: of its messages.
        place: its path, as messages show it.
        text: all of it.
        section: of the block. None: it is no block.
        safety: whether its messages must never be wrong or missing.

    """

    context: str
    place: str
    text: str
    section: str | None
    safety: bool


class _Found(NamedTuple):
    line: int
    key: MessageKey
    comments: tuple[str, ...]


def extract_messages(template: Template) -> tuple[SourceMessage, ...]:
    """Return the messages of a template, each once, in the order in which they first stand.

    A message that stands both counted and not is one, counted.
    """
    readers = _readers_by_line(template.text)
    messages: dict[tuple[str, str], SourceMessage] = {}
    for found in _found(template):
        key = found.key
        if template.section is not None and readers.get(found.line, "").startswith(_CHILD):
            key = key._replace(context=child_context(template.context))
        one = SourceMessage(
            key=key,
            places=(f"{template.place}:{found.line}",),
            readers=(readers[found.line],) if found.line in readers else (),
            section=template.section,
            safety=template.safety,
            comments=found.comments,
        )
        known = messages.get(key[:2])
        messages[key[:2]] = one if known is None else _both(known, one)
    return tuple(messages.values())


def _found(template: Template) -> Iterator[_Found]:
    body = io.BytesIO(template.text.encode())
    for line, message, comments, _ in extract("jinja2", body, _KEYWORDS, [_COMMENT_TAG], dict(_OPTIONS)):
        singular, plural = message if isinstance(message, tuple) else (message, None)
        said = tuple(" ".join(comment.removeprefix(_COMMENT_TAG).split()) for comment in comments)
        yield _Found(line, MessageKey(template.context, singular, plural), said)


def _both(known: SourceMessage, other: SourceMessage) -> SourceMessage:
    return replace(
        known,
        key=known.key if known.key.plural is not None else other.key,
        places=tuple(dict.fromkeys((*known.places, *other.places))),
        readers=tuple(dict.fromkeys((*known.readers, *other.readers))),
        comments=tuple(dict.fromkeys((*known.comments, *other.comments))),
    )


def _readers_by_line(text: str) -> dict[int, str]:
    """Return the reader whose words a line is part of, by its number, from 1."""
    readers: dict[int, str] = {}
    reader: str | None = None
    for number, line in enumerate(text.split("\n"), 1):
        if start := _BLOCK_STARTS.search(line):
            reader = start[1].removesuffix(_MAIN).replace("_", "-")
        if reader is not None:
            readers[number] = reader
        if _BLOCK_ENDS.search(line):
            reader = None
    return readers
