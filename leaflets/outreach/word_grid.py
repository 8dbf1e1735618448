"""Placing words in a grid of letters, and filling the rest so that nothing else can be read that matters.

What can be read is judged by the text that stands there, in all eight directions, whatever directions words may run in:
a child reads backwards too, and sees LL where two cells hold L.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from leaflets.outreach.grid import Cell
from leaflets.outreach.letters import Alphabet, without_marks
from leaflets.outreach.seeded import Draws

Step = tuple[int, int]
"""Columns to the right and rows down, from one letter to the next; each -1, 0 or 1."""

_AXES: tuple[Step, ...] = ((1, 0), (0, 1), (1, 1), (1, -1))


@dataclass(frozen=True)
class Wanted:
    """What a grid must hold, and what it must not.

    Attributes:
        columns, rows: the size of the grid.
        words: the letters of each word.
        unwanted: texts without marks that must not be read anywhere.
        steps: the directions that words run in.
        alphabet: the letters to fill with, besides those of the words.

    """

    columns: int
    rows: int
    words: tuple[tuple[str, ...], ...]
    unwanted: tuple[str, ...]
    steps: tuple[Step, ...]
    alphabet: Alphabet


@dataclass(frozen=True)
class Filled:
    """A grid that holds each word once: the letter of every cell, and the cells of each word, in the words' order."""

    letters: Mapping[Cell, str]
    places: tuple[tuple[Cell, ...], ...]


def fill_grid(wanted: Wanted, draws: Draws) -> Filled | None:
    """Place the words and fill the rest, once. None: this time the words or the letters found no place."""
    letters: dict[Cell, str] = {}
    places: dict[int, tuple[Cell, ...]] = {}
    longest_first = sorted(range(len(wanted.words)), key=lambda number: -len(wanted.words[number]))
    for number in longest_first:
        options = list(_options(wanted, wanted.words[number], letters, places))
        if not options:
            return None
        places[number] = draws.one_of(options)
        letters.update(zip(places[number], wanted.words[number], strict=True))
    grid = _Grid(wanted, letters, tuple(places[number] for number in range(len(wanted.words))))
    if any(grid.is_spoilt_at(cell) for cell in sorted(letters)) or not grid.fill(draws):
        return None
    return Filled(letters, grid.places)


def _options(
    wanted: Wanted, word: Sequence[str], letters: Mapping[Cell, str], places: Mapping[int, tuple[Cell, ...]]
) -> Iterator[tuple[Cell, ...]]:
    """Yield where a word can go, row by row: it may cross each word that is there in one letter that both have."""
    for row in range(wanted.rows):
        for column in range(wanted.columns):
            for right, down in wanted.steps:
                cells = tuple(Cell(column + right * at, row + down * at) for at in range(len(word)))
                inside = 0 <= cells[-1].column < wanted.columns and 0 <= cells[-1].row < wanted.rows
                if (
                    inside
                    and all(letters.get(cell, letter) == letter for cell, letter in zip(cells, word, strict=True))
                    and all(len(set(cells).intersection(there)) <= 1 for there in places.values())
                ):
                    yield cells


class _Grid:
    """A grid that is being filled."""

    def __init__(self, wanted: Wanted, letters: dict[Cell, str], places: tuple[tuple[Cell, ...], ...]) -> None:
        self._wanted = wanted
        self._letters = letters
        self.places = places
        self._texts = tuple("".join(word) for word in wanted.words)

    def fill(self, draws: Draws) -> bool:
        """Fill every empty cell. False: a cell took no letter.

        Each letter of the language is as likely as each letter of each word: a fill of rare letters alone would show
        where the words are.
        """
        pool = [*self._wanted.alphabet.letters, *(letter for word in self._wanted.words for letter in word)]
        for row in range(self._wanted.rows):
            for column in range(self._wanted.columns):
                cell = Cell(column, row)
                if cell not in self._letters and not self._fill_cell(cell, pool, draws):
                    return False
        return True

    def _fill_cell(self, cell: Cell, pool: Sequence[str], draws: Draws) -> bool:
        left = list(pool)
        while left:
            letter = draws.one_of(left)
            self._letters[cell] = letter
            if not self.is_spoilt_at(cell):
                return True
            left = [other for other in left if other != letter]
        del self._letters[cell]
        return False

    def is_spoilt_at(self, cell: Cell) -> bool:
        """Return whether a line through a cell holds an unwanted text, or a word where it was not placed."""
        for right, down in _AXES:
            back = self._run(cell, (-right, -down))
            line = (*reversed(back), cell, *self._run(cell, (right, down)))
            for cells in (line, line[::-1]):
                text = "".join(self._letters[one] for one in cells)
                plain = without_marks(text, self._wanted.alphabet)
                if any(unwanted in plain for unwanted in self._wanted.unwanted):
                    return True
                if any(
                    word in text and any(set(found) != set(place) for found in self._found(word, text, cells))
                    for word, place in zip(self._texts, self.places, strict=True)
                ):
                    return True
        return False

    def _run(self, cell: Cell, step: Step) -> list[Cell]:
        """Return the filled cells from a cell on, without it, up to the first empty one."""
        cells: list[Cell] = []
        nearest = Cell(cell.column + step[0], cell.row + step[1])
        while nearest in self._letters:
            cells.append(nearest)
            nearest = Cell(nearest.column + step[0], nearest.row + step[1])
        return cells

    def _found(self, word: str, text: str, cells: Sequence[Cell]) -> Iterator[Sequence[Cell]]:
        """Yield the cells of each place in a line's text where a word is read in whole cells."""
        starts = [0]
        for cell in cells:
            starts.append(starts[-1] + len(self._letters[cell]))
        at = text.find(word)
        while at >= 0:
            if at in starts and at + len(word) in starts:
                yield cells[starts.index(at) : starts.index(at + len(word))]
            at = text.find(word, at + 1)
