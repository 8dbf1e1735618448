"""Where every word comes from, and that the same visit makes the same leaflet: INV-29, INV-60 to INV-62, 64, 65, 67."""

import datetime
import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from composing import Composed, compose_record
from outcomes import CLEARED, NOTHING_AGAINST, record_of, with_right

from leaflets.checks import check_leaflet, check_pages
from leaflets.checks.evidence import Pages
from leaflets.compose.tree import text_of
from leaflets.compose.words import parse_words
from leaflets.content import READERS, Content, templates_folder
from leaflets.fit import compose_to_fit
from leaflets.rules.sources import named_sources

Compose = Callable[..., Composed]


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("age", [8, 46, None])
def test_inv_29_whoever_is_dizzy_is_told_to_sit_and_not_to_drive(
    composed: Compose, reader: str, age: int | None
) -> None:
    dizzy = {**CLEARED, "left.events": ("dizzy",), "left.canal": (), "person.habits": ()}
    dizzy |= {"reader": reader, "person.age_years": age}
    made = composed({field: value for field, value in dizzy.items() if value is not None})
    words = made.block_text("after/dizzy").lower()
    assert "sit" in words
    # A child does not drive; whoever looks after one keeps it off bicycles and roads.
    assert (
        "do not drive" in words or "do not let them drive" in words or (age == 8 and "do not let them cycle" in words)
    )


@pytest.mark.parametrize("key", ["source", "reviewed", "owner", "section", "priority"])
def test_inv_60_a_block_without_source_owner_or_review_day_is_refused(key: str) -> None:
    folder = templates_folder()
    path = "blocks/ears/nothing-inside.html"
    text = (folder / path).read_text("utf-8")
    kept = "\n".join(line for line in text.splitlines() if not line.startswith(f"{key} ="))
    assert kept != text.rstrip("\n")
    assert not parse_words({path: text})[1]
    assert any(key in str(problem) for problem in parse_words({path: kept})[1])


def test_inv_60_every_source_of_every_block_and_rule_is_one_that_the_foot_can_name(content: Content) -> None:
    sources = content.rule_book.sources
    for said in (*content.words.blocks.values(), *content.rule_book.rules.values()):
        assert named_sources([said.source], sources), said.id


def test_inv_60_words_rules_and_numbers_that_nobody_has_reviewed_for_years_are_not_issued(composed: Compose) -> None:
    made = composed(NOTHING_AGAINST)
    assert not [one for one in check_leaflet(made.evidence) if one.severity == "stop" and "reviewed" in one.message]
    # Two years and a day after the oldest review (content.review-years: 2; common practice, no source).
    late = made.visit.model_copy(update={"date": datetime.date(2028, 11, 26)})
    situation = replace(made.situation, visit=late)
    expired = replace(made.evidence, visit=late, situation=situation)
    places = {one.place for one in check_leaflet(expired) if one.severity == "stop" and "reviewed" in one.message}
    assert any(place.startswith("templates/") for place in places)
    assert any(place.startswith("leaflets/rules/") for place in places)


@pytest.mark.parametrize("reader", READERS)
def test_inv_61_id_day_practitioner_version_reference_language_and_format_are_printed(
    composed: Compose, reader: str
) -> None:
    made = composed({**CLEARED, "reader": reader})
    for printed in (made.leaflet.id, "25 November 2026", "KD", made.situation.content_version, "INV"):
        assert printed in made.page_text
    html = made.page.find("html")
    assert html is not None
    assert html.get("lang") == "en"
    assert html.get("class", "").split()[0] == "a4"


def test_inv_61_a_leaflet_that_nobody_signs_is_pointed_out(composed: Compose) -> None:
    record = {key: value for key, value in record_of(CLEARED).items() if key != "practitioner"}
    made = compose_record(record, composed(CLEARED).content)
    assert any(finding.place == "practitioner" for finding in made.findings)


