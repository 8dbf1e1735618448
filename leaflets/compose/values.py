"""What templates see: the outcome of the visit as typed values, and the few functions that print them safely."""

import datetime
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup, escape

from leaflets import cldr
from leaflets.catalogue import SOURCE_LANGUAGE, Catalogue, MessageRecorder
from leaflets.compose.reflow import reflowed
from leaflets.compose.words import LEAFLET_LAYOUT
from leaflets.formats import FORMATS, HelpPlace
from leaflets.model import Calendar, Course, EarsName, Leaflet
from leaflets.readability.segment import base_language
from leaflets.rules.countries import Country
from leaflets.rules.numbers import Numbers
from leaflets.rules.sources import Source
from leaflets.translation_checks import Glossary
from leaflets.visit import Visit
from leaflets.vocabulary import EarName

_STRONG = re.compile(r"&lt;strong&gt;((?:(?!&lt;/?strong&gt;).)*)&lt;/strong&gt;", re.DOTALL)
_VALUE = re.compile(r"%%|%\((\w+)\)s")
_LEFT_TO_RIGHT_RUN = re.compile(r"([+(]?[A-Za-z0-9](?:[A-Za-z0-9 +().:/@_-]*[A-Za-z0-9)])?)")
_RIGHT_TO_LEFT_CLASSES = frozenset({"R", "AL"})


@dataclass(frozen=True)
class ClinicDetails:
    """What a leaflet prints of the clinic. `hours` is one line of text for each element.

    `country`: where it is, ISO 3166. `invented`: this is the example clinic, and every page must say so.
    `accent`: its colour as it is printed, `#rrggbb`. `accent_chosen`: as the clinic chose it.
    `lines_language`: the language of hours and out_of_hours, BCP 47.
    """

    name: str
    accent: str
    accent_chosen: str
    country: str
    phone: str
    hours: tuple[str, ...]
    out_of_hours: str
    address: tuple[str, ...]
    logo_url: str | None
    invented: bool
    lines_language: str


@dataclass(frozen=True)
class Situation:
    """Everything that the words of one leaflet depend on.

    Attributes:
        catalogue: of the leaflet's language. None: it is the source language.
        glossary: of that language. None: it has none.
        signed_off: hashes of the messages that somebody approved.
        issue_drafts: whether the clinic prints words that nobody approved, marked.
        allow_gaps: whether a message that is not translated, in a block that is no safety block, is printed as a marked
            gap instead of stopping the leaflet.
        clinic_language: of the people who hand the leaflet over, BCP 47.
        clinic_catalogue: of that language. None: it is the source language.
        layout: the template of the whole page, by its path below `templates/`.
        topic: of a prevention leaflet, made without a visit. None: it is none.
        for_school: whether it goes home from a school: no clinic is named, and "us" is nobody.
        help_place: where the get-help panel stands.

    """

    visit: Visit
    language: str
    reader: str
    format: str
    course: Course | None
    calendar: Calendar
    clinic: ClinicDetails
    country: Country
    numbers: Numbers
    sources: tuple[Source, ...]
    signs: tuple[str, ...]
    block_ids: frozenset[str]
    content_version: str
    catalogue: Catalogue | None = None
    glossary: Glossary | None = None
    signed_off: frozenset[str] = frozenset()
    issue_drafts: bool = True
    allow_gaps: bool = False
    clinic_language: str = SOURCE_LANGUAGE
    clinic_catalogue: Catalogue | None = None
    help_place: HelpPlace = "after-today"
    layout: str = LEAFLET_LAYOUT
    topic: str | None = None
    for_school: bool = False
    calendar_code: str | None = None
    childs_page: Leaflet | None = None

    @property
    def direction(self) -> str:
        """The direction of the leaflet's writing, as HTML says it."""
        return "rtl" if cldr.is_right_to_left(self.language) else "ltr"


def ears_name(ears: tuple[EarName, ...]) -> EarsName | None:
    """Return one word for the ears; None: no ear is named.

    >>> ears_name(("left", "right"))
    'both'

    """
    if len(ears) == 2:
        return "both"
    return ears[0] if ears else None


