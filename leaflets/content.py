"""Everything that the project and a clinic say, read once: rules, numbers, countries, words, looks, figures."""

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

from leaflets.catalogue import SOURCE_LANGUAGE, Catalogue, locale_of_folder, parse_catalogue
from leaflets.catalogue.pseudo import PSEUDO_LOCALES, pseudo_catalogue
from leaflets.catalogue.translations import require_own_header
from leaflets.clinic import DEMO_FOLDER, FILE_NAME, Clinic, load_clinic
from leaflets.compose.messages import source_messages
from leaflets.compose.words import Words, parse_words, reader_block
from leaflets.errors import LeafletError, Problem
from leaflets.formats import FORMATS
from leaflets.locale_files import glossaries_in, locales_in, read_text
from leaflets.rules.countries import Country, parse_countries
from leaflets.rules.numbers import Numbers, parse_numbers
from leaflets.rules.rule import Rule, parse_rules
from leaflets.rules.sources import Source, parse_sources
from leaflets.rules.toml import TomlFile
from leaflets.rules.topics import Topic, parse_topics
from leaflets.signoff import FILE_NAME as SIGN_OFF_FILE
from leaflets.signoff import Ledger, load_ledger
from leaflets.translation_checks import Glossary, parse_glossary
from leaflets.vocabulary import Reader

_ON_SCREEN = "on-screen."
"""How the names of style sheets begin that are added for the PDF of one language that is read on a screen."""

_OF_SHEETS = ("sheet.css", "school.css")
"""The style sheets of what is made without a visit, each over that of its paper."""

OWN_TEMPLATES = "blocks/"
"""What a clinic may write itself below templates/ in its folder: the words of blocks."""

PACKAGE = Path(__file__).parent
RULES_FOLDER = PACKAGE / "rules"
READERS: tuple[Reader, ...] = ("adult", "carer")
"""The readers that every block has words for."""


@dataclass(frozen=True)
class RuleBook:
    """Everything that the clinical lead keeps: rules by id, numbers, countries by code, sources, topics."""

    rules: Mapping[str, Rule]
    numbers: Numbers
    countries: Mapping[str, Country]
    sources: tuple[Source, ...]
    topics: Mapping[str, Topic] = field(default_factory=dict)


@dataclass(frozen=True)
class Content:
    """What leaflets are made of, for one clinic.

    Attributes:
        version: from every byte of rules, words and looks, so that the same content has the same version.
        styles: each format's whole style sheet, as `a4.css`, and what a browser needs besides, as `a4-screen.css`.
        catalogue_files: the texts of each locale's catalogues by path, the project's first, then the clinic's own.
        glossary_files: the text of each locale's glossary with its path; the clinic's own where it has one.

    """

    rule_book: RuleBook
    words: Words
    styles: Mapping[str, str]
    clinic: Clinic
    ledger: Ledger
    version: str
    catalogue_files: Mapping[str, tuple[tuple[str, str], ...]]
    glossary_files: Mapping[str, tuple[str, str]]

    @property
    def languages(self) -> tuple[str, ...]:
        """The languages that leaflets are made in, the source language first."""
        return (SOURCE_LANGUAGE, *self.catalogue_files)

    def catalogue(self, language: str) -> Catalogue | None:
        """Return the catalogue of a language, parsed when it is first asked for. None: it is the source language.

        Raises:
            LeafletError: a file of it is no catalogue; with its line.

        """
        if language in PSEUDO_LOCALES:
            return pseudo_catalogue(language, source_messages(self.words))
        files = self.catalogue_files.get(language)
        return None if files is None else _parsed_catalogue(language, files)

    def glossary(self, language: str) -> Glossary | None:
        """Return the glossary of a language, parsed when it is first asked for. None: it has none.

        Raises:
            LeafletError: with all that is wrong in it.

        """
        file = self.glossary_files.get(language)
        return None if file is None else _parsed_glossary(*file)


_parsed_glossary = cache(parse_glossary)


