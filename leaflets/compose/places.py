"""Where in the templates the words of a message stand, so that a finding names the line to change."""

import re
from collections.abc import Iterator

from leaflets.compose.words import Words
from leaflets.model import Message

_PLACEHOLDER = re.compile(r"%\((\w+)\)s")


def place_of_message(words: Words, message: Message) -> str:
    """Return `path:line` of a message, looked for in its block and then in what blocks share.

    Without the line, where a message is written in another way than it reads, as with an escape in it.
    """
    pattern = _pattern(message.source, in_template=True)
    paths = tuple(_templates(words, message.block))
    for path in paths:
        if found := pattern.search(words.sources[path]):
            return f"{words.place(path)}:{words.sources[path].count(chr(10), 0, found.start()) + 1}"
    return words.place(paths[0])


def message_of(unit: str, at: int, messages: tuple[Message, ...]) -> Message | None:
    """Return the message that says what stands at a place of a unit, in characters; None: none of them does.

    Where several do, as one within another, the longest.
    """
    found = [
        message
        for message in messages
        for place in _pattern(re.sub("</?strong>", "", message.translated), in_template=False).finditer(unit)
        if place.start() <= at < place.end()
    ]
    return max(found, key=lambda message: len(message.translated), default=None)


def _templates(words: Words, block: str) -> Iterator[str]:
    yield from (own for own in (f"blocks/{block}.html", f"{block}.html") if own in words.sources)
    yield from (f"{context}.html" for context in reversed(words.shared_contexts))


def _pattern(message: str, *, in_template: bool) -> re.Pattern[str]:
    """Match a message in a template, where its values stand in braces, or in print, where they are filled in.

    A line may be broken at any of its spaces.
    """
    pieces = _PLACEHOLDER.split(message)
    for index, piece in enumerate(pieces):
        if index % 2:
            pieces[index] = rf"\{{\{{\s*{piece}\s*\}}\}}" if in_template else ".+?"
        else:
            pieces[index] = r"\s+".join(re.escape(word) for word in re.split(r"\s+", piece))
    return re.compile("".join(pieces))
