"""English words as they are read aloud, for SMOG: figures in words, abbreviations in full.

Source of the counting: McLaughlin 1969: numbers as they are read aloud, abbreviations as the full word, a hyphenated
word is one word, names count. SMOG holds for English alone, so that no other language is read aloud here. A figure is
read as a number, not as a year or digit by digit, so that a text is not said to be easier than it is.
"""

import re
import unicodedata
from collections.abc import Iterator

from leaflets.readability.segment import WordKind
from leaflets.readability.syllables_en import count_syllables, is_abbreviation

_POLYSYLLABLE = 3

_BELOW_TWENTY: tuple[str, ...] = tuple(
    re.findall(
        r"\w+",
        """zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen
        seventeen eighteen nineteen""",
    )
)
_TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_THOUSANDS = ((10**9, "billion"), (10**6, "million"), (10**3, "thousand"))
_LARGEST_READ_WHOLE = 10**12

# What abbreviations stand for. Common practice, no source.
_IN_FULL = {
    "a&e": "accident and emergency",
    "am": "in the morning",
    "approx": "approximately",
    "cm": "centimetres",
    "dr": "doctor",
    "ecg": "electrocardiogram",
    "eg": "for example",
    "ent": "ear nose and throat",
    "etc": "and so on",
    "g": "grams",
    "gp": "general practitioner",
    "gps": "general practitioners",
    "hr": "hour",
    "hrs": "hours",
    "ie": "that is",
    "kg": "kilograms",
    "km": "kilometres",
    "l": "litres",
    "max": "maximum",
    "mcg": "micrograms",
    "mg": "milligrams",
    "min": "minutes",
    "mins": "minutes",
    "ml": "millilitres",
    "mm": "millimetres",
    "mr": "mister",
    "mri": "magnetic resonance imaging",
    "mrs": "missus",
    "ms": "miz",
    "nhs": "national health service",
    "no": "number",
    "oz": "ounces",
    "pm": "in the afternoon",
    "st": "street",
    "tel": "telephone",
    "uk": "united kingdom",
    "vs": "versus",
    "°": "degrees",
    "°c": "degrees celsius",
    "°f": "degrees fahrenheit",
    "%": "percent",
    "‰": "per thousand",
    "&": "and",
    "+": "plus",
    "±": "plus or minus",
    "=": "equals",
    "@": "at",
    "\u00d7": "times",
    "÷": "divided by",
    "≤": "at most",
    "≥": "at least",
    "≈": "about",
    "£": "pounds",
    "$": "dollars",
    "€": "euros",
    "½": "a half",
    "¼": "a quarter",
    "¾": "three quarters",
    "⅓": "one third",
    "⅔": "two thirds",
}
_NOT_AFTER_LETTERS_OF_A_FIGURE = frozenset({"no", "st"})
_SCALES = {"c": "celsius", "f": "fahrenheit"}
_FRACTIONS = "½¼¾⅓⅔"

_PIECE = re.compile(r"\d+(?:,\d{3})+(?!\d)|\d+|[^\W\d_]+|\S")
_ORDINAL = re.compile(r"(\d+)(?:st|nd|rd|th)", re.IGNORECASE)
_TIME = re.compile(r"(\d{1,2})[.:](\d\d)(am|pm)?", re.IGNORECASE)
_MONEY = re.compile(r"([£$€])(.+)")
_IRREGULAR_ORDINALS = {
    "one": "first",
    "two": "second",
    "three": "third",
    "five": "fifth",
    "eight": "eighth",
    "nine": "ninth",
    "twelve": "twelfth",
}


def number_in_words(number: int) -> str:
    """Read a whole number aloud, from 0 to below 10 to the 12th.

    >>> number_in_words(48), number_in_words(1250)
    ('forty-eight', 'one thousand two hundred and fifty')

    """
    if not 0 <= number < _LARGEST_READ_WHOLE:
        raise ValueError(f"{number} is not read as a whole number")
    for size, name in _THOUSANDS:
        if number >= size:
            above, rest = divmod(number, size)
            joined = f"{number_in_words(above)} {name}"
            if not rest:
                return joined
            return f"{joined} {'and ' if rest < 100 else ''}{number_in_words(rest)}"
    if number >= 100:
        above, rest = divmod(number, 100)
        return f"{_BELOW_TWENTY[above]} hundred" + (f" and {number_in_words(rest)}" if rest else "")
    if number < 20:
        return _BELOW_TWENTY[number]
    tens, rest = divmod(number, 10)
    return _TENS[tens - 2] + (f"-{_BELOW_TWENTY[rest]}" if rest else "")


