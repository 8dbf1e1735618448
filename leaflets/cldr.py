"""Dates, measures, plurals and directions as the reader's language has them, from the Unicode CLDR.

The only user of Babel's data on languages, dates and units.
"""

import datetime
from functools import cache
from types import MappingProxyType

from babel import Locale, UnknownLocaleError
from babel.dates import format_date, format_skeleton
from babel.localedata import locale_identifiers
from babel.plural import PluralRule, to_gettext
from babel.units import format_unit

_PLURAL_FORMS = ("zero", "one", "two", "few", "many", "other")
_LARGEST_COUNTED = 1000
_DIGIT_ZERO = MappingProxyType(  # Unicode 15, the blocks of each script; the names are those of CLDR
    {"arab": 0x0660, "arabext": 0x06F0, "beng": 0x09E6, "deva": 0x0966, "gujr": 0x0AE6, "guru": 0x0A66}
)
_PSEUDO = MappingProxyType({"en-XA": "en-GB", "ar-XB": "ar-EG"})  # languages that nobody speaks, for trying layouts


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
def plural_forms(language: str) -> tuple[str, ...]:
    """Return the plural forms that whole numbers take, by their CLDR names, in the order of the CLDR.

    A form that only a fraction takes, or a number over a thousand, is not among them: no leaflet counts so far.

    >>> plural_forms("pl"), plural_forms("cy")
    (('one', 'few', 'many'), ('zero', 'one', 'two', 'few', 'many', 'other'))

    """
    rule = _locale(language).plural_form
    taken = {rule(number) for number in range(_LARGEST_COUNTED + 1)}
    return tuple(form for form in _PLURAL_FORMS if form in taken)


def plural_form(count: float, language: str) -> int:
    """Return the place in `plural_forms` of the form that a count takes.

    Raises:
        ValueError: a fraction that takes a form of its own.

    >>> [plural_form(count, "pl") for count in (1, 3, 5, 22)]
    [0, 1, 2, 1]

    """
    return plural_forms(language).index(_locale(language).plural_form(count))


def gettext_plural_forms(language: str) -> str:
    """Return the value of the header `Plural-Forms` of a .po file, for `plural_forms`.

    >>> gettext_plural_forms("bn")
    'nplurals=2; plural=((((n == 0)) || ((n == 1))) ? 0 : 1);'

    """
    *chosen, _ = plural_forms(language)
    rules = {form: rule for form, rule in _locale(language).plural_form.rules.items() if form in chosen}
    return to_gettext(PluralRule(rules))


def native_digits(language: str) -> str | None:
    """Return the ten digits of a language's own script, from zero. None: it writes 0 to 9, or another's that we lack.

    >>> native_digits("bn"), native_digits("pl")
    ('০১২৩৪৫৬৭৮৯', None)

    """
    zero = _DIGIT_ZERO.get(_locale(language).other_numbering_systems.get("native", ""))
    return None if zero is None else "".join(chr(zero + digit) for digit in range(10))


def is_right_to_left(language: str) -> bool:
    """Return whether the language is written from right to left.

    >>> is_right_to_left("ur"), is_right_to_left("pa")
    (True, False)

    """
    return _locale(language).text_direction == "rtl"


def own_name(language: str) -> str:
    """Return the language's name in itself.

    >>> own_name("cy"), own_name("en-US")
    ('Cymraeg', 'English (United States)')

    """
    return _locale(language).get_display_name() or language


def name_in(language: str, other: str) -> str:
    """Return the name of a language in another.

    >>> name_in("pl", "en"), name_in("cy", "es")
    ('Polish', 'galés')

    """
    return _locale(language).get_display_name(_locale(other)) or language


def is_known(tag: str) -> bool:
    """Return whether the CLDR has data on a locale, by its BCP 47 tag.

    >>> is_known("pt-BR"), is_known("qq"), is_known("")
    (True, False, False)

    """
    try:
        _locale(tag)
    except (UnknownLocaleError, ValueError):
        return False
    return True


@cache
def known_languages() -> frozenset[str]:
    """Return the codes of all languages that the CLDR has data on, without regions and scripts.

    >>> {"en", "ur", "cy"} <= known_languages(), "xx" in known_languages()
    (True, False)

    """
    return frozenset(name.split("_")[0] for name in locale_identifiers())


def _locale(language: str) -> Locale:
    # CLDR's plain "en" writes dates as the United States do; the source of this project is British English.
    language = _PSEUDO.get(language, language)
    return Locale.parse("en_GB" if language == "en" else language, sep="-" if "-" in language else "_")
