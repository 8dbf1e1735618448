"""The calendar of a visit: a course of drops with its dates and totals, the dry days, the review off closed days."""

import datetime
from collections.abc import Callable, Mapping
from typing import Any, cast

from leaflets.model import Calendar, Course, Finding, Plan
from leaflets.rules.numbers import Numbers
from leaflets.visit import Ear, Visit
from leaflets.vocabulary import AGENTS, Agent, EarName

COURSE_RULE = "wax/softening-drops"
"""The rule that gives a course; the only one whose block needs a `Course`."""

_DAY = datetime.timedelta(days=1)
_WEEK = datetime.timedelta(weeks=1)
_DOSE_NUMBERS = {"drops_per_dose": "drops-per-dose", "times_a_day": "times-a-day", "days": "days"}
_DRY_NUMBERS = {
    "microsuction": "dry.days-after-microsuction",
    "instruments": "dry.days-after-instruments",
    "irrigation": "dry.days-after-irrigation",
}
_CLOSED_EARDRUMS = ("intact", "retracted", "fluid")
_OPEN_ENDED_CANAL = frozenset({"infected", "discharge", "mastoid-cavity"})

ClosedBecause = Callable[[datetime.date], str | None]
"""Says why the clinic is closed on a day; None: it is open."""


def dose_faults(plan: Mapping[str, Any], numbers: Numbers) -> list[tuple[str, str, str]]:
    """Return (field, what is wrong, what to do) for each part of a recorded dose outside its agent's bounds."""
    agent = plan.get("drops")
    faults = []
    if agent in AGENTS:
        for field, name in _DOSE_NUMBERS.items():
            value = plan.get(field)
            number = numbers[f"{agent}.{name}"]
            if isinstance(value, int) and number.out_of_bounds(value):
                bounds = f"{number.minimum} to {number.maximum} {number.unit}"
                faults.append((field, f"{value} is out of bounds for {agent}", f"allowed: {bounds}; {number.source}"))
    return faults


def plan_course(visit: Visit, plan: Plan, numbers: Numbers) -> tuple[Course | None, list[Finding]]:
    """Work out the course for the ears that may have it; None: no ear may, or none is planned.

    Part of a dose that the visit does not record is taken from numbers.toml, and a finding says so: it is printed,
    and never silently.
    """
    given = next((one for one in plan.given if one.rule == COURSE_RULE), None)
    if given is None or visit.plan.drops in (None, "none"):
        return None, []
    agent = cast("Agent", visit.plan.drops)
    findings: list[Finding] = []
    dose: dict[str, int] = {}
    for field, name in _DOSE_NUMBERS.items():
        recorded: int | None = getattr(visit.plan, field)
        number_id = f"{agent}.{name}"
        dose[field] = numbers.whole(number_id) if recorded is None else recorded
        if recorded is None:
            number = numbers[number_id]
            findings.append(
                Finding(
                    "RULE07",
                    "warn",
                    f"plan.{field}",
                    f"was not recorded: the leaflet says {number.value} {number.unit}, the value of {number_id}",
                    f"look that this is what you mean, or record plan.{field}",
                )
            )
    course = Course(
        agent=agent,
        ears=given.ears,
        drops_per_dose=dose["drops_per_dose"],
        times_a_day=dose["times_a_day"],
        days=dose["days"],
        start=visit.date + _DAY,
        soak_minutes=numbers.whole(f"{agent}.soak-minutes"),
        bottle_drops=numbers.whole("bottle.millilitres") * numbers.whole("bottle.drops-per-millilitre"),
    )
    return course, findings


def stays_dry_until_checked(ear: Ear) -> bool:
    """Return whether an ear has no day on which water is safe again before somebody has looked at it.

    So it is where the eardrum is not known to be closed, where it is infected or runs, after ear surgery, and where
    something is in it.
    """
    return (
        ear.eardrum not in _CLOSED_EARDRUMS
        or bool(_OPEN_ENDED_CANAL & set(ear.canal or ()))
        or "ear-surgery" in (ear.history or ())
        or ear.object in ("present", "suspected")
        or "discharge" in {*(ear.symptoms or ()), *(ear.symptoms_after or ())}
    )


