"""The one exception: we cannot go on, and here is every reason, each with its place and what to do.

What is wrong with a *leaflet* is never an exception: that is a `leaflets.model.Finding`.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches


@dataclass(frozen=True, order=True)
class Problem:
    """One thing that is wrong with what we were given.

    Attributes:
        place: where to look: `file`, `file:line`, or `file:line [key]`.
        message: what is wrong, without the value of any person.
        hint: what to do about it.

    >>> print(Problem("visit.toml:14 [left.eardrum]", "'perforation' is not a value", "did you mean 'perforated'?"))
    visit.toml:14 [left.eardrum]: 'perforation' is not a value (did you mean 'perforated'?)

    """

    place: str
    message: str
    hint: str

    def __str__(self) -> str:
        return f"{self.place}: {self.message} ({self.hint})"


class LeafletError(Exception):
    """We cannot go on: the input, the clinic's folder, the content or this machine is not fit.

    Attributes:
        problems: all that is wrong, in the order of their places.

    """

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))

    @classmethod
    def at(cls, place: str, message: str, hint: str) -> "LeafletError":
        """Make the error with one problem."""
        return cls([Problem(place, message, hint)])


def did_you_mean(name: str, allowed: Iterable[str]) -> str:
    """Return a hint that names the nearest allowed name, if one is near, and all of them.

    >>> did_you_mean("perforation", ["intact", "perforated"])
    "did you mean 'perforated'? allowed: intact, perforated"
    >>> did_you_mean("x", ["intact", "perforated"])
    'allowed: intact, perforated'

    """
    names = list(allowed)
    near = get_close_matches(name, names, n=1)
    start = f"did you mean '{near[0]}'? " if near else ""
    return f"{start}allowed: {', '.join(names)}"
