"""Running text into units (sentences, list items) and units into words, for any script.

A unit ends at a newline and at a sentence's stop. A full stop in a decimal, a time, an initial or an abbreviation is
no sentence's stop; where that is in doubt the unit goes on, so that a text is never taken to be easier than it is.
Colons, semicolons and dashes do not end a unit.
"""

import re
import unicodedata
from collections.abc import Iterator
from functools import cache
from typing import Literal, NamedTuple

from leaflets.readability.abbreviations import ABBREVIATIONS, NO_ABBREVIATIONS, Abbreviations
from leaflets.readability.combining_marks import COMBINING_MARKS

WordKind = Literal["word", "figure", "symbol", "address"]


class Span(NamedTuple):
    """A piece of a text: `source[start:end] == text`."""

    text: str
    start: int
    end: int


class Word(NamedTuple):
    """What counts as one word.

    Attributes:
        text: as it is written.
        start: its place in the unit, in characters from 0.
        kind: "word" (letters, with hyphens and apostrophes, dotted abbreviations among them), "figure" (begins with a
            digit: a number, time, date, number with its unit), "symbol" (one that is read aloud, as & or %), or
            "address" (a web or mail address).

    """

    text: str
    start: int
    kind: WordKind


# Scripts without spaces: each character counts as a word, as word processors count. Common practice, no source.
_ALONE = "\u3041-\u3096\u30a1-\u30fa\u3400-\u4dbf\u4e00-\u9fff\uf900-\ufaff"
_INVISIBLE_IN_WORDS = "\u00ad\u200c\u200d\u2060"
_FRACTIONS = "\u00bc-\u00be\u2150-\u215f"

_NUMBER = rf"(?:\d+(?:[.,:/\u2013\u2212\-]\d+)*[{_FRACTIONS}]?|[{_FRACTIONS}])"
_SYMBOL = "[&+=%‰£$€\u00d7÷±≤≥≈°@]"
# The bounds keep the time in proportion to the length for any text.
_WEB_ADDRESS = r"(?:[hH][tT]{2}[pP][sS]?://|[wW]{3}\.)\S*[^\s.,;:!?)\]'\"\u2019\u201d]"
_TOP_LEVEL = "(?:com|org|net|uk|info|eu|ie|gov|edu|int|health|wales|scot|example)"
_BARE_ADDRESS = rf"(?:\w[\w-]{{0,62}}\.){{1,4}}{_TOP_LEVEL}\b(?:/[\w/.~%?=&#-]*[\w/])?"
_MAIL_ADDRESS = r"\w[\w.+-]{0,63}@\w[\w-]{0,62}(?:\.\w[\w-]{0,62}){1,4}"

_ENDS_AS_ADDRESS = re.compile(rf"\.{_TOP_LEVEL}\b")
# Neither a combining mark nor a script without spaces: below the first mark, and from the general punctuation to below
# the marks for symbols.
_PLAIN = re.compile("[\x00-\u02ff\u2000-\u20cf]*")


# Patterns are made on first use: together they take more time than a leaflet.
@cache
def _address_pattern() -> re.Pattern[str]:
    return re.compile(f"{_WEB_ADDRESS}|{_MAIL_ADDRESS}|{_BARE_ADDRESS}")


@cache
def _word_pattern(*, plain: bool) -> re.Pattern[str]:
    """Return the pattern for plain text, or the one for any text: its large classes take ten times as long to make."""
    alone, combining = ("", "") if plain else (_ALONE, COMBINING_MARKS)
    letter, alphanumeric = rf"[^\W\d_{alone}{_FRACTIONS}]", rf"[^\W_{alone}]"
    run = rf"{alphanumeric}+(?:[{combining}{_INVISIBLE_IN_WORDS}]+{alphanumeric}*)*"
    joined_runs = rf"(?:['\u2019\uff07\-\u2010\u2011\u00b7\u05be]{run})*"
    dotted = rf"(?:{letter}\.)+{letter}(?!\w)|[A-Z]&[A-Z](?!\w)"
    figure = rf"[£$€+±]?{_NUMBER}[%‰°]?(?:{run})?{joined_runs}"
    word = rf"{dotted}|{run}{joined_runs}" + (f"|[{alone}]" if alone else "")
    return re.compile(rf"(?P<figure>{figure})|(?P<word>{word})|(?P<symbol>{_SYMBOL})")


def _may_have_address(text: str) -> bool:
    if "." in text and ("www." in text.lower() or _ENDS_AS_ADDRESS.search(text)):
        return True
    return "@" in text or "://" in text


def words(text: str) -> tuple[Word, ...]:
    """Return the words of a unit, in order.

    One word each: a hyphenated or contracted word, a figure with its sign or unit written without a space, a web or
    mail address, a symbol that is read aloud. A dash, bullet or bracket is no word.

    >>> [word.text for word in words("Don't use 2.5 ml of it, e.g. at 8.30am \u2013 see www.example.org/ear.")]
    ["Don't", 'use', '2.5', 'ml', 'of', 'it', 'e.g', 'at', '8.30am', 'see', 'www.example.org/ear']

    """
    if not _may_have_address(text):
        return tuple(_words_between(text, 0, len(text)))
    found: list[Word] = []
    start = 0
    for address in _address_pattern().finditer(text):
        found += _words_between(text, start, address.start())
        found.append(Word(address.group(), address.start(), "address"))
        start = address.end()
    found += _words_between(text, start, len(text))
    return tuple(found)