def dry_until(visit: Visit, numbers: Numbers) -> Mapping[EarName, datetime.date]:
    """Return the last day to keep each ear dry after something went into it: one day for both ears, the later one.

    Left out are an ear that nothing went into, and one that stays dry until somebody has looked at it again.
    """
    days: dict[EarName, int] = {}
    for name in visit.ears_examined:
        ear = visit.ear(name)
        found = [] if ear is None else [_DRY_NUMBERS[method] for method in ear.method or () if method in _DRY_NUMBERS]
        if ear is not None and found and not stays_dry_until_checked(ear):
            days[name] = max(numbers.whole(number_id) for number_id in found)
    return dict.fromkeys(days, visit.date + max(days.values(), default=0) * _DAY)


def _infection_dry_until(visit: Visit, numbers: Numbers) -> datetime.date | None:
    infected = any(ear is not None and "infected" in (ear.canal or ()) for ear in (visit.left, visit.right))
    return visit.date + numbers.whole("swim.after-infection-days") * _DAY if infected else None


def _hear_by(visit: Visit, numbers: Numbers) -> datetime.date | None:
    if visit.plan.referral == "ent-urgent":
        return visit.date + numbers.whole("referral.urgent-days-to-hear") * _DAY
    if visit.plan.referral in ("ent-routine", "audiology"):
        return visit.date + numbers.whole("referral.routine-weeks-to-hear") * _WEEK
    return None


def plan_calendar(
    visit: Visit, course: Course | None, numbers: Numbers, closed_because: ClosedBecause
) -> tuple[Calendar, list[Finding]]:
    """Work out all dates. The review falls after the course, on a day when the clinic is open."""
    review, findings = _plan_review(visit, course, closed_because)
    calendar = Calendar(
        dry_until=dry_until(visit, numbers),
        infection_dry_until=_infection_dry_until(visit, numbers),
        review=review,
        hear_by=_hear_by(visit, numbers),
    )
    return calendar, findings


def _plan_review(
    visit: Visit, course: Course | None, closed_because: ClosedBecause
) -> tuple[datetime.date | None, list[Finding]]:
    after_course = course.end + _DAY if course else visit.date + _DAY
    if visit.plan.review_date is not None:
        return visit.plan.review_date, _review_faults(visit.plan.review_date, course, after_course, closed_because)
    if visit.plan.review_in_days is None:
        return None, []
    counted = visit.date + visit.plan.review_in_days * _DAY
    review = first_open_day(max(counted, after_course), closed_because)
    if review == counted:
        return review, []
    why = "the course ends later" if counted < after_course else f"the clinic is closed ({closed_because(counted)})"
    note = Finding(
        "RULE08",
        "note",
        "plan.review_in_days",
        f"the review moved from {counted.isoformat()} to {review.isoformat()}: {why}",
        "record plan.review_date if you want another day",
    )
    return review, [note]


def _review_faults(
    review: datetime.date, course: Course | None, after_course: datetime.date, closed_because: ClosedBecause
) -> list[Finding]:
    findings = []
    next_day = first_open_day(max(review, after_course), closed_because).isoformat()
    if course is not None and review < after_course:
        message = f"the review on {review.isoformat()} falls within the course, which ends on {course.end.isoformat()}"
        findings.append(Finding("RULE09", "stop", "plan.review_date", message, f"the next open day is {next_day}"))
    if (why := closed_because(review)) is not None:
        message = f"the clinic is closed on {review.isoformat()} ({why})"
        findings.append(Finding("RULE10", "stop", "plan.review_date", message, f"the next open day is {next_day}"))
    return findings


def first_open_day(day: datetime.date, closed_because: ClosedBecause) -> datetime.date:
    """Return the day itself if the clinic is open, otherwise the first open day after it.

    Raises:
        ValueError: the clinic does not open within a year.

    """
    for offset in range(366):
        if closed_because(day + offset * _DAY) is None:
            return day + offset * _DAY
    raise ValueError("the clinic is not open on any day of a year")
