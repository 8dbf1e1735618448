"""XLIFF 1.2 files for translators, through translate-toolkit: its only user.

A counted message is one unit for each plural form of the language. A unit's id is the hash of its message, with the
name of the form after it; its notes are what a translator has to know.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType
from typing import Any

from leaflets import cldr
from leaflets.catalogue import SOURCE_LANGUAGE, MessageKey, SourceMessage, block_of_context, sign_off_hash
from leaflets.errors import LeafletError

INSTALL = "pip install 'leaflets[translation]'"

_ORIGIN = "developer"
_SENT = "Words when sent: "
_FORM_MARK = "."


@dataclass(frozen=True)
class ReturnedWords:
    """The words of one message in a file that came back.

    Attributes:
        words: one text for each plural form; empty where nothing was written.
        sent: the hash of the words that the file went out with. None: it does not say.
        place: where they stand, as messages show it.

    """

    words: tuple[str, ...]
    sent: str | None
    place: str


def unit_id(key: MessageKey) -> str:
    """Return the id by which a message is known in a file."""
    return sign_off_hash("", key, ())


def write_xliff(
    messages: Sequence[SourceMessage],
    words: Mapping[MessageKey, tuple[str, ...]],
    locale: str,
    notes: Mapping[str, str],
) -> bytes:
    """Return a file with every message.

    `words`: what there is already. `notes`: what to tell of the messages of a context, by context.

    Raises:
        LeafletError: translate-toolkit is not installed.

    """
    toolkit = _toolkit()
    store = toolkit.xlifffile()
    store.setsourcelanguage(SOURCE_LANGUAGE)
    store.settargetlanguage(locale)
    for message in messages:
        now = words.get(message.key, ())
        for place, (name, source) in enumerate(_forms(message.key, locale)):
            unit = store.addsourceunit(source)
            unit.setid(f"{unit_id(message.key)}{_FORM_MARK}{name}")
            if place < len(now) and now[place]:
                unit.target = now[place]
            for note in (
                *told(message),
                *filter(
                    None, [_form_note(message.key, name, locale), notes.get(block_of_context(message.key.context))]
                ),
            ):
                unit.addnote(note, origin=_ORIGIN, position="append")
            unit.addnote(f"{_SENT}{words_hash(now)}", origin=_ORIGIN, position="append")
    return bytes(store)


def read_xliff(path: Path, locale: str, messages: Sequence[SourceMessage]) -> Mapping[MessageKey, ReturnedWords]:
    """Return the words of each message in a file; of a message that is unknown, nothing.

    Raises:
        LeafletError: it is no XLIFF, or of another locale.

    """
    toolkit = _toolkit()
    try:
        store = toolkit.xlifffile.parsestring(path.read_bytes())
    except OSError as error:
        raise LeafletError.at(str(path), f"cannot be read: {error.strerror}", "give the path of a file") from None
    except Exception as error:  # noqa: BLE001 - its parser raises what lxml and it like
        raise LeafletError.at(str(path), f"is not XLIFF: {error}", "save it as XLIFF 1.2") from None
    written_for = store.gettargetlanguage()
    if written_for and written_for.replace("_", "-") != locale:
        raise LeafletError.at(str(path), f"is for '{written_for}', not for '{locale}'", "name the locale of the file")
    by_id: dict[str, Any] = {unit.getid().rpartition("\x04")[2]: unit for unit in store.units if unit.getid()}
    returned: dict[MessageKey, ReturnedWords] = {}
    for message in messages:
        names = [name for name, _ in _forms(message.key, locale)]
        ids = [f"{unit_id(message.key)}{_FORM_MARK}{name}" for name in names]
        if by_id.keys() >= set(ids):
            units = [by_id[one] for one in ids]
            notes = [note for unit in units for note in unit.getnotes(origin=_ORIGIN).split("\n")]
            sent = next((note.removeprefix(_SENT) for note in notes if note.startswith(_SENT)), None)
            words = tuple(str(unit.target or "") for unit in units)
            returned[message.key] = ReturnedWords(words, sent, f"{path} [{unit_id(message.key)}]")
    return returned


def told(message: SourceMessage) -> tuple[str, ...]:
    """Return what a translator has to know of a message."""
    where = f"Block {message.key.context}, section {message.section}." if message.section else "Every leaflet."
    readers = (f"For {' and '.join(message.readers)}.",) if message.readers else ()
    return (where, *readers, *(("Safety-critical.",) if message.safety else ()), *message.comments)


def words_hash(words: Sequence[str]) -> str:
    """Return the hash of words as they were sent; the same for none and for empty ones."""
    return sign_off_hash("", MessageKey("", "", None), words if any(words) else ())


def _forms(key: MessageKey, locale: str) -> list[tuple[str, str]]:
    """Return the name of each form of a message in a language, with its English."""
    if key.plural is None:
        return [("text", key.source)]
    return [(name, key.source if name == "one" else key.plural) for name in cldr.plural_forms(locale)]


def _form_note(key: MessageKey, name: str, locale: str) -> str | None:
    if key.plural is None:
        return None
    index = cldr.plural_forms(locale).index(name)
    numbers = [str(number) for number in range(200) if cldr.plural_form(number, locale) == index][:4]
    return f"Plural form '{name}', for numbers such as {', '.join(numbers)}."


def _toolkit() -> ModuleType:
    try:
        from translate.storage import xliff  # noqa: PLC0415 - an extra
    except ModuleNotFoundError:
        raise LeafletError.at("XLIFF", "translate-toolkit is not installed", INSTALL) from None
    module: ModuleType = xliff
    return module
