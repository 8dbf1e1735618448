"""A course of drops and the day of the review as entries for a phone's calendar (RFC 5545): the only user of icalendar.

Each time of day of the course is one event that comes back every day: calendars of phones know no recurrence more
frequent than daily (github.com/sebbo2002/ical-generator, issue 130: neither iOS nor Google do). Times are floating, as
RFC 5545 section 3.3.5 calls a time without a zone: eight in the morning is eight where the person is, also on the day
when the clocks change. Between six in the morning and nine in the evening no zone leaves an hour out or repeats one.

Nothing personal is in it but the dates: no name, no reference of the clinic, nothing that was found. A calendar is
often shared, so each entry of the file is also marked as private and takes no time from the day.
"""

import datetime
import unicodedata
from dataclasses import dataclass

from icalendar import Alarm, Calendar, Event

from leaflets.model import Course
from leaflets.rules.numbers import Numbers

_PRODUCT = "-//leaflets//leaflets//EN"
_PRODUCT_IN_CODE = "leaflets"
_MORNING, _MIDDAY, _AFTERNOON, _BEDTIME = (
    f"reminder.{name}-hour" for name in ("morning", "midday", "afternoon", "bedtime")
)
_HOURS = {
    1: (_BEDTIME,),
    2: (_MORNING, _BEDTIME),
    3: (_MORNING, _AFTERNOON, _BEDTIME),
    4: (_MORNING, _MIDDAY, _AFTERNOON, _BEDTIME),
}
"""The times of day of the printed strip, by how many they are."""


@dataclass(frozen=True)
class CalendarWords:
    """What the entries are called, in the language of the leaflet.

    Attributes:
        dose: what to do, each time the calendar rings. It says nothing that others in the room should not read.
        review: what the day of the review is called.

    Raises:
        ValueError: one is empty, or holds a character of control or a line's end.

    """

    dose: str
    review: str

    def __post_init__(self) -> None:
        for words in (self.dose, self.review):
            if not words.strip():
                raise ValueError("an entry of a calendar has a name")
            if any(unicodedata.category(character) == "Cc" for character in words):
                raise ValueError("the name of an entry is one line, without characters of control")


def dose_hours(times_a_day: int, numbers: Numbers) -> tuple[int, ...]:
    """Return the hours of the doses of a day, in hours after midnight, in their order.

    Args:
        times_a_day: 1 to 4.
        numbers: they say when morning, midday, afternoon and bedtime are; a clinic may have set them.

    Raises:
        ValueError: there are no times of day for so many doses.

    """
    if times_a_day not in _HOURS:
        raise ValueError(f"there are no times of day for {times_a_day} doses")
    return tuple(numbers.whole(number_id) for number_id in _HOURS[times_a_day])


def calendar_file(
    course: Course | None,
    review: datetime.date | None,
    numbers: Numbers,
    words: CalendarWords,
    *,
    leaflet_id: str,
    visit_date: datetime.date,
) -> bytes:
    """Return an .ics file with all doses, each with an alarm, and the review as an entry for its whole day.

    The same arguments give the same bytes. Whoever takes the file in twice has each entry once, since its UID comes
    from the leaflet; the entries of an earlier leaflet, which has another id, stay until they are taken out by hand.

    Args:
        course: None: only the review is entered.
        review: None: only the course is entered.
        numbers: they say at which hours the doses are.
        words: what the entries are called.
        leaflet_id: as printed on the leaflet.
        visit_date: the day on which the leaflet was made, for the time stamp.

    Raises:
        ValueError: there is nothing to enter, or no times of day for so many doses.

    """
    calendar = _empty_calendar(course, review, _PRODUCT)
    for index, start in enumerate(_first_doses(course, numbers), 1):
        event = _event(leaflet_id, f"{index}", visit_date, words.dose)
        assert course is not None, "it has doses"
        event.add("dtstart", start)
        # One ear after the other is soaked: that is how long a dose takes.
        event.add("dtend", start + datetime.timedelta(minutes=course.soak_minutes * len(course.ears)))
        event.add("rrule", {"FREQ": "DAILY", "COUNT": course.days})
        _keep_private(event)
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", words.dose)
        alarm.add("trigger", datetime.timedelta(0))
        event.add_component(alarm)
        calendar.add_component(event)
    if review is not None:
        event = _review_event(leaflet_id, review, visit_date, words)
        _keep_private(event)
        calendar.add_component(event)
    return _written(calendar)


def calendar_for_code(
    course: Course | None,
    review: datetime.date | None,
    numbers: Numbers,
    words: CalendarWords,
    *,
    leaflet_id: str,
    visit_date: datetime.date,
) -> str:
    """Return the same entries as the shortest text that RFC 5545 allows, for a code that a phone's camera reads.

    Lines are not folded, which the standard recommends and does not demand. There are no ends, and the alarm is a
    sound, the only kind that needs no words.

    What phones make of it differs, and none was tried. Read: ZXing's VEventResultParser takes the first summary,
    start, end, duration and description of the text, whichever event they stand in, and neither recurrence nor alarm;
    the calendar event of ML Kit has no field for a recurrence or an alarm. From memory: the camera of an iPhone offers
    to add an event, and no reader is known to take more than one from one code. So the review comes first, and no
    later event has a field that such a reader looks for and the first lacks: a phone that takes one event takes one
    that is whole and right, not one dose out of many. Words beside the code must not promise more; the file is what
    holds the whole course.

    Args and errors are those of `calendar_file`.
    """
    calendar = _empty_calendar(course, review, _PRODUCT_IN_CODE)
    if review is not None:
        calendar.add_component(_review_event(leaflet_id, review, visit_date, words))
    for index, start in enumerate(_first_doses(course, numbers), 1):
        event = _event(leaflet_id, f"{index}", visit_date, words.dose)
        assert course is not None, "it has doses"
        event.add("dtstart", start)
        event.add("rrule", {"FREQ": "DAILY", "COUNT": course.days})
        alarm = Alarm()
        alarm.add("action", "AUDIO")
        alarm.add("trigger", datetime.timedelta(0))
        event.add_component(alarm)
        calendar.add_component(event)
    return _written(calendar).decode().replace("\r\n ", "")


def _empty_calendar(course: Course | None, review: datetime.date | None, product: str) -> Calendar:
    if course is None and review is None:
        raise ValueError("there is nothing to enter into a calendar")
    calendar = Calendar()
    calendar.add("version", "2.0")
    calendar.add("prodid", product)
    return calendar


def _first_doses(course: Course | None, numbers: Numbers) -> list[datetime.datetime]:
    """Return the doses of the first day, without a zone."""
    if course is None:
        return []
    hours = dose_hours(course.times_a_day, numbers)
    return [datetime.datetime.combine(course.start, datetime.time(hour)) for hour in hours]


def _event(leaflet_id: str, entry: str, visit_date: datetime.date, summary: str) -> Event:
    event = Event()
    event.add("uid", f"{leaflet_id}-{entry}")
    event.add("dtstamp", datetime.datetime.combine(visit_date, datetime.time(), datetime.UTC))
    event.add("summary", summary)
    return event


def _review_event(leaflet_id: str, review: datetime.date, visit_date: datetime.date, words: CalendarWords) -> Event:
    event = _event(leaflet_id, "r", visit_date, words.review)
    event.add("dtstart", review)
    return event


def _keep_private(event: Event) -> None:
    event.add("class", "PRIVATE")
    event.add("transp", "TRANSPARENT")


def _written(calendar: Calendar) -> bytes:
    written: bytes = calendar.to_ical(sorted=False)
    return written
