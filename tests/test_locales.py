"""The template of all catalogues, locales/leaflets.pot: what translators get is what leaflets say now."""

import re
import tomllib
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog
from babel.messages.extract import extract
from babel.messages.pofile import read_po

from leaflets import demo
from leaflets.catalogue import MessageRecorder

TOP = Path(__file__).parents[1]
POT = TOP / "locales" / "leaflets.pot"
TEMPLATES = TOP / "templates"
VISITS = [*sorted((Path(demo.__file__).parent / "visits").glob("*.toml")), TOP / "tests" / "visits" / "routine.toml"]

Message = tuple[str, ...]


@pytest.fixture(scope="module")
def catalogue() -> Catalog:
    return read_po(BytesIO(POT.read_bytes()), ignore_obsolete=False, abort_invalid=True)


@pytest.fixture(scope="module")
def mapping() -> dict[str, str]:
    """The options of extraction, as pyproject.toml gives them to `make words`."""
    settings = tomllib.loads((TOP / "pyproject.toml").read_text("utf-8"))["tool"]["babel"]["mappings"]
    (found,) = [each for each in settings if each["method"] == "jinja2"]
    assert found["pattern"] == "**.html"
    return {name: value for name, value in found.items() if name not in ("method", "pattern")}


@pytest.fixture(scope="module")
def extracted(mapping: dict[str, str]) -> dict[Message, set[tuple[str, int]]]:
    """Every message of the templates, with the places where it stands."""
    found: dict[Message, set[tuple[str, int]]] = {}
    for path in sorted(TEMPLATES.rglob("*.html")):
        with path.open("rb") as file:
            for line, message, _comments, _context in extract(
                "jinja2", file, comment_tags=["Translators:"], options=mapping
            ):
                key = tuple(part for part in message if part) if isinstance(message, tuple) else (message,)
                found.setdefault(key, set()).add((path.relative_to(TOP).as_posix(), line))
    return found


def _messages(catalogue: Catalog) -> Iterator[tuple[Message, set[tuple[str, int]]]]:
    for message in catalogue:
        if message.id:
            key = message.id if isinstance(message.id, tuple) else (message.id,)
            yield tuple(key), {(name, line or 0) for name, line in message.locations}


def test_the_template_of_catalogues_is_what_extraction_gives_now(
    catalogue: Catalog, extracted: dict[Message, set[tuple[str, int]]]
) -> None:
    written = dict(_messages(catalogue))
    assert sorted(set(extracted) - set(written)) == [], "run: make words"
    assert sorted(set(written) - set(extracted)) == [], "run: make words"
    moved = {key for key, places in written.items() if places != extracted[key]}
    assert sorted(moved) == [], "run: make words"


def test_the_template_of_catalogues_holds_no_translation_and_no_obsolete_message(catalogue: Catalog) -> None:
    assert not catalogue.obsolete
    for message in catalogue:
        if message.id:
            assert not any(message.string) if isinstance(message.string, tuple) else not message.string


def test_every_message_that_leaflets_use_stands_in_it(catalogue: Catalog, monkeypatch: pytest.MonkeyPatch) -> None:
    from leaflets.pipeline import make  # noqa: PLC0415

    used: set[Message] = set()

    class _Listener(MessageRecorder):
        def message(self, source: str, block: str) -> str:
            used.add((source,))
            return super().message(source, block)

        def counted_message(self, singular: str, plural: str, count: float, block: str) -> str:
            used.add((singular, plural))
            return super().counted_message(singular, plural, count, block)

    monkeypatch.setattr("leaflets.compose.leaflet.MessageRecorder", _Listener)
    for visit in VISITS:
        make(visit)
    assert len(used) > 100
    assert sorted(used - {key for key, _ in _messages(catalogue)}) == []


def test_a_message_is_whole_and_holds_no_markup_but_strong(extracted: dict[Message, set[tuple[str, int]]]) -> None:
    for key, places in extracted.items():
        for text in key:
            assert text == text.strip(), places
            assert "\n" not in text, places
            assert set(re.findall(r"</?([a-z0-9]+)", text)) <= {"strong"}, places
            # A lone per cent sign would be taken for the start of a name.
            assert not re.search(r"%(?!\(\w+\)[sd]|%)", text), places


def test_both_forms_of_a_counted_message_name_the_same_values(extracted: dict[Message, set[tuple[str, int]]]) -> None:
    """The form for one may say "once" and leave the count out; it brings nothing in that the other has not."""
    for key, places in extracted.items():
        names = [set(re.findall(r"%\((\w+)\)", text)) for text in key]
        assert names[0] <= names[-1], places
        assert len(names[-1] - names[0]) <= 1, places
