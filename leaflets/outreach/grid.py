"""A place in a grid that a child sees: what the word search and the path of wax share."""

from typing import NamedTuple

from leaflets.errors import Problem


class Cell(NamedTuple):
    """One square of a grid, as it is printed, in every direction of writing.

    Attributes:
        column: 0 for the leftmost.
        row: 0 for the topmost.

    """

    column: int
    row: int


def size_problems(place: str, columns: object, rows: object, smallest: int, largest: int) -> list[Problem]:
    """Return what is wrong with the size of a grid; both bounds are included.

    >>> [problem.message for problem in size_problems("word search", 8, 99, 2, 20)]
    ['99 rows are out of bounds']

    """
    return [
        Problem(
            f"{place} [{name}]", f"{value!r} {name} are out of bounds", f"a whole number from {smallest} to {largest}"
        )
        for name, value in (("columns", columns), ("rows", rows))
        if type(value) is not int or not smallest <= value <= largest
    ]
