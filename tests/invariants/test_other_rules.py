"""What an outcome demands or forbids apart from drops, proved on the plan of every outcome that can matter.

INV-09, INV-14, INV-17 to INV-23, INV-25, INV-26, INV-29, INV-65, INV-74 and INV-78. Sources beside each.
"""

import itertools
from typing import Any

import pytest
from outcomes import (
    AGENTS,
    CLEARED,
    DROPS_BLOCKS,
    DROPS_RULE,
    NOTHING_AGAINST,
    VALUES,
    Judge,
    Outcome,
    Rules,
    changed_in_two_fields,
    confirmation,
    product,
    visit_of,
    with_right,
    without,
)

from leaflets.plan import plan

BARE: Outcome = {"left.wax_after": "cleared"}
"""As little as a record may hold."""


@pytest.mark.parametrize("rule", ["ears/nothing-inside", "help/urgent", "next/contact"])
def test_inv_09_and_31_and_37_nothing_inside_get_help_and_contact_are_given_whatever_was_recorded(
    judge: Judge, rules: Rules, rule: str
) -> None:
    # They depend on no field at all: a line without a test always holds, and there is none that could forbid them.
    assert not any(line.tests for line in rules[rule].indications)
    assert not rules[rule].contraindications
    assert not rules[rule].precautions
    for base in (BARE, NOTHING_AGAINST, CLEARED):
        for outcome in (out for field in VALUES for out in product((field,), base)):
            assert judge.verdict(rule, outcome) in ("given", None)


@pytest.mark.parametrize("drops_for", [("left",), ("right",), ("left", "right"), ("right", "left")])
@pytest.mark.parametrize("holes", [(), ("left",), ("right",), ("left", "right")])
def test_inv_14_drops_are_for_the_ears_that_were_planned_and_no_other(
    rules: Rules, drops_for: tuple[str, ...], holes: tuple[str, ...]
) -> None:
    outcome: Outcome = {**with_right(NOTHING_AGAINST), "plan.drops_for": drops_for}
    outcome |= {f"{ear}.eardrum": "perforated" for ear in holes}
    visit = visit_of(outcome)
    assert visit is not None
    judged = plan(visit, rules.values())
    expected = {ear for ear in drops_for if ear not in holes}
    for block in judged.blocks:
        if block.id in ("drops/course", "drops/how-to"):
            assert set(block.ears) == expected
    assert ("drops/course" in {block.id for block in judged.blocks}) == bool(expected)
    forbidden = {ear for one in judged.withheld if one.rule == DROPS_RULE and one.planned for ear in one.ears}
    assert forbidden == set(drops_for) & set(holes)


# NICE NG98 1.1.4 and Herts and West Essex otitis externa pathway.
@pytest.mark.parametrize("condition", ["diabetes", "weak-immunity"])
def test_inv_17_diabetes_or_weak_immunity_always_brings_the_warning_and_a_lower_threshold_today(
    judge: Judge, rules: Rules, condition: str
) -> None:
    for base in (BARE, NOTHING_AGAINST, CLEARED):
        for outcome in (out for field in VALUES for out in product((field,), base)):
            sick = {**outcome, "person.conditions": (condition,)}
            assert judge.verdict("health/diabetes-immunity", sick) in ("given", None)
            assert judge.verdict("help/infection-signs-lower-threshold", sick) in ("given", None)
    assert rules["help/infection-signs-lower-threshold"].urgency in ("now", "today")
    # Not recorded is not "no": the sign stands until it is known not to concern the person.
    assert judge.given("help/infection-signs-lower-threshold", BARE)


# AAO-HNSF Cerumen Impaction 2017, statement 2B.
def test_inv_18_blood_thinners_always_bring_bleeding_advice_and_never_trimming(judge: Judge) -> None:
    thinned: Outcome = {"person.conditions": ("blood-thinners",)}
    judge.never_given("hair/trimming", {**thinned, "person.habits": ("trims-ear-hair",)})
    for base in (BARE, NOTHING_AGAINST, CLEARED):
        for outcome in (out for field in VALUES for out in product((field,), base)):
            assert judge.verdict("health/blood-thinners", {**outcome, **thinned}) in ("given", None)