def test_inv_62_the_reference_that_ties_a_leaflet_to_its_visit_stands_on_it_and_no_name_can_be_recorded(
    composed: Compose,
) -> None:
    made = composed(CLEARED)
    assert f"Reference {made.visit.ref}" in made.page_text
    assert not {"name", "date_of_birth", "dob"} & set(type(made.visit.person).model_fields)


def test_inv_64_the_same_visit_makes_the_same_page_every_time(content: Content) -> None:
    for outcome in (CLEARED, NOTHING_AGAINST, with_right(NOTHING_AGAINST)):
        first, second = (compose_record(record_of(outcome), content).leaflet for _ in range(2))
        assert first == second
        assert first.html == second.html


_PRINT_THE_ID = """
import sys
sys.path.insert(0, sys.argv[1])
from composing import compose_visit
from leaflets.content import load_content
from outcomes import NOTHING_AGAINST
conditions = {"person.conditions": ("dementia", "tinnitus"), "left.canal": ("deep-hairs", "narrow", "eczema")}
confirmed = {"plan.confirm": ({"rule": "wax/softening-drops", "reason": "seen"},)}
print(compose_visit({**NOTHING_AGAINST, **conditions, **confirmed}, load_content()).leaflet.id)
"""


def test_inv_64_the_same_visit_makes_the_same_leaflet_in_another_process_with_another_order_of_sets() -> None:
    here = str(Path(__file__).parent)
    ids = set()
    for seed in ("1", "2"):
        environment = {**os.environ, "PYTHONHASHSEED": seed}
        command = [sys.executable, "-c", _PRINT_THE_ID, here]
        ids.add(subprocess.run(command, env=environment, capture_output=True, text=True, check=True).stdout.strip())
    assert len(ids) == 1
    assert ids.pop().startswith("L-")


def test_inv_65_what_is_left_out_for_want_of_room_is_told_to_the_practitioner(composed: Compose) -> None:
    habits = (
        "cotton-buds",
        "hairpins",
        "home-scoop",
        "ear-candles",
        "home-syringe",
        "hearing-aids",
        "earphones",
        "swims",
    )
    crowded = {**with_right(NOTHING_AGAINST), "person.habits": habits, "plan.review_in_days": 14}
    made = composed(
        {**crowded, "left.eardrum": "retracted", "plan.confirm": ({"rule": "wax/softening-drops", "reason": "x y"},)}
    )
    assert made.leaflet.left_out
    # The checks of the pages say it; how many pages there are does not matter to them.
    said = " ".join(one.message for one in (*made.findings, *check_pages(made.evidence, Pages(2, {"help": 1}))))
    assert [block for block in made.leaflet.left_out if block not in said] == []
    given = {block.id for block in made.plan.blocks}
    assert given == made.block_ids | set(made.leaflet.left_out)


def test_inv_67_free_text_of_the_record_is_escaped_and_reasons_stay_off_the_leaflet(content: Content) -> None:
    record = record_of(NOTHING_AGAINST)
    record["practitioner"] = '<b>K</b> & "D" %s {{ 1 }}'
    record["left"]["canal"] = ("eczema",)
    record["plan"]["confirm"] = ({"rule": "wax/softening-drops", "reason": "said <i>yes</i> on the telephone"},)
    made = compose_record(record, content)
    assert "&lt;b&gt;K&lt;/b&gt; &amp;" in made.leaflet.html
    assert '<b>K</b> & "D" %s {{ 1 }}' in made.page_text
    assert "telephone" not in text_of(made.page).replace("telephone number", "")
    assert "<i>" not in made.leaflet.html


def test_inv_67_a_clinics_own_lines_are_escaped(composed: Compose, content: Content) -> None:
    made = composed(CLEARED)
    details = replace(made.situation.clinic, name="A & <B>", out_of_hours="<script>alert(1)</script>")
    situation = replace(made.situation, clinic=details)
    html = compose_to_fit(content, made.plan.blocks, situation).leaflet.html
    assert "<script>" not in html
    assert "&lt;script&gt;" in html
    assert "A &amp; &lt;B&gt;" in html
