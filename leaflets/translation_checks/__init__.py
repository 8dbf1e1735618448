"""Checks of translations, one a module: a message and its translation in, faults out.

They look at one message alone, so that they say the same of a whole catalogue, of what a translator sends back, and of
the messages of one leaflet. Those of numbers, values, plural forms and sides stop a leaflet.
"""

from functools import lru_cache
from types import ModuleType

from leaflets.model import Finding
from leaflets.translation_checks import (
    bidi_controls,
    fonts,
    laterality,
    leftovers,
    length,
    negation,
    numbers,
    placeholders,
    plural_forms,
    scripts,
    sentences,
    terms,
    typography,
)
from leaflets.translation_checks.glossary import Glossary, parse_glossary
from leaflets.translation_checks.pair import Fault, Pair

__all__ = ["TRANSLATION_CHECKS", "Fault", "Glossary", "Pair", "check_translation", "parse_glossary"]

TRANSLATION_CHECKS: tuple[ModuleType, ...] = (
    numbers,
    placeholders,
    plural_forms,
    laterality,
    negation,
    terms,
    sentences,
    leftovers,
    typography,
    scripts,
    bidi_controls,
    length,
    fonts,
)
"""Every check; each has CODE, find(pair), GOOD and BAD."""


@lru_cache(maxsize=16384)
def check_translation(pair: Pair) -> tuple[Finding, ...]:
    """Run every check on a translation that has words; each fault once, at the line of the translation."""
    faults = dict.fromkeys(fault for module in TRANSLATION_CHECKS for fault in module.find(pair))
    said = f"for “{pair.message.key.source}”"
    return tuple(
        Finding(fault.code, fault.severity, pair.translation.place, f"{fault.message}, {said}", fault.hint)
        for fault in faults
    )
