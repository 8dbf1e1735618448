"""TRAN12: characters that steer the direction of writing.

What: there are none. The layout isolates telephone numbers, dates and measures by itself.
Why: a control that is not closed turns round what follows it on the page, and nobody sees it in the file.
Source: Unicode Standard Annex 9; W3C advice to use markup instead of controls.
"""

import re
from collections.abc import Iterator

from leaflets.translation_checks.pair import Example, Fault, Pair

CODE = "TRAN12"

_CONTROLS = re.compile("[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")


def find(pair: Pair) -> Iterator[Fault]:
    """Find controls."""
    for form in pair.forms:
        if found := sorted({f"U+{ord(one):04X}" for one in _CONTROLS.findall(form.text)}):
            yield Fault(CODE, "stop", f"characters that steer direction: {', '.join(found)}", "take them away")


GOOD = (
    Example("right to left without controls", "Keep it dry.", ("أبق أذنك جافة.",), locale="ar"),
    Example("a joiner is none", "Keep it dry.", ("کان خشک می\u200cماند۔",), locale="ur"),
)
BAD = (Example("a mark", "Keep it dry.", ("أبق\u200f أذنك جافة.",), locale="ar"),)
