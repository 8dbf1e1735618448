"""A course of drops in a phone's calendar.

What is written by icalendar is read by vobject, which shares no code with it, and by icalendar; recurrences are
expanded by dateutil. Days are counted by hand. Hours: morning 8, midday 12, afternoon 16, bedtime 20 (common practice,
no source).
"""

import datetime
import os
import re
import subprocess
import sys
import zoneinfo
from collections.abc import Callable, Iterator
from itertools import pairwise
from typing import Any

import icalendar
import pytest
import vobject
from dateutil.rrule import rrulestr
from hypothesis import given, settings
from hypothesis import strategies as st

from leaflets.calendar_entry import CalendarWords, calendar_file, calendar_for_code, dose_hours
from leaflets.content import Content
from leaflets.model import Course
from leaflets.rules.numbers import Numbers
from leaflets.vocabulary import EarName

Doses = list[datetime.datetime]

LEAFLET_ID = "L-0A1B2-C3D4E"
VISIT_DATE = datetime.date(2026, 11, 25)
REVIEW = datetime.date(2026, 12, 9)
WORDS = CalendarWords("Put in your ear drops", "Ear check")
HOURS = {1: (20,), 2: (8, 20), 3: (8, 16, 20), 4: (8, 12, 16, 20)}

# Invented words, of no clinical value: what is tried is their letters, joined, with vowel signs and over many lines.
SCRIPTS = {
    "ar": "ضع قطرات الأذن اليُمنى، ثمّ استلقِ على جنبك: " * 5 + "شكرًا",
    "ur": "کان کے قطرے ڈالیں، پھر کروٹ لے کر لیٹے رہیں؛ " * 5 + "شکریہ",
    "bn": "কানের ড্রপ দিন, তারপর কাত হয়ে শুয়ে থাকুন; " * 5 + "ধন্যবাদ",
    "beyond the basic plane": "🙂 drops " * 20 + "end",
}


def a_course(
    start: datetime.date = datetime.date(2026, 11, 26),
    days: int = 5,
    times_a_day: int = 3,
    ears: tuple[EarName, ...] = ("left", "right"),
    soak_minutes: int = 5,
) -> Course:
    return Course("olive-oil", ears, 3, times_a_day, days, start, soak_minutes, 200)


@pytest.fixture(scope="session")
def numbers(content: Content) -> Numbers:
    return content.rule_book.numbers


@pytest.fixture(scope="session")
def in_file(numbers: Numbers) -> Callable[..., str]:
    def written(course: Course | None, review: datetime.date | None = REVIEW, words: CalendarWords = WORDS) -> str:
        return calendar_file(course, review, numbers, words, leaflet_id=LEAFLET_ID, visit_date=VISIT_DATE).decode()

    return written


@pytest.fixture(scope="session")
def in_code(numbers: Numbers) -> Callable[..., str]:
    def written(course: Course | None, review: datetime.date | None = REVIEW, words: CalendarWords = WORDS) -> str:
        return calendar_for_code(course, review, numbers, words, leaflet_id=LEAFLET_ID, visit_date=VISIT_DATE)

    return written


@pytest.fixture(params=["file", "code"])
def written(request: pytest.FixtureRequest, in_file: Callable[..., str], in_code: Callable[..., str]) -> Any:
    """Both forms, one after the other."""
    return in_file if request.param == "file" else in_code


def events(text: str) -> list[Any]:
    """Return the events as vobject reads them, once it has found nothing wrong."""
    calendar = vobject.readOne(text)
    calendar.validate(raiseException=True)
    return list(calendar.vevent_list)


def doses_by_vobject(text: str) -> Doses:
    return sorted(one for event in events(text) if hasattr(event, "rrule") for one in event.getrruleset())


def doses_by_icalendar(text: str) -> Doses:
    found: Doses = []
    for event in icalendar.Calendar.from_ical(text).walk("VEVENT"):
        if "RRULE" in event:
            found += rrulestr(event["RRULE"].to_ical().decode(), dtstart=event["DTSTART"].dt)
    return sorted(found)


def unfolded(text: str) -> list[str]:
    """Return the lines as RFC 5545 section 3.1 has them: a line's end and a blank are nothing."""
    return re.sub("\r\n[ \t]", "", text).split("\r\n")[:-1]


def reviews(text: str) -> list[Any]:
    return [event.dtstart.value for event in events(text) if not hasattr(event, "rrule")]


def at(hours: tuple[int, ...], *days: tuple[int, int, int]) -> Doses:
    return [datetime.datetime(*day, hour) for day in days for hour in hours]  # noqa: DTZ001 - times float


