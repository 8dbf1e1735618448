"""READ14: a double negation.

What: two negations in one clause, "not" before a word that says no itself ("uncommon", "forget"), and "unless" after
a negation.
English only: in many languages two negations are one.
Why: a reader who misses one of two negations reads the opposite.
Source: plain-language practice on negatives; common practice, no source.
"""

import re
from collections.abc import Iterator

from leaflets.readability.trouble.reading import ENGLISH, Example, Reading, ReadUnit, Trouble, word_set

CODE = "READ14"
LANGUAGES: frozenset[str] | None = frozenset({ENGLISH})

_NEGATIONS = word_set("no not never none nothing nobody nowhere neither without cannot hardly scarcely")
_SAY_NO = {
    "forget": "remember to",
    "fail": "be sure to",
    "omit": "put in",
    "neglect": "take care to",
    "hesitate": "please",
    "avoid": "do",
    "uncommon": "common",
    "unusual": "usual",
    "unlikely": "likely",
    "unimportant": "important",
    "unsafe": "safe",
    "unreasonable": "reasonable",
    "unable": "able",
    "unknown": "known",
    "impossible": "possible",
    "improbable": "likely",
    "inadvisable": "a good idea",
    "incorrect": "right",
    "infrequent": "often",
    "insignificant": "important",
    "dissimilar": "like",
    "illegal": "allowed",
}
_NEAR = 3
_OPENS_CLAUSE = word_set(
    "if when while because as that which who so and or but until before after since although though where than nor"
    " whether"
)
_EXCEPT = frozenset({"unless"})
# "Not even", "not just" and "no more than" add stress to one negation, or make a limit.
_NO_SECOND = frozenset({"even", "just", "only", "more", "less", "longer", "later", "sooner", "one"})
_CLAUSE_MARK = re.compile("[,;:.!?\u2013\u2014()]")


def find(reading: Reading) -> Iterator[Trouble]:
    """Find double negations, one a unit at most."""
    for index, unit in enumerate(reading.units):
        found = _double(unit)
        if found is not None:
            first, last, hint = found
            place = unit.span(first, last)
            message = f"\u201c{unit.text[slice(*place)]}\u201d says no twice"
            yield reading.trouble(CODE, index, place, message, hint, 2.2)


def _is_negation(small: tuple[str, ...], index: int) -> bool:
    word = small[index]
    if word not in _NEGATIONS and not word.endswith("n't"):
        return False
    return index + 1 >= len(small) or small[index + 1] not in _NO_SECOND


def _double(unit: ReadUnit) -> tuple[int, int, str] | None:
    """Return the first and last word of a double negation and what to do; None: there is none."""
    if _NEGATIONS.isdisjoint(unit.small) and "n't" not in "".join(unit.small):
        return None
    negation: int | None = None
    any_before: int | None = None
    for index, word in enumerate(unit.small):
        if index > 0 and (word in _OPENS_CLAUSE or _CLAUSE_MARK.search(_gap(unit, index))):
            negation = None
        if word in _EXCEPT and any_before is not None:
            return any_before, index, "say when it may be done: \u201conly if\u201d"
        if negation is not None and word in _SAY_NO and index - negation <= _NEAR:
            return negation, index, f"say it without no: \u201c{_SAY_NO[word]}\u201d"
        if _is_negation(unit.small, index):
            if negation is not None:
                return negation, index, "say what is so, or what to do, with one no or none"
            negation = any_before = index
    return None


def _gap(unit: ReadUnit, index: int) -> str:
    before = unit.words[index - 1]
    return unit.text[before.start + len(before.text) : unit.words[index].start]


GOOD = (
    Example("one negation", ("Do not put anything in your ear.",)),
    Example("one in each clause", ("Do not drive if you cannot see well.", "It is not wax, so do not dig.")),
    Example("stress", ("Put nothing in your ear, not even drops.", "Do not use more than 3 drops.")),
    Example("no negation before it", ("Keep water out unless we say it is safe.",)),
    Example("a limit", ("Use no more than 3 drops.",)),
    Example("not in other languages", ("Nie ma nic, no not never.",), "pl"),
)
BAD = (
    Example("two in one clause", ("You cannot do it without no help.",)),
    Example("never with not", ("Never do not wash.",)),
    Example("a word that says no", ("Pain is not uncommon at first.",)),
    Example("not forget", ("Do not forget to call us.",)),
    Example("unless", ("Do not use drops unless we ask you to.",)),
)
