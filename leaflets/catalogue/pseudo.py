"""Languages that nobody speaks: they show words that escaped the catalogue, and a layout that words outgrow.

`en-XA` is English with accents on its letters, a third longer, each message between square brackets; `ar-XB` is the
same on a page from right to left. Whatever stands on such a page without brackets comes from no catalogue.
"""

import re
from collections.abc import Iterable
from types import MappingProxyType

from leaflets import cldr
from leaflets.catalogue.message import SourceMessage
from leaflets.catalogue.translations import Catalogue, Translation

PSEUDO_LOCALES: tuple[str, ...] = ("en-XA", "ar-XB")

_ACCENTED = str.maketrans("aceghijklnorstuwyzACEGHIJKLNORSTUWYZ", "áçéĝĥíĵķĺñóŕšţúŵýžÁÇÉĜĤÍĴĶĹÑÓŔŠŢÚŴÝŽ")
_LENGTHENED = re.compile("[áéíóú]")
_KEPT = re.compile(r"(%\(\w+\)s|</?strong>)")
_EVERY_THIRD = 3


def pseudo_catalogue(locale: str, messages: Iterable[SourceMessage]) -> Catalogue:
    """Return a catalogue in which each message is its own text, changed."""
    translations = {message.key: _translation(locale, message) for message in messages}
    return Catalogue(locale, "a program", MappingProxyType(translations))


def pseudo(text: str) -> str:
    """Return a text with accents, a third longer, between brackets; values and markup stay.

    >>> pseudo("Use <strong>%(drops)s drops</strong>.")
    '[Úšé <strong>%(drops)s dŕópš</strong>.]'

    """
    pieces = _KEPT.split(text)
    pieces[::2] = [_longer(piece.translate(_ACCENTED)) for piece in pieces[::2]]
    return f"[{''.join(pieces)}]"


def _longer(text: str) -> str:
    """Double two vowels of three."""
    count = iter(range(len(text)))
    return _LENGTHENED.sub(lambda vowel: vowel[0] * (2 if next(count) % _EVERY_THIRD != 0 else 1), text)


def _translation(locale: str, message: SourceMessage) -> Translation:
    key = message.key
    if key.plural is None:
        forms: tuple[str, ...] = (pseudo(key.source),)
    else:
        one, many = pseudo(key.source), pseudo(key.plural)
        forms = tuple(one if form == "one" else many for form in cldr.plural_forms(locale))
    return Translation(key, forms, stale=False, place=f"{locale}, made by a program")
