"""Where drops are forbidden or doubtful: INV-01 to INV-07, INV-10, INV-15, INV-16, INV-19, INV-22 and INV-24.

Each list stands here a second time, from the published guidance, apart from the rules. Sources of the groups: NHS
earwax build-up, NHS Tayside RefGuide Ear wax, Sussex Community (hole, tube); MSD Manual 2023 (eardrum not seen with
such a history); AAO-HNSF Cerumen Impaction 2017 and labels (infection, pain, surgery); NHS Lothian RefHelp (object);
NICE NG98 1.1.2 (sudden loss); AboutKidsHealth, labels (ages); Health Canada 2013 (peanut, soya).
"""

from typing import Any

import pytest
from outcomes import (
    AGENTS,
    AGES,
    CLEARED,
    DROPS_RULE,
    NOTHING_AGAINST,
    UPKEEP_RULE,
    VALUES,
    Judge,
    Outcome,
    changed_in_two_fields,
    confirmation,
    planned,
    product,
    without,
)

from leaflets.vocabulary import AGENTS as ALL_AGENTS

# NOTHING_AGAINST and CLEARED have to be given, or a test that finds nothing given would prove nothing.


def test_inv_00_drops_and_upkeep_are_given_where_nothing_stands_against_them(judge: Judge) -> None:
    for agent in AGENTS:
        assert judge.given(DROPS_RULE, {**NOTHING_AGAINST, "plan.drops": agent})
    assert judge.given(UPKEEP_RULE, CLEARED)


@pytest.mark.parametrize("eardrum", ["perforated", "tube"])
def test_inv_01_no_drops_for_an_ear_with_a_hole_or_a_tube_in_its_eardrum(judge: Judge, eardrum: str) -> None:
    judge.never_given(DROPS_RULE, {"left.eardrum": eardrum}, planned())
    for outcome in product(("left.wax_before", "left.wax_after", "left.canal", "person.habits"), CLEARED):
        assert not judge.given(UPKEEP_RULE, {**outcome, "left.eardrum": eardrum})


@pytest.mark.parametrize("eardrum", ["perforated", "tube"])
def test_inv_01_no_two_other_facts_let_drops_through_to_an_ear_with_a_hole_or_a_tube(
    judge: Judge, eardrum: str
) -> None:
    base = {**NOTHING_AGAINST, **confirmation(DROPS_RULE), "left.eardrum": eardrum}
    for outcome in changed_in_two_fields(base, keep=("left.eardrum", "person.habits", "left.object_kind")):
        assert not judge.given(DROPS_RULE, outcome)


@pytest.mark.parametrize("history", ["perforation", "ear-surgery", "tube"])
def test_inv_02_no_drops_for_an_eardrum_not_seen_with_a_hole_surgery_or_a_tube_before(
    judge: Judge, history: str
) -> None:
    judge.never_given(DROPS_RULE, {"left.eardrum": "not-seen", "left.history": (history,)}, planned())
    assert not judge.given(UPKEEP_RULE, {**CLEARED, "left.eardrum": "not-seen", "left.history": (history,)})


@pytest.mark.parametrize(
    "fact", [("left.symptoms", "discharge"), ("left.symptoms_after", "discharge"), ("left.canal", "discharge")]
)
def test_inv_02_no_drops_for_an_eardrum_not_seen_with_discharge(judge: Judge, fact: tuple[str, str]) -> None:
    field, value = fact
    judge.never_given(DROPS_RULE, {"left.eardrum": "not-seen", field: (value,)}, planned())


_DECISIVE_FOR_DROPS = (
    "left.eardrum",
    "left.object",
    "left.canal",
    "left.history",
    "left.symptoms",
    "left.symptoms_after",
    "left.events",
    "person.conditions",
    "person.allergies",
    "person.age_years",
)


@pytest.mark.parametrize("agent", AGENTS)
@pytest.mark.parametrize("field", _DECISIVE_FOR_DROPS)
def test_inv_03_drops_wait_for_a_fact_that_decides_them_and_a_confirmation_does_not_stand_in_for_it(
    judge: Judge, field: str, agent: str
) -> None:
    base = {**NOTHING_AGAINST, "plan.drops": agent}
    for confirmed in ({}, confirmation(DROPS_RULE)):
        assert judge.verdict(DROPS_RULE, without({**base, **confirmed}, field)) == "asked"
        for other in (name for name in VALUES if name not in (field, "plan.drops")):
            for outcome in product((other,), {**base, **confirmed}):
                assert not judge.given(DROPS_RULE, without(outcome, field))