COUNTED_BY_HAND = [
    pytest.param(
        a_course(days=5, times_a_day=3),
        at((8, 16, 20), (2026, 11, 26), (2026, 11, 27), (2026, 11, 28), (2026, 11, 29), (2026, 11, 30)),
        id="five days, three times: fifteen doses",
    ),
    pytest.param(
        a_course(datetime.date(2027, 1, 30), 3, 2),
        at((8, 20), (2027, 1, 30), (2027, 1, 31), (2027, 2, 1)),
        id="over the end of January",
    ),
    pytest.param(
        a_course(datetime.date(2027, 4, 29), 3, 1),
        at((20,), (2027, 4, 29), (2027, 4, 30), (2027, 5, 1)),
        id="over the end of April",
    ),
    pytest.param(
        a_course(datetime.date(2028, 2, 27), 4, 4),
        at((8, 12, 16, 20), (2028, 2, 27), (2028, 2, 28), (2028, 2, 29), (2028, 3, 1)),
        id="over a leap day",
    ),
    pytest.param(
        a_course(datetime.date(2027, 2, 27), 3, 1),
        at((20,), (2027, 2, 27), (2027, 2, 28), (2027, 3, 1)),
        id="over the end of February in another year",
    ),
    pytest.param(
        a_course(datetime.date(2026, 12, 30), 4, 2),
        at((8, 20), (2026, 12, 30), (2026, 12, 31), (2027, 1, 1), (2027, 1, 2)),
        id="over the end of the year",
    ),
    # Clocks in Great Britain go forward on the last Sunday of March and back on that of October, in the United States
    # on the second Sunday of March and the first of November.
    pytest.param(
        a_course(datetime.date(2027, 3, 27), 3, 2),
        at((8, 20), (2027, 3, 27), (2027, 3, 28), (2027, 3, 29)),
        id="clocks go forward in Great Britain",
    ),
    pytest.param(
        a_course(datetime.date(2027, 10, 30), 3, 2),
        at((8, 20), (2027, 10, 30), (2027, 10, 31), (2027, 11, 1)),
        id="clocks go back in Great Britain",
    ),
    pytest.param(
        a_course(datetime.date(2027, 3, 13), 3, 2),
        at((8, 20), (2027, 3, 13), (2027, 3, 14), (2027, 3, 15)),
        id="clocks go forward in the United States",
    ),
]


@pytest.mark.parametrize(("course", "expected"), COUNTED_BY_HAND)
def test_every_dose_is_on_its_day_at_its_hour(written: Callable[..., str], course: Course, expected: Doses) -> None:
    assert doses_by_vobject(written(course)) == expected
    assert doses_by_icalendar(written(course)) == expected


@pytest.mark.parametrize("times_a_day", HOURS)
@pytest.mark.parametrize("days", range(2, 15))
def test_there_are_as_many_doses_as_the_course_has(in_file: Callable[..., str], days: int, times_a_day: int) -> None:
    course = a_course(days=days, times_a_day=times_a_day)
    doses = doses_by_vobject(in_file(course))
    # Three drops for each of two ears, each time.
    assert len(doses) == len(set(doses)) == days * times_a_day
    assert course.total_drops == len(doses) * 6
    assert [dose.hour for dose in doses] == list(HOURS[times_a_day]) * days
    assert len(events(in_file(course))) == times_a_day + 1


def test_times_float(written: Callable[..., str]) -> None:
    lines = unfolded(written(a_course()))
    assert not [line for line in lines if "TZID" in line or "VTIMEZONE" in line]
    # The time stamp alone is in universal time, as RFC 5545 section 3.8.7.2 demands.
    assert {line for line in lines if line.endswith("Z") and line[-2].isdigit()} == {"DTSTAMP:20261125T000000Z"}
    assert [line for line in lines if line.startswith("DTSTART")] != []
    assert all(dose.tzinfo is None for dose in doses_by_vobject(written(a_course())))


def test_no_hour_is_left_out_or_repeated_when_clocks_change(numbers: Numbers) -> None:
    """In no zone of the world is a dose lost or told twice. Source of the changes: the IANA database, 2026 to 2030."""
    times = [numbers[number_id] for number_id in numbers if number_id.startswith("reminder.")]
    assert len(times) == 4
    can_be_set = {hour for time in times for hour in range(int(time.minimum), int(time.maximum) + 1)}
    found: dict[int, set[str]] = {hour: set() for hour in range(24)}
    for name in zoneinfo.available_timezones():
        zone = zoneinfo.ZoneInfo(name)
        for day in _days_of_change(zone):
            for hour in range(24):
                time = datetime.datetime.combine(day, datetime.time(hour), zone)
                if time.utcoffset() != time.replace(fold=1).utcoffset():
                    found[hour].add(name)
    assert len(found[1] | found[2]) > 100, "most clocks change in the small hours"
    assert not [hour for hour in range(6, 21) if found[hour]]
    # On Easter Island clocks change at ten in the evening, where a clinic may have set bedtime at nine or ten.
    easter_island = {"Chile/EasterIsland", "Pacific/Easter"}
    assert {hour: found[hour] for hour in can_be_set if found[hour]} == {21: easter_island, 22: easter_island}


