"""The braille code of each language, and print put into it: never a code that a reader of that language does not know.

Codes are those of liblouis, braille of six dots for reading, not for computers. English is contracted, as its readers
are taught (Unified English Braille, grade 2). The others are not: an uncontracted text is read by everybody who reads
braille in that language (common practice, no source). Welsh has a contracted table too, from which liblouis 3.24 gets
79 in 100 words of a leaflet back; from the uncontracted one 99, and from contracted English all.

All stands in the order in which it is read, from left to right, in Arabic and Urdu as well: braille has one direction.
"""

import re
import string
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from leaflets.errors import LeafletError
from leaflets.readability.segment import base_language
from leaflets.render.liblouis import UnwritableError, translate
from leaflets.render.passages import UNBROKEN_SPACE, Run


@dataclass(frozen=True)
class BrailleCode:
    """How a language is written in braille.

    Attributes:
        table: of liblouis, by its file name.
        grade: 2: contracted. 1: not.
        uncontracted: the table for words of another language within a text.
        rules: of liblouis, which its tables lack.

    """

    table: str
    grade: int
    uncontracted: str
    rules: tuple[str, ...] = ()


CODES: Mapping[str, BrailleCode] = MappingProxyType(
    {
        "ar": BrailleCode("ar-ar-g1.utb", 1, "ar-ar-g1.utb"),
        # The danda is dots 256, as in the tables of Panjabi and Hindi; liblouis 3.24 lacks it in Bengali, later ones
        # have it. Source: liblouis issue 933.
        "bn": BrailleCode("be-in-g1.utb", 1, "be-in-g1.utb", (r"punctuation \x0964 256",)),
        # The table puts the sign for a letter before each that stands alone, and so in "yw'r", which is a help only
        # where a letter could be a contraction. Source: liblouis issues 292 and 293, on the same in English.
        "cy": BrailleCode(
            "cy-cy-g1.utb", 1, "cy-cy-g1.utb", (f"noletsign {string.ascii_lowercase}{string.ascii_uppercase}",)
        ),
        "en": BrailleCode("en-ueb-g2.ctb", 2, "en-ueb-g1.ctb"),
        "es": BrailleCode("es-g1.ctb", 1, "es-g1.ctb"),
        "pa": BrailleCode("pu-in-g1.utb", 1, "pu-in-g1.utb"),
        "pl": BrailleCode("Pl-Pl-g1.utb", 1, "Pl-Pl-g1.utb"),
        # The table lacks the colon, which is dots 25 in Persian braille, from which the Pakistani code comes, and in
        # Bharati braille, whose punctuation it shares (UNESCO, World Braille Usage, 2013, as quoted in encyclopaedias).
        # The others are signs that it has under other characters: angled quotation marks, the Urdu full stop.
        "ur": BrailleCode(
            "ur-pk-g1.utb",
            1,
            "ur-pk-g1.utb",
            ("punctuation : 25", r"punctuation \x201C 236", r"punctuation \x201D 356", "punctuation . 256"),
        ),
    }
)
"""By base language. Romanian has none: all that liblouis 3.24 has for it is computer braille, of eight dots."""

BLANK = "\N{BRAILLE PATTERN BLANK}"

_LATIN_LETTERS_IN = "en"
_LATIN_RUN = re.compile(
    rf"([+(]?[A-Za-z\u00c0-\u024f0-9](?:[A-Za-z\u00c0-\u024f0-9 {UNBROKEN_SPACE}+().:/@_'\u2019;-]*"
    r"[A-Za-z\u00c0-\u024f0-9)])?)"
)
# Letters with a dot below, which tables know as one character and Unicode's normal forms write as two.
_DOTTED_LETTERS = {
    unicodedata.normalize("NFD", letter): letter
    for letter in map(chr, range(0x0900, 0x0C00))
    if unicodedata.is_normalized("NFC", letter) is False and len(unicodedata.normalize("NFC", letter)) == 2
}
_DOTTED_LETTER = re.compile("|".join(map(re.escape, _DOTTED_LETTERS)))
_JOINERS = "\N{ZERO WIDTH NON-JOINER}\N{ZERO WIDTH JOINER}"