@pytest.mark.parametrize(
    "field", [field for field in _DECISIVE_FOR_DROPS if field not in ("left.eardrum", "left.canal")]
)
def test_inv_03_upkeep_waits_for_a_fact_that_decides_it(judge: Judge, field: str) -> None:
    assert judge.verdict(UPKEEP_RULE, without(CLEARED, field)) == "asked"
    for outcome in changed_in_two_fields(CLEARED, keep=(field, "left.method", "left.object_kind", "plan.referral")):
        assert not judge.given(UPKEEP_RULE, without(outcome, field))


@pytest.mark.parametrize(
    ("rule", "field"),
    [
        ("hair/trimming", "left.canal"),
        ("hair/trimming", "left.events"),
        ("hair/trimming", "person.conditions"),
        ("life/swimming", "left.eardrum"),
        ("life/swimming", "left.canal"),
        ("life/swimming", "left.symptoms_after"),
        ("life/cold-water", "left.eardrum"),
        ("life/cold-water", "left.canal"),
        ("after/keep-dry", "left.eardrum"),
        ("object/still-there", "left.object_kind"),
    ],
)
def test_inv_03_advice_waits_for_the_fact_that_could_forbid_it(judge: Judge, rule: str, field: str) -> None:
    base = {
        **CLEARED,
        "person.habits": ("trims-ear-hair", "swims", "cold-water"),
        **({"left.object": "suspected", "left.object_kind": "bead"} if rule == "object/still-there" else {}),
    }
    assert judge.verdict(rule, base) == "given"
    assert judge.verdict(rule, without(base, field)) == "asked"


@pytest.mark.parametrize(
    ("rule", "field"),
    [
        ("health/diabetes-immunity", "person.conditions"),
        ("health/blood-thinners", "person.conditions"),
        ("health/only-hearing-ear", "person.conditions"),
        ("health/ear-surgery", "left.history"),
        ("eardrum/perforation", "left.eardrum"),
        ("hearing/sudden-loss", "left.symptoms"),
        ("help/emergency-now", "left.symptoms"),
        ("after/keep-dry", "left.method"),
    ],
)
def test_inv_03_the_practitioner_is_asked_for_a_fact_that_would_add_a_warning(
    judge: Judge, rule: str, field: str
) -> None:
    base = {**NOTHING_AGAINST, "left.object_kind": "bead", "left.object": "removed"}
    assert judge.verdict(rule, without(base, field)) == "asked"


def test_inv_04_almond_oil_never_with_a_nut_allergy_or_an_allergy_not_recorded(judge: Judge) -> None:
    almond = planned(["almond-oil"])
    judge.never_given(DROPS_RULE, {"person.allergies": ("nuts",)}, almond)
    judge.never_given(DROPS_RULE, {"person.allergies": ("other", "nuts")}, almond)
    base = {**NOTHING_AGAINST, **almond[0], **confirmation(DROPS_RULE)}
    for outcome in changed_in_two_fields(base, keep=("person.allergies", "plan.drops", "left.object_kind")):
        assert not judge.given(DROPS_RULE, without(outcome, "person.allergies"))


def test_inv_05_nothing_that_holds_peanut_oil_can_be_planned() -> None:
    # Every agent with all that it is made of, as UK labels say (from memory). Arachis is peanut oil.
    made_of = {
        "olive-oil": {"olive oil"},
        "almond-oil": {"almond oil"},
        "sodium-bicarbonate": {"sodium bicarbonate", "glycerol", "water"},
        "saline": {"sodium chloride", "water"},
        "urea-hydrogen-peroxide": {"urea hydrogen peroxide", "glycerol"},
        "docusate": {"docusate sodium", "glycerol"},
    }
    assert set(ALL_AGENTS) == set(made_of) == set(AGENTS)
    assert not [
        agent for agent, parts in made_of.items() if any("arachis" in part or "peanut" in part for part in parts)
    ]