def _days_of_change(zone: zoneinfo.ZoneInfo) -> Iterator[datetime.date]:
    day, end = datetime.date(2026, 1, 1), datetime.date(2030, 12, 31)
    offset = datetime.datetime.combine(day, datetime.time(), zone).utcoffset()
    while day < end:
        following = day + datetime.timedelta(days=1)
        later = datetime.datetime.combine(following, datetime.time(), zone).utcoffset()
        if later != offset:
            # Midnight itself may be left out or repeated: the days on both sides are looked at.
            yield from (day - datetime.timedelta(days=1), day, following)
        day, offset = following, later


def test_each_dose_rings_when_it_is_due(written: Callable[..., str]) -> None:
    doses = [event for event in events(written(a_course(times_a_day=4))) if hasattr(event, "rrule")]
    assert len(doses) == 4
    for event in doses:
        (alarm,) = event.valarm_list
        assert alarm.trigger.value == datetime.timedelta(0)


def test_the_alarm_of_the_file_shows_what_to_do(in_file: Callable[..., str]) -> None:
    alarms = [event.valarm for event in events(in_file(a_course(), review=None))]
    assert [(alarm.action.value, alarm.description.value) for alarm in alarms] == [("DISPLAY", WORDS.dose)] * 3


@pytest.mark.parametrize(
    ("ears", "minutes"),
    # Five minutes with the treated ear up, one ear after the other.
    [(("left",), 5), (("left", "right"), 10)],
)
def test_a_dose_takes_as_long_as_the_ears_soak(
    in_file: Callable[..., str], ears: tuple[EarName, ...], minutes: int
) -> None:
    event = events(in_file(a_course(ears=ears)))[0]
    assert event.dtend.value - event.dtstart.value == datetime.timedelta(minutes=minutes)


def test_the_review_takes_its_whole_day_and_does_not_ring(written: Callable[..., str]) -> None:
    (event,) = [one for one in events(written(a_course())) if one.summary.value == WORDS.review]
    assert event.dtstart.value == datetime.date(2026, 12, 9)
    assert not isinstance(event.dtstart.value, datetime.datetime)
    assert "DTSTART;VALUE=DATE:20261209" in unfolded(written(a_course()))
    assert not hasattr(event, "valarm")
    assert not hasattr(event, "rrule")


def test_a_course_without_review_and_a_review_without_course(written: Callable[..., str]) -> None:
    assert reviews(written(a_course(), review=None)) == []
    assert len(doses_by_vobject(written(a_course(), review=None))) == 15
    assert reviews(written(None)) == [REVIEW]
    assert doses_by_vobject(written(None)) == []


def test_nothing_to_enter_is_an_error(written: Callable[..., str]) -> None:
    with pytest.raises(ValueError, match="nothing to enter"):
        written(None, review=None)


def test_what_rfc_5545_demands_is_there_once(written: Callable[..., str]) -> None:
    """Source: RFC 5545 sections 3.6, 3.6.1 and 3.6.6."""
    text = written(a_course(times_a_day=4))
    lines = unfolded(text)
    assert lines[0] == "BEGIN:VCALENDAR"
    assert lines[-1] == "END:VCALENDAR"
    assert lines.count("VERSION:2.0") == sum(line.startswith("PRODID:") for line in lines) == 1
    inside = re.findall(r"BEGIN:VEVENT\r\n(.*?)END:VEVENT", "\r\n".join(lines), re.DOTALL)
    assert len(inside) == 5
    for event in inside:
        without_alarm = re.sub(r"BEGIN:VALARM.*END:VALARM", "", event, flags=re.DOTALL)
        names = [re.split("[:;]", line)[0] for line in without_alarm.split("\r\n") if line]
        assert {"UID", "DTSTAMP", "DTSTART", "SUMMARY"} <= set(names)
        assert len(names) == len(set(names))
    for alarm in re.findall(r"BEGIN:VALARM\r\n(.*?)END:VALARM", text, re.DOTALL):
        assert "ACTION:" in alarm
        assert "TRIGGER:" in alarm
        # An alarm that is shown needs words, one that sounds does not.
        assert ("DESCRIPTION:" in alarm) == ("ACTION:DISPLAY" in alarm)


