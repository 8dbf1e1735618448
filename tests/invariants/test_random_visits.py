"""Random valid visits: never a crash, and the invariants that hold of every leaflet hold of every one of them.

The visits are drawn from the record's own models. `LEAFLETS_RANDOM_VISITS=2000` looks at more, each time at others;
without it the same ones are drawn every time, so that a change passes or fails for its own reasons.
"""

import datetime
import os
import re
from typing import Any, cast

from composing import Composed, compose_record
from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st
from outcomes import AGENTS, DROPS_BLOCKS, DROPS_RULE, VALUES

from leaflets.compose.tree import text_of
from leaflets.content import READERS, Content, load_content
from leaflets.course import dose_faults
from leaflets.formats import FORMATS
from leaflets.visit import Ear
from leaflets.vocabulary import EARS

_MORE = os.environ.get("LEAFLETS_RANDOM_VISITS")
_LISTS = frozenset(field for field, values in VALUES.items() if values[0] == ())
_DAY = datetime.date(2026, 1, 1)
_RED_FLAGS = {"facial-weakness", "meningitis", "battery", "bleeding-not-stopping", "sudden-hearing-loss", "severe-pain"}
_RED_FLAGS |= {"swelling-behind-ear", "discharge", "fever-unwell", "spinning-vomiting", "object-stuck"}


def _field(path: str) -> st.SearchStrategy[Any]:
    """Draw a value of a field, or None for not recorded; mostly short lists, as in life."""
    values = VALUES[path]
    if path not in _LISTS:
        return st.none() | st.sampled_from(values) | st.sampled_from(values)
    each = st.sampled_from([value[0] for value in values[1:]])
    few = st.just(()) | st.just(()) | st.lists(each, max_size=2, unique=True).map(tuple)
    return st.none() | few | few | st.lists(each, max_size=5, unique=True).map(tuple)


@st.composite
def _ears(draw: st.DrawFn) -> dict[str, Any]:
    ear = {path.split(".")[1]: draw(_field(path)) for path in VALUES if path.startswith("left.")}
    # What the record refuses: wax after where there was none before, no method beside a method, a kind of nothing.
    if ear["wax_before"] == "none":
        ear["wax_after"] = draw(st.sampled_from(["none", None]))
    elif ear["wax_before"] is not None and ear["wax_after"] == "none":
        ear["wax_after"] = "cleared"
    if ear["method"] and "none" in ear["method"]:
        ear["method"] = ("none",)
    if ear["object"] == "none":
        ear["object_kind"] = None
    return ear


@st.composite
def _plans(draw: st.DrawFn, ears: list[str], day: datetime.date, content: Content) -> dict[str, Any]:
    made: dict[str, Any] = {"drops": draw(st.sampled_from([None, "none", "none", *AGENTS]))}
    made["referral"] = draw(_field("plan.referral"))
    if made["drops"] in AGENTS:
        made["drops_for"] = tuple(draw(st.lists(st.sampled_from(ears), min_size=1, unique=True)))
        for field, name in (("drops_per_dose", "drops-per-dose"), ("times_a_day", "times-a-day"), ("days", "days")):
            number = content.rule_book.numbers[f"{made['drops']}.{name}"]
            made[field] = draw(st.none() | st.integers(int(number.minimum), int(number.maximum)))
    review = draw(st.sampled_from(["none", "date", "days"]))
    if review == "date":
        made["review_date"] = day + datetime.timedelta(days=draw(st.integers(1, 60)))
    elif review == "days":
        made["review_in_days"] = draw(st.integers(1, 730))
    with_precautions = sorted(rule.id for rule in content.rule_book.rules.values() if rule.precautions)
    confirmed = draw(st.just(with_precautions) | st.lists(st.sampled_from(with_precautions), unique=True))
    made["confirm"] = tuple({"rule": rule, "reason": "looked at and judged safe"} for rule in confirmed)
    return made


