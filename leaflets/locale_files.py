"""The files below `locales/`: the project's and a clinic's own, found, read and brought up to date."""

import datetime
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from leaflets import cldr
from leaflets.catalogue import SourceMessage, folder_name, locale_of_folder
from leaflets.catalogue.po_files import new_catalogue_text, template_text, updated_catalogue_text
from leaflets.catalogue.translations import require_own_header
from leaflets.errors import LeafletError
from leaflets.render.files import write_together

CATALOGUE_NAME = "leaflets"
CATALOGUE_FILE = f"LC_MESSAGES/{CATALOGUE_NAME}.po"
"""Where a locale's catalogue stands in its folder, as gettext has it."""

TEMPLATE_FILE = f"{CATALOGUE_NAME}.pot"
GLOSSARY_FILE = "glossary.toml"
BACK_TRANSLATION_FILE = "back-translation.po"


@dataclass(frozen=True)
class LocaleFiles:
    """Where the files of one locale are.

    Attributes:
        locale: BCP 47.
        folder: that of the locale.

    """

    locale: str
    folder: Path

    @property
    def catalogue(self) -> Path:
        """Where its catalogue is, or would be."""
        return self.folder / CATALOGUE_FILE

    @property
    def glossary(self) -> Path:
        """Where its glossary is, or would be."""
        return self.folder / GLOSSARY_FILE

    @property
    def back_translation(self) -> Path:
        """Where its translation back into English is, or would be."""
        return self.folder / BACK_TRANSLATION_FILE


def locales_in(folder: Path) -> Iterator[LocaleFiles]:
    """Find every locale that has a catalogue below a folder, in the order of their tags.

    Raises:
        LeafletError: a folder with a catalogue is named after no locale.

    """
    for path in sorted(folder.glob(f"*/{CATALOGUE_FILE}")):
        name = path.relative_to(folder).parts[0]
        locale = locale_of_folder(name)
        if not cldr.is_known(locale):
            hint = "name the folder by BCP 47, such as fr or pt_BR"
            raise LeafletError.at(str(path), f"'{name}' is not a locale that is known", hint)
        yield LocaleFiles(locale, folder / name)


def glossaries_in(folder: Path) -> Iterator[Path]:
    """Find every glossary below a folder; a clinic may have one of its own for a catalogue of the project's."""
    yield from sorted(folder.glob(f"*/{GLOSSARY_FILE}"))


def locale_in(folder: Path, locale: str) -> LocaleFiles:
    """Return where the files of a locale are below a folder, whether they exist or not."""
    return LocaleFiles(locale, folder / folder_name(locale))


def update_locales(
    folder: Path, messages: Iterable[SourceMessage], day: datetime.date, new: Iterable[str] = ()
) -> list[Path]:
    """Bring the template and every catalogue below a folder up to date; return the files that changed.

    `new`: locales that get a catalogue without translations where they have none.

    Raises:
        LeafletError: a catalogue is none, or a file cannot be written; those written before stay, each whole.

    """
    told = tuple(messages)
    texts = {folder / TEMPLATE_FILE: template_text(told)}
    for files in locales_in(folder):
        text = read_text(files.catalogue)
        require_own_header(text, str(files.catalogue), files.locale)
        texts[files.catalogue] = updated_catalogue_text(text, str(files.catalogue), files.locale, told)
    for locale in new:
        path = locale_in(folder, locale).catalogue
        if path not in texts:
            texts[path] = new_catalogue_text(locale, told, day)
    changed = [path for path, text in texts.items() if not path.is_file() or read_text(path) != text]
    for path in changed:
        write_text(path, texts[path])
    return changed


def read_text(path: Path) -> str:
    """Return the text of a file.

    Raises:
        LeafletError: it cannot be read, or is not UTF-8.

    """
    try:
        return path.read_text("utf-8")
    except OSError as error:
        raise LeafletError.at(str(path), f"cannot be read: {error.strerror}", "give the path of a file") from None
    except UnicodeDecodeError as error:
        line = error.object[: error.start].count(b"\n") + 1
        raise LeafletError.at(f"{path}:{line}", "is not UTF-8", "save the file as UTF-8") from None


def write_text(path: Path, text: str) -> None:
    """Write a file whole or not at all.

    Raises:
        LeafletError: it cannot be written.

    """
    write_bytes(path, text.encode())


def write_bytes(path: Path, body: bytes) -> None:
    """Write a file whole or not at all; its folder is made.

    Raises:
        LeafletError: it cannot be written.

    """
    write_together(path.parent, path.stem, {path.suffix.removeprefix("."): body})
