"""TRAN02: the numbers of a message.

What: the figures of source and translation are the same, whatever the digits of the script (Arabic-Indic, Devanagari,
Bengali, …) and the marks that part thousands and decimals.
Why: a 3 that becomes 15 is a dose five times too high.
Source: common practice, no source; digits by the Unicode character database.
"""

import re
import unicodedata
from collections.abc import Iterator

from leaflets.translation_checks.pair import Example, Fault, Pair, plain

CODE = "TRAN02"

_NUMBER = re.compile(r"\d+(?:[.,\u066b\u066c\u00a0\u202f]\d+)*")
_PARTS_THOUSANDS = re.compile(r"[.,\u066c\u00a0\u202f](?=\d{3}(?!\d))")


def find(pair: Pair) -> Iterator[Fault]:
    """Find figures that changed."""
    for form in pair.forms:
        expected, found = numbers(plain(form.widest)), numbers(plain(form.text))
        if expected != found:
            became = f"the figures {', '.join(expected) or 'none'} became {', '.join(found) or 'none'}"
            yield Fault(CODE, "stop", became, "put in the figures of the source")


def numbers(text: str) -> list[str]:
    """Return the numbers of a text, sorted, in ASCII digits with a full stop for decimals.

    >>> numbers("٣ قطرات"), numbers("1.250 ml, 2,5"), numbers("1,250")
    (['3'], ['1250', '2.5'], ['1250'])

    """
    return sorted(_plain_number(found[0]) for found in _NUMBER.finditer(text))


def _plain_number(written: str) -> str:
    digits = "".join(str(unicodedata.digit(one)) if one.isdigit() else one for one in written)
    return re.sub("[,\u066b]", ".", _PARTS_THOUSANDS.sub("", digits))


GOOD = (
    Example("the same figures", "Use 3 drops for 5 days.", ("Proszę stosować 3 krople przez 5 dni.",)),
    Example("figures of another script", "Use 3 drops.", ("৩ ফোঁটা দিন।",), locale="bn"),
    Example("another decimal mark", "It holds 2.5 ml.", ("Mieści 2,5 ml.",)),
)
BAD = (
    Example("a figure changed", "Use 3 drops for 5 days.", ("Proszę stosować 3 krople przez 15 dni.",)),
    Example("a figure lost", "Use 3 drops.", ("Proszę stosować krople.",)),
    Example("a figure of another script changed", "Use 3 drops.", ("৪ ফোঁটা দিন।",), locale="bn"),
)