def template_values(situation: Situation, recorder: MessageRecorder) -> dict[str, Any]:
    """Return the values that are the same for every block of a leaflet."""
    visit, numbers = situation.visit, situation.numbers
    age = visit.person.age_years
    child_up_to = numbers.whole("age.child-up-to")
    small_child_up_to = numbers.whole("age.pull-down-up-to")

    def number(number_id: str) -> int | float:
        return numbers[number_id].value

    def date(day: datetime.date) -> Markup:
        return _unbroken("date", cldr.written_date(day, situation.language))

    def measure(value: float, unit: str) -> Markup:
        return _unbroken("measure", cldr.written_measure(value, unit, situation.language))

    return {
        "visit": visit,
        "person": visit.person,
        "left": visit.left,
        "right": visit.right,
        "child": None if age is None else age <= child_up_to,
        "small_child": age is not None and age <= small_child_up_to,
        "course": situation.course,
        "agent": situation.course.agent if situation.course else None,
        "calendar": situation.calendar,
        "review": situation.calendar.review,
        "dry_until": max(situation.calendar.dry_until.values(), default=None),
        "infection_dry_until": situation.calendar.infection_dry_until,
        "hear_by": situation.calendar.hear_by,
        "referral": visit.plan.referral or "none",
        "clinic": situation.clinic,
        "country": situation.country,
        "signs": situation.signs,
        "topic": situation.topic,
        "for_school": situation.for_school,
        "reader": situation.reader,
        "language": situation.language,
        "format": situation.format,
        "page_number": Markup('<span class="page-number"></span>'),
        "page_count": Markup('<span class="page-count"></span>'),
        "direction": situation.direction,
        "help_first": situation.help_place in ("first", "page-2-first", "over-pages"),
        "help_place": situation.help_place,
        "help_page": Markup('<span class="help-page"></span>'),
        "clinic_language": situation.clinic_language,
        "cited": lambda names: _in_source_language("; ".join(names), situation.language),
        "clinic_line": lambda line: _clinic_line(line, situation),
        "in_rows": lambda markup: _in_rows(markup, situation.format),
        "isolate": lambda value: isolated(value, situation.language),
        "content_version": situation.content_version,
        "number": number,
        "date": date,
        "review_day": lambda day: _unbroken("review-day", cldr.plain_date(day, situation.language)),
        "short_date": lambda day: _unbroken("date", cldr.weekday_and_day(day, situation.language)),
        "temperature": lambda degrees: measure(degrees, "temperature-celsius"),
        "millilitres": lambda volume: measure(volume, "volume-milliliter"),
        "phone": lambda digits: _unbroken("phone", digits),
        "code": code,
        "gives": lambda block_id: block_id in situation.block_ids,
        "calendar_code": situation.calendar_code,
        "N_": lambda message: message,
        **message_functions(recorder, "layout"),
    }


def block_values(
    block_id: str, ears: tuple[EarName, ...], situation: Situation, recorder: MessageRecorder
) -> dict[str, Any]:
    """Return the values that differ from block to block."""
    name = ears_name(ears)
    dated = situation.calendar.dry_until
    treated = situation.course.ears if situation.course else ()
    functions = message_functions(recorder, block_id)

    def by_ear(left: str, right: str, both: str) -> Markup:
        if name is None:
            raise ValueError(f"{block_id} varies by ear, but its rule is about the person")
        chosen: Markup = functions["gettext"]({"left": left, "right": right, "both": both}[name])
        return chosen

    return {
        "ears": name,
        "drawn_side": "left" if name == "left" else "right",
        "dated_ears": ears_name(tuple(ear for ear in ears if ear in dated)),
        "undated_ears": ears_name(tuple(ear for ear in ears if ear not in dated)),
        "on_drops": bool(ears) and all(ear in treated for ear in ears),
        "by_ear": by_ear,
        **functions,
    }


