"""TRAN09: words of the source that were left.

What: in another script, words in Latin letters that the glossary does not allow; in Latin script, a translation that is
the same as its source, unless the glossary lists it.
Why: a leaflet in two languages is read in neither.
Source: common practice, no source.
"""

import re
from collections.abc import Iterator

from leaflets.readability.segment import base_language
from leaflets.translation_checks.pair import Example, Fault, Pair, plain
from leaflets.translation_checks.scripts import has_own_script

CODE = "TRAN09"

_LATIN_WORD = re.compile("[A-Za-z]+")
_VARIANT_OF_SOURCE = "en"


def find(pair: Pair) -> Iterator[Fault]:
    """Find what was not translated."""
    for form in pair.forms:
        text = plain(form.text)
        if has_own_script(pair.locale):
            allowed = pair.glossary.foreign if pair.glossary else frozenset()
            if left := [word for word in _LATIN_WORD.findall(text) if word not in allowed]:
                message = f"words in Latin letters: {', '.join(left)}"
                yield Fault(CODE, "stop", message, "translate them, or list them as foreign in the glossary")
        elif base_language(pair.locale) != _VARIANT_OF_SOURCE and _same(form.text, form.source, pair):
            yield Fault(CODE, "stop", "it is the same as its source", "translate it, or list it as unchanged")


def _same(text: str, source: str, pair: Pair) -> bool:
    unchanged = pair.glossary.unchanged if pair.glossary else frozenset()
    return text == source and text not in unchanged and any(map(str.isalpha, plain(text)))


GOOD = (
    Example("translated", "Keep it dry.", ("Ucho suche.",)),
    Example("listed as the same", "Plan", ("Plan",)),
    Example("all in its own script", "Keep it dry.", ("কান শুকনো রাখুন।",), locale="bn"),
)
BAD = (
    Example("not translated", "Keep it dry.", ("Keep it dry.",)),
    Example("an English word left", "Keep it dry.", ("কান dry রাখুন।",), locale="bn"),
)