# Pages of ear clinics (microsuction, irrigation); NHS perforated eardrum.
def test_inv_21_an_ear_that_something_went_into_is_kept_dry_or_the_practitioner_is_asked(judge: Judge) -> None:
    instrumented = [("microsuction",), ("instruments",), ("irrigation",), ("microsuction", "drops-only")]
    for method, outcome in itertools.product(
        instrumented, product(("left.eardrum", "left.wax_after", "left.canal", "left.object"), NOTHING_AGAINST)
    ):
        after = {**outcome, "left.method": method}
        eardrum = after.get("left.eardrum")
        if eardrum == "perforated":
            assert judge.verdict("eardrum/perforation", after) in ("given", None)
        elif eardrum == "tube":
            assert judge.verdict("eardrum/tube", after) in ("given", None)
        else:
            expected = "asked" if eardrum is None else "given"
            assert judge.verdict("after/keep-dry", after) in (expected, None)


# NICE NG98 1.2: not cleared means another try or a referral.
def test_inv_23_wax_that_did_not_come_out_has_a_next_step_unless_the_practitioner_says_why_not(judge: Judge) -> None:
    stuck = {**NOTHING_AGAINST, "left.wax_after": "not-cleared"}
    steps = {
        "drops": [{"plan.drops": "olive-oil"}, {"plan.drops": "none", "plan.drops_for": ()}],
        "referral": [{"plan.referral": value} for value in (*VALUES["plan.referral"], None)],
        "review": [{}, {"plan.review_in_days": 14}],
    }
    for drops, referral, review in itertools.product(*steps.values()):
        outcome = {key: value for key, value in {**stuck, **drops, **referral, **review}.items() if value is not None}
        has_a_step = drops["plan.drops"] != "none" or referral["plan.referral"] not in ("none", None) or review
        assert judge.given("wax/left-in", outcome) == bool(has_a_step)
        if not has_a_step:
            assert judge.verdict("wax/left-in", outcome) == "asked"


# NHS perforated eardrum; NICE CKS Otitis externa (second-hand).
@pytest.mark.parametrize("rule", ["life/swimming", "life/cold-water"])
@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("left.eardrum", "perforated"),
        ("left.eardrum", "tube"),
        ("left.canal", ("infected",)),
        ("left.canal", ("discharge",)),
        ("left.symptoms_after", ("discharge",)),
    ],
)
def test_inv_26_no_swimming_advice_for_an_ear_with_a_hole_a_tube_or_an_infection(
    judge: Judge, rule: str, field: str, value: Any
) -> None:
    judge.never_given(rule, {field: value, "person.habits": ("swims", "cold-water")})


# Pages of ear clinics; NHS Tayside Aural Care Clinic sheet LN0311, 2018.
def test_inv_29_dizzy_at_the_end_always_brings_the_advice_to_sit_and_not_to_drive(judge: Judge) -> None:
    dizzy = [
        {"left.events": ("dizzy",)},
        {"left.events": ("cough", "dizzy")},
        {"left.symptoms_after": ("dizziness",)},
        {"left.symptoms_after": ("vertigo",)},
    ]
    for fact in dizzy:
        for base in (BARE, NOTHING_AGAINST, CLEARED):
            for outcome in (out for field in VALUES for out in product((field,), base)):
                assert judge.verdict("after/dizzy", {**outcome, **fact}) in ("given", None)


def test_inv_65_every_outcome_of_every_rule_says_why(rules: Rules) -> None:
    bases = [BARE, NOTHING_AGAINST, CLEARED, {**NOTHING_AGAINST, **confirmation(DROPS_RULE)}]
    seen = 0
    for base in bases:
        for outcome in (out for field in VALUES for out in product((field,), base)):
            visit = visit_of(outcome)
            if visit is None:
                continue
            judged = plan(visit, rules.values())
            assert all(one.because and all(one.because) for one in (*judged.given, *judged.withheld, *judged.blocks))
            assert all(one.not_recorded or one.to_confirm for one in judged.asked)
            assert {block.rule for block in judged.blocks} <= {given.rule for given in judged.given}
            seen += 1
    assert seen > len(bases)


# Common practice, no guideline: hidden where skin is infected or freshly hurt, and with blood thinners.
_NO_TRIMMING = [
    *(("left.canal", (found,)) for found in ("infected", "scratched", "bleeding", "discharge")),
    ("left.events", ("bled",)),
    ("person.conditions", ("blood-thinners",)),
    *((field, ("discharge",)) for field in ("left.symptoms", "left.symptoms_after")),
]


