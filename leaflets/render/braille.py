"""The leaflet in braille: a file of braille ASCII (BRF) that an embosser or a braille display takes as it is.

Pages of 25 lines of 40 cells, with a form feed between them; lines end with carriage return and line feed. The number
of the page stands at the end of line 25, which holds nothing else, so that text has 24 lines.

Title and sections are centred, with a blank line before and after and at least three blank cells on either side; what
stands below them is headed from cell 5, with a blank line before. A heading never ends a page: two lines of what it
heads stand below it. Paragraphs begin in cell 3 and go on in cell 1, items of a list begin in cell 1 and go on in
cell 3, without a bullet; a blank line parts the two. Bold is not marked. Source: Braille Authority of North America,
Braille Formats, sections on headings, lists and page numbers (from memory; the figures of headings as brl.org teaches
them to transcribers).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise

from leaflets import cldr
from leaflets.errors import LeafletError
from leaflets.model import Leaflet
from leaflets.render.braille_codes import BLANK, Piece, code_of, in_braille
from leaflets.render.passages import Passage, Run, passages_of

LINE_CELLS = 40
PAGE_LINES = 25

_TEXT_LINES = PAGE_LINES - 1
_CENTRED_CELLS = LINE_CELLS - 6
_LINES_BELOW_A_HEADING = 2
_FIRST_CELL = 0x2800
# The character for each cell, by its number as Unicode counts: dot 1 is 1, dot 2 is 2, dot 3 is 4, and so on.
_BRAILLE_ASCII = " A1B'K2L@CIF/MSP\"E3H9O6R^DJG>NTQ,*5<-U8V.%[$+X!&;:4\\0Z7(_?W]#Y)="


@dataclass(frozen=True)
class _Chunk:
    """Lines that belong together, as Unicode braille patterns.

    `blank_before`, `blank_after`: whether a blank line parts it from what stands there on the same page.
    """

    lines: tuple[str, ...]
    blank_before: bool
    blank_after: bool
    is_heading: bool = False


def braille(leaflet: Leaflet) -> bytes:
    """Return the leaflet in the braille of its language, as a file of braille ASCII.

    Raises:
        LeafletError: liblouis or a table is not installed; there is no braille code for the language here; a character
            is in none of the codes; a word is longer than a line; an element of the leaflet has no form in lines.

    """
    code_of(leaflet.language)
    chunks = _chunks(passages_of(leaflet), leaflet.language)
    pages: list[str] = []
    for number, lines in enumerate(_pages(chunks), 1):
        runs = (Run(str(number), leaflet.language, "ltr"),)
        page_number = in_braille(runs, leaflet.language, "the number of a page").cells
        filled = [*lines, *[""] * (_TEXT_LINES - len(lines)), page_number.rjust(LINE_CELLS, BLANK)]
        pages.append("".join(f"{as_braille_ascii(line.rstrip(BLANK))}\r\n" for line in filled))
    return "\f".join(pages).encode("ascii")


def as_braille_ascii(cells: str) -> str:
    r"""Return cells, as Unicode braille patterns of six dots, in the characters of North American braille ASCII.

    >>> as_braille_ascii("⠼⠉⠃ ⠠⠅".replace(" ", "\u2800"))
    '#CB ,K'

    """
    return "".join(_BRAILLE_ASCII[ord(cell) - _FIRST_CELL] for cell in cells)


def _chunks(passages: Sequence[Passage], language: str) -> Iterator[_Chunk]:
    for kind, same in groupby(passages, key=lambda passage: passage.kind):
        group = list(same)
        for place, passage in enumerate(group):
            lines = tuple(_lines(passage, language))
            match kind:
                case "title" | "section":
                    yield _Chunk(lines, True, True, is_heading=True)
                case "heading":
                    yield _Chunk(lines, True, False, is_heading=True)
                case "item" | "day" | "mark" | "foot":
                    yield _Chunk(lines, place == 0, place == len(group) - 1)
                case "paragraph":
                    yield _Chunk(lines, False, False)


def _lines(passage: Passage, language: str) -> Iterator[str]:
    for is_new_line, same in groupby(_with_signs_of_lists(passage, language), key=lambda run: run.text == "\n"):
        if not is_new_line:
            piece = in_braille(tuple(same), language, passage.place)
            match passage.kind:
                case "title" | "section":
                    for line in _wrapped(piece, 0, 0, _CENTRED_CELLS, passage.place):
                        yield BLANK * ((LINE_CELLS - len(line)) // 2) + line
                case "heading":
                    yield from _wrapped(piece, 4, 4, LINE_CELLS, passage.place)
                case "item" | "day":
                    yield from _wrapped(piece, 0, 2, LINE_CELLS, passage.place)
                case _:
                    yield from _wrapped(piece, 2, 0, LINE_CELLS, passage.place)


def _with_signs_of_lists(passage: Passage, language: str) -> Iterator[Run]:
    """Yield the runs of a passage with the number of an item, or the doses of a day, set off by punctuation."""
    between = "، " if cldr.is_right_to_left(language) else ", "
    if passage.number is not None:
        yield Run(f"{passage.number}. ", language, "ltr")
    yield from passage.runs
    for place, dose in enumerate(passage.doses):
        yield Run(between if place else ": ", language, "ltr")
        yield from dose


def _wrapped(piece: Piece, first_cells: int, further_cells: int, width: int, place: str) -> Iterator[str]:
    """Yield lines of at most `width` cells; `first_cells`, `further_cells`: blank cells that the lines begin with."""
    line = BLANK * first_cells
    is_empty = True
    for word in _words(piece, width - max(first_cells, further_cells)):
        if len(word) > width - max(first_cells, further_cells):
            message = f"has a word of {len(word)} cells, and a line of braille has {LINE_CELLS}"
            raise LeafletError.at(place, message, "shorten it, or part it with a space")
        if not is_empty and len(line) + 1 + len(word) > width:
            yield line
            line, is_empty = BLANK * further_cells, True
        line += word if is_empty else BLANK + word
        is_empty = False
    yield line


def _words(piece: Piece, cells: int) -> Iterator[str]:
    """Yield what stands between the breaks; a date, say, that is longer than `cells`, in its words."""
    for is_break, same in groupby(zip(piece.cells, piece.breaks, strict=True), key=lambda pair: pair[1]):
        if not is_break:
            word = "".join(cell for cell, _ in same)
            yield from word.split(BLANK) if len(word) > cells else [word]


def _pages(chunks: Iterator[_Chunk]) -> Iterator[list[str]]:
    """Yield the lines of each page, the last line, for its number, aside."""
    page: list[str] = []
    blank_due = False
    for group in _with_headings(list(chunks)):
        needed = _lines_needed(group)
        parted = bool(page) and (blank_due or group[0].blank_before)
        if page and len(page) + parted + needed > _TEXT_LINES:
            yield page
            page, parted = [], False
        for place, chunk in enumerate(group):
            if place:
                parted = chunk.blank_before or group[place - 1].blank_after
            for index, line in enumerate(chunk.lines):
                if len(page) + (parted and not index) + 1 > _TEXT_LINES:
                    yield page
                    page = []
                if parted and not index and page:
                    page.append("")
                page.append(line)
        blank_due = group[-1].blank_after
    yield page


def _with_headings(chunks: Sequence[_Chunk]) -> Iterator[list[_Chunk]]:
    """Yield each chunk that is no heading, with the headings that stand before it."""
    group: list[_Chunk] = []
    for chunk in chunks:
        group.append(chunk)
        if not chunk.is_heading:
            yield group
            group = []
    if group:
        yield group


def _lines_needed(group: Sequence[_Chunk]) -> int:
    """Return how many lines of a page its first part needs: headings, blank lines and the start of what they head."""
    *headings, text = group
    started = replace(text, lines=text.lines[:_LINES_BELOW_A_HEADING] if headings else text.lines[:1])
    chunks = [*headings, started]
    blanks = sum(here.blank_after or after.blank_before for here, after in pairwise(chunks))
    return sum(len(chunk.lines) for chunk in chunks) + blanks
