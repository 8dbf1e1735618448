"""TRAN08: the number of sentences.

What: the translation has as many sentences as the source.
Why: a sentence more or less is mostly one that was left out, or that the source does not say.
Source: common practice, no source.
"""

from collections.abc import Iterator

from leaflets.catalogue import SOURCE_LANGUAGE
from leaflets.readability.segment import split_units
from leaflets.translation_checks.pair import Example, Fault, Pair, plain

CODE = "TRAN08"

_VALUE = "X"


def find(pair: Pair) -> Iterator[Fault]:
    """Find sentences that are lost or added."""
    for form in pair.forms:
        expected = len(split_units(plain(form.source, _VALUE), SOURCE_LANGUAGE))
        found = len(split_units(plain(form.text, _VALUE), pair.locale))
        if found != expected:
            message = f"it has {found} sentences, and the source {expected}"
            yield Fault(CODE, "warn", message, "say all that the source says, sentence by sentence")


GOOD = (
    Example("two and two", "Rest. Sip water.", ("Proszę odpocząć. Proszę pić wodę.",)),
    Example("a danda ends a sentence", "Rest. Sip water.", ("বিশ্রাম নিন। পানি খান।",), locale="bn"),
)
BAD = (
    Example("one lost", "Rest. Sip water.", ("Proszę odpocząć.",)),
    Example("one added", "Rest.", ("Proszę odpocząć. To pomaga.",)),
)
