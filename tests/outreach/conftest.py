"""School packs and prevention leaflets as they are made, once for all tests."""

import datetime
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pypdfium2
import pytest

from leaflets.catalogue import Catalogue, Translation
from leaflets.checks.evidence import Evidence
from leaflets.compose.leaflet import Composition
from leaflets.compose.messages import source_messages
from leaflets.compose.school import LAYOUT, ClassSet, Part, compose_school_part, planned_blocks, reader_of
from leaflets.content import Content
from leaflets.outreach_request import SchoolRequest
from leaflets.school import make_school_pack
from leaflets.sheet_result import SheetResult
from leaflets.sheets import evidence_of, situation_for

DAY = datetime.date(2026, 11, 25)
MadePack = tuple[SheetResult, Path]


@pytest.fixture(scope="session")
def pack(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., MadePack]:
    """Return a function that makes a school pack, and the folder of its files."""

    @cache
    def make(band: str, **options: Any) -> MadePack:
        out = tmp_path_factory.mktemp("pack")
        return make_school_pack(band, date=DAY, out=out, **options), out

    return make


@pytest.fixture
def french_clinic(clinic: Path) -> Path:
    """Return the folder of a clinic with a catalogue in which nothing is translated."""
    path = clinic / "locales" / "fr" / "LC_MESSAGES" / "leaflets.po"
    path.parent.mkdir(parents=True)
    header = 'msgid ""\nmsgstr ""\n"Language: fr\\n"\n"Content-Type: text/plain; charset=UTF-8\\n"\n'
    path.write_text(header + '"Plural-Forms: nplurals=2; plural=(n > 1);\\n"\n', "utf-8")
    return clinic


def pages_of(path: Path | str) -> list[str]:
    """Return the text of each page of a PDF, as its text layer has it."""
    with pypdfium2.PdfDocument(path) as document:
        return [page.get_textpage().get_text_range().replace("\r\n", "\n") for page in document]


@pytest.fixture(scope="session")
def part_evidence(content: Content) -> Callable[..., tuple[Evidence, Composition]]:
    """Return a function that composes one part of a pack, with what checks look at."""

    @cache
    def compose(
        part: Part, band: Any = "7-11", language: str = "en", country: str = "GB", class_size: int = 1
    ) -> tuple[Evidence, Composition]:
        request = SchoolRequest(band=band, language=language, country=country, date=DAY, class_size=class_size)
        situation, plan = situation_for(request, reader_of(part, band), {"5-7": 5, "7-11": 7}[band], content)
        blocks = planned_blocks(part)
        situation = replace(situation, layout=LAYOUT, for_school=True, block_ids=frozenset(one.id for one in blocks))
        composition = compose_school_part(
            content.words, part, ClassSet(band, class_size, "oak"), situation, content.clinic.file.accent
        )
        return evidence_of(replace(plan, blocks=blocks), situation, composition.leaflet, content), composition

    return compose


def catalogue_of_sources(content: Content, locale: str, changed: dict[str, str]) -> Catalogue:
    """Return a catalogue whose words are the English ones, but for those that are changed, by their source."""
    translations = {}
    for message in source_messages(content.words):
        key = message.key
        forms = (key.source,) if key.plural is None else (key.source, key.plural)
        if key.source in changed:
            forms = (changed[key.source],)
        translations[key] = Translation(key, forms, stale=False, place=f"locales/{locale}.po:7")
    return Catalogue(locale, "a test", translations)
