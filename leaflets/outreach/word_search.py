"""A word search in the letters of the reader's language."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

from leaflets.errors import LeafletError, Problem, did_you_mean
from leaflets.outreach.grid import Cell, size_problems
from leaflets.outreach.letters import Alphabet, alphabet, letters_of, without_marks
from leaflets.outreach.seeded import Draws
from leaflets.outreach.word_grid import Step, Wanted, fill_grid

SMALLEST_SIDE = 2
LARGEST_SIDE = 20
"""Bounds of columns and of rows, in cells: what fits on a sheet in print that a child can read. Our own choice."""

_PLACE = "word search"
_FEWEST_LETTERS = 2
_TRIES = 300


class Direction(StrEnum):
    """How a word runs. No word runs against its script: across is from right to left in Arabic and Urdu."""

    ACROSS = "across"
    DOWN = "down"
    DIAGONAL_DOWN = "diagonal-down"
    DIAGONAL_UP = "diagonal-up"


class AgeBand(StrEnum):
    """The ages of the children, in years, both included."""

    FIVE_TO_SEVEN = "5-7"
    SEVEN_TO_ELEVEN = "7-11"


@dataclass(frozen=True)
class Layout:
    """The size of a word search, in cells, and how its words run."""

    columns: int
    rows: int
    directions: tuple[Direction, ...]


@dataclass(frozen=True)
class PlacedWord:
    """A word in the grid.

    Attributes:
        word: as it was given.
        letters: as they stand in the grid, the first to be read first; for the list of words, join them.
        start: the cell of the first letter.
        direction: how it runs from there.
        cells: those of the letters, in the same order.

    """

    word: str
    letters: tuple[str, ...]
    start: Cell
    direction: Direction
    cells: tuple[Cell, ...]


@dataclass(frozen=True)
class WordSearch:
    """A grid in which each word stands once, and none of them anywhere else in any of the eight directions.

    Attributes:
        language: the tag that was given.
        right_to_left: whether across is from right to left.
        grid: the letters, row by row from the top, in a row from the left *as printed*, in every script. Each letter is
            drawn in a box of its own: set as a line of text, a row in Arabic letters would join and turn round.
        words: in the order given.

    """

    language: str
    right_to_left: bool
    grid: tuple[tuple[str, ...], ...]
    words: tuple[PlacedWord, ...]

    @property
    def columns(self) -> int:
        """The width of the grid, in cells."""
        return len(self.grid[0])

    @property
    def rows(self) -> int:
        """The height of the grid, in cells."""
        return len(self.grid)


_STEPS: Mapping[Direction, Step] = MappingProxyType(
    {
        Direction.ACROSS: (1, 0),
        Direction.DOWN: (0, 1),
        Direction.DIAGONAL_DOWN: (1, 1),
        Direction.DIAGONAL_UP: (1, -1),
    }
)
_STRAIGHT = (Direction.ACROSS, Direction.DOWN)


def layout_for(age: AgeBand | str, language: str) -> Layout:
    """Return the usual size and directions for an age: 8 by 8, across and down; 12 by 12, with diagonals as well.

    Common practice, no source. Arabic and Urdu have no diagonals at any age.

    Raises:
        LeafletError: no such age, or the letters of the language are not known.

    >>> [direction.value for direction in layout_for("5-7", "en").directions]
    ['across', 'down']

    """
    try:
        band = AgeBand(age)
    except ValueError:
        raise LeafletError.at(f"{_PLACE} [age]", f"{age!r} is no age band", did_you_mean(str(age), AgeBand)) from None
    if band is AgeBand.FIVE_TO_SEVEN:
        return Layout(8, 8, _STRAIGHT)
    return Layout(12, 12, _STRAIGHT if alphabet(language).right_to_left else tuple(Direction))


def make_word_search(
    words: Sequence[str],
    language: str,
    columns: int,
    rows: int,
    seed: str | int,
    directions: Iterable[Direction | str],
    unwanted: Sequence[str] = (),
) -> WordSearch:
    """Hide words in a grid of letters; the same arguments give the same grid on every machine.

    Args:
        words: single words of at least two letters, none of them inside another, forwards or backwards.
        language: the BCP 47 tag of their language.
        columns: the width, SMALLEST_SIDE to LARGEST_SIDE cells.
        rows: the height, likewise.
        seed: any text or whole number that is not empty. Two seeds give two grids, but for the tiniest grids.
        directions: how words may run; each is possible, none is sure to be used.
        unwanted: words that must not be read anywhere, in any of the eight directions, with or without the marks on
            Latin letters. Parts of a word count: "ear" forbids EARLY.

    Raises:
        LeafletError: with everything that is wrong with the arguments, or because the words found no place.

    """
    letters = alphabet(language)
    chosen, problems = _directions(directions, letters)
    problems += size_problems(_PLACE, columns, rows, SMALLEST_SIDE, LARGEST_SIDE)
    read, faults = _read(words, "words", letters)
    problems += faults or _clashes(read)
    forbidden, faults = _read(unwanted, "unwanted", letters)
    problems += faults
    texts = tuple(without_marks("".join(word), letters) for word in forbidden.values())
    draws = Draws(_PLACE, seed)
    if not problems:
        problems += _too_long(read, chosen, columns, rows) + _unwanted_inside(read, texts, letters)
    if problems:
        raise LeafletError(problems)
    steps = {direction: _step(direction, letters) for direction in chosen}
    wanted = Wanted(columns, rows, tuple(read.values()), texts, tuple(steps.values()), letters)
    filled = next((grid for grid in (fill_grid(wanted, draws) for _ in range(_TRIES)) if grid), None)
    if filled is None:
        raise LeafletError.at(
            f"{_PLACE} [words]",
            f"{len(read)} words found no place in {columns} by {rows} cells in {_TRIES} tries",
            "take fewer or shorter words, fewer unwanted ones, or a larger grid",
        )
    named = {step: direction for direction, step in steps.items()}
    placed = tuple(
        PlacedWord(words[number], read[number], cells[0], named[_step_between(cells)], cells)
        for number, cells in enumerate(filled.places)
    )
    lines = tuple(tuple(filled.letters[Cell(column, row)] for column in range(columns)) for row in range(rows))
    return WordSearch(language, letters.right_to_left, lines, placed)


def _step(direction: Direction, letters: Alphabet) -> Step:
    right, down = _STEPS[direction]
    return (-right, down) if letters.right_to_left else (right, down)


def _step_between(cells: Sequence[Cell]) -> Step:
    return cells[1].column - cells[0].column, cells[1].row - cells[0].row


def _directions(given: Iterable[Direction | str], letters: Alphabet) -> tuple[list[Direction], list[Problem]]:
    place = f"{_PLACE} [directions]"
    names = [given] if isinstance(given, str) else list(given)
    problems = [
        Problem(place, f"{name!r} is no direction", did_you_mean(str(name), Direction))
        for name in names
        if name not in list(Direction)
    ]
    if not names:
        problems.append(Problem(place, "are none", f"allowed: {', '.join(Direction)}"))
    if letters.right_to_left:
        problems += [
            Problem(place, f"no word in {letters.script} letters runs {name}", f"allowed: {', '.join(_STRAIGHT)}")
            for name in names
            if name in list(Direction) and name not in _STRAIGHT
        ]
    return [direction for direction in Direction if direction in names], problems


def _read(words: Sequence[str], key: str, letters: Alphabet) -> tuple[dict[int, tuple[str, ...]], list[Problem]]:
    """Return the letters of each word by its place in the list, which counts from 0, and what is wrong."""
    if isinstance(words, str):
        return {}, [Problem(f"{_PLACE} [{key}]", "are one text", "give a list of words")]
    read: dict[int, tuple[str, ...]] = {}
    problems: list[Problem] = []
    if key == "words" and not words:
        problems.append(Problem(f"{_PLACE} [{key}]", "are none", "give at least one word"))
    for number, word in enumerate(words):
        place = f"{_PLACE} [{key}.{number}]"
        if not isinstance(word, str) or not word.strip():
            problems.append(Problem(place, "is no word", "write it, or take it out"))
            continue
        try:
            read[number] = letters_of(word, letters)
        except ValueError as error:
            hint = f"write one word in the letters of {letters.language!r}, without spaces, hyphens or figures"
            problems.append(Problem(place, f"{word!r} {error}", hint))
            continue
        if len(read[number]) < _FEWEST_LETTERS:
            problems.append(Problem(place, f"{word!r} is of one letter", f"at least {_FEWEST_LETTERS} letters"))
    return read, problems


def _clashes(read: Mapping[int, tuple[str, ...]]) -> list[Problem]:
    """Return each word that is given twice, or that can be read inside another, forwards or backwards."""
    problems = []
    for number, word in read.items():
        text, backwards = "".join(word), "".join(reversed(word))
        for other, letters in read.items():
            whole = "".join(letters)
            said_later = whole in (text, backwards) and other > number
            if other == number or said_later:
                continue
            if whole == text:
                message, hint = f"{text!r} is also word {other}", "take one of them out"
            elif text in whole or backwards in whole:
                message, hint = f"{text!r} is read inside {whole!r}", "take one of them out: it would be found twice"
            else:
                continue
            problems.append(Problem(f"{_PLACE} [words.{number}]", message, hint))
    return problems


def _too_long(
    read: Mapping[int, tuple[str, ...]], directions: Iterable[Direction], columns: int, rows: int
) -> list[Problem]:
    sides = {Direction.ACROSS: columns, Direction.DOWN: rows}
    longest = max(sides.get(direction, min(columns, rows)) for direction in directions)
    return [
        Problem(
            f"{_PLACE} [words.{number}]",
            f"{''.join(word)!r} has {len(word)} letters, more than the {longest} of the longest line",
            "take a shorter word or a larger grid",
        )
        for number, word in read.items()
        if len(word) > longest
    ]


def _unwanted_inside(read: Mapping[int, tuple[str, ...]], unwanted: Iterable[str], letters: Alphabet) -> list[Problem]:
    problems = []
    for number, word in read.items():
        readings = [without_marks("".join(way), letters) for way in (word, word[::-1])]
        problems += [
            Problem(f"{_PLACE} [words.{number}]", f"{text!r} is unwanted and read in {readings[0]!r}", "take one out")
            for text in unwanted
            if any(text in reading for reading in readings)
        ]
    return problems