@cache
def _parsed_catalogue(language: str, files: tuple[tuple[str, str], ...]) -> Catalogue:
    for place, text in files:
        require_own_header(text, place, language)
    first, *more = (parse_catalogue(text, place, language) for place, text in files)
    for catalogue in more:
        first = first.under(catalogue)
    return first


def templates_folder() -> Path:
    """Return where the templates are: inside the package when it is installed, beside it in a checkout."""
    return _top_folder("templates")


def locales_folder() -> Path:
    """Return where the catalogues are, as for `templates_folder`."""
    return _top_folder("locales")


def _top_folder(name: str) -> Path:
    inside = PACKAGE / name
    return inside if inside.is_dir() else PACKAGE.parent / name


def load_content(clinic_folder: Path | None = None) -> Content:
    """Read everything, once for each clinic in a process. None: the invented clinic of the demonstration.

    Raises:
        LeafletError: with all that is wrong in rules, numbers, words and the clinic's folder.

    """
    folder = (DEMO_FOLDER if clinic_folder is None else clinic_folder).resolve()
    return _load_content(folder, _stamp(folder))


def _stamp(folder: Path) -> tuple[tuple[str, int], ...]:
    """Return what tells whether anything in a clinic's folder changed."""
    paths = (folder / FILE_NAME, folder / SIGN_OFF_FILE, *folder.glob("locales/**/*"), *folder.glob("templates/**/*"))
    return tuple((str(path), path.stat().st_mtime_ns) for path in sorted(paths) if path.is_file())


@cache
def _load_content(folder: Path, _of_folder: tuple[tuple[str, int], ...]) -> Content:
    files = dict(_texts(RULES_FOLDER, "*.toml", "leaflets/rules/"))
    rule_book, problems = parse_rule_files(files)
    clinic: Clinic | None = None
    try:
        clinic = load_clinic(folder, rule_book.numbers, invented=folder == DEMO_FOLDER.resolve())
    except LeafletError as error:
        problems += error.problems
    if clinic is not None and clinic.file.numbers:
        rule_book, problems = parse_rule_files(files, clinic.file.numbers)
    templates = {name: text for name, text in _texts(templates_folder(), "**/*.*", "") if not name.endswith(".css")}
    styles = _styles(dict(_texts(templates_folder() / "styles", "*.css", "")))
    locale_folders = {"locales": locales_folder(), str(folder / "locales"): folder / "locales"}
    catalogue_files, glossary_files = _catalogue_files(locale_folders), _glossary_files(locale_folders)
    own = dict(_texts(folder / "templates", f"{OWN_TEMPLATES}**/*.html", ""))
    words, more = parse_words({**templates, **own}, {path: str(folder / "templates" / path) for path in own})
    problems += more
    problems += [*missing_words(rule_book.rules, words), *missing_topic_words(rule_book.topics, words)]
    if problems or clinic is None:
        raise LeafletError(problems)
    return Content(
        rule_book=rule_book,
        words=words,
        styles=styles,
        clinic=clinic,
        ledger=load_ledger(folder),
        version=_version(
            files,
            templates,
            styles,
            own,
            {"settings": str(sorted(clinic.file.numbers.items())), "digits": str(sorted(clinic.file.native_digits))},
            {place: text for texts in catalogue_files.values() for place, text in texts},
        ),
        catalogue_files=catalogue_files,
        glossary_files=glossary_files,
    )


def _styles(sheets: Mapping[str, str]) -> Mapping[str, str]:
    """Return the whole style sheets of all formats, made of the files by name."""
    styles = {f"{row.name}.css": "".join(sheets[name] for name in row.style_sheets) for row in FORMATS.values()}
    for row in FORMATS.values():
        styles[f"{row.name}-screen.css"] = "".join(sheets[name] for name in row.screen_style_sheets)
    styles |= {name: text for name, text in sheets.items() if name.startswith(_ON_SCREEN) or name in _OF_SHEETS}
    return MappingProxyType(styles)


