"""The checklists: complete, honest about what a program can tell, and right on their own examples."""

import dataclasses
from types import ModuleType

import pytest

from leaflets.checks.evidence import Evidence, Example
from leaflets.errors import LeafletError
from leaflets.standards import STANDARDS, judge_standards, standards_as_json
from leaflets.standards.checklist import Answer, Checklist, Found, Item, judge, load_checklist, parse_checklist

FILES = {"pemat-p": "pemat-p.toml", "cci": "cci.toml"}
# AHRQ: PEMAT-P has items 1 to 12 and 15 to 19 (understandability, 17) and 20 to 26 (actionability, 7).
# CDC: the index has 20 items: core 1 to 11, behaviour 12 to 14, numbers 15 to 17, risk 18 to 20.
SCALES = {
    "pemat-p": {"understandability": [*range(1, 13), *range(15, 20)], "actionability": list(range(20, 27))},
    "cci": {
        "core": list(range(1, 12)),
        "behaviour": [12, 13, 14],
        "numbers": [15, 16, 17],
        "risk": [18, 19, 20],
    },
}


def _examples(kind: str) -> list[object]:
    return [
        pytest.param(key, number, example, id=f"{key} {number}: {example.name}")
        for key, module in STANDARDS.items()
        for number, examples in getattr(module, kind).items()
        for example in examples
    ]


def _answer(key: str, number: int, evidence: Evidence) -> tuple[Answer, str]:
    (found,) = [one for one in judge_standards(evidence)[key].items if one.item.number == number]
    return found.answer, found.evidence


@pytest.mark.parametrize("key", STANDARDS)
def test_a_checklist_has_the_items_of_the_published_tool(key: str) -> None:
    items = load_checklist(FILES[key]).items
    by_scale = {scale: [item.number for item in items if item.scale == scale] for scale in SCALES[key]}
    assert by_scale == SCALES[key]
    assert len(items) == sum(map(len, by_scale.values()))


@pytest.mark.parametrize(("key", "module"), STANDARDS.items())
def test_the_table_says_what_the_program_computes(key: str, module: ModuleType) -> None:
    computed = {item.number for item in load_checklist(FILES[key]).items if item.computed != "no"}
    assert computed == set(module.COMPUTED) == set(module.GOOD) == set(module.BAD)
    assert all(module.GOOD[number] and module.BAD[number] for number in computed)


@pytest.mark.parametrize(("key", "number", "example"), _examples("GOOD"))
def test_a_good_example_is_not_found_unmet(key: str, number: int, example: Example, evidence: Evidence) -> None:
    answer, said = _answer(key, number, example.change(evidence))
    (item,) = [one for one in load_checklist(FILES[key]).items if one.number == number]
    assert answer == ("met" if item.computed == "whole" else "for a person to judge"), said
    assert said


@pytest.mark.parametrize(("key", "number", "example"), _examples("BAD"))
def test_a_bad_example_is_found(key: str, number: int, example: Example, evidence: Evidence) -> None:
    answer, said = _answer(key, number, example.change(evidence))
    assert answer == ("not applicable" if example.name.endswith("does not apply") else "not met"), said
    assert said


def test_nothing_that_the_program_cannot_tell_is_met(evidence: Evidence) -> None:
    for standard in judge_standards(evidence).values():
        for one in standard.items:
            if one.item.computed == "no":
                assert one.answer == "for a person to judge"
            if one.item.computed != "whole":
                assert one.answer != "met"


def test_an_item_computed_in_part_stays_with_a_person_though_no_fault_is_found(evidence: Evidence) -> None:
    items = tuple(Item(number, "scale", "asks", computed) for number, computed in ((1, "whole"), (2, "in part")))
    judged = judge(Checklist("n", "s", "r", items), dict.fromkeys((1, 2), lambda _: Found("met", "seen")), evidence)
    assert [(one.answer, one.evidence) for one in judged.items] == [
        ("met", "seen"),
        ("for a person to judge", "seen"),
    ]


def test_orders_are_not_looked_for_in_another_language(evidence: Evidence) -> None:
    polish = dataclasses.replace(evidence, leaflet=dataclasses.replace(evidence.leaflet, language="pl"))
    assert _answer("pemat-p", 20, polish)[0] == "for a person to judge"
    assert _answer("pemat-p", 21, polish)[0] == "for a person to judge"
    assert _answer("cci", 5, polish)[0] == "for a person to judge"


def test_the_answers_are_plain_values_that_add_up(evidence: Evidence) -> None:
    told = standards_as_json(judge_standards(evidence))
    assert set(told) == {"pemat-p", "cci"}
    for standard in told.values():
        assert set(standard) == {"name", "source", "rule", "counted", "items"}
        assert set(standard["counted"]) == {"met", "not met", "not applicable", "for a person to judge"}
        assert sum(standard["counted"].values()) == len(standard["items"])
        for item in standard["items"]:
            assert set(item) == {"item", "scale", "asks", "computed", "answer", "evidence"}


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("name = 1 2\n", "f.toml:1: is not TOML"),
        ('name = "n"\nsource = "s"\nrule = "r"\n', "has no item"),
        (
            'name = "n"\nsource = "s"\nrule = "r"\n[[item]]\nnumber = 1\nscale = "s"\nasks = "a"\ncomputed = "yes"\n',
            "whole",
        ),
        (
            'name = "n"\nsource = "s"\nrule = "r"\n'
            + '[[item]]\nnumber = 1\nscale = "s"\nasks = "a"\ncomputed = "no"\n' * 2,
            "item 1 stands there twice",
        ),
        (
            'name = "n"\nsource = "s"\n[[item]]\nnumber = 1\nscale = "s"\nasks = "a"\ncomputed = "no"\n',
            "rule is missing",
        ),
    ],
)
def test_a_faulty_table_is_an_error_with_its_place(text: str, said: str) -> None:
    with pytest.raises(LeafletError) as error:
        parse_checklist("f.toml", text)
    assert said in str(error.value)
    assert str(error.value).startswith("f.toml")
