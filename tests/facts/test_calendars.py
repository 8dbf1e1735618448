"""Courses and reviews against calendars worked by hand, and against the public holidays of an independent package."""

import datetime
from collections.abc import Mapping
from typing import Any

import holidays
import pytest

from leaflets.clinic import Clinic, ClinicFile
from leaflets.content import Content
from leaflets.course import dry_until, first_open_day, plan_calendar, plan_course
from leaflets.model import Calendar, Course, Finding
from leaflets.plan import plan
from leaflets.visit import Visit

Day = datetime.date


def _visit(day: Day, planned: Mapping[str, Any], ears: tuple[str, ...] = ("left",), **found: Any) -> Visit:
    ear = {"wax_after": "partly-cleared", "eardrum": "intact", "object": "none"}
    ear |= {name: [] for name in ("method", "canal", "history", "symptoms", "symptoms_after", "events")}
    person = {"age_years": 46, "habits": [], "conditions": [], "allergies": []}
    drops = {"drops": "olive-oil", "drops_for": list(ears)} if "days" in planned else {"drops": "none"}
    record = {
        "ref": "C-1",
        "date": day,
        "reader": "adult",
        "person": person,
        "plan": {**drops, "referral": "gp", **planned},
    }
    return Visit.model_validate(record | {name: {**ear, **found} for name in ears})


def _course(content: Content, visit: Visit) -> Course:
    course, findings = plan_course(visit, plan(visit, content.rule_book.rules.values()), content.rule_book.numbers)
    assert course is not None
    assert findings == []
    return course


# Visit, days; then every day of the course by hand, the day after the visit the first.
_COURSES = [
    # November 2026 has 30 days: 28, 29, 30 November, 1, 2 December.
    (Day(2026, 11, 27), 5, ["2026-11-28", "2026-11-29", "2026-11-30", "2026-12-01", "2026-12-02"]),
    # 2028 is a leap year (divisible by 4, no century): 27, 28, 29 February, 1 March.
    (Day(2028, 2, 26), 4, ["2028-02-27", "2028-02-28", "2028-02-29", "2028-03-01"]),
    # 2027 is none: 27, 28 February, 1 March.
    (Day(2027, 2, 26), 3, ["2027-02-27", "2027-02-28", "2027-03-01"]),
    # Over the end of the year: 30, 31 December, 1, 2, 3 January.
    (Day(2026, 12, 29), 5, ["2026-12-30", "2026-12-31", "2027-01-01", "2027-01-02", "2027-01-03"]),
    # The visit itself on 29 February.
    (Day(2028, 2, 29), 3, ["2028-03-01", "2028-03-02", "2028-03-03"]),
]


@pytest.mark.parametrize(("day", "days", "expected"), _COURSES)
def test_a_course_starts_the_day_after_the_visit_and_has_every_day_of_the_calendar(
    content: Content, day: Day, days: int, expected: list[str]
) -> None:
    course = _course(content, _visit(day, {"days": days, "drops_per_dose": 3, "times_a_day": 3}))
    assert [one.isoformat() for one in course.dates] == expected
    assert course.start.isoformat() == expected[0]
    assert course.end.isoformat() == expected[-1]


# drops each time, times a day, days, ears: total drops, and bottles of 10 ml at 20 drops a millilitre = 200 drops.
_TOTALS = [
    (3, 3, 5, ("left",), 45, 1),  # 3 x 3 x 5 = 45
    (5, 4, 10, ("right",), 200, 1),  # 5 x 4 x 10 = 200: just one bottle
    (3, 4, 14, ("left", "right"), 336, 2),  # 3 x 4 x 14 x 2 = 336
    (5, 4, 14, ("left", "right"), 560, 3),  # 5 x 4 x 14 x 2 = 560: 2 bottles hold 400, 3 hold 600
    (1, 1, 3, ("left",), 3, 1),
]


@pytest.mark.parametrize(("drops", "times", "days", "ears", "total", "bottles"), _TOTALS)
def test_the_drops_of_a_course_and_its_bottles_are_counted(
    content: Content, drops: int, times: int, days: int, ears: tuple[str, ...], total: int, bottles: int
) -> None:
    visit = _visit(Day(2026, 11, 25), {"days": days, "drops_per_dose": drops, "times_a_day": times}, ears)
    course = _course(content, visit)
    assert course.total_drops == total
    assert course.bottles == bottles
    assert course.ears == ears


@pytest.mark.parametrize(
    ("day", "method", "expected"),
    [
        # 2 days after suction or instruments, 5 after water: the last day to keep dry, counted by hand.
        (Day(2026, 11, 25), ["microsuction"], "2026-11-27"),
        (Day(2026, 11, 29), ["instruments"], "2026-12-01"),
        (Day(2028, 2, 27), ["microsuction"], "2028-02-29"),
        (Day(2027, 2, 27), ["microsuction"], "2027-03-01"),
        (Day(2026, 12, 28), ["irrigation"], "2027-01-02"),
        (Day(2026, 11, 25), ["microsuction", "irrigation"], "2026-11-30"),
        (Day(2026, 11, 25), ["drops-only"], None),
        (Day(2026, 11, 25), ["none"], None),
    ],
)
def test_the_last_dry_day_is_counted_from_the_visit(
    content: Content, day: Day, method: list[str], expected: str | None
) -> None:
    dates = dry_until(_visit(day, {}, method=method), content.rule_book.numbers)
    assert (dates["left"].isoformat() if dates else None) == expected


