"""Sending words to a translator and taking them back, as XLIFF 1.2 or as gettext .po.

What comes back is checked before it is taken, message by message: what is not taken is named with its reason, and the
translator's file is left as it is. What somebody else changed meanwhile is a conflict that is shown and not taken.
"""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from leaflets.catalogue import Catalogue, MessageKey, SourceMessage, Translation
from leaflets.catalogue.po_files import new_catalogue_text, updated_catalogue_text, with_translations
from leaflets.catalogue.translations import forms_of, key_of, read_catalog
from leaflets.compose.messages import source_messages
from leaflets.content import Content
from leaflets.errors import LeafletError
from leaflets.locale_files import LocaleFiles, read_text, write_text
from leaflets.model import Finding
from leaflets.render.fonts import missing_characters
from leaflets.signoff import Entry
from leaflets.translation_checks import Pair, check_translation
from leaflets.xliff import ReturnedWords, read_xliff, words_hash, write_xliff

CONFLICT = "TRAN17"
"""The code of words that were changed here since they were sent."""

_XLIFF_ENDINGS = (".xlf", ".xliff")


@dataclass(frozen=True)
class Returned:
    """What came back.

    Attributes:
        taken: the new words of each message that may go in.
        unchanged: messages that came back as they are in the catalogue, or empty.
        findings: why others may not, and warnings about those that may.

    """

    taken: Mapping[MessageKey, tuple[str, ...]]
    unchanged: int
    findings: tuple[Finding, ...]


def export_words(content: Content, locale: str, path: Path, pictures: Mapping[str, Path]) -> bytes:
    """Return the file for a translator, by its ending: XLIFF (.xlf), or .po.

    `pictures`: of the finished English blocks, by the block's id, as the file names them.

    Raises:
        LeafletError: the ending is neither, or translate-toolkit is not installed.

    """
    messages = source_messages(content.words)
    if path.suffix == ".po":
        return _po_text(content, locale, messages).encode()
    if path.suffix not in _XLIFF_ENDINGS:
        raise LeafletError.at(str(path), "is neither .xlf nor .po", "name a file that ends in .xlf or .po")
    catalogue = _catalogue(content, locale)
    words = {} if catalogue is None else {key: one.forms for key, one in catalogue.translations.items()}
    notes = {context: f"Picture of the English block: {picture}" for context, picture in pictures.items()}
    return write_xliff(messages, words, locale, notes)


def read_returned(content: Content, locale: str, path: Path) -> Returned:
    """Look at what a translator sent back, and say what may be taken.

    Raises:
        LeafletError: it is no such file, or of another locale.

    """
    messages = source_messages(content.words)
    sent = read_xliff(path, locale, messages) if path.suffix in _XLIFF_ENDINGS else _from_po(path, locale)
    catalogue = _catalogue(content, locale)
    findings: list[Finding] = []
    taken: dict[MessageKey, tuple[str, ...]] = {}
    unchanged = 0
    by_key = {message.key: message for message in messages}
    for key, returned in sent.items():
        now = _words_now(catalogue, key)
        if key not in by_key:
            said = f"“{key.source}” is no message any more"
            findings.append(Finding("TRAN01", "warn", returned.place, said, "send the words out anew"))
        elif not any(returned.words) or returned.words == now:
            unchanged += 1
        elif returned.sent is not None and returned.sent != words_hash(now):
            findings.append(_conflict(key, now, returned))
        else:
            found = _checked(content, locale, by_key[key], returned)
            findings += found
            if all(finding.severity != "stop" for finding in found):
                taken[key] = returned.words
    return Returned(taken, unchanged, tuple(findings))


def take_words(content: Content, files: LocaleFiles, returned: Returned, translator: str, day: datetime.date) -> None:
    """Put what may be taken into a catalogue; one that is not there is made.

    Raises:
        LeafletError: it cannot be read or written.

    """
    messages, place = source_messages(content.words), str(files.catalogue)
    if files.catalogue.is_file():
        text = updated_catalogue_text(read_text(files.catalogue), place, files.locale, messages)
    else:
        text = new_catalogue_text(files.locale, messages, day)
    write_text(files.catalogue, with_translations(text, place, files.locale, returned.taken, translator, day))


def translated_entries(locale: str, returned: Returned, who: str, when: datetime.datetime) -> list[Entry]:
    """Return the lines by which a ledger knows who translated what was taken."""
    return [Entry("translated", locale, key, words, who, "translator", when) for key, words in returned.taken.items()]


def _catalogue(content: Content, locale: str) -> Catalogue | None:
    return content.catalogue(locale) if locale in content.languages else None


def _words_now(catalogue: Catalogue | None, key: MessageKey) -> tuple[str, ...]:
    translation = None if catalogue is None else catalogue.translations.get(key)
    return () if translation is None else translation.forms


def _conflict(key: MessageKey, now: tuple[str, ...], returned: ReturnedWords) -> Finding:
    here, came = " / ".join(now), " / ".join(returned.words)
    said = f"“{key.source}” was changed here since it was sent: here “{here}”, came back “{came}”"
    return Finding(CONFLICT, "stop", returned.place, said, "settle it by hand in the catalogue")


def _checked(content: Content, locale: str, message: SourceMessage, returned: ReturnedWords) -> tuple[Finding, ...]:
    translation = Translation(message.key, returned.words, stale=False, place=returned.place)
    return check_translation(Pair(message, translation, locale, content.glossary(locale), missing_characters))


def _po_text(content: Content, locale: str, messages: tuple[SourceMessage, ...]) -> str:
    catalogue = _catalogue(content, locale)
    day = datetime.date(1970, 1, 1)  # nobody translated it yet: with_translations says when
    text = new_catalogue_text(locale, messages, day)
    if catalogue is None:
        return text
    words = {
        message.key: one.forms
        for message in messages
        if (one := catalogue.translations.get(message.key)) is not None and one.is_whole and not one.stale
    }
    return with_translations(text, "the file for a translator", locale, words, catalogue.translator, day)


def _from_po(path: Path, locale: str) -> dict[MessageKey, ReturnedWords]:
    catalog = read_catalog(read_text(path), str(path), locale)
    written_for = str(catalog.locale_identifier or locale).replace("_", "-")
    if written_for != locale:
        raise LeafletError.at(str(path), f"is for '{written_for}', not for '{locale}'", "name the locale of the file")
    return {
        key_of(message): ReturnedWords(forms_of(message), None, f"{path}:{message.lineno}")
        for message in catalog
        if message.id and not message.fuzzy
    }
