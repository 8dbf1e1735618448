"""TRAN06: a negation.

What: where the source says no, the translation does, by the words of the glossary. That a translation says no where the
source does not is no fault: "keep out" is often "do not let in".
Why: "do not put drops in" without its "not" is the opposite.
Source: common practice, no source; the words are the glossary's.
"""

import re
from collections.abc import Iterator

from leaflets.translation_checks.glossary import says
from leaflets.translation_checks.pair import Example, Fault, Pair, Severity, plain

CODE = "TRAN06"

_SOURCE = re.compile(
    r"\b(?:not|no|never|nothing|none|nobody|without|cannot|can't|don't|doesn't|won't)\b", re.IGNORECASE
)


def find(pair: Pair) -> Iterator[Fault]:
    """Find negations that are lost."""
    if pair.glossary is None:
        return
    for form in pair.forms:
        if _SOURCE.search(plain(form.widest).replace("\u2019", "'")) and not says(
            plain(form.text), pair.glossary.negation
        ):
            severity: Severity = "stop" if pair.message.safety else "warn"
            yield Fault(
                CODE, severity, "the source says no, and it does not", "say no, or add the word to the glossary"
            )


GOOD = (
    Example("a negation kept", "Do not swim.", ("Proszę nie pływać.",)),
    Example("one added by the language", "Keep water out.", ("Proszę nie dopuszczać wody.",)),
)
BAD = (
    Example("a negation lost", "Do not swim.", ("Proszę pływać.",)),
    Example("lost, where it is no safety block", "Never dig.", ("Proszę dłubać.",), safety=False),
)
