"""The words of our own templates: nothing that makes a text hard is found in them."""

import re

from leaflets.content import Content
from leaflets.readability.segment import split_units
from leaflets.readability.trouble import find_trouble

_PLACEHOLDER = re.compile(r"%\((\w+)\)s")
_FIGURES = {"day", "days", "hours", "months", "minutes", "weeks", "number", "drops", "times", "dose"}
_MARKUP = re.compile(r"</?strong>")
FEWEST_MESSAGES = 200


def _messages(content: Content) -> set[str]:
    """Return the English messages of all blocks, with a figure or a word for what is filled in."""
    found: set[str] = set()
    for block in content.words.blocks.values():
        source = content.words.environment.loader.get_source(  # type: ignore[union-attr]
            content.words.environment, f"blocks/{block.id}.html"
        )[0]
        for _, _, text in content.words.environment.extract_translations(source, ("_", "N_", "gettext", "ngettext")):  # type: ignore[attr-defined]
            for form in (text,) if isinstance(text, str) else text or ():
                if form:
                    filled = _PLACEHOLDER.sub(lambda name: "3" if name[1] in _FIGURES else "Smith", form)
                    found.add(_MARKUP.sub("", filled))
    return found


def test_nothing_is_found_in_the_words_we_ship(content: Content) -> None:
    """Each message alone: what a block that misses this must do is to be rewritten, not exempted."""
    messages = sorted(_messages(content))
    assert len(messages) >= FEWEST_MESSAGES
    found = [
        (message, one.code, one.words)
        for message in messages
        for one in find_trouble([unit.text for unit in split_units(message)], "en-GB")
    ]
    assert found == []