@pytest.mark.parametrize(("field", "value"), _NO_TRIMMING)
def test_inv_74_no_word_on_trimming_for_an_ear_that_is_infected_or_hurt_or_with_blood_thinners(
    judge: Judge, field: str, value: tuple[str, ...]
) -> None:
    judge.never_given("hair/trimming", {field: value, "person.habits": ("trims-ear-hair",)})


def test_inv_74_trimming_is_spoken_of_only_to_who_trims(judge: Judge) -> None:
    for outcome in product(("person.habits", "left.canal", "left.events", "person.conditions"), CLEARED):
        if judge.given("hair/trimming", outcome):
            assert "trims-ear-hair" in outcome.get("person.habits", ())


# What has to be recorded before a leaflet may say that it is so.
_SAYS = {
    "eardrum/perforation": {"left.eardrum": ("perforated",)},
    "eardrum/tube": {"left.eardrum": ("tube",)},
    "eardrum/retracted": {"left.eardrum": ("retracted",)},
    "eardrum/fluid": {"left.eardrum": ("fluid",)},
    "eardrum/not-seen": {"left.eardrum": ("not-seen",)},
    "canal/bony-growths": {"left.canal": ("bony-growths",)},
    "canal/narrow": {"left.canal": ("narrow",)},
    "canal/sore-skin": {"left.canal": ("eczema", "scratched")},
    "canal/infection": {"left.canal": ("infected",)},
    "hair/deep-hairs": {"left.canal": ("deep-hairs",)},
    "object/removed": {"left.object": ("removed",)},
    "object/still-there": {"left.object": ("present", "suspected")},
    "object/battery": {"left.object_kind": ("battery",)},
    "health/blood-thinners": {"person.conditions": ("blood-thinners",)},
    "health/diabetes-immunity": {"person.conditions": ("diabetes", "weak-immunity")},
    "health/only-hearing-ear": {"person.conditions": ("only-hearing-ear",)},
    "health/support": {"person.conditions": ("learning-disability", "dementia", "down-syndrome")},
    "health/ear-surgery": {"left.history": ("ear-surgery",), "left.canal": ("mastoid-cavity",)},
    "hearing/sudden-loss": {
        "left.symptoms": ("sudden-hearing-loss",),
        "left.symptoms_after": ("sudden-hearing-loss",),
    },
    "life/tinnitus": {
        "person.conditions": ("tinnitus",),
        "left.symptoms": ("tinnitus", "pulsing-tinnitus"),
        "left.symptoms_after": ("tinnitus", "pulsing-tinnitus"),
    },
}


@pytest.mark.parametrize("rule", _SAYS)
def test_inv_78_a_leaflet_never_names_a_finding_that_was_not_recorded(judge: Judge, rule: str) -> None:
    def recorded(outcome: Outcome) -> bool:
        for field, values in _SAYS[rule].items():
            value = outcome.get(field)
            if set(value if isinstance(value, tuple) else (value,)) & set(values):
                return True
        return False

    fields = {*_SAYS[rule]} | ({"left.object"} if "left.object_kind" in _SAYS[rule] else set())
    for base in (BARE, {**NOTHING_AGAINST, "left.wax_after": "cleared", "plan.drops": "none", "plan.drops_for": ()}):
        for outcome in product(sorted(fields), base):
            if judge.given(rule, outcome):
                assert recorded(outcome), outcome
        for other in VALUES:
            for outcome in product((other,), base):
                if judge.given(rule, outcome):
                    assert recorded(outcome), outcome


def test_inv_78_a_course_is_never_given_that_was_not_planned(rules: Rules, judge: Judge) -> None:
    unplanned = {**NOTHING_AGAINST, "plan.drops": "none", "plan.drops_for": ()}
    for base in (unplanned, without(unplanned, "plan.drops", "plan.drops_for")):
        for outcome in changed_in_two_fields(base, keep=("plan.drops", "left.object_kind", "person.habits")):
            assert not judge.given(DROPS_RULE, outcome)
    giving = {rule.id for rule in rules.values() if DROPS_BLOCKS & set(rule.blocks)}
    assert giving == {DROPS_RULE, "wax/upkeep"}
    assert len(AGENTS) == 6
