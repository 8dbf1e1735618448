"""The list of forbidden advice: whole, sourced, about blocks that exist, and each of its words is found."""

import tomllib
from dataclasses import replace
from importlib import resources
from typing import Any

import pytest

from leaflets.checks import forbidden_advice
from leaflets.checks.evidence import Evidence
from leaflets.content import Content

DATA = tomllib.loads(resources.files("leaflets.checks").joinpath("forbidden_advice.toml").read_text("utf-8"))
ENTRIES: list[Any] = [
    pytest.param(language, name, entry, id=f"{language}.{name}")
    for language, entries in DATA.items()
    for name, entry in entries.items()
]
NEEDED = {"words", "may_stand_in", "because", "source"}


@pytest.mark.parametrize(("language", "name", "entry"), ENTRIES)
def test_an_entry_is_whole(language: str, name: str, entry: dict[str, Any], content: Content) -> None:
    assert entry.keys() >= NEEDED, (language, name)
    assert entry.keys() - NEEDED <= {"only_in", "together_with", "only_with"}
    assert entry["words"]
    assert entry["because"].strip()
    assert entry["source"].strip()
    assert {*entry["may_stand_in"], *entry.get("only_in", ())} <= {*content.words.blocks, *content.words.sheets}


@pytest.mark.parametrize(("language", "name", "entry"), ENTRIES)
def test_every_word_is_found_as_it_stands_and_in_capitals(language: str, name: str, entry: dict[str, Any]) -> None:
    forbidden = next(one for one in forbidden_advice.forbidden_advice()[language] if one.id == f"{language}.{name}")
    block = (*entry.get("only_in", ()), "a/block-that-warns-of-nothing")[0]
    beside = entry.get("together_with", ("",))[0]
    for word in entry["words"]:
        for said in (word, word.upper(), f"({word})"):
            assert forbidden.found_in(f"Use {said} now {beside}.", block) is not None, said
        assert forbidden.found_in("Keep your ear dry.", block) is None


@pytest.mark.parametrize(
    ("sentence", "block_id", "found"),
    [
        ("Buds push wax in.", "ears/cotton-buds", None),
        ("Buds push wax in.", "ears/how-ears-clean", "Buds"),
        ("The rosebuds smell.", "ears/how-ears-clean", None),
        ("Give no aspirin.", "pain/relief", None),
        ("Give aspirin.", "pain/relief", "aspirin"),
        ("Put oil in every day.", "drops/course", None),
        ("Put oil in every day.", "drops/upkeep", "every day"),
        ("Wear them every day.", "life/hearing-aids", None),
        ("Your hearing will return.", "after/what-to-expect", "hearing will return"),
    ],
)
def test_words_are_whole_and_blocks_that_warn_may_say_them(sentence: str, block_id: str, found: str | None) -> None:
    said = [one.found_in(sentence, block_id) for one in forbidden_advice.forbidden_advice()["en"]]
    assert next((words for words in said if words), None) == found


def test_a_language_without_a_list_is_held_against_the_source_of_its_messages(evidence: Evidence) -> None:
    leaflet = replace(evidence.leaflet, language="pl")
    assert list(forbidden_advice.check(replace(evidence, leaflet=leaflet))) == []
    first, *others = leaflet.messages
    bad = replace(first, source="Try an ear candle.")
    findings = list(forbidden_advice.check(replace(evidence, leaflet=replace(leaflet, messages=(bad, *others)))))
    assert [finding.code for finding in findings] == ["SAFE05"]
