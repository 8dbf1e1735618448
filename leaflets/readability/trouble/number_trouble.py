"""READ16: trouble with numbers.

What: a share in per cent without "x in y" beside it; "x in y" with another y than before; a decimal in a dose; more
than two numbers in a unit; a sum left to the reader. A strength ("5% solution") and a setting ("volume at 60%") are no
shares.
Runs in every language; there, only what needs no words is found: a per cent sign with no number but its own, a decimal
before a unit of measure, and more than two numbers. The rest is known in English alone.
Why: about six in ten adults in England find health materials with numbers too hard; a decimal point that is missed is
a dose ten times too high.
Source: PEMAT-P items 6 and 7, CDC Clear Communication Index items 15 to 17; Rowlands 2015 BJGP 65:e379 (61 %).
"""

import re
from collections.abc import Iterator
from functools import cache

from leaflets.readability.trouble.figures import Figure, figures
from leaflets.readability.trouble.reading import ENGLISH, Example, Reading, ReadUnit, Trouble, word_set

CODE = "READ16"
LANGUAGES: frozenset[str] | None = None

MOST_NUMBERS = 2
"""More numbers than this in one unit are too many. Source: the same lists, where no figure is named; our own choice."""

_DOSE_UNITS = (
    r"(?:ml|mg|mcg|\u00b5g|\u03bcg|g|iu|millilit(?:re|er)s?|milligrams?|micrograms?|grams?|units?|drops?|tablets?"
    r"|capsules?|puffs?|sprays?|doses?|spoons?|teaspoons?|spoonfuls?|\u043c\u043b|\u043c\u0433|\u043c\u043a\u0433)(?!\w)"
)


@cache
def _decimal_dose(language: str) -> re.Pattern[str]:
    # In English a comma parts thousands; elsewhere it is the decimal mark, and a full stop may part thousands.
    decimal = r"\d*\.\d+" if language == ENGLISH else r"(?:0[.,]\d+|\d+[.,]\d{1,2})"
    return re.compile(rf"(?<![\w.,]){decimal}\s?-?{_DOSE_UNITS}", re.IGNORECASE)


@cache
def _per_cent(language: str) -> re.Pattern[str]:
    words = r"|(?<=\d)\s+per\s?cent(?!\w)" if language == ENGLISH else ""
    return re.compile(rf"(?<=[^\W_])\s?[%\uff05\u066a]{words}", re.IGNORECASE)


@cache
def _no_share() -> re.Pattern[str]:
    """Match what stands beside a percentage that is a strength or a setting, and no share of people or things."""
    return re.compile(
        r"\b(?:volume|brightness|battery|charged?|humidity|strength|solution|cream|gel|spray|ointment|lotion|oil|acid"
        r"|alcohol|saline|salt|urea|cotton|oxygen"
        # Names of substances, by their endings.
        r"|\w{3,}(?:ide|one|ate|ine|in|ol))\b",
        re.IGNORECASE,
    )


_STRENGTH_WITHIN_WORDS = 3


@cache
def _sums() -> re.Pattern[str]:
    number = r"(?:\d+|two|three|four|five|six|seven|eight|nine|ten)"
    span = r"(?:days?|weeks?|months?)"
    what = r"(?:your|the|that|this|usual|normal|adult|recommended|label)"
    return re.compile(
        rf"\b(?:half|double|twice|triple|{number}\s+times)\s+(?:of\s+)?{what}\s+(?:\w+\s+)?(?:doses?|amounts?|drops|number)\b"
        r"|\b(?:multiply|divide|subtract|calculate|add\s+up|add\s+together|work\s+out\s+(?:how|the|your))\b"
        r"|\bper\s+(?:kg|kilo|kilogram)\b|\b(?:mg|ml|mcg)\s?/\s?kg\b"
        rf"|\b{number}\s+{span}\s+(?:before\s+(?:your|the)|from\s+(?:today|now)|after\s+(?:today|your\s+(?:visit|operation)))\b",
        re.IGNORECASE,
    )


_IN_EVERY_SUM = word_set(
    "half double twice triple times multiply divide subtract calculate add work kg kilo kilogram before from after"
)


def find(reading: Reading) -> Iterator[Trouble]:
    """Find trouble with numbers."""
    numbers = [figures(unit, reading.language) for unit in reading.units]
    first_of: int | None = None
    for index, unit in enumerate(reading.units):
        if reading.language == ENGLISH:
            yield from sums_left(reading, index, unit)
        found = numbers[index]
        if not found:
            continue
        yield from _percentages(reading, index, unit, numbers)
        yield from _decimals(reading, index, unit)
        for share in found:
            if share.of is not None and first_of is None:
                first_of = share.of
            elif share.of is not None and share.of != first_of:
                words = unit.text[share.start : share.end]
                message = f"\u201c{words}\u201d has another whole than \u201cin {first_of}\u201d before"
                hint = f"say each share as a number in {first_of}, or in one number that fits them all"
                yield reading.trouble(CODE, index, (share.start, share.end), message, hint, 2.4)
        if len(found) > MOST_NUMBERS:
            place = (found[0].start, found[-1].end)
            hint = f"make two sentences of it, or a list: {MOST_NUMBERS} numbers are the most"
            yield reading.trouble(CODE, index, place, f"{len(found)} numbers in one go", hint, 2.1)


