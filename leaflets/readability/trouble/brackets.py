"""READ15: brackets or a slash.

What: words in round or square brackets, and a slash between words. Free are brackets round a dialling code, slashes in
dates, fractions, units ("km/h") and addresses of pages.
Runs in every language: the marks mean the same in all of them, full-width ones among them.
Why: a reader does not know whether to read what stands in brackets, nor whether a slash means "and" or "or"; a screen
reader speaks them out.
Source: Inclusion Europe's rules for easy text (brackets); slashes: common practice, no source.
"""

import re
from collections.abc import Iterator

from leaflets.readability.trouble.reading import Example, Reading, ReadUnit, Trouble, word_set

CODE = "READ15"
LANGUAGES: frozenset[str] | None = None

_BRACKETS = re.compile(r"[(\[\uff08\u3010][^()\[\]\uff08\uff09\u3010\u3011]*[)\]\uff09\u3011]")
_DIALLING_CODE = re.compile(r"[(\uff08]\+?[\d\s]{1,6}[)\uff09]")
_SLASH = re.compile(r"(?<!\S)\S*[^\W_]\s?/\s?[^\W_]\S*")
_UNITS = word_set("mg ml g kg l km h m s mmhg mmol mcg \u00b5g min cm hr")
_EDGES = " \t\"'\u2018\u2019\u201c\u201d.,;:!?()[]"


def find(reading: Reading) -> Iterator[Trouble]:
    """Find brackets and slashes."""
    for index, unit in enumerate(reading.units):
        text = unit.text
        if "(" in text or "[" in text or "\uff08" in text or "\u3010" in text:
            yield from _brackets(reading, index, text)
        if "/" in text:
            yield from _slashes(reading, index, unit)


def _brackets(reading: Reading, index: int, text: str) -> Iterator[Trouble]:
    for found in _BRACKETS.finditer(text):
        if _DIALLING_CODE.fullmatch(found[0]) or not any(letter.isalnum() for letter in found[0]):
            continue
        if found.start() > 0 and text[found.start() - 1].isalpha() and len(found[0]) <= len("(en)"):
            message, hint = f"\u201c{found[0]}\u201d hangs on a word", "write the one form that fits, or both as words"
        else:
            message = f"\u201c{found[0]}\u201d stands in brackets"
            hint = "make a sentence of it, or leave it out"
        yield reading.trouble(CODE, index, found.span(), message, hint, 1.05)


def _slashes(reading: Reading, index: int, unit: ReadUnit) -> Iterator[Trouble]:
    addresses = [(word.start, word.start + len(word.text)) for word in unit.words if word.kind == "address"]
    for found in _SLASH.finditer(unit.text):
        if any(start < found.end() and found.start() < end for start, end in addresses):
            continue
        words = found[0].strip(_EDGES)
        parts = [part.strip().lower() for part in words.split("/")]
        if all(part[-1:].isdigit() and part[:1].isdigit() for part in parts):
            continue  # a date or a fraction
        if parts[-1] in _UNITS:
            continue
        start = found.start() + found[0].index(words)
        message = f"\u201c{words}\u201d does not say whether it is \u201cand\u201d or \u201cor\u201d"
        yield reading.trouble(CODE, index, (start, start + len(words)), message, "write the word you mean", 1.3)


GOOD = (
    Example("no marks", ("Use oil or salt water.",)),
    Example("a dialling code", ("Call us on (01632) 960 123.",)),
    Example("dates and fractions", ("Come back on 26/11/2026 and use 1/2 a tablet.",)),
    Example("an address", ("See www.example.org/ear/wax for more.",)),
    Example("units", ("The wind may blow at 30 km/h.",)),
)
BAD = (
    Example("round brackets", ("Keep your ear dry (do not swim).",)),
    Example("square brackets", ("Use the drops [see below].",)),
    Example("hanging on a word", ("Keep your ear(s) dry.",)),
    Example("and/or", ("Use oil and/or water.",)),
    Example("a slash with spaces", ("Ask a nurse / doctor.",)),
    Example("in Polish", ("Lewe/prawe ucho (suche).",), "pl"),
    Example(
        "full-width, in Chinese", ("\u4fdd\u6301\u8033\u6735\u5e72\u71e5\uff08\u4e0d\u8981\u6e38\u6cf3\uff09",), "zh"
    ),
)
