"""Dates and measures as the reader's language writes them, from the Unicode CLDR.

The only user of Babel's data on languages, dates and units.
"""

import datetime
from functools import cache

from babel import Locale
from babel.dates import format_date, format_skeleton
from babel.localedata import locale_identifiers
from babel.units import format_unit


def written_date(day: datetime.date, language: str) -> str:
    """Return the weekday, day, month and year in words and figures.

    >>> written_date(datetime.date(2026, 12, 9), "en")
    'Wednesday, 9 December 2026'

    """
    return format_date(day, "full", locale=_locale(language))


def plain_date(day: datetime.date, language: str) -> str:
    """Return the day, month and year, without the weekday.

    >>> plain_date(datetime.date(2026, 12, 9), "en")
    '9 December 2026'

    """
    return format_date(day, "long", locale=_locale(language))


def weekday_and_day(day: datetime.date, language: str) -> str:
    """Return a short form for a strip of days: the weekday, the day and the month.

    >>> weekday_and_day(datetime.date(2026, 12, 9), "en")
    'Wed 9 Dec'

    """
    return format_skeleton("MMMEd", day, locale=_locale(language))


def written_measure(value: float, unit: str, language: str) -> str:
    """Return a value with its unit, `unit` by its CLDR name.

    >>> written_measure(10, "volume-milliliter", "en"), written_measure(38, "temperature-celsius", "en")
    ('10 ml', '38°C')

    """
    return format_unit(value, unit, "short", locale=_locale(language))


@cache
def known_languages() -> frozenset[str]:
    """Return the codes of all languages that the CLDR has data on, without regions and scripts.

    >>> {"en", "ur", "cy"} <= known_languages(), "xx" in known_languages()
    (True, False)

    """
    return frozenset(name.split("_")[0] for name in locale_identifiers())


def _locale(language: str) -> Locale:
    # CLDR's plain "en" writes dates as the United States do; the source of this project is British English.
    return Locale.parse("en_GB" if language == "en" else language, sep="-" if "-" in language else "_")