def test_nothing_personal_is_written(in_file: Callable[..., str], in_code: Callable[..., str]) -> None:
    in_both = {
        "BEGIN",
        "END",
        "VERSION",
        "PRODID",
        "UID",
        "DTSTAMP",
        "SUMMARY",
        "DTSTART",
        "RRULE",
        "ACTION",
        "TRIGGER",
    }
    for text, more in (
        (in_file(a_course()), {"DTEND", "CLASS", "TRANSP", "DESCRIPTION"}),
        (in_code(a_course()), set()),
    ):
        lines = unfolded(text)
        assert {re.split("[:;]", line)[0] for line in lines} == in_both | more
        said = {line.partition(":")[2] for line in lines if line.startswith(("SUMMARY", "DESCRIPTION"))}
        assert said == {WORDS.dose, WORDS.review}
        # Neither what the drops are, nor which ear they are for.
        assert not re.search("olive|oil|left|right", text, re.IGNORECASE)
    assert {event.__getattr__("class").value for event in events(in_file(a_course()))} == {"PRIVATE"}


def test_the_entries_are_told_apart_and_are_the_same_in_file_and_code(
    in_file: Callable[..., str], in_code: Callable[..., str]
) -> None:
    ids = [event.uid.value for event in events(in_file(a_course()))]
    assert len(ids) == len(set(ids)) == 4
    assert all(LEAFLET_ID in one for one in ids)
    assert sorted(ids) == sorted(event.uid.value for event in events(in_code(a_course())))


def test_the_same_leaflet_gives_the_same_bytes_in_another_process_and_another_zone(in_file: Callable[..., str]) -> None:
    code = """if True:
        import datetime
        from leaflets.calendar_entry import CalendarWords, calendar_file
        from leaflets.content import load_content
        from leaflets.model import Course
        course = Course("olive-oil", ("left", "right"), 3, 3, 5, datetime.date(2026, 11, 26), 5, 200)
        words = CalendarWords("Put in your ear drops", "Ear check")
        written = calendar_file(
            course, datetime.date(2026, 12, 9), load_content().rule_book.numbers, words,
            leaflet_id="L-0A1B2-C3D4E", visit_date=datetime.date(2026, 11, 25),
        )
        print(written.hex())
    """
    environment = {**os.environ, "PYTHONHASHSEED": "3", "TZ": "Asia/Tokyo", "LC_ALL": "C"}
    told = subprocess.run([sys.executable, "-c", code], env=environment, capture_output=True, text=True, check=True)
    assert bytes.fromhex(told.stdout).decode() == in_file(a_course()) == in_file(a_course())


def test_another_leaflet_has_other_entries(numbers: Numbers) -> None:
    other = calendar_file(a_course(), REVIEW, numbers, WORDS, leaflet_id="L-99999-00000", visit_date=VISIT_DATE)
    assert LEAFLET_ID.encode() not in other


@pytest.mark.parametrize("script", SCRIPTS)
def test_long_words_are_folded_between_characters(in_file: Callable[..., str], script: str) -> None:
    words = CalendarWords(SCRIPTS[script], SCRIPTS[script][::2])
    written = in_file(a_course(), words=words).encode()
    lines = written.split(b"\r\n")
    assert lines.pop() == b""
    assert b"\n" not in b"".join(lines)
    assert b"\r" not in b"".join(lines)
    assert sum(line.startswith(b" ") for line in lines) > 10
    for line in lines:
        assert len(line) <= 75, "octets, without the line's end: RFC 5545 section 3.1"
        line.decode()  # an error, were a character cut
    read = events(written.decode())
    assert [event.summary.value for event in read] == [words.dose] * 3 + [words.review]
    assert [event.valarm.description.value for event in read[:3]] == [words.dose] * 3


@pytest.mark.parametrize("script", SCRIPTS)
def test_a_code_holds_long_words_in_one_line(in_code: Callable[..., str], script: str) -> None:
    text = in_code(a_course(), words=CalendarWords(SCRIPTS[script], "a"))
    assert "\r\n " not in text
    assert {event.summary.value for event in events(text)} == {SCRIPTS[script], "a"}


def test_signs_that_mean_something_to_a_calendar_are_read_as_written(written: Callable[..., str]) -> None:
    said = 'Drops: left, then right; both. A\\B "C" 100% END:VEVENT'
    text = written(a_course(), words=CalendarWords(said, said[::-1]))
    assert {event.summary.value for event in events(text)} == {said, said[::-1]}
    assert {str(one["SUMMARY"]) for one in icalendar.Calendar.from_ical(text).walk("VEVENT")} == {said, said[::-1]}


