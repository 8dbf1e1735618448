"""What a full stop after a word means, by language: data for the splitting into sentences.

A language without an entry is split by the rules that hold for every language (decimals, times, initials, dotted
abbreviations); its own abbreviations then end a sentence when a capital letter follows.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Abbreviations:
    """The abbreviations of one language, in lower case, without their last full stop.

    Attributes:
        always_within: something always follows in the same sentence, as after a title.
        before_a_figure: within a sentence only when a figure follows.
        may_end: end a sentence when a capital letter follows, unless that is one of `never_openers`.
        never_openers: words with a capital letter that carry on a sentence, as the names of days.
        openers: words with a capital letter that open a sentence even after an initial ("vitamin C. The").

    """

    always_within: frozenset[str]
    before_a_figure: frozenset[str]
    may_end: frozenset[str]
    never_openers: frozenset[str]
    openers: frozenset[str]


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


_ENGLISH = Abbreviations(
    always_within=_words("dr mr mrs ms miss prof rev fr sr st messrs e.g i.e eg ie cf viz vs"),
    before_a_figure=_words("no nos fig figs p pp para vol ch sec art ext tel approx ref ca c min max"),
    may_end=_words("etc a.m p.m am pm approx hrs mins ltd inc co dept jr sen al"),
    never_openers=_words(
        "monday tuesday wednesday thursday friday saturday sunday mon tue tues wed thu thur thurs fri sat sun"
        " january february march april may june july august september october november december"
        " jan feb mar apr jun jul aug sep sept oct nov dec gmt bst"
    ),
    openers=_words(
        "a after all also always an and any anyone as ask at avoid because before both bring but by call check"
        " come contact do don't drink during each eat even every everyone find follow for from get give go have he her"
        " here his how however i if in is it it's keep leave let make many most much my never no not now on once one"
        " only or other our people please put read rest see she so some speak start stay stop take talk tell that the"
        " their then there these they this those to try until use wait wash we wear what when where which while who"
        " why with without you your"
    ),
)

ABBREVIATIONS: Mapping[str, Abbreviations] = MappingProxyType({"en": _ENGLISH})
"""By base language, as in "en" of "en-GB"."""

NO_ABBREVIATIONS = Abbreviations(frozenset(), frozenset(), frozenset(), frozenset(), frozenset())
"""For a language without an entry."""
