"""A plan that the rules forbid, or cannot judge: no bad input, but no leaflet either, and the full result says why."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from leaflets.cli import main

Edited = Callable[..., str]
Stopped = Callable[..., dict[str, Any]]

OLIVE = ('drops = "none"', 'drops = "olive-oil"\ndrops_for = ["left"]\ndrops_per_dose = 3\ntimes_a_day = 3\ndays = 5')
ALMOND = (OLIVE[0], OLIVE[1].replace("olive", "almond"))
PARTLY = ('wax_after = "cleared"', 'wax_after = "partly-cleared"')
DROPS = "wax/softening-drops"


@pytest.fixture
def stopped(tmp_path: Path, edited: Edited) -> Stopped:
    """Return a function that has a changed routine visit stopped, and returns the result as a program reads it."""

    def run(*changes: tuple[str, str]) -> dict[str, Any]:
        visit, out = tmp_path / "visit.toml", tmp_path / "out"
        visit.write_text(edited(*changes), "utf-8")
        result = CliRunner().invoke(main, ["make", str(visit), "--out", str(out), "--json"])
        assert result.exit_code == 1, result.output
        assert isinstance(result.exception, SystemExit)
        assert result.stderr == ""
        assert not out.exists()
        answer: dict[str, Any] = json.loads(result.stdout)
        assert answer["status"] == "stopped"
        assert answer["files"] == {}
        assert [finding for finding in answer["findings"] if finding["severity"] == "stop"]
        # What would be given without it, and why.
        assert {"help/urgent", "today/findings", "next/contact"} <= {block["id"] for block in answer["blocks"]}
        assert all(block["because"] for block in answer["blocks"])
        return answer

    return run


@pytest.mark.parametrize(
    ("because", "changes"),
    [
        ("left.eardrum = perforated", [OLIVE, PARTLY, ('eardrum = "intact"', 'eardrum = "perforated"')]),
        ("left.eardrum = tube", [OLIVE, PARTLY, ('eardrum = "intact"', 'eardrum = "tube"')]),
        ("person.allergies = nuts", [ALMOND, PARTLY, ("allergies = []", 'allergies = ["nuts"]')]),
        ("left.canal = infected", [OLIVE, PARTLY, ("canal = []", 'canal = ["infected"]')]),
        ("left.object = present", [OLIVE, PARTLY, ('object = "none"', 'object = "present"')]),
        ("left.wax_after = cleared", [OLIVE]),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_a_forbidden_plan_stops_and_says_why(because: str, changes: list[tuple[str, str]], stopped: Stopped) -> None:
    answer = stopped(*changes)
    assert "drops/course" not in {block["id"] for block in answer["blocks"]}
    (withheld,) = [one for one in answer["withheld"] if one["rule"] == DROPS]
    assert withheld["ears"] == ["left"]
    assert because in withheld["because"]
    assert [
        finding for finding in answer["findings"] if finding["severity"] == "stop" and because in finding["message"]
    ]


@pytest.mark.parametrize(
    ("field", "changes"),
    [
        ("left.eardrum", [('eardrum = "intact"', "")]),
        ("left.canal", [("canal = []", "")]),
        ("left.object", [('object = "none"', "")]),
        ("left.symptoms", [('symptoms = ["hearing-loss"]', "")]),
        ("person.age_years", [("age_years = 46", "")]),
        ("person.allergies", [("allergies = []", "")]),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_a_plan_that_cannot_be_judged_stops_and_asks(
    field: str, changes: list[tuple[str, str]], stopped: Stopped
) -> None:
    answer = stopped(ALMOND, PARTLY, *changes)
    assert "drops/course" not in {block["id"] for block in answer["blocks"]}
    (asked,) = [one for one in answer["ask"] if one["rule"] == DROPS]
    assert field in asked["not_recorded"]
    assert [one for one in answer["findings"] if one["severity"] == "stop" and one["place"] == field]


def test_a_precaution_that_nobody_confirmed_stops_and_asks(stopped: Stopped) -> None:
    answer = stopped(OLIVE, PARTLY, ("canal = []", 'canal = ["eczema"]'))
    (asked,) = [one for one in answer["ask"] if one["rule"] == DROPS]
    assert asked["to_confirm"] == ["left.canal = eczema"]


def test_a_contraindication_is_not_confirmed_away(stopped: Stopped) -> None:
    confirmed = ("confirm = []", f'confirm = [{{ rule = "{DROPS}", reason = "she asked for it" }}]')
    answer = stopped(OLIVE, PARTLY, ('eardrum = "intact"', 'eardrum = "perforated"'), confirmed)
    assert [one for one in answer["withheld"] if one["rule"] == DROPS]


def test_a_review_within_the_course_stops(stopped: Stopped) -> None:
    # Five days from the day after the visit: Thursday 26 to Monday 30 November 2026.
    answer = stopped(OLIVE, PARTLY, ('referral = "none"', 'referral = "none"\nreview_date = 2026-11-30'))
    (stop,) = [one for one in answer["findings"] if one["severity"] == "stop"]
    assert stop["place"] == "plan.review_date"
    assert "2026-12-01" in stop["hint"]


def test_people_are_told_the_same_without_a_traceback(tmp_path: Path, edited: Edited) -> None:
    visit = tmp_path / "visit.toml"
    visit.write_text(edited(OLIVE, PARTLY, ('eardrum = "intact"', 'eardrum = "perforated"')), "utf-8")
    result = CliRunner().invoke(main, ["make", str(visit), "--out", str(tmp_path / "out")])
    assert result.exit_code == 1
    assert "left.eardrum = perforated" in result.stdout
    assert "Stopped" in result.stdout
    assert "Traceback" not in result.output
    assert not (tmp_path / "out").exists()
