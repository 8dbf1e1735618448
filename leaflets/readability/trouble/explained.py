"""Whether a text says what a term means where it first uses it."""

from collections.abc import Sequence

from leaflets.readability.trouble.reading import Reading, ReadUnit, word_set

_NAMED_BEFORE = frozenset({"called", "named", "termed", "call"})
_MEANING = frozenset({"means", "mean", "meaning"})
_OPENS_MEANING = word_set("a an the your their his her our its this that these those which who where or also")
_NEXT_UNIT = frozenset(
    {("this", "is"), ("this", "means"), ("it", "means"), ("that", "is"), ("it", "is"), ("they", "are")}
)
_FEWEST_WORDS_OF_MEANING = 3


def is_explained(reading: Reading, unit: int, first: int, last: int) -> bool:
    """Whether the words `first` to `last` of a unit, a term's first use, stand beside what they mean.

    Known are: "called X", "known as X", "we call it X"; "X, the outer ear"; ", or X,"; "X means"; "X is a" with words
    that follow; a meaning in brackets, before or after; and a next unit that opens with "This is" or "It means" after
    a unit that ends with X.

    >>> from leaflets.readability.trouble.reading import read
    >>> is_explained(read(["Your pinna, the outer ear, is sore."], "en"), 0, 1, 1)
    True
    >>> is_explained(read(["Your pinna is sore."], "en"), 0, 1, 1)
    False

    """
    here = reading.units[unit]
    before, after = here.small[:first], here.small[last + 1 :]
    return (
        _named_before(before)
        or _meant_after(here, last, after)
        or _is_other_name(here, first, last, before)
        or _in_brackets(here, first, last)
        or (not after and unit + 1 < len(reading.units) and reading.units[unit + 1].small[:2] in _NEXT_UNIT)
    )


def _named_before(before: Sequence[str]) -> bool:
    if not before:
        return False
    near = tuple(before[-3:])
    return not _NAMED_BEFORE.isdisjoint(near) or ("known", "as") in (near[-2:], near[:2])


def _meant_after(here: ReadUnit, last: int, after: Sequence[str]) -> bool:
    if not after:
        return False
    if after[0] in _MEANING or tuple(after[:2]) == ("stands", "for"):
        return True
    if len(after) < _FEWEST_WORDS_OF_MEANING:
        return False
    if after[0] in {"is", "are"} and after[1] in {"a", "an", "the", "when"} and len(after) > _FEWEST_WORDS_OF_MEANING:
        return True
    gap = _between(here, last, last + 1)
    return after[0] in _OPENS_MEANING and gap.startswith((",", " \u2013", " \u2014", " -", ":"))


def _is_other_name(here: ReadUnit, first: int, last: int, before: Sequence[str]) -> bool:
    """Whether the term is a second name: "a tube, or grommet, that lets air in"."""
    if not before or before[-1] not in {"or", "a", "an"}:
        return False
    place = first - 1
    if before[-1] != "or":
        place -= 1
        if place < 0 or here.small[place] != "or":
            return False
    if place < 1 or not _between(here, place - 1, place).startswith(","):
        return False
    return last + 1 == len(here.words) or _between(here, last, last + 1).startswith(",")


def _in_brackets(here: ReadUnit, first: int, last: int) -> bool:
    start, end = here.span(first, last)
    following = here.text[end:].lstrip()
    if following.startswith(("(", "\uff08")):
        return True
    preceding = here.text[:start].rstrip()
    return preceding.endswith(("(", "\uff08")) and following.startswith((")", "\uff09"))


def _between(here: ReadUnit, left: int, right: int) -> str:
    end = here.words[left]
    return here.text[end.start + len(end.text) : here.words[right].start]