def _settled(ear: dict[str, Any]) -> dict[str, Any]:
    """Return the ear with the fields recorded that would otherwise only stop the visit."""
    usual = dict.fromkeys(("canal", "history", "symptoms", "symptoms_after", "events", "method"), ())
    usual |= {"eardrum": "intact", "object": "none", "wax_before": "some", "wax_after": "cleared"}
    settled = {field: usual.get(field) if value is None else value for field, value in ear.items()}
    if settled["wax_before"] == "none":
        settled["wax_after"] = "none"
    if settled["object"] == "none":
        settled["object_kind"] = None
    elif settled["object_kind"] is None:
        settled["object_kind"] = "other"
    if settled["wax_after"] == "none":
        settled["wax_before"] = "none"
    return settled


@st.composite
def visits(draw: st.DrawFn) -> dict[str, Any]:
    """Draw a record that the model takes: every other one with all recorded, so that most of these get a leaflet."""
    content = load_content()
    day = _DAY + datetime.timedelta(days=draw(st.integers(0, 1000)))
    names = draw(st.sampled_from([["left"], ["right"], ["left", "right"]]))
    settled = draw(st.booleans())
    person = {path.split(".")[1]: draw(_field(path)) for path in VALUES if path.startswith("person.")}
    if settled:
        usual = {"age_years": 46, "habits": (), "conditions": (), "allergies": ()}
        person = {field: usual[field] if value is None else value for field, value in person.items()}
    record: dict[str, Any] = {"ref": "R-1", "date": day, "practitioner": "KD", "person": person}
    record["reader"] = draw(st.sampled_from(READERS))
    record["format"] = draw(st.sampled_from(tuple(FORMATS)))
    record["country"] = draw(st.sampled_from(sorted(content.rule_book.countries)))
    for name in names:
        ear = draw(_ears())
        record[name] = _settled(ear) if settled else ear
    record["plan"] = draw(_plans(names, day, content))
    if settled and record["plan"]["referral"] is None:
        record["plan"]["referral"] = "gp"
    return record


def _ears_of(made: Composed) -> list[tuple[str, Ear]]:
    ears = {"left": made.visit.left, "right": made.visit.right}
    return [(name, ear) for name, ear in ears.items() if ear is not None]


def _holds_of_every_plan(made: Composed) -> None:
    blocks = {block.id for block in made.plan.blocks}
    given_rules = {one.rule for one in made.plan.given}
    assert {"ears/nothing-inside", "help/urgent", "next/contact"} <= blocks  # INV-09, INV-31, INV-37
    assert all(one.because for one in (*made.plan.given, *made.plan.withheld))  # INV-65
    assert all(one.not_recorded or one.to_confirm for one in made.plan.asked)
    conditions = set(made.visit.person.conditions or ())
    if {"diabetes", "weak-immunity"} & conditions:  # INV-17
        assert {"health/diabetes-immunity", "help/infection-signs-lower-threshold"} <= given_rules
    if "blood-thinners" in conditions:  # INV-18
        assert "health/blood-thinners" in blocks
        assert "hair/trimming" not in blocks
    if "only-hearing-ear" in conditions:  # INV-19
        assert "health/only-hearing-ear" in blocks


def _holds_of_drops_in_every_plan(made: Composed) -> None:
    person = made.visit.person
    for block in made.plan.blocks:
        if block.id not in DROPS_BLOCKS:
            continue
        assert None not in (person.age_years, person.conditions, person.allergies)  # INV-03
        assert person.age_years  # INV-10: not before the first birthday
        assert "only-hearing-ear" not in (person.conditions or ())  # INV-19
        for name, ear in _ears_of(made):
            if name in block.ears:
                _holds_of_an_ear_with_drops(ear)
                planned = block.id == "drops/upkeep" or name in (made.visit.plan.drops_for or ())
                assert planned  # INV-14
        if block.id != "drops/upkeep" and "nuts" in (person.allergies or ()):
            assert made.visit.plan.drops != "almond-oil"  # INV-04


