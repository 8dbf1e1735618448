"""What the blocks of one leaflet say together, both ears on one page.

INV-02, INV-14, INV-21, INV-25, INV-26 and INV-63.
"""

import re
from collections.abc import Callable
from typing import Any

import pytest
from composing import Composed
from outcomes import CLEARED, NOTHING_AGAINST, Outcome, with_right

from leaflets.compose.leaflet import compose
from leaflets.compose.tree import text_of
from leaflets.content import READERS

Compose = Callable[..., Composed]

NO_DROPS: Outcome = {"plan.drops": "none", "plan.drops_for": (), "plan.referral": "ent-routine"}


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize(
    ("block", "found"),
    [
        ("eardrum/not-seen", {"left.eardrum": "not-seen", "left.history": ("perforation",)}),
        ("health/ear-surgery", {"left.history": ("ear-surgery",)}),
        ("canal/sore-skin", {"left.canal": ("scratched",)}),
    ],
)
def test_inv_02_what_an_ear_without_drops_is_told_does_not_change_with_the_drops_of_the_other_ear(
    composed: Compose, reader: str, block: str, found: Outcome
) -> None:
    alone = composed({**NOTHING_AGAINST, **found, **NO_DROPS, "reader": reader})
    beside = with_right(NOTHING_AGAINST) | found | {"plan.drops_for": ("right",), "plan.referral": "ent-routine"}
    both = composed({**beside, "reader": reader})
    assert "drops/course" in both.block_ids
    assert _words_before_shortening(both, block) == _words_before_shortening(alone, block)


def _words_before_shortening(made: Composed, block_id: str) -> list[str]:
    leaflet = compose(made.content.words, made.plan.blocks, made.situation, "#000000").leaflet
    return [unit.text for block in leaflet.blocks if block.id == block_id for unit in block.units]


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize(
    ("drops_for", "named", "other"),
    [(("left",), "left ear", "right ear"), (("right",), "right ear", "left ear"), (("left", "right"), "both", None)],
)
def test_inv_14_the_words_of_the_course_name_the_ear_or_ears_that_it_is_for(
    composed: Compose, reader: str, drops_for: tuple[str, ...], named: str, other: str | None
) -> None:
    outcome = {**with_right(NOTHING_AGAINST), "plan.drops_for": drops_for, "reader": reader}
    made = composed({**outcome, "plan.review_in_days": 14})
    assert made.situation.course is not None
    assert made.situation.course.ears == drops_for
    for block in ("drops/course", "drops/how-to"):
        words = made.block_text(block)
        assert named in words.lower()
        assert other is None or other not in words
    assert named in made.leaflet.main_message


def _days_to_keep_dry(method: str) -> tuple[int, int]:
    """Return the least and the most days (facts, section 1.9 and 5): suction 1 to 5, water 4 to 7."""
    return (4, 7) if method == "irrigation" else (1, 5)


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("method", ["microsuction", "instruments", "irrigation"])
def test_inv_21_the_day_until_which_an_ear_stays_dry_is_printed_as_a_date(
    composed: Compose, reader: str, method: str
) -> None:
    made = composed({**CLEARED, "left.method": (method,), "reader": reader})
    dates = [text_of(span) for span in made.block("after/keep-dry").iter("span") if span.get("class") == "date"]
    # 25 November 2026 is a Wednesday. The days after it, written by hand:
    after = ["Thursday, 26", "Friday, 27", "Saturday, 28", "Sunday, 29", "Monday, 30"]
    written = [f"{day} November 2026" for day in after]
    written += ["Tuesday, 1 December 2026", "Wednesday, 2 December 2026"]
    assert len(dates) == 1
    least, most = _days_to_keep_dry(method)
    assert dates[0] in written[least - 1 : most]


@pytest.mark.parametrize("reader", READERS)
def test_inv_21_a_hole_means_dry_until_a_check_shows_that_it_has_healed(composed: Compose, reader: str) -> None:
    made = composed({**CLEARED, "left.eardrum": "perforated", "left.canal": (), "reader": reader})
    assert "until a check shows it has healed" in made.block_text("eardrum/perforation")
    assert "after/keep-dry" not in made.block_ids


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("habits", [("hearing-aids",), None])
def test_inv_25_whoever_wears_a_hearing_aid_takes_it_out_before_drops(
    composed: Compose, reader: str, habits: tuple[str, ...] | None
) -> None:
    outcome = {**NOTHING_AGAINST, "person.habits": habits, "reader": reader}
    made = composed({field: value for field, value in outcome.items() if value is not None})
    assert "hearing aid" in made.block_text("drops/how-to")
    upkeep = composed({**CLEARED, "person.habits": ("hearing-aids",), "left.canal": (), "reader": reader})
    if "drops/upkeep" in upkeep.block_ids:
        assert "hearing aid" in upkeep.block_text("drops/upkeep")


