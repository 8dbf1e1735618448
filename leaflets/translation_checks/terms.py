"""TRAN07: the terms of the glossary.

What: where a term of the glossary stands in the source, one of its forms stands in the translation. A longer term that
holds it counts for it.
Why: two names for one thing are two things to a reader.
Source: ISO 24495-1:2023 (the same words for the same things).
"""

import re
from collections.abc import Iterator
from functools import lru_cache

from leaflets.translation_checks.glossary import Term, says
from leaflets.translation_checks.pair import Example, Fault, Pair, plain

CODE = "TRAN07"


def find(pair: Pair) -> Iterator[Fault]:
    """Find terms that were translated in another way."""
    if pair.glossary is None:
        return
    for form in pair.forms:
        source, text = plain(form.widest), plain(form.text)
        there = [term for term in pair.glossary.terms if _in_source(term.source).search(source)]
        for term in there:
            if says(text, term.forms) or any(_holds(longer, term) and says(text, longer.forms) for longer in there):
                continue
            hint = f"say “{term.translation}”, or add the form to {pair.glossary.place}"
            yield Fault(CODE, "warn", f"“{term.source}” is not said as the glossary has it", hint)


def _holds(longer: Term, term: Term) -> bool:
    return longer is not term and term.source.lower() in longer.source.lower()


@lru_cache(maxsize=4096)
def _in_source(term: str) -> re.Pattern[str]:
    return re.compile(rf"(?<!\w){re.escape(term)}(?:s|es)?(?!\w)", re.IGNORECASE)


GOOD = (
    Example("a form of the term", "Your eardrum is whole.", ("Stan błony bębenkowej jest dobry.",)),
    Example("the plural", "Use the drops.", ("Proszę użyć kropel.",)),
)
BAD = (Example("another word", "Your eardrum is whole.", ("Tympanon jest cały.",)),)
