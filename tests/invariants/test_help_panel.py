"""The get-help panel and what an outcome makes urgent: INV-15, INV-16 and INV-31 to INV-37.

Signs and timings stand here a second time, from NICE NG98 1.1.2 to 1.1.4 (seen within 24 hours), NHS ear infections,
NHS meningitis, NENC Healthier Together, NHS Lothian RefHelp and SE London ENT guide 2023, apart from the rules.
"""

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pypdfium2
import pytest
from composing import Composed, compose_visit
from outcomes import CLEARED, NOTHING_AGAINST, Outcome, with_right
from pydantic import ValidationError

from leaflets.clinic import ClinicFile
from leaflets.compose.tree import text_of
from leaflets.content import READERS, Content
from leaflets.fit import compose_to_fit, render_to_fit, sheet_for

Compose = Callable[..., Composed]

# The least urgency that each sign may have. "now": emergency department or ambulance; "today": seen within 24 hours.
EVERYBODY = {
    "facial-weakness": "now",
    "meningitis": "now",
    "battery": "now",
    "bleeding-not-stopping": "now",
    "sudden-hearing-loss": "today",
    "severe-pain": "today",
    "swelling-behind-ear": "today",
    "discharge": "today",
    "fever-unwell": "today",
    "spinning-vomiting": "today",
    "object-stuck": "today",
}
# NENC Healthier Together, NHS ear infections: up to which age in whole years.
CHILDREN = {"infant-fever": (0, "now"), "both-ears-under-two": (1, "today"), "drowsy-not-drinking": (15, "now")}
ORDER = ("now", "today", "soon")

BARE: Outcome = {"left.wax_after": "cleared"}
SICK: Outcome = {
    **with_right(NOTHING_AGAINST, eardrum="perforated", canal=("infected", "discharge", "bony-growths", "narrow")),
    "person.habits": ("cotton-buds", "hairpins", "home-scoop", "ear-candles", "home-syringe", "hearing-aids", "swims"),
    "person.conditions": ("diabetes", "blood-thinners", "dementia", "cleft-palate", "tinnitus"),
    "plan.confirm": ({"rule": "wax/softening-drops", "reason": "looked at and judged safe"},),
    "right.events": ("dizzy", "pain", "bled", "stopped-early"),
    "plan.referral": "ent-urgent",
    "plan.review_in_days": 14,
}
"""So much that a good part of the advice has to be left out."""

VISITS = {"bare": BARE, "drops": NOTHING_AGAINST, "cleared": CLEARED, "sick": SICK}


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("visit", VISITS)
def test_inv_31_to_33_the_panel_has_every_sign_with_a_time_an_action_and_a_number(
    composed: Compose, reader: str, visit: str
) -> None:
    made = composed({**VISITS[visit], "reader": reader})
    printed = dict(made.signs())
    for sign, least in EVERYBODY.items():
        assert ORDER.index(printed[sign]) <= ORDER.index(least), sign
    for row in made.block("help/urgent").iter("tr"):
        heading, action = row.find("th"), row.find(".//p")
        assert heading is not None
        assert action is not None
        assert text_of(heading) in ("Now", "Today", "This week")
        assert re.match(r"Call ", text_of(action))
        number = next(element for element in row.iter("p") if "number" in element.get("class", "").split())
        assert re.fullmatch(r"[+\d][\d ]+", text_of(number))
        assert list(row.iter("li"))


