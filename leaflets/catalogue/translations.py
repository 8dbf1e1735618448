"""The catalogue of one locale, read from gettext .po text through Babel.

A message is stale when gettext marks it fuzzy: its source changed since it was translated. An obsolete message (`#~`)
is kept in the file and used nowhere.
"""

import io
import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from gettext import c2py
from types import MappingProxyType

from babel.core import UnknownLocaleError
from babel.messages.catalog import Catalog, Message
from babel.messages.pofile import PoFileError, read_po

from leaflets import cldr
from leaflets.catalogue.message import MessageKey, sign_off_hash
from leaflets.catalogue.po_syntax import strict_po_text
from leaflets.errors import LeafletError
from leaflets.model import MessageState

_COUNTS_COMPARED = 201
_CHARSETS = ("utf-8", "utf8", "ascii", "us-ascii")


@dataclass(frozen=True)
class Translation:
    """One message in one locale.

    Attributes:
        key: as in the templates.
        forms: one text, or for a counted message one for each plural form of the locale, in the order of
            `cldr.plural_forms`; a form that is missing is empty.
        stale: its source changed since.
        place: where it stands, as `path:line`.

    """

    key: MessageKey
    forms: tuple[str, ...]
    stale: bool
    place: str

    @property
    def is_whole(self) -> bool:
        """Whether every form has words."""
        return bool(self.forms) and all(self.forms)


@dataclass(frozen=True)
class Catalogue:
    """All messages of one locale.

    Attributes:
        locale: BCP 47.
        translator: who translated it, as the file says; empty: it does not.
        translations: by key.

    """

    locale: str
    translator: str
    translations: Mapping[MessageKey, Translation]

    def under(self, others: "Catalogue") -> "Catalogue":
        """Return this catalogue with the words of another over it, as a clinic's over the project's.

        Where the other has no words, these stay; who translated is then as the other says.
        """
        words = {key: one for key, one in others.translations.items() if any(one.forms) or key not in self.translations}
        translator = others.translator if words else self.translator
        return replace(self, translator=translator, translations=MappingProxyType({**self.translations, **words}))

    def state(self, key: MessageKey, approved: Collection[str]) -> MessageState:
        """Return the state of a message. `approved`: hashes of what somebody signed off."""
        translation = self.translations.get(key)
        if translation is None or not translation.is_whole:
            return "missing"
        if translation.stale:
            return "stale"
        return "reviewed" if sign_off_hash(self.locale, key, translation.forms) in approved else "draft"

    def form(self, translation: Translation, count: float) -> str:
        """Return the plural form for a count; empty: the catalogue lacks it."""
        index = cldr.plural_form(count, self.locale)
        return translation.forms[index] if index < len(translation.forms) else ""


def folder_name(locale: str) -> str:
    """Return the folder of a locale below `locales/`, as gettext names it.

    >>> folder_name("en-US")
    'en_US'

    """
    return locale.replace("-", "_")


def locale_of_folder(name: str) -> str:
    """Return the BCP 47 tag of a folder below `locales/`."""
    return name.replace("_", "-")


def read_catalog(text: str, place: str, locale: str) -> Catalog:
    """Parse .po text.

    Raises:
        LeafletError: it is no .po text, names another charset than UTF-8, or a language that the CLDR does not know;
            with its line.

    """
    strict = strict_po_text(text, place)
    try:
        catalog = read_po(io.StringIO(strict), locale=folder_name(locale), abort_invalid=True)
    except PoFileError as error:
        where = place if error.lineno is None else f"{place}:{error.lineno + 1}"
        raise LeafletError.at(
            where, f"is not a .po file: {_without_line(error)}", "mend the line, or take the file anew"
        ) from None
    except (UnknownLocaleError, ValueError) as error:
        hint = "mend the header, and name the folder by BCP 47"
        raise LeafletError.at(place, f"cannot be read: {error}", hint) from None
    if catalog.charset.lower() not in _CHARSETS:
        said = f"its header names the charset '{catalog.charset}'"
        raise LeafletError.at(_header_place(text, place, "charset="), said, "save it as UTF-8, and say so there")
    return catalog


def key_of(message: Message) -> MessageKey:
    """Return the key of one of Babel's messages."""
    ids = message.id if isinstance(message.id, tuple | list) else (message.id, None)
    return MessageKey(message.context or "", str(ids[0]), None if ids[1] is None else str(ids[1]))


def forms_of(message: Message) -> tuple[str, ...]:
    """Return the words of one of Babel's messages, one for each plural form."""
    strings = message.string if isinstance(message.string, tuple | list) else (message.string,)
    return tuple(str(string or "") for string in strings)


def require_own_header(text: str, place: str, locale: str) -> None:
    """Refuse a catalogue whose header is of another language, or counts otherwise: wrong words would print.

    Raises:
        LeafletError: as `read_catalog`; its language is not the locale; its plural forms are in another order than the
            CLDR's.

    """
    catalog = read_catalog(text, place, locale)
    named = catalog.locale_identifier or ""
    if named != folder_name(locale):
        said = f"its header says that it is in '{locale_of_folder(named)}', not '{locale}'"
        raise LeafletError.at(_header_place(text, place, "Language:"), said, "correct it, or move the file")
    if not any(isinstance(message.id, tuple | list) and any(forms_of(message)) for message in catalog):
        return
    chooses = c2py(catalog.plural_expr.rstrip(";"))
    if any(chooses(count) != cldr.plural_form(count, locale) for count in range(_COUNTS_COMPARED)):
        hint = f"put the forms in the order {', '.join(cldr.plural_forms(locale))}, and write: " + (
            cldr.gettext_plural_forms(locale)
        )
        said = "its Plural-Forms choose other forms than the CLDR"
        raise LeafletError.at(_header_place(text, place, "Plural-Forms:"), said, hint)


def _header_place(text: str, place: str, field: str) -> str:
    """Return where a field of the header stands; the first line where it does not."""
    line = next((number for number, one in enumerate(text.split("\n"), 1) if field in one), 1)
    return f"{place}:{line}"


def _without_line(error: PoFileError) -> str:
    """Return what Babel says is wrong, without the line it counts from 0: the place of the error has it."""
    return re.sub(r" on \d+$", "", str(error))


def parse_catalogue(text: str, place: str, locale: str) -> Catalogue:
    """Return the catalogue of a locale from the text of its file.

    Raises:
        LeafletError: as `read_catalog`.

    """
    catalog = read_catalog(text, place, locale)
    translations: dict[MessageKey, Translation] = {}
    for message in catalog:
        if not message.id:
            continue
        key, forms = key_of(message), forms_of(message)
        translations[key] = Translation(key, forms, message.fuzzy, f"{place}:{message.lineno or 1}")
    return Catalogue(locale, catalog.last_translator or "", MappingProxyType(translations))