def _clinic(content: Content, **changes: Any) -> Clinic:
    file = content.clinic.file.model_dump() | {"closed": {}} | changes
    return Clinic(content.clinic.folder, ClinicFile.model_validate(file), None, invented=False)


def _review(content: Content, clinic: Clinic, visit: Visit) -> tuple[Calendar, list[Finding]]:
    course, _ = plan_course(visit, plan(visit, content.rule_book.rules.values()), content.rule_book.numbers)
    return plan_calendar(visit, course, content.rule_book.numbers, clinic.closed_because)


ENGLAND = {"country": "GB", "subdivision": "ENG"}
IRELAND = {"country": "IE", "subdivision": None}
STATES = {"country": "US", "subdivision": None}

_REVIEWS = [
    # Christmas 2026 in England: Friday 25 is a holiday; 26 and 27 are a weekend, and Boxing Day moves to Monday 28. So
    # the first open day is Tuesday 29.
    (ENGLAND, Day(2026, 12, 11), 14, "2026-12-29"),
    (ENGLAND, Day(2026, 12, 14), 14, "2026-12-29"),
    (ENGLAND, Day(2026, 12, 10), 14, "2026-12-24"),
    # Easter 2027 is 28 March: Good Friday 26, Easter Monday 29. The first open day is Tuesday 30.
    (ENGLAND, Day(2027, 3, 12), 14, "2027-03-30"),
    (ENGLAND, Day(2027, 3, 11), 14, "2027-03-25"),
    # New Year 2027: Friday 1 January, then the weekend: Monday 4.
    (ENGLAND, Day(2026, 12, 18), 14, "2027-01-04"),
    # Ireland: Saint Patrick's Day, Wednesday 17 March 2027; Good Friday 2027 is no public holiday there.
    (IRELAND, Day(2027, 3, 3), 14, "2027-03-18"),
    (IRELAND, Day(2027, 3, 12), 14, "2027-03-26"),
    # United States: Thanksgiving, fourth Thursday, 26 November 2026; Independence Day 2027, a Sunday, kept on Monday 5.
    (STATES, Day(2026, 11, 12), 14, "2026-11-27"),
    (STATES, Day(2027, 6, 20), 14, "2027-07-06"),
    # A leap day is a day like any other: 15 February 2028 and 14 days, a Tuesday.
    (ENGLAND, Day(2028, 2, 15), 14, "2028-02-29"),
]


@pytest.mark.parametrize(("country", "day", "in_days", "expected"), _REVIEWS)
def test_a_review_falls_on_the_first_day_that_the_clinic_is_open(
    content: Content, country: dict[str, Any], day: Day, in_days: int, expected: str
) -> None:
    clinic = _clinic(content, **country)
    calendar, findings = _review(content, clinic, _visit(day, {"review_in_days": in_days}))
    assert calendar.review is not None
    assert calendar.review.isoformat() == expected
    moved = calendar.review != day + datetime.timedelta(days=in_days)
    assert bool(findings) == moved
    assert all(finding.severity == "note" for finding in findings)


@pytest.mark.parametrize("country", [ENGLAND, IRELAND, STATES])
def test_a_clinic_is_closed_on_exactly_the_holidays_of_the_package_and_on_its_own_closed_days(
    content: Content, country: dict[str, Any]
) -> None:
    clinic = _clinic(content, **country)
    years = (2026, 2027, 2028)
    official = holidays.country_holidays(country["country"], subdiv=country["subdivision"], years=years)
    day = Day(2026, 1, 1)
    while day.year in years:
        closed = day.weekday() >= 5 or day in official
        assert (clinic.closed_because(day) is not None) == closed, day
        day += datetime.timedelta(days=1)


def test_a_clinics_own_closed_days_and_opening_days_are_kept(content: Content) -> None:
    # Open on Tuesdays and Saturdays; closed on Saturday 5 December 2026 for a reason of its own.
    clinic = _clinic(content, open_days=["tuesday", "saturday"], closed={"2026-12-05": "moving house"})
    assert clinic.closed_because(Day(2026, 12, 5)) == "moving house"
    assert clinic.closed_because(Day(2026, 12, 8)) is None
    # Wednesday 2 December: Saturday 5 is closed, so Tuesday 8.
    assert first_open_day(Day(2026, 12, 2), clinic.closed_because) == Day(2026, 12, 8)
    calendar, findings = _review(content, clinic, _visit(Day(2026, 11, 28), {"review_in_days": 7}))
    assert calendar.review == Day(2026, 12, 8)
    assert "moving house" in findings[0].message


def test_a_clinic_that_works_on_public_holidays_is_open_on_them(content: Content) -> None:
    clinic = _clinic(content, public_holidays=False)
    assert clinic.closed_because(Day(2026, 12, 25)) is None
    assert clinic.closed_because(Day(2026, 12, 26)) is not None


def test_a_review_never_falls_within_the_course(content: Content) -> None:
    # Drops from Thursday 26 November for 14 days, to Wednesday 9 December: 7 days from the visit would be within it.
    planned = {"days": 14, "drops_per_dose": 3, "times_a_day": 3}
    calendar, findings = _review(content, _clinic(content), _visit(Day(2026, 11, 25), {**planned, "review_in_days": 7}))
    assert calendar.review == Day(2026, 12, 10)
    assert [finding.severity for finding in findings] == ["note"]
    for day, stops in ((Day(2026, 12, 9), True), (Day(2026, 12, 10), False), (Day(2026, 12, 12), True)):
        _, findings = _review(content, _clinic(content), _visit(Day(2026, 11, 25), {**planned, "review_date": day}))
        assert any(finding.severity == "stop" for finding in findings) == stops
