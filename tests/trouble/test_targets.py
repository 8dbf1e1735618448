"""Targets by reader and format, and the verdict: units first, then the score."""

import dataclasses

import pytest

from leaflets.errors import LeafletError
from leaflets.readability.report import Report, grade_units
from leaflets.readability.targets import Judgement, Target, target_for, verdict
from leaflets.readability.trouble import find_trouble
from leaflets.vocabulary import Format, Reader

# Source of the limits: American Medical Association and NIH on grades 6 and 8, GOV.UK on easy read; those for children
# are derived from the ages of school years.
LIMITS = {
    "adult": (6, 8, 20),
    "carer": (6, 8, 20),
    "child-5-7": (2, 2, 8),
    "child-7-11": (4, 4, 12),
}
REPORT = grade_units(["Keep your ear dry."] * 10, "en-GB")


def _graded(grade: float | None, high: float | None) -> Report:
    return dataclasses.replace(REPORT, grade=grade, high=high)


def _said(report: Report, target: Target) -> list[str]:
    return [judgement.severity for judgement in verdict(report, (), target).judgements]


@pytest.mark.parametrize("reader", Reader.__args__)  # type: ignore[attr-defined]
def test_every_reader_has_a_target_in_every_format(reader: str) -> None:
    for format_ in (None, *Format.__args__):  # type: ignore[attr-defined]
        target = target_for(reader, format_)
        wanted, stops, length = LIMITS[reader]
        assert (target.grade_wanted_up_to, target.grade_stops_over) == (wanted, stops)
        assert target.unit_words_up_to == (min(15, length) if format_ == "easy-read" else length)
        assert target.mean_unit_words_up_to == (12 if format_ == "easy-read" else None)
        assert target.source


@pytest.mark.parametrize(("reader", "format_"), [("adults", None), ("adult", "easyread")])
def test_an_unknown_reader_or_format_is_an_error_with_the_nearest(reader: str, format_: str | None) -> None:
    with pytest.raises(LeafletError, match=r"did you mean '(adult|easy-read)'"):
        target_for(reader, format_)


@pytest.mark.parametrize(
    ("grade", "high", "severities"),
    [
        (6.0, 8.0, []),
        (6.0, 8.1, ["warn"]),  # the interval crosses the limit
        (6.1, 7.0, ["warn"]),
        (8.0, 9.0, ["warn"]),
        (8.1, 9.0, ["stop"]),
        (None, None, ["note"]),
    ],
)
def test_the_grade_of_an_adult_leaflet(grade: float | None, high: float | None, severities: list[str]) -> None:
    assert _said(_graded(grade, high), target_for("adult")) == severities


@pytest.mark.parametrize(("grade", "high", "severities"), [(2.0, 2.0, []), (2.0, 2.1, ["warn"]), (2.1, 2.2, ["stop"])])
def test_the_grade_of_a_leaflet_for_young_children(grade: float, high: float, severities: list[str]) -> None:
    assert _said(_graded(grade, high), target_for("child-5-7")) == severities


def test_units_come_first_then_the_score() -> None:
    units = ["Do NOT swim."] + ["Keep your ear dry."] * 10
    report = dataclasses.replace(grade_units(units, "en"), grade=9.0, high=9.5)
    judged = verdict(report, find_trouble(units, "en"), target_for("adult"))
    assert [one.severity for one in judged.judgements] == ["warn", "stop"]
    assert judged.judgements[0].trouble is not None
    assert judged.judgements[1].trouble is None
    assert judged.severity == "stop"


def test_easy_read_has_a_mean_length() -> None:
    easy = target_for("adult", "easy-read")
    at_most = dataclasses.replace(_graded(1.0, 2.0), words=120, sentences=10)  # 12 words in the mean
    assert _said(at_most, easy) == []
    assert _said(dataclasses.replace(at_most, words=121), easy) == ["warn"]
    assert _said(dataclasses.replace(at_most, words=121), target_for("adult")) == []


def test_nothing_to_measure_is_no_pass() -> None:
    for report in (grade_units([], "en"), grade_units(["Keep dry."], "en"), grade_units(["Ucho."] * 20, "pl")):
        assert verdict(report, (), target_for("adult")).severity == "note"


def test_a_grade_of_another_formula_is_not_held_against_english_grades() -> None:
    other = dataclasses.replace(_graded(3.0, 4.0), formula="lix", language="sv")
    judged = verdict(other, (), target_for("adult"))
    assert judged.judgements == (
        Judgement(
            "note",
            "readability was not measured: no grade by flesch-kincaid for 'sv'",
            "let somebody who reads this language at an easy level read it",
        ),
    )


def test_a_measured_easy_text_has_nothing_said_of_it() -> None:
    assert verdict(_graded(3.0, 4.0), (), target_for("adult")).severity is None
