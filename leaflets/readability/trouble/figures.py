"""The numbers of a unit, each once: a date, a phone number, "1 in 10" and a plain number are one number each."""

import re
from collections.abc import Iterator
from functools import cache
from typing import Literal, NamedTuple

from leaflets.readability.trouble.reading import ENGLISH, ReadUnit

FigureKind = Literal["phone", "date", "share", "number"]


class Figure(NamedTuple):
    """One number of a unit.

    Attributes:
        kind: "share" is "x in y"; "number" has its decimals in it, but not its unit or per cent sign.
        start: in characters of the unit.
        end: as `start`.
        of: the y of "x in y", at least 2; None: no share.

    """

    kind: FigureKind
    start: int
    end: int
    of: int | None = None


NUMBER_WORDS = {
    word: value
    for value, word in enumerate(
        (
            "one",
            "two",
            "three",
            "four",
            "five",
            "six",
            "seven",
            "eight",
            "nine",
            "ten",
            "eleven",
            "twelve",
            "thirteen",
            "fourteen",
            "fifteen",
            "sixteen",
            "seventeen",
            "eighteen",
            "nineteen",
            "twenty",
        ),
        start=1,
    )
} | {"thirty": 30, "forty": 40, "fifty": 50, "hundred": 100, "thousand": 1000, "million": 1_000_000}

_MONTH = (
    r"(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?"
    r"|nov(?:ember)?|dec(?:ember)?)"
)
_YEAR = r"(?:19|20)\d\d"
# Phone numbers have 7 digits or more, in groups; fewer may be amounts side by side.
_PHONE = r"(?<!\w)(?=(?:\D{0,2}\d){7})\+?[(\uff08]?\+?\d{2,6}[)\uff09]?(?:[ \u00a0.\-\u2011]?\d{2,6}){1,6}(?!\w)"
_NUMERIC_DATE = r"(?<!\w)(?:\d{1,2}(?P<mark>[./-])\d{1,2}(?P=mark)(?:\d\d){1,2}|\d{4}-\d{1,2}-\d{1,2})(?!\d)"
_CJK_DATE = r"(?:\d{2,4}\s?\u5e74\s?)?\d{1,2}\s?\u6708\s?\d{1,2}\s?\u65e5"
# A day, one or two words, and a year: a date in most languages ("26 de noviembre de 2026", "26. November 2026").
_DAY_FIRST_DATE = (
    r"(?<!\w)\d{1,2}(?:st|nd|rd|th|er|\.|\u00ba|\u00aa)?\s+(?:de\s+|of\s+)?[^\W\d_][^\s\d]{2,}"
    rf"\s+(?:de\s+)?{_YEAR}(?!\w)"
)
_MONTH_FIRST_DATE = rf"(?<!\w){_MONTH}\.?\s+\d{{1,2}}(?:st|nd|rd|th)?(?:,?\s+{_YEAR})?(?!\w)"
_DATE_WITHOUT_YEAR = rf"(?<!\w)\d{{1,2}}(?:st|nd|rd|th)?\s+(?:of\s+)?{_MONTH}(?!\w)"
_WORDS = "|".join(sorted(NUMBER_WORDS, key=len, reverse=True))
_NUMBER = r"(?<![\w/\u2010\u2011])\d+(?:[.,\u00a0\u202f:/]\d+)*"
_SHARE = (
    rf"(?<!\w)(?:\d[\d,]*|{_WORDS})\s+(?:in|out\s+of)\s+(?:every\s+|about\s+)?(?P<of>\d[\d,]*|{_WORDS})(?![\w%:\u00b0])"
    r"(?!\s*(?:ml|mg|g|hours?|minutes?|seconds?|days?|weeks?|months?|years?|times|am|pm|per\s*cent|%|\u00b0))"
)
_DIGIT = re.compile(r"\d")
# "One" is mostly no number ("one at a time", "if one gets stuck").
_COUNTED_WORDS = frozenset(NUMBER_WORDS) - {"one"}


@cache
def _pattern(language: str) -> re.Pattern[str]:
    in_english = language == ENGLISH
    counted = rf"(?<![\w-])(?:{'|'.join(sorted(_COUNTED_WORDS, key=len, reverse=True))})(?![\w-])"
    dates = [_NUMERIC_DATE, _DAY_FIRST_DATE, *([_MONTH_FIRST_DATE, _DATE_WITHOUT_YEAR] if in_english else [_CJK_DATE])]
    numbers = [_NUMBER, *([counted] if in_english else [])]
    kinds = {"date": dates, "phone": [_PHONE], **({"share": [_SHARE]} if in_english else {}), "number": numbers}
    return re.compile("|".join(f"(?P<{kind}>{'|'.join(either)})" for kind, either in kinds.items()), re.IGNORECASE)


def figures(unit: ReadUnit, language: str) -> tuple[Figure, ...]:
    """Return the numbers of a unit, in order; those in web and mail addresses are none.

    English has number words ("two", not "one") and "x in y" besides. `language` is a base language.

    >>> from leaflets.readability.trouble.reading import read
    >>> unit = read(["Call 01632 960 123 by 26 November 2026: 1 in 10 need 2.5 ml."], "en").units[0]
    >>> [(figure.kind, unit.text[figure.start : figure.end]) for figure in figures(unit, "en")]
    [('phone', '01632 960 123'), ('date', '26 November 2026'), ('share', '1 in 10'), ('number', '2.5')]

    """
    if not _DIGIT.search(unit.text) and (language != ENGLISH or NUMBER_WORDS.keys().isdisjoint(unit.small)):
        return ()
    return tuple(_figures(_without_addresses(unit), language))


def _without_addresses(unit: ReadUnit) -> str:
    text = unit.text
    for word in unit.words:
        if word.kind == "address":
            text = f"{text[: word.start]}{' ' * len(word.text)}{text[word.start + len(word.text) :]}"
    return text


def _figures(text: str, language: str) -> Iterator[Figure]:
    for found in _pattern(language).finditer(text):
        kind = found.lastgroup if found.lastgroup in {"phone", "date", "number"} else None
        start, end = found.span()
        if kind is not None:
            yield Figure(kind, start, end)  # type: ignore[arg-type]  # the groups are the kinds
        elif found.groupdict().get("share") is not None:
            of = _value(found["of"])
            if of > 1:
                yield Figure("share", start, end, of)
        else:
            yield Figure("date", start, end)


def _value(number: str) -> int:
    small = number.lower()
    return NUMBER_WORDS[small] if small in NUMBER_WORDS else int(number.replace(",", "") or 0)