def _percentages(reading: Reading, index: int, unit: ReadUnit, numbers: list[tuple[Figure, ...]]) -> Iterator[Trouble]:
    in_english = reading.language == ENGLISH
    for found in _per_cent(reading.language).finditer(unit.text):
        number = next((one for one in reversed(numbers[index]) if one.start < found.start()), None)
        if number is None:
            continue
        if in_english:
            near = numbers[max(0, index - 1) : index + 2]
            said = any(figure.kind == "share" for figures_near in near for figure in figures_near)
            after = " ".join(unit.text[found.end() :].split()[:_STRENGTH_WITHIN_WORDS])
            before = unit.text[: number.start]
            if said or _no_share().search(after) or _no_share().search(before):
                continue
        elif len(numbers[index]) > MOST_NUMBERS:
            continue  # two numbers besides it may be "x in y" in words that are not known here
        place = (number.start, found.end())
        message = f"\u201c{unit.text[slice(*place)]}\u201d is a percentage alone"
        yield reading.trouble(CODE, index, place, message, "say it as \u201cx in y\u201d, such as 1 in 10 people", 2.3)


def _decimals(reading: Reading, index: int, unit: ReadUnit) -> Iterator[Trouble]:
    for found in _decimal_dose(reading.language).finditer(unit.text):
        message = f"\u201c{found[0]}\u201d has a decimal in a dose"
        hint = "give the dose in whole numbers, or in a smaller unit; ask who prescribes it"
        yield reading.trouble(CODE, index, found.span(), message, hint, 3.0)


def sums_left(reading: Reading, index: int, unit: ReadUnit) -> Iterator[Trouble]:
    """Find sums that an English unit, the one at `index`, leaves to the reader."""
    if _IN_EVERY_SUM.isdisjoint(unit.small):
        return
    for found in _sums().finditer(unit.text):
        message = f"\u201c{found[0]}\u201d leaves a sum to the reader"
        yield reading.trouble(CODE, index, found.span(), message, "give the answer: the number or the date", 2.5)


GOOD = (
    Example("two numbers", ("Put 3 drops in 2 times a day.",)),
    Example("two dates", ("Start on Thursday, 26 November 2026 and stop after Saturday, 28 November 2026.",)),
    Example("a phone number is one number", ("Call 01632 960 123 within 2 days.",)),
    Example("per cent beside a share", ("About 1 in 10 people, or 10%, feel dizzy.",)),
    Example("per cent after a share", ("This is 1 in 10 people.", "That is 10 per cent.")),
    Example("a strength", ("Use 5% sodium bicarbonate drops.", "Use a solution of 2%.", "It has 0.5% hydrocortisone.")),
    Example("a setting", ("Set the volume to 60 per cent or less.",)),
    Example("one whole for every share", ("1 in 100 feel sick.", "5 in 100 feel dizzy.")),
    Example("a time is no share", ("It goes in 2 days, at 10 in the morning.",)),
    Example("a temperature is no dose", ("You have a fever of 38.5\u00b0C.",)),
    Example("thousands in German", ("Das sind 1.000 mg.",), "de"),
    Example("a date in Spanish", ("Del 26 de noviembre de 2026 al 28 de noviembre de 2026.",), "es"),
    Example("no sum", ("Do it twice a day.", "Stop after Monday.")),
    Example("an address holds no numbers", ("See www.example.org/1/2/3/4.",)),
)
BAD = (
    Example("per cent alone", ("It helps 40% of people.",)),
    Example("per cent in words", ("It helps 40 per cent of people.",)),
    Example("changing wholes", ("1 in 10 feel sick.", "1 in 100 feel dizzy.")),
    Example("changing wholes in words", ("One in ten feel sick.", "Two out of five feel dizzy.")),
    Example("a decimal in a dose", ("Take 2.5 ml.",)),
    Example("a decimal comma in German", ("Nehmen Sie 2,5 ml.",), "de"),
    Example("three numbers", ("Put 3 drops in 2 times a day for 5 days.",)),
    Example("three numbers, one a word", ("Put two drops in 3 times a day for 5 days.",)),
    Example(
        "three numbers in Arabic digits",
        ("\u0663 \u0642\u0637\u0631\u0627\u062a \u0664 \u0645\u0631\u0627\u062a \u0665 \u0623\u064a\u0627\u0645",),
        "ar",
    ),
    Example("per cent alone in French", ("Cela aide 40 % des patients.",), "fr"),
    Example("a dose to work out", ("Take half the usual dose.",)),
    Example("a day to work out", ("Stop 7 days before your visit.",)),
    Example("a dose by weight", ("Give 10 mg/kg.",)),
)
