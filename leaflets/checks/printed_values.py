"""SAFE06: a date, a telephone number or a figure in print that nobody recorded or worked out.

What: every date in print is one of the visit, its calendar or its course, in the block that it belongs to; every
telephone number is the clinic's or the country's; every figure is one of numbers.toml or of the course; and no two
blocks name different days until which the same ear has to stay dry.
Why: a leaflet that says one day in one place and another in the next is not followed; a wrong number is not answered.
Source: DCB0129 practice of hazard control (conflicting values); AAO-HNSF 2017 (review); WHO, Make Listening Safe, 2015
(volume 60 per cent at most); emergency numbers by country of care, never by language: common practice, no source.
"""

import datetime
import re
from collections.abc import Iterator, Mapping
from xml.etree import ElementTree as ET

from leaflets import cldr
from leaflets.checks.changes import block_added, situation_with
from leaflets.checks.evidence import Evidence, Example
from leaflets.compose.tree import text_of
from leaflets.model import Calendar, ComposedBlock, Finding

CODE = "SAFE06"

REVIEW_BLOCK = "next/review"
COURSE_BLOCK = "drops/course"
INFECTION_BLOCK = "canal/infection"
REFERRAL_BLOCK = "next/referral"
DRY_BLOCKS = ("after/keep-dry", "drops/upkeep", "hair/trimming")
"""Blocks whose only date is the last day to keep an ear dry."""

SOUND_BLOCK = "life/loud-sound"
LOUDEST_VOLUME_PERCENT = 60

_CLINICS_OWN_LINES = ("next/contact",)
_NEVER_IN_WORDS = "reminder."
"""The group of numbers that only a calendar holds."""

_FIGURE = re.compile(r"(?<![\w.,])\d+(?:[.,]\d+)?(?!\w)")
_HINT = "print the value through date(), phone() or number(), and correct it where it is recorded"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find printed values that are nobody's."""
    yield from _wrong_phones(evidence)
    yield from _wrong_dates(evidence)
    yield from _dry_days_that_differ(evidence)
    for block in evidence.leaflet.blocks:
        if block.id not in _CLINICS_OWN_LINES:
            for figure in sorted(_figures(evidence, block) - _known_figures(evidence, block)):
                message = f"the figure {figure} is none of numbers.toml, nor of the course"
                yield Finding(CODE, "stop", evidence.place(block.id), message, _HINT)


def _wrong_phones(evidence: Evidence) -> Iterator[Finding]:
    situation = evidence.situation
    known = {situation.clinic.phone, situation.country.emergency, situation.country.advice}
    for place, tree in _trees(evidence):
        for phone in _spans(tree, "phone"):
            if phone not in known:
                message = f"the telephone number {phone} is neither the clinic's nor the country's"
                yield Finding(CODE, "stop", place, message, _HINT)


def _wrong_dates(evidence: Evidence) -> Iterator[Finding]:
    anywhere = _written(_days(evidence), evidence)
    for place, tree in _trees(evidence):
        for date in _spans(tree, "date"):
            if date not in anywhere:
                message = f"the date {date} is none of the visit, its calendar or its course"
                yield Finding(CODE, "stop", place, message, _HINT)
    for block_id, days in _days_of_blocks(evidence).items():
        tree_or_none = evidence.block_tree(block_id)
        right = _written(days, evidence)
        for date in () if tree_or_none is None else _spans(tree_or_none, "date"):
            if date in anywhere and date not in right:
                message = f"the date {date} belongs to something else"
                yield Finding(CODE, "stop", evidence.place(block_id), message, _HINT)


def _days(evidence: Evidence) -> set[datetime.date]:
    """Return every day that a leaflet of this visit may name."""
    days = {evidence.visit.date, *(block.reviewed for block in evidence.leaflet.blocks)}
    return days.union(*_days_of_blocks(evidence).values())


def _days_of_blocks(evidence: Evidence) -> Mapping[str, set[datetime.date]]:
    """Return the days that each block with dates of its own may name."""
    calendar, course = evidence.situation.calendar, evidence.situation.course
    review = _set_of(calendar.review)
    dry = set(calendar.dry_until.values())
    return {
        REVIEW_BLOCK: review,
        INFECTION_BLOCK: _set_of(calendar.infection_dry_until),
        REFERRAL_BLOCK: _set_of(calendar.hear_by),
        COURSE_BLOCK: review | set(course.dates if course else ()),
        **dict.fromkeys(DRY_BLOCKS, dry),
    }


def _set_of(day: datetime.date | None) -> set[datetime.date]:
    return set() if day is None else {day}