def _catalogue_files(folders: Mapping[str, Path]) -> Mapping[str, tuple[tuple[str, str], ...]]:
    """Return the texts of all catalogues by locale; `folders` by the name under which a message shows them."""
    found: dict[str, tuple[tuple[str, str], ...]] = {}
    for shown, folder in folders.items():
        for files in locales_in(folder):
            place = f"{shown}/{files.catalogue.relative_to(folder).as_posix()}"
            found[files.locale] = (*found.get(files.locale, ()), (place, read_text(files.catalogue)))
    return MappingProxyType(dict(sorted(found.items())))


def _glossary_files(folders: Mapping[str, Path]) -> Mapping[str, tuple[str, str]]:
    found = {
        locale_of_folder(path.parent.name): (f"{shown}/{path.relative_to(folder).as_posix()}", read_text(path))
        for shown, folder in folders.items()
        for path in glossaries_in(folder)
    }
    return MappingProxyType(found)


def parse_rule_files(
    files: Mapping[str, str], settings: Mapping[str, Any] = MappingProxyType({})
) -> tuple[RuleBook, list[Problem]]:
    """Parse the texts of all rules files, by name, and return the rule book with all that is wrong in it.

    `settings`: a clinic's own values for numbers.
    """
    problems: list[Problem] = []
    parsed: dict[str, TomlFile] = {}
    for name, text in files.items():
        try:
            parsed[Path(name).stem] = TomlFile.parse(name, text)
        except LeafletError as error:
            problems.extend(error.problems)

    def take(stem: str) -> TomlFile:
        return parsed.pop(stem, TomlFile(f"leaflets/rules/{stem}.toml", "", {}))

    numbers, number_problems = parse_numbers(take("numbers"))
    numbers = numbers.with_settings(settings)
    countries, country_problems = parse_countries(take("countries"))
    sources, source_problems = parse_sources(take("sources"))
    topics, topic_problems = parse_topics(take("topics"))
    rules, rule_problems = parse_rules(list(parsed.values()), numbers)
    problems += [*number_problems, *country_problems, *source_problems, *topic_problems, *rule_problems]
    return RuleBook(rules, numbers, countries, sources, topics), problems


def missing_words(rules: Mapping[str, Rule], words: Words) -> list[Problem]:
    """Return a problem for each block that a rule gives but that a reader has no words for."""
    problems = []
    for rule in rules.values():
        for block_id in rule.blocks:
            block = words.blocks.get(block_id)
            if block is None:
                hint = f"write templates/blocks/{block_id}.html, or correct the rule"
                problems.append(Problem(rule.place, f"gives the block '{block_id}', which has no words", hint))
                continue
            for reader in READERS:
                if reader_block(reader) not in block.readers:
                    hint = f"write {{% block {reader_block(reader)} %}}"
                    problems.append(Problem(block.place, f"has no words for the reader '{reader}'", hint))
    return list(dict.fromkeys(problems))


def missing_topic_words(topics: Mapping[str, Topic], words: Words) -> list[Problem]:
    """Return a problem for each block that a topic names and that has no words for its reader."""
    return [
        Problem(topic.place, f"names the block '{block_id}', which has no words for '{topic.reader}'", "correct it")
        for topic in topics.values()
        for block_id in topic.blocks
        if block_id not in words.blocks or topic.reader not in words.blocks[block_id].readers
    ]


def _texts(folder: Path, pattern: str, prefix: str) -> Iterator[tuple[str, str]]:
    for path in sorted(folder.glob(pattern)):
        if path.is_file() and not path.name.startswith("."):
            yield f"{prefix}{path.relative_to(folder).as_posix()}", path.read_text("utf-8")


def _version(*groups: Mapping[str, str]) -> str:
    digest = hashlib.blake2b(digest_size=4)
    for group in groups:
        for name, text in group.items():
            digest.update(f"{name}\0{text}\0".encode())
    return digest.hexdigest()
