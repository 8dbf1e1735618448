"""A finding about words names the line of the template where they are written."""

from pathlib import Path

import pytest

from leaflets import demo
from leaflets.compose.places import message_of, place_of_message
from leaflets.model import Message
from leaflets.pipeline import check

VISITS = sorted((Path(demo.__file__).parent / "visits").glob("*.toml"))
TOP = Path(__file__).parents[1]


@pytest.mark.parametrize("visit", VISITS, ids=lambda path: path.stem)
def test_each_message_of_a_leaflet_is_found_in_its_template(visit: Path) -> None:
    evidence = check(visit).evidence
    assert evidence is not None
    for message in evidence.leaflet.messages:
        path, _, line = place_of_message(evidence.words, message).rpartition(":")
        first_word = message.source.partition(" ")[0]
        if not first_word.startswith("%"):
            assert first_word in (TOP / path).read_text("utf-8").splitlines()[int(line) - 1], message


@pytest.mark.parametrize("visit", VISITS, ids=lambda path: path.stem)
def test_each_sentence_of_a_leaflet_comes_from_a_message(visit: Path) -> None:
    evidence = check(visit).evidence
    assert evidence is not None
    for block in evidence.leaflet.blocks:
        messages = tuple(one for one in evidence.leaflet.messages if one.block == block.id)
        for unit in block.units:
            if unit.kind in ("sentence", "item"):
                assert message_of(unit.text, 0, messages or evidence.leaflet.messages), unit


def test_of_two_messages_at_one_place_the_longer_is_meant() -> None:
    short, long = (Message(text, text, "ears/wax") for text in ("Keep it dry.", "Keep it dry. Do not swim."))
    assert message_of("Keep it dry. Do not swim.", 0, (short, long)) == long
    assert message_of("Keep it dry.", 0, (short, long)) == short
    assert message_of("Rest.", 0, (short, long)) is None


def test_a_value_filled_in_is_no_hindrance() -> None:
    message = Message("Use %(drops)s drops.", "Use <strong>%(drops)s</strong> drops.", "drops/course")
    assert message_of("Use 3 drops.", 4, (message,)) == message