def _dry_days_that_differ(evidence: Evidence) -> Iterator[Finding]:
    first_said: dict[str, tuple[str, str]] = {}
    for block_id in DRY_BLOCKS:
        block, tree = evidence.block(block_id), evidence.block_tree(block_id)
        if block is None or tree is None:
            continue
        for date in _spans(tree, "date"):
            for ear in block.ears or evidence.visit.ears_examined:
                other_id, other = first_said.setdefault(ear, (block_id, date))
                if other != date:
                    message = f"the {ear} ear is to stay dry until {date}, and until {other} in {other_id}"
                    hint = "let both blocks name the same day"
                    yield Finding(CODE, "stop", evidence.place(block_id), message, hint)


def _figures(evidence: Evidence, block: ComposedBlock) -> set[str]:
    """Return the figures in a block's words, but for those of dates and telephone numbers."""
    tree = evidence.block_tree(block.id)
    assert tree is not None, "the block is the leaflet's own"
    for span in tree.iter("span"):
        if {"date", "phone"} & set(span.get("class", "").split()):
            span.text = " "
    return set(_FIGURE.findall(re.sub(r"(\d)\s*°", r"\1 °", _spaced_text(tree))))


def _known_figures(evidence: Evidence, block: ComposedBlock) -> set[str]:
    if block.id == SOUND_BLOCK:
        return {str(percent) for percent in range(LOUDEST_VOLUME_PERCENT + 1)} & _figures_of_numbers(evidence)
    course = evidence.situation.course
    doses = (
        {
            course.drops_per_dose,
            course.times_a_day,
            course.days,
            course.total_drops,
            course.bottles,
            course.soak_minutes,
        }
        if course
        else set()
    )
    return _figures_of_numbers(evidence) | {str(dose) for dose in doses}


def _figures_of_numbers(evidence: Evidence) -> set[str]:
    numbers = evidence.situation.numbers.values()
    return {str(number.value) for number in numbers if not number.id.startswith(_NEVER_IN_WORDS)}


def _trees(evidence: Evidence) -> Iterator[tuple[str, ET.Element]]:
    yield evidence.layout_place, evidence.tree_outside_blocks()
    for block in evidence.leaflet.blocks:
        tree = evidence.block_tree(block.id)
        assert tree is not None, "the block is the leaflet's own"
        yield evidence.place(block.id), tree


def _spans(tree: ET.Element, kind: str) -> list[str]:
    return [text_of(span) for span in tree.iter("span") if kind in span.get("class", "").split()]


def _spaced_text(tree: ET.Element) -> str:
    """Return the text with a space between elements, so that figures of two cells do not become one."""
    return " ".join(tree.itertext())


def _written(days: set[datetime.date], evidence: Evidence) -> set[str]:
    language = evidence.leaflet.language
    forms = (cldr.written_date, cldr.weekday_and_day)
    return {re.sub(r"\s+", " ", form(day, language)).strip() for day in days for form in forms}


def _dry_dates(evidence: Evidence, day: datetime.date) -> Evidence:
    return situation_with(evidence, calendar=Calendar({"left": day, "right": day}))


def _upkeep_with(day_text: str) -> Example:
    html = f'<p>Start after <span class="date" dir="ltr">{day_text}</span>.</p>'
    return Example(
        f"oil for upkeep starts after {day_text}",
        lambda evidence: block_added(evidence, "drops/upkeep", ("left",), html),
    )


GOOD = (
    Example("the dates and numbers of a routine visit", lambda evidence: evidence),
    # 25 November 2026, the visit, is a Wednesday; the ears stay dry for two days after microsuction.
    _upkeep_with("Friday, 27 November 2026"),
)
BAD = (
    _upkeep_with("Saturday, 28 November 2026"),
    _upkeep_with("Wednesday, 25 November 2026"),
    Example(
        "the calendar says another day than the leaflet",
        lambda evidence: _dry_dates(evidence, datetime.date(2026, 11, 30)),
    ),
    Example(
        "one ear, two days until which it stays dry",
        lambda evidence: block_added(
            situation_with(
                evidence,
                calendar=Calendar({"left": datetime.date(2026, 11, 27), "right": datetime.date(2026, 11, 30)}),
            ),
            "drops/upkeep",
            ("left",),
            '<p>Start after <span class="date">Monday, 30 November 2026</span>.</p>',
        ),
    ),
    Example(
        "a telephone number of nobody",
        lambda evidence: evidence.with_block_text("next/contact", evidence.situation.clinic.phone, "01632 960 999"),
    ),
    Example(
        "a figure of nobody",
        lambda evidence: evidence.with_block_text("help/urgent", "after 10 minutes", "after 97 minutes"),
    ),
    Example(
        "the hour of a reminder, which no sentence names",
        lambda evidence: evidence.with_block_text("help/urgent", "after 10 minutes", "after 16 minutes"),
    ),
    Example(
        "a volume above the safe one",
        lambda evidence: block_added(evidence, SOUND_BLOCK, (), "<p>Set it to 80 per cent.</p>"),
    ),
)