_INFLAMED = [
    ("left.canal", "infected"),
    ("left.canal", "discharge"),
    *((field, sign) for field in ("left.symptoms", "left.symptoms_after") for sign in ("pain", "severe-pain")),
    *((field, sign) for field in ("left.symptoms", "left.symptoms_after") for sign in ("discharge", "fever")),
    *((field, "swelling-behind-ear") for field in ("left.symptoms", "left.symptoms_after")),
]


@pytest.mark.parametrize(("field", "value"), _INFLAMED)
def test_inv_06_no_drops_with_infection_discharge_pain_or_swelling(judge: Judge, field: str, value: str) -> None:
    judge.never_given(DROPS_RULE, {field: (value,)}, planned())
    judge.never_given(UPKEEP_RULE, {field: (value,)}, [without(CLEARED, field, "left.canal")])
    assert not judge.given(UPKEEP_RULE, {**CLEARED, field: (value,)})


def test_inv_06_no_drops_on_sore_skin_unless_plain_and_confirmed(judge: Judge) -> None:
    # The matrix of states and agents (facts, section 1.6): oil, bicarbonate, saline only if the clinician confirms.
    eczema = {**NOTHING_AGAINST, "left.canal": ("eczema",)}
    for agent in AGENTS:
        assert not judge.given(DROPS_RULE, {**eczema, "plan.drops": agent})
    judge.never_given(DROPS_RULE, {"left.canal": ("eczema",)}, planned(["urea-hydrogen-peroxide", "docusate"]))
    assert not judge.given(UPKEEP_RULE, {**CLEARED, "left.canal": ("deep-hairs", "eczema")})


_OPERATED = [("left.history", "ear-surgery"), ("left.canal", "mastoid-cavity")]


@pytest.mark.parametrize(("field", "value"), _OPERATED)
def test_inv_07_after_ear_surgery_no_drops_unless_confirmed_and_the_surgeons_are_named(
    judge: Judge, field: str, value: str
) -> None:
    operated = {**NOTHING_AGAINST, field: (value,)}
    other_fields = (field, "plan.drops", "person.habits", "left.object_kind", "left.wax_before")
    for outcome in changed_in_two_fields(operated, keep=other_fields):
        assert not judge.given(DROPS_RULE, outcome)
    for agent in AGENTS:
        assert not judge.given(DROPS_RULE, {**operated, "plan.drops": agent})
        assert judge.given("health/ear-surgery", {**operated, "plan.drops": agent})
    judge.never_given(
        DROPS_RULE, {field: (value,)}, planned(["sodium-bicarbonate", "urea-hydrogen-peroxide", "docusate"])
    )
    judge.never_given(UPKEEP_RULE, {field: (value,)})


def _drops_allowed_at(age: int | None, agent: str, *, confirmed: bool) -> bool:
    """Say what labels and children's hospitals allow (facts, section 1.6 and INV-10)."""
    if age is None or age < 1:
        return False
    if agent == "urea-hydrogen-peroxide":
        # Labels: under 12 only with a doctor; the matrix forbids it from 1 to 4.
        return age >= 12 or (age >= 5 and confirmed)
    # Under 3 none without a clinician's order; bicarbonate under 5 only supervised; the matrix: 1 to 4 confirmed.
    return age >= 5 or confirmed


def test_inv_10_each_agent_waits_for_its_age_or_for_a_confirmation(judge: Judge) -> None:
    for age in (*AGES, None):
        for agent in AGENTS:
            for confirmed in (False, True):
                outcome: Outcome = {**NOTHING_AGAINST, "person.age_years": age, "plan.drops": agent}
                outcome |= confirmation(DROPS_RULE) if confirmed else {}
                outcome = outcome if age is not None else without(outcome, "person.age_years")
                allowed = _drops_allowed_at(age, agent, confirmed=confirmed)
                assert judge.given(DROPS_RULE, outcome) == allowed, (age, agent, confirmed)
    judge.never_given(DROPS_RULE, {"person.age_years": 0}, planned())
    for age in range(1, 5):
        judge.never_given(DROPS_RULE, {"person.age_years": age}, planned(["urea-hydrogen-peroxide"]))


