"""TRAN14: characters that our fonts lack.

What: each character of the translation can be drawn by a font that leaflets are printed with.
Why: what is not there prints as an empty box.
Source: the character maps of the fonts themselves.
"""

from collections.abc import Iterator

from leaflets.translation_checks.pair import Example, Fault, Pair

CODE = "TRAN14"


def find(pair: Pair) -> Iterator[Fault]:
    """Find characters that cannot be drawn."""
    for form in pair.forms:
        if lacking := pair.missing_characters(form.text):
            shown = ", ".join(f"{one} (U+{ord(one):04X})" for one in lacking)
            yield Fault(CODE, "stop", f"no font of ours draws {shown}", "write another character")


GOOD = (Example("letters of our fonts", "Keep it dry.", ("Ucho suche.",)),)
BAD = (Example("a letter that none has", "Keep it dry.", ("Ucho \u4e00.",)),)
