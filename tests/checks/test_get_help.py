"""The get-help panel: each sign on its own is missed when it goes, and found too mild when it moves down."""

import re

import pytest

from leaflets.checks import get_help
from leaflets.checks.changes import course_added, person_with, situation_with
from leaflets.checks.evidence import Evidence
from leaflets.rules.rule import URGENCIES

# Source: NICE NG98 1.1, NHS ear infections, NHS meningitis, NHS Lothian RefHelp, as listed in the reference of the
# project's invariants: the ten things that every leaflet names; battery and object count as one there.
MINIMUM = {
    "sudden-hearing-loss": "today",
    "facial-weakness": "now",
    "severe-pain": "today",
    "swelling-behind-ear": "today",
    "discharge": "today",
    "fever-unwell": "today",
    "spinning-vomiting": "today",
    "bleeding-not-stopping": "now",
    "battery": "now",
    "object-stuck": "today",
    "meningitis": "now",
}


def _messages(evidence: Evidence) -> list[str]:
    return [finding.message for finding in get_help.check(evidence)]


def test_the_list_of_the_check_holds_the_minimum_and_nothing_milder() -> None:
    assert MINIMUM.keys() <= get_help.EVERYBODY.keys()
    for sign, urgency in MINIMUM.items():
        assert URGENCIES.index(get_help.EVERYBODY[sign]) <= URGENCIES.index(urgency)


@pytest.mark.parametrize("sign", MINIMUM)
def test_a_sign_that_is_gone_is_missed(sign: str, evidence: Evidence) -> None:
    block = evidence.block(get_help.BLOCK)
    assert block is not None
    item = re.search(rf'<li data-sign="{sign}">.*?</li>', block.html)
    assert item is not None
    gone = evidence.with_block_text(get_help.BLOCK, item[0], "")
    assert _messages(gone) == [f"the sign '{sign}' is missing"]


@pytest.mark.parametrize("sign", MINIMUM)
def test_a_sign_that_moves_to_the_last_row_is_too_mild(sign: str, evidence: Evidence) -> None:
    block = evidence.block(get_help.BLOCK)
    assert block is not None
    item = re.search(rf'<li data-sign="{sign}">.*?</li>', block.html)
    last = re.search(r'<li data-sign="hearing-getting-worse">', block.html)
    assert item is not None
    assert last is not None
    moved = evidence.with_block_text(get_help.BLOCK, item[0], "").with_block_text(
        get_help.BLOCK, last[0], item[0] + last[0]
    )
    assert _messages(moved) == [
        f"the sign '{sign}' stands under 'soon' and has to be '{MINIMUM[sign]}' at least",
    ]


def test_a_sign_without_words_counts_as_gone(evidence: Evidence) -> None:
    block = evidence.block(get_help.BLOCK)
    assert block is not None
    item = re.search(r'(<li data-sign="battery">)(.*?)(</li>)', block.html)
    assert item is not None
    emptied = evidence.with_block_text(get_help.BLOCK, item[0], item[1] + item[3])
    assert "the sign 'battery' is missing" in _messages(emptied)


# Source: NHS ear infections and NENC Healthier Together, earache: fever under three months, both ears under two years.
@pytest.mark.parametrize(
    ("age_years", "reader", "signs"),
    [
        (0, "carer", {"infant-fever", "both-ears-under-two", "drowsy-not-drinking"}),
        (1, "carer", {"both-ears-under-two", "drowsy-not-drinking"}),
        (2, "carer", {"drowsy-not-drinking"}),
        (15, "carer", {"drowsy-not-drinking"}),
        (15, "adult", {"drowsy-not-drinking"}),
        (16, "carer", set()),
        (None, "carer", {"infant-fever", "both-ears-under-two", "drowsy-not-drinking"}),
        (None, "adult", set()),
    ],
)
def test_a_child_needs_more_signs_and_an_unknown_age_with_a_carer_counts_as_a_child(
    age_years: int | None, reader: str, signs: set[str], evidence: Evidence
) -> None:
    person = situation_with(person_with(evidence, age_years=age_years), reader=reader)
    assert set(get_help.needed_signs(person)) - set(MINIMUM) == signs


def test_drops_diabetes_and_what_is_not_recorded_add_a_sign_each(evidence: Evidence) -> None:
    def added(changed: Evidence) -> set[str]:
        return set(get_help.needed_signs(changed)) - set(MINIMUM)

    assert added(evidence) == set()
    assert added(course_added(evidence)) == {"allergic-reaction"}
    for conditions in (("diabetes",), ("weak-immunity",), None):
        assert added(person_with(evidence, conditions=conditions)) == {"infection-signs-lower-threshold"}
