"""The text that a reader of a PDF gets back, where letters join: WeasyPrint 70 leaves it wrong or empty.

WeasyPrint notes for each glyph the letters with which it first drew it. In scripts whose letters join or move, one
glyph serves many words, so that a Bengali or Panjabi word is read out as another, and some glyphs stand for nothing.
Both are put right as the document is written:

- a glyph stands for the letter that the font itself gives it; one that is a part of a shape, for nothing seen;
- a run of text in a script from left to right, other than plain Latin, carries its words beside it (ActualText), which
  readers prefer. A run from right to left does not: readers of PDF would print it reversed.

It rests on two functions of WeasyPrint; a test fails when one of them has changed.
"""

import io
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from typing import Any

import pydyf
from fontTools.ttLib import TTFont
from weasyprint import pdf as weasyprint_pdf
from weasyprint.pdf import fonts as weasyprint_fonts
from weasyprint.pdf.stream import Stream

_NOTHING_SEEN = "\u200b"
_PRESENTATION_FORMS = range(0xFB00, 0xFF00)  # joined letters, kept for old systems: no reader searches for them
_RIGHT_TO_LEFT = frozenset({"R", "AL"})

REPLACED: dict[str, Any] = {
    "weasyprint.pdf.fonts:build_fonts_dictionary": weasyprint_fonts.build_fonts_dictionary,
    "weasyprint.pdf.stream:Stream.marked": Stream.marked,
}
"""WeasyPrint's own functions in whose place ours stand, as they were."""


@cache
def install() -> None:
    """Put both right for every document that this process writes; a second call changes nothing."""
    build = REPLACED["weasyprint.pdf.fonts:build_fonts_dictionary"]

    def build_with_letters(
        pdf: Any,  # noqa: ANN401 - WeasyPrint and pydyf ship no types, here and below
        fonts: dict[Any, Any],
        compress: bool,
        subset: bool,
        options: Any,  # noqa: ANN401
    ) -> Any:  # noqa: ANN401
        for font in fonts.values():
            if not font.bitmap:
                _give_letters(font.to_unicode, letters_of_glyphs(bytes(font.file_content), font.index))
        return build(pdf, fonts, compress, subset, options)

    weasyprint_fonts.build_fonts_dictionary = build_with_letters
    weasyprint_pdf.build_fonts_dictionary = build_with_letters
    Stream.marked = _marked


def _give_letters(to_unicode: dict[int, str], letters: dict[int, str]) -> None:
    for glyph, noted in to_unicode.items():
        to_unicode[glyph] = letters.get(glyph) or noted or _NOTHING_SEEN


@cache
def letters_of_glyphs(font: bytes, index: int) -> dict[int, str]:
    """Return the letters that a font gives each glyph, where it gives any; a joined form has its ordinary ones."""
    with TTFont(io.BytesIO(font), fontNumber=index, lazy=True) as opened:
        names, numbers = opened.getBestCmap(), opened.getReverseGlyphMap()
        letters: dict[int, str] = {}
        for point in sorted(names, key=lambda point: (point in _PRESENTATION_FORMS, point)):
            letter = unicodedata.normalize("NFKC", chr(point)) if point in _PRESENTATION_FORMS else chr(point)
            letters.setdefault(numbers[names[point]], letter)
    return letters


def carries_its_words(text: str | None) -> bool:
    """Whether a run of text needs its words beside it: it has letters from left to right, beyond plain Latin.

    A measure within a text from right to left has none, and readers would turn it round.

    >>> carries_its_words("কান"), carries_its_words("38 °C"), carries_its_words("أذن"), carries_its_words(None)
    (True, False, False, False)

    """
    if not text or not any(letter.isalpha() and not letter.isascii() for letter in text):
        return False
    return not any(unicodedata.bidirectional(letter) in _RIGHT_TO_LEFT for letter in text)


@contextmanager
def _marked(self: Any, box: Any, tag: str) -> Iterator[None]:  # noqa: ANN401
    """Mark what a box paints as WeasyPrint does, with its language, and its words beside it where it needs them."""
    if self._tags is None:
        yield
        return
    content = len(self._tags)
    assert box not in self._tags, "a box is painted once"
    self._tags[box] = {"tag": tag, "mcid": content}
    properties = pydyf.Dictionary({"MCID": content})
    if language := box.style["lang"]:
        properties["Lang"] = pydyf.String(language)
    text = getattr(box, "text", None)
    if carries_its_words(text):
        properties["ActualText"] = pydyf.String(text)
    pydyf.Stream.begin_marked_content(self, tag, properties)
    try:
        yield
    finally:
        pydyf.Stream.end_marked_content(self)