@dataclass(frozen=True)
class Piece:
    """Cells of a text. `breaks`: of each cell, whether a line may break there; such a cell is blank."""

    cells: str
    breaks: tuple[bool, ...]

    def __add__(self, other: "Piece") -> "Piece":
        return Piece(self.cells + other.cells, self.breaks + other.breaks)


NOTHING = Piece("", ())


def code_of(language: str) -> BrailleCode:
    """Return the code of a language, by its BCP 47 tag.

    Raises:
        LeafletError: there is none for it here.

    """
    code = CODES.get(base_language(language))
    if code is None:
        message = f"there is no braille code for reading in the language '{language}'"
        hint = f"choose another format; languages with one: {', '.join(CODES)}"
        raise LeafletError.at("visit [format]", message, hint)
    return code


def in_braille(runs: tuple[Run, ...], language: str, place: str) -> Piece:
    """Return runs of text, without a new line among them, in the code of the leaflet's language.

    Words of another language are written in the same code without contractions, so that the reader need not guess at a
    change of code; letters that this code lacks, in the uncontracted code of their own language.

    Raises:
        LeafletError: liblouis or a table is not installed, or a character is in none of the codes. `place`: where the
            text comes from, for the message.

    """
    code = code_of(language)
    whole = NOTHING
    joined: list[Run] = []
    for run in runs:
        # What a table sees is one text, not its pieces: a contraction depends on what stands beside.
        if joined and joined[-1].language == run.language:
            joined[-1] = Run(joined[-1].text + run.text, run.language, run.direction)
        else:
            joined.append(run)
    for run in joined:
        text = as_tables_know_it(run.text)
        own = base_language(run.language) == base_language(language)
        whole += _own(text, code, place) if own else _foreign(text, code, run.language, place)
    return whole


def as_tables_know_it(text: str) -> str:
    r"""Return a text without what only steers print, isolates, marks of direction and soft hyphens, its letters whole.

    >>> as_tables_know_it("\u2066999\u2069 a\u00adb"), len(as_tables_know_it("\u09af\u09bc"))
    ('999 ab', 1)

    """
    whole = _DOTTED_LETTER.sub(lambda found: _DOTTED_LETTERS[found[0]], unicodedata.normalize("NFC", text))
    return "".join(one for one in whole if unicodedata.category(one) != "Cf" or one in _JOINERS)


def _own(text: str, code: BrailleCode, place: str) -> Piece:
    try:
        return _piece(text, code.table, code)
    except UnwritableError:
        whole = NOTHING
    for index, part in enumerate(_LATIN_RUN.split(text)):
        try:
            whole += _piece(part, code.table, code)
        except UnwritableError as error:
            if not index % 2:
                raise _unwritable(error, code.table, place) from None
            whole += _foreign(part, code, _LATIN_LETTERS_IN, place)
    return whole


def _foreign(text: str, code: BrailleCode, language: str, place: str) -> Piece:
    try:
        return _piece(text, code.uncontracted, code)
    except UnwritableError:
        own = code_of(language)
    try:
        return _piece(text, own.uncontracted, own)
    except UnwritableError as error:
        raise _unwritable(error, own.uncontracted, place) from None


def _piece(text: str, table: str, code: BrailleCode) -> Piece:
    if not text:
        return NOTHING
    written = translate(text.replace(UNBROKEN_SPACE, " "), table, code.rules)
    return Piece(
        written.cells,
        tuple(
            cell == BLANK and text[origin] != UNBROKEN_SPACE
            for cell, origin in zip(written.cells, written.origins, strict=True)
        ),
    )


def _unwritable(error: UnwritableError, table: str, place: str) -> LeafletError:
    return LeafletError.at(place, f"cannot be written in braille: {error} (table {table})", "put it in other words")