def test_inv_31_shortening_never_takes_the_panel_nor_nothing_inside_nor_contact(composed: Compose) -> None:
    made = composed(SICK)
    assert made.leaflet.left_out
    assert {"help/urgent", "ears/nothing-inside", "next/contact", "health/diabetes-immunity"} <= made.block_ids
    safety = {block_id for block_id, words in made.content.words.blocks.items() if words.safety}
    assert not set(made.leaflet.left_out) & safety


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("visit", ["cleared", "sick"])
def test_inv_31_the_panel_stands_whole_on_the_first_page_of_the_print(
    content: Content, reader: str, visit: str
) -> None:
    made = compose_visit({**VISITS[visit], "reader": reader}, content)
    composition = compose_to_fit(content, made.plan.blocks, made.situation)
    sheet = sheet_for(content, made.situation, composition)
    *_, rendered = render_to_fit(content, made.plan.blocks, made.situation, composition, sheet)
    document = pypdfium2.PdfDocument(rendered.pdf)
    first = re.sub(r"\s+", "", document[0].get_textpage().get_text_bounded())
    for sign in made.block("help/urgent").iter("li"):
        assert re.sub(r"\s+", "", text_of(sign)) in first, text_of(sign)


@pytest.mark.parametrize("reader", READERS)
def test_inv_34_the_most_urgent_stands_first_in_at_most_three_rows(composed: Compose, reader: str) -> None:
    for outcome in VISITS.values():
        rows = [
            row.get("data-urgency") for row in composed({**outcome, "reader": reader}).block("help/urgent").iter("tr")
        ]
        assert tuple(rows) == ORDER


# Published numbers; 000, 111, 911, 112 from memory where the countries file says so too.
@pytest.mark.parametrize(
    ("country", "emergency"),
    [
        ("GB", "999"),
        ("IE", "112"),
        ("US", "911"),
        ("CA", "911"),
        ("AU", "000"),
        ("NZ", "111"),
        ("IN", "112"),
        ("DE", "112"),
    ],
)
def test_inv_34_the_number_to_call_is_the_country_of_cares_and_no_other_countrys(
    composed: Compose, country: str, emergency: str
) -> None:
    urgent = {**CLEARED, "left.object": "suspected", "left.object_kind": "battery", "plan.referral": "emergency"}
    for outcome in (CLEARED, urgent):
        made = composed({**outcome, "country": country})
        shown = {text_of(span) for span in made.page.iter("span") if "phone" in span.get("class", "").split()}
        known = {emergency, made.situation.country.advice, made.situation.clinic.phone}
        assert emergency in shown
        assert shown <= known


def test_inv_34_the_country_decides_whatever_the_language_is(content: Content, composed: Compose) -> None:
    made = composed({**CLEARED, "country": "US"})
    in_polish = replace(made.situation, language="pl")
    assert in_polish.country.emergency == made.situation.country.emergency == "911"
    assert content.rule_book.countries["US"].code == "US"


@pytest.mark.parametrize("reader", READERS)
def test_inv_35_nothing_to_be_seen_within_24_hours_stands_under_soon(composed: Compose, reader: str) -> None:
    for outcome in VISITS.values():
        soon = {sign for sign, row in composed({**outcome, "reader": reader}).signs() if row == "soon"}
        assert soon <= {"earache-lasting", "hearing-getting-worse"}


# NICE NG98 1.1.2 to 1.1.4; Cornwall referral guide (swelling behind the ear, same-day hospital); NHS ear infections.
_HERE_NOW = ["swelling-behind-ear", "severe-pain", "fever", "sudden-hearing-loss", "facial-weakness"]


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("symptom", _HERE_NOW)
@pytest.mark.parametrize("wax_after", ["cleared", "partly-cleared"])
def test_inv_35_a_red_flag_that_is_there_at_the_end_of_the_visit_makes_the_main_message_urgent(
    composed: Compose, reader: str, symptom: str, wax_after: str
) -> None:
    made = composed(
        {
            **CLEARED,
            "reader": reader,
            "left.canal": (),
            "left.wax_after": wax_after,
            "left.symptoms_after": (symptom,),
            "plan.review_in_days": 14,
        }
    )
    assert re.search(r"\b(today|now)\b", made.leaflet.main_message), made.leaflet.main_message


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("symptom", _HERE_NOW[:3])
def test_inv_35_nobody_with_a_red_flag_is_sent_to_the_gp_without_a_time(
    composed: Compose, reader: str, symptom: str
) -> None:
    made = composed({**CLEARED, "reader": reader, "left.canal": (), "left.symptoms_after": (symptom,)})
    timeless = [
        text for text in made.sentences() if re.search(r"\b(ask|see) (your|their) GP\b(?!.*today)", text, re.IGNORECASE)
    ]
    assert timeless == []


