"""READ18: an abbreviation that is not explained.

What: an abbreviation where it first stands, unless known_abbreviations.toml says that it needs no words, the reader is
told it elsewhere, or the text says there what it means. For some there are better words, which are named.
English only: which abbreviations need no words is known for English alone.
Why: those who write abbreviations know them, those who read them often do not; "BD" is not "twice a day" to a patient.
Source: NHS style advice on abbreviations (from memory): say the words at first use; common practice, no source.
"""

import re
from collections.abc import Iterator
from functools import lru_cache

from leaflets.readability.syllables_en import is_abbreviation
from leaflets.readability.trouble.explained import is_explained
from leaflets.readability.trouble.reading import ENGLISH, Example, Reading, Trouble
from leaflets.readability.trouble.word_data import known_abbreviations

CODE = "READ18"
LANGUAGES: frozenset[str] | None = frozenset({ENGLISH})

_LONGEST = 9
_HAS_DIGIT = re.compile(r"\d")
_HAS_VOWEL = re.compile("[aeiouy]", re.IGNORECASE)
_SOUNDS = frozenset({"hmm", "shh", "psst", "brr"})


def find(reading: Reading) -> Iterator[Trouble]:
    """Find abbreviations, each where it first stands."""
    known = known_abbreviations()
    seen: set[str] = set()
    for index, unit in enumerate(reading.units):
        shouted = unit.text.isupper()
        for place, word in enumerate(unit.words):
            text, small = word.text, unit.small[place]
            better = known.better_words.get(small)
            if better is not None and not _stands_for(text, unit.text, word.start):
                better = None
            if better is None and (shouted or not _needs_words(text)):
                continue
            if word.kind != "word" or small in seen or small in reading.known_terms:
                continue
            seen.add(small)
            if text.isupper() and is_explained(reading, index, place, place):
                continue
            hint = f"say \u201c{better}\u201d" if better else "say the words, or what they mean, where it first stands"
            message = f"\u201c{text}\u201d is an abbreviation"
            yield reading.trouble(CODE, index, unit.span(place, place), message, hint, 1.4)


@lru_cache(maxsize=16384)
def _needs_words(text: str) -> bool:
    known = known_abbreviations()
    if not 1 < len(text) <= _LONGEST or text in known.known or text.lower() in _SOUNDS or not is_abbreviation(text):
        return False
    if _HAS_DIGIT.search(text) or (text.istitle() and _HAS_VOWEL.search(text)):
        return False  # "B12" has no words to say, "Max" is a name
    singular = text.removesuffix("\u2019s").removesuffix("'s").removesuffix("s")
    return singular not in known.known and text.capitalize() not in known.known


def _stands_for(text: str, unit: str, start: int) -> bool:
    """Whether a word that may be one of the better-worded abbreviations is one: "Max" is a name, "Approx." is not."""
    if not text.istitle():
        return True
    return start == 0 and unit[len(text) : len(text) + 1] == "." and len(unit) > len(text) + 1


GOOD = (
    Example("no abbreviation", ("Ask a doctor.",)),
    Example("everyday ones", ("Ask your GP at 9 am.", "Use a 10 ml bottle on Mon and Tue.")),
    Example("explained before", ("The ear, nose and throat (ENT) clinic will call.", "The ENT clinic is near.")),
    Example("explained after", ("CSOM, a long-lasting infection, needs care.", "CSOM heals.")),
    Example("a known term", ("You have an OME.",), known_terms=frozenset({"OME"})),
    Example("a name", ("Ask Max or Tim about vitamin B12.",)),
    Example("not in other languages", ("Fragen Sie den HNO.",), "de"),
)
BAD = (
    Example("never explained", ("The ENT team will call.",)),
    Example("explained too late", ("You have CSOM.", "It was called CSOM.")),
    Example("Latin of prescriptions", ("Use 3 drops BD.", "Use 3 drops t.d.s.")),
    Example("for example", ("Keep things out, e.g. hairpins.",)),
    Example("without vowels", ("Your TM is whole.",)),
)
