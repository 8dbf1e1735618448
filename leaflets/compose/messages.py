"""The messages of all templates: what has to be translated."""

from collections.abc import Iterator
from functools import lru_cache

from leaflets.catalogue.extraction import Template, extract_messages
from leaflets.catalogue.message import SourceMessage
from leaflets.compose.words import Words, context_of

_WITH_MESSAGES = ("blocks/", "layouts/", "macros/", "school/")


def source_messages(words: Words) -> tuple[SourceMessage, ...]:
    """Return every message of the templates, in the order of the templates' paths.

    What a leaflet is never without is safety-critical: blocks that are never left out, and what every leaflet shares.
    """
    return tuple(message for template in _templates(words) for message in _messages_of(template))


@lru_cache(maxsize=512)
def _messages_of(template: Template) -> tuple[SourceMessage, ...]:
    return extract_messages(template)


def _templates(words: Words) -> Iterator[Template]:
    for path, text in sorted(words.sources.items()):
        if not path.startswith(_WITH_MESSAGES) or not path.endswith(".html"):
            continue
        block = words.words_of(context_of(path))
        yield Template(
            context=context_of(path),
            place=f"templates/{path}" if block is None else block.place,
            text=text,
            section=None if block is None else block.section,
            safety=block is None or block.safety,
        )