@pytest.mark.parametrize("age", [0, 1, 2, 8, 15])
@pytest.mark.parametrize("reader", READERS)
def test_inv_36_a_childs_leaflet_has_the_signs_of_children(composed: Compose, age: int, reader: str) -> None:
    printed = dict(composed({**CLEARED, "reader": reader, "person.age_years": age}).signs())
    for sign, (up_to, urgency) in CHILDREN.items():
        if age <= up_to:
            assert printed.get(sign) == urgency, (sign, printed)


def test_inv_36_a_carer_of_somebody_whose_age_was_not_recorded_is_told_the_signs_of_children(
    composed: Compose,
) -> None:
    outcome = {field: value for field, value in BARE.items() if field != "person.age_years"}
    assert set(CHILDREN) <= set(dict(composed({**outcome, "reader": "carer"}).signs()))


@pytest.mark.parametrize("reader", READERS)
def test_inv_37_phone_opening_hours_and_out_of_hours_route_are_printed(composed: Compose, reader: str) -> None:
    for outcome in VISITS.values():
        made = composed({**outcome, "reader": reader})
        words = made.block_text("next/contact")
        clinic = made.situation.clinic
        assert all(line.strip() for line in (clinic.phone, clinic.out_of_hours, *clinic.hours))
        assert all(line in words for line in (clinic.phone, clinic.out_of_hours, *clinic.hours))


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("phone", ""),
        ("phone", "   "),
        ("hours", []),
        ("hours", [""]),
        ("hours", ["  "]),
        ("out_of_hours", ""),
        ("out_of_hours", "  "),
        ("phone", None),
        ("hours", None),
        ("out_of_hours", None),
    ],
)
def test_inv_37_a_clinic_without_phone_hours_or_out_of_hours_route_is_refused(
    content: Content, field: str, value: Any
) -> None:
    file = content.clinic.file.model_dump()
    file = {**file, field: value} if value is not None else {key: kept for key, kept in file.items() if key != field}
    with pytest.raises(ValidationError):
        ClinicFile.model_validate(file)


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("state", ["present", "suspected"])
def test_inv_15_a_battery_sends_to_the_emergency_department_first_of_all(
    composed: Compose, reader: str, state: str
) -> None:
    found = {"left.object": state, "left.object_kind": "battery", "reader": reader}
    made = composed({**with_right(CLEARED, canal=()), **found})
    assert "emergency" in made.leaflet.main_message
    assert "now" in made.leaflet.main_message
    assert {"object/battery", "help/emergency-now"} <= made.block_ids
    assert not {"drops/course", "drops/how-to", "object/still-there"} & made.block_ids


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("kind", ["bead", "insect", "food", "other"])
def test_inv_15_whatever_is_stuck_is_left_alone_and_taken_out_today(composed: Compose, reader: str, kind: str) -> None:
    made = composed({**CLEARED, "left.object": "present", "left.object_kind": kind, "reader": reader})
    words = made.block_text("object/still-there")
    assert "today" in words
    assert re.search(r"do not dig", words, re.IGNORECASE)
    assert re.search(r"no drops or water", words)
    assert made.leaflet.main_message.startswith("Leave")


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("field", ["left.symptoms", "left.symptoms_after"])
@pytest.mark.parametrize("referral", ["none", "gp", "ent-routine", "ent-urgent", "audiology"])
def test_inv_16_sudden_hearing_loss_tops_the_page_with_help_today_whatever_the_referral(
    composed: Compose, reader: str, field: str, referral: str
) -> None:
    made = composed({**CLEARED, field: ("sudden-hearing-loss",), "plan.referral": referral, "reader": reader})
    assert "today" in made.leaflet.main_message
    assert "hearing/sudden-loss" in made.block_ids
    assert not {"drops/course", "drops/how-to", "drops/upkeep"} & made.block_ids
