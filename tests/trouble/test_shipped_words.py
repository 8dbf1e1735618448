"""False alarms: what is found in the words of our own templates, which people have read and made easy."""

import re

from leaflets.content import Content
from leaflets.readability.segment import split_units
from leaflets.readability.trouble import find_trouble

_PLACEHOLDER = re.compile(r"%\((\w+)\)s")
_FIGURES = {"day", "days", "hours", "months", "minutes", "weeks", "number", "drops", "times", "dose"}
_MARKUP = re.compile(r"</?strong>")
FEWEST_MESSAGES = 200
MOST_FOUND = 0.08
"""The largest share of messages in which something may be found: our own limit, so that writers go on looking."""


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


def test_little_is_found_in_words_that_are_easy_already(content: Content) -> None:
    messages = sorted(_messages(content))
    assert len(messages) >= FEWEST_MESSAGES
    alarms = [
        (message, one.code, one.words)
        for message in messages
        for one in find_trouble([unit.text for unit in split_units(message)], "en-GB")
    ]
    assert len({message for message, _, _ in alarms}) <= MOST_FOUND * len(messages), alarms