def _words_between(text: str, start: int, end: int) -> list[Word]:
    pattern = _word_pattern(plain=_PLAIN.fullmatch(text) is not None)
    return [
        Word(match.group(), match.start(), match.lastgroup)  # type: ignore[arg-type]  # the groups are the kinds
        for match in pattern.finditer(text, start, end)
    ]


_LINE = re.compile("[^\n\r\v\f\x1c-\x1e\x85\u2028\u2029]+")
_LIST_MARKER = re.compile(
    r"\s*(?:[-\u2013\u2014*\u2022\u2023\u25aa\u25e6\u00b7\u25cf\u25cb\u25a0\u25a1\u2610\u2713\u2714\u2192]+"
    r"|\(?\d{1,2}[.)]|\(?[a-z][.)])\s+(?=\S)"
)
# Stops that need no space after them: CJK, Arabic and Urdu, danda, Armenian, Ethiopic, Khmer, Burmese.
_STOPS_WITHOUT_SPACE = "\u3002\uff01\uff1f\uff61\u061f\u06d4\u0964\u0965\u0589\u1362\u1367\u17d4\u104b"
_CLOSERS = "\"'\u2019\u201d\u00bb\u203a)\\]\u300d\u300f\uff09"
_STOP = re.compile(rf"[.!?\u2026]+[{_CLOSERS}]*(?=\s|\Z)|[{_STOPS_WITHOUT_SPACE}]+[{_CLOSERS}]*")
_NEXT_WORD = re.compile(r"[\W_]{0,40}([^\W_][\w'\u2019]{0,40})")
_HAS_WORD = re.compile(r"[^\W_]")
_DOTTED_LETTERS = re.compile(r"(?:[^\W\d_]\.)+[^\W\d_]")
_LONGEST_ABBREVIATION = 24


def split_units(text: str, language: str = "en") -> tuple[Span, ...]:
    r"""Split running text into its sentences and list items, without list markers and surrounding space.

    A piece without a letter or digit is no unit. `language` is a BCP 47 tag ("en-GB" and "en_GB" are the same); it
    chooses the abbreviations alone.

    >>> [unit.text for unit in split_units("Use 2.5 ml at 8.30 a.m. Dr. J. Smith will call.\n- Rest\n- Sip water")]
    ['Use 2.5 ml at 8.30 a.m.', 'Dr. J. Smith will call.', 'Rest', 'Sip water']

    """
    abbreviations = ABBREVIATIONS.get(base_language(language), NO_ABBREVIATIONS)
    return tuple(span for line in _LINE.finditer(text) for span in _line_units(text, line, abbreviations))


def base_language(language: str) -> str:
    """Return the language of a BCP 47 tag without script and region.

    >>> base_language("en_GB"), base_language("zh-Hant-TW")
    ('en', 'zh')

    """
    return language.strip().replace("_", "-").partition("-")[0].lower()


def _line_units(text: str, line: re.Match[str], abbreviations: Abbreviations) -> Iterator[Span]:
    start, end = line.span()
    if marker := _LIST_MARKER.match(text, start, end):
        start = marker.end()
    for stop in _STOP.finditer(text, start, end):
        if _ends_unit(text, start, end, stop, abbreviations):
            yield from _trimmed(text, start, stop.end())
            start = stop.end()
    yield from _trimmed(text, start, end)


def _trimmed(text: str, start: int, end: int) -> Iterator[Span]:
    piece = text[start:end]
    if _HAS_WORD.search(piece):
        first = start + len(piece) - len(piece.lstrip())
        piece = piece.strip()
        yield Span(piece, first, first + len(piece))


def _ends_unit(text: str, start: int, end: int, stop: re.Match[str], abbreviations: Abbreviations) -> bool:
    mark = stop.group()
    if mark[0] in _STOPS_WITHOUT_SPACE or stop.end() == end:
        return True
    following = _NEXT_WORD.match(text, stop.end(), end)
    if following is None:
        return True
    opener = following[1]
    if opener[0].islower():
        return False
    if mark[0] != "." or mark.startswith(".."):
        return True
    pieces = text[max(start, stop.start() - _LONGEST_ABBREVIATION) : stop.start()].split()
    before = unicodedata.normalize("NFC", pieces[-1].lstrip("([\"'\u201c\u2018")) if pieces else ""
    return _full_stop_ends_unit(before, opener.replace("\u2019", "'"), abbreviations)


def _full_stop_ends_unit(before: str, opener: str, abbreviations: Abbreviations) -> bool:
    """Judge a single full stop between what stands before it and the next word, which begins with no small letter."""
    small_before, small_opener = before.casefold(), opener.casefold()
    a_figure_follows = opener[0].isdigit()
    if small_before in abbreviations.always_within:
        return False
    if small_before in abbreviations.before_a_figure and a_figure_follows:
        return False
    if small_before in abbreviations.may_end:
        return small_opener not in abbreviations.never_openers
    is_initial = len(before) == 1 and before.isalpha() and not before.islower() and before != "I"
    if is_initial or _DOTTED_LETTERS.fullmatch(before):
        return a_figure_follows or small_opener in abbreviations.openers
    return True