def message_functions(recorder: MessageRecorder, block_id: str) -> dict[str, Any]:
    """Return the functions by which a template asks for words; every value put into them is escaped."""

    def gettext(message: str, **values: object) -> Markup:
        return _filled(recorder.message(message, block_id), values, recorder.language)

    def ngettext(singular: str, plural: str, num: float, **values: object) -> Markup:
        message = recorder.counted_message(singular, plural, num, block_id)
        return _filled(message, {"num": num, **values}, recorder.language)

    return {"gettext": gettext, "ngettext": ngettext, "_": gettext}


def _filled(message: str, values: Mapping[str, object], language: str) -> Markup:
    """Put values into a message. The message is text: of markup it may hold only pairs of `strong`.

    What cannot be filled in stays in sight in a translation: a check stops it, at its own line. In the source language
    it is an error of the template.
    """

    def value(found: re.Match[str]) -> str:
        name = found[1]
        if name is None:
            return "%"
        return str(escape(isolated(values[name], language))) if name in values or is_source else found[0]

    is_source = language == SOURCE_LANGUAGE
    if is_source and "%" in _VALUE.sub("", message):
        raise ValueError("a % that is no value has to be written %%")
    text = _STRONG.sub(r"<strong>\1</strong>", str(escape(message)))
    return Markup(_VALUE.sub(value, text))  # noqa: S704 - escaped above but for the tags allowed


def code(text: str) -> Markup:
    """Return a reference that people may have to copy, as one run whose figures stay 0 to 9 in every language."""
    return _unbroken("code", text)


def _in_rows(markup: str, format_: str) -> Markup:
    """Return paragraphs of the layout as the format wants them."""
    return Markup(reflowed(markup, "templates/layouts/leaflet.html", FORMATS[format_]))  # noqa: S704 - escaped already


def _unbroken(kind: str, text: str) -> Markup:
    """Return a date, a measure or a phone number as one run of its own direction that never breaks over a line."""
    return Markup('<span class="{}" dir="{}">{}</span>').format(kind, _direction_of(text), text)


def _clinic_line(line: str, situation: Situation) -> object:
    """Return a line of the clinic, marked with its language where that is not the leaflet's."""
    language = situation.clinic.lines_language
    if base_language(language) == base_language(situation.language):
        return Markup('<span class="clinic-line">{}</span>').format(
            _isolated_runs(line) if cldr.is_right_to_left(language) else line
        )
    return Markup('<span lang="{}" dir="{}">{}</span>').format(language, _direction_of(line), line)


def _isolated_runs(text: str) -> Markup:
    """Return a text from right to left whose telephone numbers and Latin words keep their own order.

    A lone whole number needs nothing.
    """
    pieces = _LEFT_TO_RIGHT_RUN.split(text)
    runs = [
        Markup('<span class="own" dir="ltr">{}</span>').format(piece) if place % 2 and not piece.isdigit() else piece
        for place, piece in enumerate(pieces)
    ]
    return Markup().join(runs)


def _in_source_language(text: str, language: str) -> object:
    """Return words that no leaflet translates, such as the names of sources, marked as English in another language."""
    if base_language(language) == SOURCE_LANGUAGE:
        return text
    return Markup('<span lang="{}" dir="ltr">{}</span>').format(SOURCE_LANGUAGE, text)


def isolated(value: object, language: str) -> object:
    """Return words of somebody's own, such as a clinic's name, as one run where a leaflet is written the other way.

    What is markup already, is no text, is a lone whole number or runs the leaflet's own way comes back as it is; but
    words with a figure in them are always marked as somebody's own, so that their figures stay as they are.
    """
    if not isinstance(value, str) or isinstance(value, Markup) or value.isdigit() or not any(map(str.isalnum, value)):
        return value
    direction = _direction_of(value)
    own_way = (direction == "rtl") == cldr.is_right_to_left(language)
    if own_way and not any(map(str.isdigit, value)):
        return value
    return Markup('<span class="own" dir="{}">{}</span>').format(direction, value)


def _direction_of(text: str) -> str:
    """Return the direction of the first letter of a text; of figures alone: from left to right."""
    first = next((unicodedata.bidirectional(one) for one in text if one.isalpha()), "L")
    return "rtl" if first in _RIGHT_TO_LEFT_CLASSES else "ltr"
