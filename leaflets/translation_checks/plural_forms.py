"""TRAN04: the plural forms of a counted message.

What: there is one form for each that whole numbers take in the language, by the CLDR, and none is empty.
Why: "2 kropel" is wrong in a way that makes a reader doubt the rest; a form that is not there cannot be printed.
Source: Unicode CLDR, plural rules.
"""

from collections.abc import Iterator

from leaflets import cldr
from leaflets.translation_checks.pair import Example, Fault, Pair

CODE = "TRAN04"


def find(pair: Pair) -> Iterator[Fault]:
    """Find forms that are missing or too many."""
    names = cldr.plural_forms(pair.locale) if pair.message.key.plural is not None else ("the one form",)
    forms = pair.translation.forms
    if len(forms) != len(names):
        message = f"it has {len(forms)} plural forms, and the language has {len(names)}"
        yield Fault(CODE, "stop", message, f"write one for each: {', '.join(names)}")
    empty = [name for name, form in zip(names, forms, strict=False) if not form.strip()]
    if empty and any(forms):
        yield Fault(CODE, "stop", f"a plural form is empty: {', '.join(empty)}", "write it")


_COUNTED = ("Put %(drops)s drop in.", "Put %(drops)s drops in.")
GOOD = (
    Example("three forms in Polish", _COUNTED, ("%(drops)s kropla.", "%(drops)s krople.", "%(drops)s kropli.")),
    Example("one form where nothing is counted", "Keep it dry.", ("Ucho suche.",)),
)
BAD = (
    Example("two forms in Polish", _COUNTED, ("%(drops)s kropla.", "%(drops)s krople.")),
    Example("an empty form", _COUNTED, ("%(drops)s kropla.", "", "%(drops)s kropli.")),
)
