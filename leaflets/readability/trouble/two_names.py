"""READ12: two names for one thing.

What: a second name of a thing that one_name.toml knows, after another was used; names that the text joins itself
("a tiny tube, or grommet,") are one.
English only: the names are English ones.
Why: a reader who meets a new name looks for a new thing.
Source: ISO 24495-1:2023 (same words for same things), Inclusion Europe's rules for easy text.
"""

from collections.abc import Iterator
from functools import cache

from leaflets.readability.trouble.explained import is_explained
from leaflets.readability.trouble.reading import ENGLISH, Example, Reading, ReadUnit, Trouble
from leaflets.readability.trouble.word_data import OneThing, names_of_one_thing, regular_forms

CODE = "READ12"
LANGUAGES: frozenset[str] | None = frozenset({ENGLISH})

_Name = tuple[str, ...]


def find(reading: Reading) -> Iterator[Trouble]:
    """Find second names, each where it first stands."""
    used: dict[str, list[_Name]] = {}
    for index, unit in enumerate(reading.units):
        for thing, name, first, last in _named(unit):
            names = used.setdefault(thing.id, [])
            if name in names:
                continue
            earlier = [one for one in names if frozenset((one, name)) not in thing.together]
            names.append(name)
            if earlier and not is_explained(reading, index, first, last):
                one, other = (" ".join(words) for words in (earlier[0], name))
                best = " ".join(min((earlier[0], name), key=thing.names.index))
                message = f"\u201c{other}\u201d is a second name for \u201c{one}\u201d"
                yield reading.trouble(
                    CODE, index, unit.span(first, last), message, f"say \u201c{best}\u201d each time", 1.2
                )


@cache
def _by_first_word() -> dict[str, list[tuple[_Name, OneThing, _Name]]]:
    """Return each name in the singular and plural by its first word, longest first: its words, thing, and name."""
    found: dict[str, list[tuple[_Name, OneThing, _Name]]] = {}
    for thing in names_of_one_thing():
        for name in thing.names:
            for last in {form for form in regular_forms(name[-1]) if form == name[-1] or form.endswith("s")}:
                words = (*name[:-1], last)
                found.setdefault(words[0], []).append((words, thing, name))
    for names in found.values():
        names.sort(key=lambda one: (-len(one[0]), one[0]))
    return found


def _named(unit: ReadUnit) -> Iterator[tuple[OneThing, _Name, int, int]]:
    by_first_word = _by_first_word()
    if by_first_word.keys().isdisjoint(unit.small):
        return
    index = 0
    while index < len(unit.small):
        length = 1
        for words, thing, name in by_first_word.get(unit.small[index], ()):
            if unit.small[index : index + len(words)] == words:
                length = len(words)
                yield thing, name, index, index + length - 1
                break
        index += length


GOOD = (
    Example("one name throughout", ("Your eardrum is whole.", "We saw both your eardrums.")),
    Example("the short form after the long one", ("Ear wax is good for you.", "Wax guards the skin.")),
    Example("joined by the text", ("We saw a tiny tube, or grommet, in it.", "The grommet lets air in.")),
    Example("a second name that is taught", ("Use salt water drops, called saline.", "Saline is safe.")),
    Example("a longer name is one name", ("Use pain medicine.", "The pain medicine helps.")),
)
BAD = (
    Example("two names", ("Your eardrum is whole.", "Water can hurt the drum.")),
    Example("in the plural", ("Do not use cotton buds.", "Cotton swabs push wax in.")),
    Example("an abbreviation", ("Go to the emergency department.", "Take this to A&E.")),
)