@pytest.mark.parametrize("reader", READERS)
def test_inv_25_whoever_wears_a_hearing_aid_is_told_of_checks_cleaning_and_batteries(
    composed: Compose, reader: str
) -> None:
    words = composed({**CLEARED, "person.habits": ("hearing-aids",), "reader": reader}).block_text("life/hearing-aids")
    # AAO-HNSF Cerumen Impaction 2017, Table 4: checked every 3 to 6 months, never alcohol or solvents.
    assert "3 to 6 months" in words
    assert re.search(r"not with alcohol or solvents", words)
    assert re.search(r"batteries .* children", words)


_KEEPS_OUT_OF_WATER: list[dict[str, Any]] = [
    {"left.eardrum": "perforated"},
    {"left.eardrum": "tube"},
    {"left.canal": ("infected",)},
    {"left.canal": ("discharge",)},
    {"left.symptoms_after": ("discharge",)},
    {"left.symptoms": ("discharge",)},
    {"left.history": ("ear-surgery",)},
]


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("found", _KEEPS_OUT_OF_WATER)
@pytest.mark.parametrize("ears", ["one", "both"])
def test_inv_26_nobody_with_a_hole_a_tube_an_infection_or_surgery_in_either_ear_is_told_how_to_swim(
    composed: Compose, reader: str, found: Outcome, ears: str
) -> None:
    base = {**CLEARED, "person.habits": ("swims",), "left.canal": (), "left.symptoms": (), "reader": reader}
    made = composed((with_right(base) if ears == "both" else base) | found)
    if "life/swimming" in made.block_ids:
        assert re.search(r"\b(do not|no) swim|ask .* before", made.block_text("life/swimming"), re.IGNORECASE)


def _dates(made: Composed, *blocks: str) -> set[str]:
    found = set()
    for block in blocks:
        if block in made.block_ids:
            found |= {text_of(span) for span in made.block(block).iter("span") if span.get("class") == "date"}
    return found


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize(("left", "right"), [("microsuction", "irrigation"), ("irrigation", "microsuction")])
@pytest.mark.parametrize("upkeep_for", ["left", "right"])
def test_inv_63_an_ear_has_one_last_dry_day_wherever_it_is_named(
    composed: Compose, reader: str, left: str, right: str, upkeep_for: str
) -> None:
    both = with_right({**CLEARED, "left.method": (left,), "left.canal": ()}, method=(right,))
    made = composed({**both, f"{upkeep_for}.canal": ("deep-hairs",), "person.habits": (), "reader": reader})
    assert "drops/upkeep" in made.block_ids
    assert len(_dates(made, "after/keep-dry", "drops/upkeep", "hair/trimming")) == 1


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize(
    "found",
    [
        {"left.eardrum": "not-seen"},
        {"left.canal": ("infected",)},
        {"left.history": ("ear-surgery",)},
        {"left.object": "present", "left.object_kind": "bead"},
    ],
)
def test_inv_63_an_ear_that_stays_dry_until_somebody_looks_has_no_earlier_day_beside_it(
    composed: Compose, reader: str, found: Outcome
) -> None:
    made = composed({**CLEARED, "left.canal": (), **found, "person.habits": (), "reader": reader})
    assert _dates(made, "after/keep-dry") == set()


@pytest.mark.parametrize("reader", READERS)
def test_inv_63_the_day_to_come_back_is_the_same_everywhere_and_after_the_course(
    composed: Compose, reader: str
) -> None:
    made = composed({**NOTHING_AGAINST, "plan.days": 7, "plan.review_in_days": 14, "reader": reader})
    # 25 November 2026 and 14 days: 9 December 2026, a Wednesday.
    assert _dates(made, "next/review") == {"Wednesday, 9 December 2026"}
    assert "Wed 9 Dec" in made.block_text("drops/course")
    assert len(re.findall(r"9 December 2026", made.page_text)) == 1
