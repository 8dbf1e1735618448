"""Words that most children of ten know, for the new Dale-Chall formula: a list of 3000, and regular forms of its words.

Source of the rules: Dale, Chall 1948, "A formula for predicting readability: instructions", Educational Research
Bulletin 27, 37-54, carried on in Chall, Dale 1995, Readability Revisited; both from memory. Familiar are

- the words of the list; figures; names of persons and places;
- with one regular ending, a noun of the list (-s, -es, -ies, -'s), a verb (-s, -es, -ies, -d, -ed, -ied, -ing, its last
  consonant doubled or not), an adjective (-er, -est, -ier, -iest) and an adverb (-ly);
- a word with hyphens, if each of its parts is.

Any other ending makes a word unfamiliar, as the -er of a doer. Where the rules do not tell, our own: a symbol or an
abbreviation is what it stands for, a contraction its first word; an address is unfamiliar; a word with a capital letter
within a unit is a name, one at its start is not. Where we cannot be sure, a word is unfamiliar, so that a text is never
said to be easier than it is.

The list itself is read from the library textstat, where that is installed. It is not imported, as that takes longer
than the grade and may reach for the network.
"""

import re
from collections.abc import Iterator
from functools import cache
from importlib.util import find_spec
from pathlib import Path

from leaflets.readability.segment import WordKind
from leaflets.readability.spoken import read_aloud
from leaflets.readability.syllables_en import plain_marks

INSTALL = "pip install 'leaflets[second-opinion]'"
"""What to do where the list is missing."""

_LIST = ("resources", "en", "easy_words.txt")

# An ending, and what may have stood in its place.
_ENDINGS = (
    ("'s", ("",)),
    ("s'", ("", "s")),
    ("'ll", ("",)),
    ("'ve", ("",)),
    ("'re", ("",)),
    ("'d", ("",)),
    ("s", ("",)),
    ("es", ("",)),
    ("ies", ("y",)),
    ("ed", ("", "e")),
    ("ied", ("y",)),
    ("ing", ("", "e")),
    ("ying", ("ie",)),
    ("ly", ("",)),
)
_ENDINGS_OF_ADJECTIVES = (("er", ("", "e")), ("est", ("", "e")), ("ier", ("y",)), ("iest", ("y",)))
_DOUBLING = frozenset({"ed", "ing", "er", "est"})
# Adjectives of the list that are compared: the list does not tell them from verbs, whose -er is another ending.
_ADJECTIVE_LIST = """
airy bad big bitter black bold brave bright broad brown cheap chilly clean clear close cloudy cold cool cozy cranky
crazy creamy cruel curly damp dark dead deaf dear deep dirty drowsy dry dull dusty early easy empty faint fair false
fancy fast fat few fine flat foggy fond foolish free fresh friendly full funny fuzzy gentle glad good grand great green
happy hard healthy heavy high hilly hollow holy hot huge humble hungry icy ill jolly juicy keen kind large late lazy
lean light likely little lively lonely long loose loud lovely low lucky mad mean merry mighty misty muddy narrow nasty
naughty near neat new nice noisy odd old pale plain pleasant polite poor pretty proud pure quick quiet rainy raw ready
red rich ripe rocky rotten rough round rusty sad safe sandy shady sharp shiny short shy sick silly simple sleepy
slippery slow sly small smart smooth snowy soft sore sorry sour steep sticky stiff stormy straight strange strong
sudden sunny sure sweet swift tall tame tan tardy thick thin thirsty tight tiny true ugly warm weak weary wet white
wide wild windy wise young
"""
_ADJECTIVES = frozenset(_ADJECTIVE_LIST.split())
_APART = re.compile("[ -]+")


@cache
def listed_words() -> frozenset[str] | None:
    """Return the list, in lower case. None: textstat is not installed, or is a version that has no such list."""
    library = find_spec("textstat")
    for folder in (library.submodule_search_locations or ()) if library else ():
        path = Path(folder).joinpath(*_LIST)
        if path.is_file():
            return frozenset(path.read_text(encoding="utf-8").split())
    return None


def is_familiar(text: str, kind: WordKind, listed: frozenset[str]) -> bool:
    """Whether a word, figure, symbol or address within a unit is familiar, given the words of the list.

    >>> listed = frozenset({"ear", "stop", "clean", "and"})
    >>> [is_familiar(text, "word", listed) for text in ("ears", "stopped", "cleaner", "ear-stopper", "Riga", "wax")]
    [True, True, True, False, True, False]
    >>> is_familiar("48", "figure", listed), is_familiar("&", "symbol", listed), is_familiar("a.org", "address", listed)
    (True, True, False)

    """
    if kind in {"figure", "address"}:
        return kind == "figure"
    is_name = text[:1].isupper() and not text.isupper()
    if kind == "word" and (text in listed or is_name):
        return True
    spoken = read_aloud(plain_marks(text), kind).lower()
    return all(part in listed or any(base in listed for base in _bases(part)) for part in _APART.split(spoken) if part)


def _bases(word: str) -> Iterator[str]:
    """Yield what a word in lower case may be a regular form of."""
    if not word.endswith("ss"):
        for ending, replaced in _ENDINGS:
            yield from _without(word, ending, replaced)
    for ending, replaced in _ENDINGS_OF_ADJECTIVES:
        yield from (base for base in _without(word, ending, replaced) if base in _ADJECTIVES)


def _without(word: str, ending: str, replaced: tuple[str, ...]) -> Iterator[str]:
    if not word.endswith(ending):
        return
    cut = word[: -len(ending)]
    if len(cut) > 1:
        yield from (cut + letters for letters in replaced)
    if ending in _DOUBLING and len(cut) > 3 and cut[-1] == cut[-2]:
        yield cut[:-1]