def read_aloud(text: str, kind: WordKind) -> str:
    """Return an English word, figure or symbol in words; what is already words comes back as it is.

    An address is not read out: it comes back as one word.

    >>> read_aloud("38.5°C", "figure"), read_aloud("24-hour", "figure"), read_aloud("e.g", "word")
    ('thirty-eight point five degrees celsius', 'twenty-four-hour', 'for example')

    """
    if kind == "address":
        return "address"
    plain = text.replace("\u2010", "-").replace("\u2011", "-")
    if kind == "figure":
        return _read_figure(plain)
    full = _IN_FULL.get(plain.replace(".", "").lower())
    if full is not None and (kind == "symbol" or is_abbreviation(plain)):
        return full
    return plain


def _read_figure(text: str) -> str:
    if ordinal := _ORDINAL.fullmatch(text):
        return _as_ordinal(_read_digits(ordinal[1]))
    if (time := _TIME.fullmatch(text)) and (time[3] or ":" in text):
        minutes = "" if time[2] == "00" else f" {_read_digits(time[2])}"
        half = f" {_IN_FULL[time[3].lower()]}" if time[3] else ""
        return f"{_read_digits(time[1])}{minutes}{half}"
    if money := _MONEY.fullmatch(text):
        return f"{_read_figure(money[2])} {_IN_FULL[money[1]]}"
    pieces = _PIECE.findall(text)
    spoken = [_read_piece(pieces, index) for index in range(len(pieces))]
    return " ".join("".join(spoken).split())


def _read_piece(pieces: list[str], index: int) -> str:
    piece, before = pieces[index], pieces[index - 1] if index else ""
    after = pieces[index + 1] if index + 1 < len(pieces) else ""
    if piece[0].isdigit():
        is_after_point = before == "." and index > 1
        return _one_by_one(piece) if is_after_point else _read_digits(piece)
    if piece in "-.\u2013\u2212":
        return _read_mark(piece, before, after)
    if before == "-" and piece[0].isalpha():
        return piece
    if before == "°" and piece.lower() in _SCALES:
        return f" {_SCALES[piece.lower()]} "
    if piece in _FRACTIONS and before:
        return f" and {_IN_FULL[piece]} "
    full = None if piece.lower() in _NOT_AFTER_LETTERS_OF_A_FIGURE else _IN_FULL.get(piece.lower())
    return f" {full or (piece if piece.isalpha() else '')} "


def _read_mark(mark: str, before: str, after: str) -> str:
    """Read a full stop, hyphen, dash or minus sign between two pieces of a figure."""
    if mark == ".":
        return " point " if before[-1:].isdigit() and after[:1].isdigit() else " "
    if mark == "-" and after[:1].isalpha():
        return "-"
    return " to " if before and after else " minus " if after else " "


def _as_ordinal(number: str) -> str:
    start, last = number[: number.rfind("-") + 1], number[number.rfind("-") + 1 :]
    words, _, last = last.rpartition(" ")
    ending = _IRREGULAR_ORDINALS.get(last) or (f"{last[:-1]}ieth" if last.endswith("y") else f"{last}th")
    return f"{start}{words}{' ' if words else ''}{ending}"


def _read_digits(digits: str) -> str:
    plain = "".join(str(unicodedata.digit(digit)) for digit in digits if digit.isdigit())
    number = int(plain or "0")
    # A number that starts with 0 is a telephone or code number.
    if (plain.startswith("0") and len(plain) > 1) or number >= _LARGEST_READ_WHOLE:
        return _one_by_one(plain)
    return number_in_words(number)


def _one_by_one(digits: str) -> str:
    return " ".join(_BELOW_TWENTY[unicodedata.digit(digit)] for digit in digits if digit.isdigit())


def _spoken_syllables(text: str, kind: WordKind) -> Iterator[int]:
    for word in read_aloud(text, kind).split():
        yield sum(_syllables_of_part(part) for part in word.split("-") if part)


def _syllables_of_part(part: str) -> int:
    digits = "".join(character for character in part if character.isdigit())
    if digits:
        # "B12", "CO2": the letters are named, the number is read.
        letters = sum(character.isalpha() for character in part)
        return letters + sum(count_syllables(spoken) or 1 for spoken in re.split("[ -]", _read_digits(digits)))
    if part.isupper() and is_abbreviation(part):
        # Its full words are not known: spelt out, a syllable for each letter at least.
        return sum(character.isalpha() for character in part)
    return count_syllables(part) or 1


def spoken_polysyllables(text: str, kind: WordKind) -> int:
    """Count the words of three syllables or more in an English word, figure or symbol as it is read aloud.

    >>> [spoken_polysyllables(text, "figure") for text in ("48", "500mg", "2.5", "24-hour")]
    [1, 1, 0, 1]

    """
    if kind == "word" and text.isalpha() and not text.isupper() and read_aloud(text, kind) == text:
        return int((count_syllables(text) or 1) >= _POLYSYLLABLE)  # the same, sooner
    return sum(syllables >= _POLYSYLLABLE for syllables in _spoken_syllables(text, kind))
