"""TRAN10: marks and spaces.

What: a text that ends its sentence in the source ends it in the translation, and one that does not, does not; brackets
and slashes stand only where the source has them; quotation marks are in pairs and the language's own; no space is too
many.
Why: small slips make a reader doubt what is not a slip.
Source: common practice, no source; the quotation marks are the glossary's, checked against the CLDR in the tests.
"""

import re
from collections.abc import Iterator

from leaflets.readability.segment import base_language
from leaflets.translation_checks.pair import Example, Fault, Pair, plain

CODE = "TRAN10"

_ENDS = ".!?\u061f\u06d4\u0964\u0965"
_SPACE_BEFORE_MARK = re.compile(r"\s[,.;:!?\u060c\u061b\u061f\u06d4\u0964](?!\w)")
_BRACKETS = re.compile(r"[()\[\]{}]")
_QUOTES = re.compile('["\u00ab\u00bb\u2018\u201a\u201c-\u201f\u2039\u203a]')
_SLASH = re.compile(r"\w\s?/\s?\w")


def find(pair: Pair) -> Iterator[Fault]:
    """Find marks that are lost, added or another language's."""
    for form in pair.forms:
        text, source = plain(form.text, "1"), plain(form.widest, "1")
        if not text:
            continue
        if (source[-1] in _ENDS) != (text[-1] in _ENDS):
            yield Fault(
                CODE, "warn", "it ends otherwise than the source", "end a sentence, and no heading, with a stop"
            )
        if text != " ".join(text.split()) or form.text != form.text.strip():
            yield Fault(CODE, "warn", "a space is too many", "put one space between words, none at the ends")
        if _SPACE_BEFORE_MARK.search(text) and not _asks_for_a_space(pair.locale):
            yield Fault(CODE, "warn", "a space stands before a mark", "take the space away")
        if _BRACKETS.search(text) and not _BRACKETS.search(source):
            yield Fault(CODE, "warn", "it has brackets, and the source has none", "say it without brackets")
        if _SLASH.search(text) and not _SLASH.search(source):
            yield Fault(CODE, "warn", "it has a slash, and the source has none", "write the word that fits")
        yield from _quotes(pair, text)


def _quotes(pair: Pair, text: str) -> Iterator[Fault]:
    found = _QUOTES.findall(text)
    if not found or pair.glossary is None:
        return
    opening, closing = pair.glossary.quotes
    if "".join(found) != (opening + closing) * (len(found) // 2):
        yield Fault(CODE, "warn", "its quotation marks are not the language's", f"write {opening}…{closing}")


def _asks_for_a_space(locale: str) -> bool:
    return base_language(locale) == "fr"


GOOD = (
    Example("a sentence", "Keep it dry.", ("Ucho suche.",)),
    Example("a heading", "Dry ears", ("Suche uszy",)),
    Example("a danda ends a sentence", "Keep it dry.", ("কান শুকনো রাখুন।",), locale="bn"),
    Example("quotes of the language", "Say “stop”.", ("Proszę powiedzieć „stop”.",)),
)
BAD = (
    Example("no stop", "Keep it dry.", ("Ucho suche",)),
    Example("a stop too many", "Dry ears", ("Suche uszy.",)),
    Example("two spaces", "Keep it dry.", ("Ucho  suche.",)),
    Example("a space before a mark", "Keep it dry.", ("Ucho suche .",)),
    Example("brackets", "Keep it dry.", ("Ucho (lub uszy) suche.",)),
    Example("a slash", "Ask a nurse.", ("Proszę zapytać pielęgniarkę/pielęgniarza.",)),
    Example("quotes of another language", "Say “stop”.", ("Proszę powiedzieć “stop”.",)),
)
