"""TRAN05: left, right and both.

What: where the source names a side of an ear, the translation does, by the words of the glossary, and where it names
none, none is named.
Why: drops in the wrong ear, or in one that must stay dry.
Source: common practice, no source; the words are the glossary's.
"""

import re
from collections.abc import Iterator

from leaflets.translation_checks.glossary import says
from leaflets.translation_checks.pair import Example, Fault, Pair, plain

CODE = "TRAN05"

_EAR = r"(?:ear|eardrum)s?\b"
_SOURCE = {
    "left": re.compile(rf"\bleft {_EAR}|\bleft and\b", re.IGNORECASE),
    "right": re.compile(rf"\bright {_EAR}", re.IGNORECASE),
    "both": re.compile(
        rf"\b(?:both|each|either)(?: of)?(?: your| their| the)? {_EAR}|\beardrums each\b", re.IGNORECASE
    ),
}
_MAY_MEAN_IT = {"left": re.compile(r"\bleft\b", re.IGNORECASE), "right": re.compile(r"\bright\b", re.IGNORECASE)}


def find(pair: Pair) -> Iterator[Fault]:
    """Find sides that are lost or added."""
    if pair.glossary is None:
        return
    for form in pair.forms:
        source, text = plain(form.widest), plain(form.text, "1")
        for side, pattern in _SOURCE.items():
            there, said = bool(pattern.search(source)), says(text, pair.glossary.side(side))
            if there and not said:
                yield Fault(CODE, "stop", f"the source says '{side}', and it does not", "name the side")
            elif said and not there and side in _MAY_MEAN_IT and not _MAY_MEAN_IT[side].search(source):
                yield Fault(CODE, "stop", f"it says '{side}', and the source does not", "take the side away")


GOOD = (
    Example("the same side", "Put drops in your left ear.", ("Proszę zakroplić lewe ucho.",)),
    Example("both", "Keep both your ears dry.", ("Oboje uszu suche.",)),
    Example("left as a verb", "Some is left.", ("Trochę zostało.",)),
)
BAD = (
    Example("the other side", "Put drops in your left ear.", ("Proszę zakroplić prawe ucho.",)),
    Example("no side", "Put drops in your right ear.", ("Proszę zakroplić ucho.",)),
    Example("a side added", "Keep the ear dry.", ("Lewe ucho suche.",)),
    Example("both became one", "Keep both ears dry.", ("Ucho suche.",)),
)