def test_inv_10_no_child_gets_upkeep(judge: Judge) -> None:
    for age in range(16):
        judge.never_given(UPKEEP_RULE, {"person.age_years": age})


@pytest.mark.parametrize("state", ["present", "suspected"])
@pytest.mark.parametrize("kind", [*VALUES["left.object_kind"], None])
def test_inv_15_no_drops_where_something_is_or_may_be_in_the_ear(judge: Judge, state: str, kind: str | None) -> None:
    found = {"left.object": state} | ({"left.object_kind": kind} if kind else {})
    judge.never_given(DROPS_RULE, found, planned())
    judge.never_given(UPKEEP_RULE, found)


@pytest.mark.parametrize("field", ["left.symptoms", "left.symptoms_after"])
@pytest.mark.parametrize("value", ["sudden-hearing-loss", "facial-weakness"])
def test_inv_16_no_drops_for_an_ear_that_lost_its_hearing_suddenly(judge: Judge, field: str, value: str) -> None:
    judge.never_given(DROPS_RULE, {field: (value,)}, planned())
    judge.never_given(UPKEEP_RULE, {field: (value,)})


def test_inv_19_no_drops_for_somebody_with_one_hearing_ear_and_the_specialist_is_named(judge: Judge) -> None:
    only_one: Any = {"person.conditions": ("only-hearing-ear",)}
    judge.never_given(DROPS_RULE, only_one, planned())
    judge.never_given(UPKEEP_RULE, only_one)
    for outcome in changed_in_two_fields({**CLEARED, **only_one}, keep=("person.conditions", "left.object_kind")):
        assert judge.verdict("health/only-hearing-ear", outcome) in ("given", None)


# Source: NHS ear infections, NENC Healthier Together, Cornwall referral guide: same day.
_FOR_TODAY = ("severe-pain", "swelling-behind-ear", "fever", "vertigo", "discharge", "bleeding")


@pytest.mark.parametrize("wax", ["none", "cleared"])
@pytest.mark.parametrize("symptom", VALUES["left.symptoms_after"][1:])
def test_inv_22_a_symptom_that_stays_in_a_clear_ear_is_sent_on_and_never_treated_with_drops(
    judge: Judge, wax: str, symptom: tuple[str, ...]
) -> None:
    judge.never_given(DROPS_RULE, {"left.wax_after": wax}, planned())
    judge.never_given(UPKEEP_RULE, {"left.symptoms_after": symptom})
    stays = {**without(CLEARED, "left.wax_before"), "left.wax_after": wax, "left.symptoms_after": symptom}
    more_urgent = {
        ("sudden-hearing-loss",): "hearing/sudden-loss",
        ("facial-weakness",): "help/emergency-now",
        **{(sign,): "help/today-now" for sign in _FOR_TODAY},
    }
    # Whatever was not recorded besides: the person is told where to go, or the practitioner is asked first.
    for outcome in product(("left.symptoms", "left.eardrum", "plan.referral"), stays):
        if symptom in more_urgent:
            assert judge.given(more_urgent[symptom], outcome)
        else:
            elsewhere = any(judge.given(rule, outcome) for rule in more_urgent.values())
            assert elsewhere or judge.verdict("hearing/still-a-problem", outcome) in ("given", "asked")


def test_inv_24_no_wax_and_no_symptom_means_no_drops_and_nothing_but_reassurance(judge: Judge) -> None:
    nothing = {"left.wax_before": "none", "left.wax_after": "none"}
    judge.never_given(DROPS_RULE, nothing, planned())
    judge.never_given(UPKEEP_RULE, nothing)
    well = {**CLEARED, **nothing, "left.symptoms": ()}
    assert judge.given("wax/leave-alone", well)
    assert judge.verdict("wax/left-in", well) == "nothing"


def test_inv_24_a_little_wax_without_a_symptom_that_was_left_alone_gets_no_drops_of_its_own(judge: Judge) -> None:
    left_alone = {
        **CLEARED,
        "left.wax_before": "some",
        "left.wax_after": "not-attempted",
        "left.symptoms": (),
    }
    assert judge.given("wax/leave-alone", left_alone)
    assert judge.verdict(DROPS_RULE, left_alone) == "nothing"
    assert not judge.given(UPKEEP_RULE, left_alone)