@pytest.mark.parametrize("bad", ["", "  ", "two\nlines", "two\r\nlines", "a\x00b", "a\tb", "a\x7fb", "a\x85b"])
def test_words_that_are_no_line_are_refused(bad: str) -> None:
    with pytest.raises(ValueError, match="entry"):
        CalendarWords(bad, "a")
    with pytest.raises(ValueError, match="entry"):
        CalendarWords("a", bad)


def test_a_reader_that_takes_one_event_takes_the_whole_review(in_code: Callable[..., str]) -> None:
    """Some readers take the first of each field in the text, whichever event it is in: see `calendar_for_code`."""
    lines = unfolded(in_code(a_course()))
    fields = ("SUMMARY", "DTSTART", "DTEND", "DURATION", "DESCRIPTION", "LOCATION")
    first = {name: next((line for line in lines if re.split("[:;]", line)[0] == name), None) for name in fields}
    assert first == {
        "SUMMARY": "SUMMARY:Ear check",
        "DTSTART": "DTSTART;VALUE=DATE:20261209",
        **dict.fromkeys(fields[2:]),
    }


def test_a_code_is_shorter_than_the_file(in_file: Callable[..., str], in_code: Callable[..., str]) -> None:
    for times_a_day in HOURS:
        course = a_course(times_a_day=times_a_day)
        assert len(in_code(course)) < 0.8 * len(in_file(course))


def test_a_clinic_sets_the_hours(numbers: Numbers) -> None:
    set_by_clinic = numbers.with_settings({"reminder": {"morning-hour": 7, "bedtime-hour": 22}})
    assert dose_hours(4, set_by_clinic) == (7, 12, 16, 22)
    written = calendar_file(a_course(), None, set_by_clinic, WORDS, leaflet_id=LEAFLET_ID, visit_date=VISIT_DATE)
    assert {dose.hour for dose in doses_by_vobject(written.decode())} == {7, 16, 22}
    assert numbers.setting_faults({"reminder.morning-hour": 5})
    assert not numbers.setting_faults({"reminder.morning-hour": 6})


def test_no_setting_makes_the_times_of_a_day_cross(numbers: Numbers) -> None:
    times = [numbers[f"reminder.{name}-hour"] for name in ("morning", "midday", "afternoon", "bedtime")]
    assert all(earlier.maximum < later.minimum for earlier, later in pairwise(times))


@pytest.mark.parametrize("times_a_day", HOURS)
def test_the_hours_of_a_day(numbers: Numbers, times_a_day: int) -> None:
    assert dose_hours(times_a_day, numbers) == HOURS[times_a_day]


@pytest.mark.parametrize("times_a_day", [0, 5, -1])
def test_no_times_of_day_are_guessed(numbers: Numbers, times_a_day: int) -> None:
    with pytest.raises(ValueError, match="no times of day"):
        dose_hours(times_a_day, numbers)


_WORDS = st.text(
    st.characters(codec="utf-8", categories=["L", "M", "N", "P", "S", "Zs"]), min_size=1, max_size=60
).filter(str.strip)


@settings(max_examples=40, deadline=None)
@given(
    start=st.dates(datetime.date(2026, 1, 1), datetime.date(2036, 12, 31)),
    days=st.integers(1, 14),
    times_a_day=st.integers(1, 4),
    ears=st.sampled_from([("left",), ("right",), ("left", "right")]),
    until_review=st.none() | st.integers(1, 60),
    words=st.builds(CalendarWords, _WORDS, _WORDS),
)
def test_any_course_is_read_as_it_is(
    in_file: Callable[..., str],
    in_code: Callable[..., str],
    start: datetime.date,
    days: int,
    times_a_day: int,
    ears: tuple[EarName, ...],
    until_review: int | None,
    words: CalendarWords,
) -> None:
    course = a_course(start, days, times_a_day, ears)
    review = None if until_review is None else course.end + datetime.timedelta(days=until_review)
    expected = [
        datetime.datetime.combine(start + datetime.timedelta(days=day), datetime.time(hour))
        for day in range(days)
        for hour in HOURS[times_a_day]
    ]
    for written in (in_file, in_code):
        text = written(course, review, words)
        assert doses_by_vobject(text) == doses_by_icalendar(text) == expected
        assert reviews(text) == ([] if review is None else [review])
        said = [event.summary.value for event in events(text)]
        assert sorted(said) == sorted([words.dose] * times_a_day + ([] if review is None else [words.review]))
