"""TRAN13: a translation that is very long.

What: it has no more than twice the characters of its source, and 15 besides; a heading or a word of a table no more
than that.
Why: a page that was two becomes three, and a heading runs into what stands beside it.
Source: W3C, Text size in translation, from memory: short texts grow to twice or three times, long ones by a third.
"""

from collections.abc import Iterator

from leaflets.translation_checks.pair import Example, Fault, Pair, plain

CODE = "TRAN13"

_TIMES = 2
_BESIDES = 15


def find(pair: Pair) -> Iterator[Fault]:
    """Find what is very long."""
    for form in pair.forms:
        length, most = len(plain(form.text)), _TIMES * len(plain(form.source)) + _BESIDES
        if length > most:
            yield Fault(CODE, "warn", f"it has {length} characters, where {most} are the most", "say it in fewer words")


GOOD = (Example("a little longer", "Keep it dry.", ("Proszę chronić ucho przed wodą.",)),)
BAD = (Example("three times as long", "Keep it dry.", ("Proszę chronić ucho przed wodą, także podczas mycia głowy.",)),)
