"""READ11: a hard word.

What: a word or phrase for which plain_words.toml knows a plain one, or a word of three syllables or more that is no
everyday word (everyday_words.toml), where it first stands, unless the text says there what it means, or it is a name
or a known term. A word is no longer for a regular ending ("swallowing"), nor for a hyphen between easy words.
English only: the words are English ones.
Why: one word that is not understood can hide what a whole sentence asks for; terms that are needed can be explained.
Source: PEMAT-P items 3 and 4, CDC Clear Communication Index item 7; three syllables: Gunning 1952, McLaughlin 1969.
"""

from collections import Counter
from collections.abc import Iterator
from functools import lru_cache

from leaflets.readability.report import HARD_WORD_SYLLABLES
from leaflets.readability.syllables_en import count_syllables, is_abbreviation, known_syllables
from leaflets.readability.trouble.explained import is_explained
from leaflets.readability.trouble.reading import ENGLISH, Example, Reading, ReadUnit, Trouble
from leaflets.readability.trouble.word_data import everyday_words, plain_phrases, plain_words

CODE = "READ11"
LANGUAGES: frozenset[str] | None = frozenset({ENGLISH})

_EXPLAIN = "use a shorter word, or say what it means where it first stands"


def find(reading: Reading) -> Iterator[Trouble]:
    """Find hard words, each where it first stands."""
    seen: set[str] = set()
    times: Counter[str] = Counter()
    found: list[tuple[str, int, int, int]] = []
    for index, unit in enumerate(reading.units):
        for name, first, last in _hard(unit, reading.known_terms):
            times[name] += 1
            if name not in seen:
                seen.add(name)
                if not is_explained(reading, index, first, last):
                    found.append((name, index, first, last))
    for name, index, first, last in found:
        unit = reading.units[index]
        place = unit.span(first, last)
        again = f", {times[name]} times in all" if times[name] > 1 else ""
        plain = plain_words().get(name)
        weight = 1 + min(0.99, times[name] / 100) + (0.5 if plain else 0)
        words = unit.text[slice(*place)]
        if plain:
            hint = "say " + " or ".join(f"\u201c{one}\u201d" for one in plain) + ", or say what it means"
            yield reading.trouble(CODE, index, place, f"\u201c{words}\u201d is a hard word{again}", hint, weight)
        else:
            message = f"\u201c{words}\u201d has {count_syllables(words)} syllables{again}"
            yield reading.trouble(CODE, index, place, message, _EXPLAIN, weight)


def _hard(unit: ReadUnit, known_terms: frozenset[str]) -> Iterator[tuple[str, int, int]]:
    """Return what is hard in a unit: its name, by which it is counted, and its first and last word."""
    phrases = plain_phrases()
    index = 0
    while index < len(unit.small):
        small = unit.small[index]
        length, name = 1, None
        for phrase, entry in phrases.get(small, ()):
            if unit.small[index : index + len(phrase)] == phrase:
                length, name = len(phrase), entry
                break
        if name is not None:
            if name not in known_terms:
                yield name, index, index + length - 1
        elif len(small) > HARD_WORD_SYLLABLES and unit.words[index].kind == "word":
            base = _long_word(unit, index)
            if base is not None and base not in known_terms and small not in known_terms:
                yield base, index, index
        index += length


def _long_word(unit: ReadUnit, index: int) -> str | None:
    """Return the base of a word that is hard for its length alone; None: it is not."""
    word = unit.words[index].text
    if index > 0 and word[0].isupper() and not word.isupper():
        return None  # a name
    return _base_of_long_word(word, unit.small[index])


@lru_cache(maxsize=16384)
def _base_of_long_word(word: str, small: str) -> str | None:
    count = count_syllables(word)
    if count is None or count < HARD_WORD_SYLLABLES or is_abbreviation(word):
        return None
    parts = small.removesuffix("'s").removesuffix("s'").split("-")
    return next((base for part in parts if (base := _hard_part(part)) is not None), None)


def _hard_part(part: str) -> str | None:
    count = count_syllables(part) if part else None
    if count is None or count < HARD_WORD_SYLLABLES:
        return None
    everyday = everyday_words()
    bases = [base for base in _bases(part) if base == part or known_syllables(base) is not None or base in everyday]
    if any(base in everyday or (known_syllables(base) or HARD_WORD_SYLLABLES) < HARD_WORD_SYLLABLES for base in bases):
        return None
    return bases[-1]


def _bases(word: str) -> Iterator[str]:
    """Return a word, and what it may be without a regular ending, longest first."""
    yield word
    for ending, put in (("ies", "y"), ("es", ""), ("es", "e"), ("s", ""), ("ied", "y"), ("ed", ""), ("ed", "e"),
                        ("ing", ""), ("ing", "e"), ("ily", "y"), ("ly", ""), ("ly", "le")):  # fmt: skip
        if word.endswith(ending) and len(word) > len(ending) + 2:
            yield word[: -len(ending)] + put


GOOD = (
    Example("short words", ("Keep your ear dry and do not dig for wax.",)),
    Example("everyday words", ("Ask a pharmacist on Saturday, or go to the emergency department.",)),
    Example("explained at first use", ("Your pinna, the outer ear, is sore.", "Rub the pinna only.")),
    Example("named after what it is", ("We cleaned your ear with gentle suction.", "This is called microsuction.")),
    Example("a meaning in the next sentence", ("You have tinnitus.", "This is a ringing that only you can hear.")),
    Example("a known term", ("You have tinnitus.",), known_terms=frozenset({"tinnitus"})),
    Example("a name", ("Please call Mrs Abernathy.",)),
    Example("an ending makes no hard word", ("Swallowing or noticing it is fine.",)),
    Example("not in other languages", ("Uszkodzona b\u0142ona b\u0119benkowa.",), "pl"),
)
BAD = (
    Example("a plain word is known", ("Do not commence the drops.",)),
    Example("in another form", ("The wax was occluding it, so we irrigated it.",)),
    Example("a phrase", ("Stop the drops prior to your visit.",)),
    Example("long, and no plain word is known", ("You have cholesteatoma there.",)),
    Example("explained too late", ("You have tinnitus now.", "You can hear a ringing, called tinnitus.")),
)
