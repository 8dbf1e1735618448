"""READ13: a passive.

What: a form of "be" or "get" with a participle, regular (-ed) or from the list in participles.toml. Participles that
tell of a state ("closed", "blocked") are none, unless "by" and a doer follow.
English only: other languages make the passive in other ways.
Why: a passive hides who does it, and in an order that is what the reader must know.
Source: PEMAT-P item 5, CDC Clear Communication Index item 6: active voice.
"""

from collections.abc import Iterator

from leaflets.readability.trouble.reading import ENGLISH, Example, Reading, ReadUnit, Trouble, word_set
from leaflets.readability.trouble.word_data import participles

CODE = "READ13"
LANGUAGES: frozenset[str] | None = frozenset({ENGLISH})

_BE = word_set("be am is are was were been being isn't aren't wasn't weren't it's you're they're we're")
_GET = frozenset({"get", "gets", "got", "getting"})
_MAY_STAND_BETWEEN = word_set(
    "not also always never often only still then just first now all both already soon well once ever even"
    " sometimes almost either each be been being"
)
_MOST_BETWEEN = 3
_LEAST_PARTICIPLE_LETTERS = 4
_BY_A_DOER_WITHIN = 3
# After "by" these tell how or when, not who.
_NO_DOERS = word_set(
    "now then today tonight tomorrow itself themselves yourself hand mistake law phone post mouth letter"
)
_NAMING = frozenset({"called", "named"})  # "this is called microsuction" teaches a name
# With the word after the participle: no passive, or one that has no doer to name.
_IDIOMS = frozenset(
    {
        ("used", "to"),
        ("made", "of"),
        ("made", "for"),
        ("made", "from"),
        ("let", "go"),
        ("left", "alone"),
        ("known", "as"),
        ("left", "over"),
        ("born", "with"),
    }
)


def find(reading: Reading) -> Iterator[Trouble]:
    """Find passives."""
    for index, unit in enumerate(reading.units):
        for first, last in _passives(unit):
            place = unit.span(first, last)
            words = unit.text[slice(*place)]
            named = _by_a_doer(unit.small, last)
            message = f"\u201c{words}\u201d " + ("puts the doer last" if named else "does not say who does it")
            yield reading.trouble(CODE, index, place, message, "say who does what, the doer first", 1.1)


def _passives(unit: ReadUnit) -> Iterator[tuple[int, int]]:
    small = unit.small
    if _BE.isdisjoint(small) and _GET.isdisjoint(small):
        return
    reached = 0
    for index, word in enumerate(small):
        if index < reached or (word not in _BE and word not in _GET):
            continue
        last = index + 1
        while last < len(small) and last - index <= _MOST_BETWEEN and _may_stand_between(small[last]):
            last += 1
        if last < len(small) and _is_participle(small[last]) and not _gap_has_comma(unit, index, last):
            is_free = small[last] in participles().states or _is_idiom(small, index, last)
            if not is_free or _by_a_doer(small, last):
                yield index, last
                reached = last + 1


def _may_stand_between(word: str) -> bool:
    return word in _MAY_STAND_BETWEEN or (word.endswith("ly") and len(word) > _LEAST_PARTICIPLE_LETTERS)


def _is_participle(word: str) -> bool:
    known = participles()
    if word in known.irregular:
        return True
    return word.endswith("ed") and len(word) >= _LEAST_PARTICIPLE_LETTERS and word not in known.no_participles


def _by_a_doer(small: tuple[str, ...], participle: int) -> bool:
    following = small[participle + 1 : participle + 1 + _BY_A_DOER_WITHIN]
    for place, word in enumerate(following):
        if word == "by":
            doer = small[participle + place + 2 : participle + place + 3]
            return bool(doer) and doer[0] not in _NO_DOERS and not doer[0][0].isdigit() and not doer[0].endswith("ing")
    return False


def _is_idiom(small: tuple[str, ...], first: int, participle: int) -> bool:
    """Whether be and participle are no passive that could be turned: "used to", "made of", "shout to be heard"."""
    after = small[participle + 1] if participle + 1 < len(small) else ""
    to_be_heard = small[max(0, first - 1) : participle + 1] == ("to", "be", "heard")
    return to_be_heard or small[participle] in _NAMING or (small[participle], after) in _IDIOMS


def _gap_has_comma(unit: ReadUnit, first: int, last: int) -> bool:
    start, end = unit.words[first], unit.words[last]
    gap = unit.text[start.start + len(start.text) : end.start]
    return any(mark in gap for mark in ",;:\u2013\u2014(")


GOOD = (
    Example("active", ("We cleaned your ear.", "Wax has blocked it.", "You need to see a nurse today.")),
    Example("a state", ("Your ear is blocked.", "The clinic is closed.", "It can get stuck.")),
    Example("a name is taught", ("This is called microsuction.",)),
    Example("no participle", ("The skin is red.", "There is need of care.", "It is indeed sore.")),
    Example("by, but no doer", ("The ear is blocked by now.",)),
    Example("not in other languages", ("Das Ohr is blocked.", "Das Ohr is cleaned."), "de"),
)
BAD = (
    Example("regular", ("Your ear was cleaned today.",)),
    Example("irregular", ("The drops are then put in.",)),
    Example("with not and an adverb", ("The ear has not been fully checked.",)),
    Example("with get", ("Your ear gets washed out.",)),
    Example("a state with a doer", ("Your ear is blocked by wax.",)),
)