def _holds_of_an_ear_with_drops(ear: Ear) -> None:
    said = {*(ear.symptoms or ()), *(ear.symptoms_after or ())}
    assert None not in (ear.canal, ear.history, ear.symptoms, ear.symptoms_after)  # INV-03
    assert ear.eardrum in ("intact", "retracted", "fluid", "not-seen")  # INV-01, INV-03
    assert not (ear.eardrum == "not-seen" and set(ear.history or ()))  # INV-02
    assert ear.object in ("none", "removed")  # INV-15
    assert not {"infected", "discharge"} & set(ear.canal or ())  # INV-06
    assert not {"pain", "severe-pain", "discharge", "swelling-behind-ear"} & said  # INV-06
    assert not {"sudden-hearing-loss", "facial-weakness"} & said  # INV-16


def _holds_of_every_ear(made: Composed) -> None:
    blocks = {block.id: block for block in made.plan.blocks}
    for name, ear in _ears_of(made):
        if {"microsuction", "instruments", "irrigation"} & set(ear.method or ()):  # INV-21
            kept_dry = {"after/keep-dry", "eardrum/perforation", "eardrum/tube"} & set(blocks)
            asked = any(one.rule == "after/keep-dry" and name in one.ears for one in made.plan.asked)
            assert asked or any(name in blocks[block_id].ears for block_id in kept_dry)
        if "dizzy" in (ear.events or ()) or {"dizziness", "vertigo"} & set(ear.symptoms_after or ()):  # INV-29
            assert "after/dizzy" in blocks


def _holds_of_every_leaflet(made: Composed) -> None:
    safety = {block_id for block_id, words in made.content.words.blocks.items() if words.safety}
    planned = {block.id for block in made.plan.blocks}
    assert planned & safety <= made.block_ids  # INV-31: shortening takes no safety block
    assert planned == made.block_ids | set(made.leaflet.left_out)
    signs = made.signs()
    assert set(dict(signs)) >= _RED_FLAGS  # INV-32
    assert all(row in ("now", "today", "soon") for _, row in signs)  # INV-33
    assert {sign for sign, row in signs if row == "soon"} <= {"earache-lasting", "hearing-getting-worse"}  # INV-35
    rows = [row.get("data-urgency") for row in made.block("help/urgent").iter("tr")]
    assert rows == ["now", "today", "soon"]  # INV-34
    phones = {text_of(span) for span in made.page.iter("span") if span.get("class") == "phone"}
    assert made.situation.country.emergency in phones
    assert phones <= {made.situation.country.emergency, made.situation.country.advice, made.situation.clinic.phone}
    assert len([element for element in made.page.iter("p") if element.get("class") == "main"]) == 1  # INV-53
    assert all(block.source and block.reviewed for block in made.leaflet.blocks)  # INV-60
    if any("sudden-hearing-loss" in {*(ear.symptoms or ()), *(ear.symptoms_after or ())} for _, ear in _ears_of(made)):
        assert re.search(r"\b(today|now)\b", made.leaflet.main_message)  # INV-16
    again = compose_record(made.visit.model_dump(), made.content)
    assert again.leaflet == made.leaflet  # INV-64


@settings(
    max_examples=int(_MORE) if _MORE else 120,
    derandomize=not _MORE,
    database=None,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(record=visits())
def test_inv_random_visits_never_crash_and_hold_the_invariants(record: dict[str, Any]) -> None:
    content = load_content()
    assert not dose_faults(cast("dict[str, Any]", record["plan"]), content.rule_book.numbers)
    made = compose_record(record, content)
    _holds_of_every_plan(made)
    _holds_of_drops_in_every_plan(made)
    _holds_of_every_ear(made)
    event("stopped by the plan" if made.stopped else "a leaflet")
    if made.stopped:
        assert any(finding.severity == "stop" and finding.hint for finding in made.plan_findings)
        return
    _holds_of_every_leaflet(made)
    # The checks run on every leaflet, and none of them crashes. What they stop is the words' or the visit's matter.
    assert all(finding.code and finding.place and finding.message and finding.hint for finding in made.findings)


def test_inv_random_visits_are_drawn_with_both_ears_and_every_reader() -> None:
    assert set(EARS) == {"left", "right"}
    assert DROPS_RULE in load_content().rule_book.rules
    assert {path.split(".")[0] for path in VALUES} == {"left", "person", "plan"}
