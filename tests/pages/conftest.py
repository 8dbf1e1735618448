"""The leaflets of the invented visits and of the routine visit, each made once for all tests of this folder."""

import importlib.util
import re
import subprocess
import sys
import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from types import ModuleType
from typing import Any
from xml.etree import ElementTree as ET

import pytest

from leaflets import demo
from leaflets.pipeline import make

TESTS = Path(__file__).parents[1]
ROUTINE = TESTS / "visits" / "routine.toml"
VISITS = [*sorted((Path(demo.__file__).parent / "visits").glob("*.toml")), ROUTINE]

_BODY = re.compile(r"<body>.*</body>", re.DOTALL)
_STRUCTURE_TEXT = re.compile(r'^\s*"(.*)"$')


@dataclass(frozen=True)
class Word:
    """A word on a page, as pdftotext finds it; the edges in points from the top left."""

    text: str
    page: int
    left: float
    top: float
    right: float
    bottom: float


@dataclass(frozen=True)
class Made:
    """One leaflet that was made: what the program said of it, and its files as other programs read them."""

    record: dict[str, Any]
    result: dict[str, Any]

    @cached_property
    def pdf(self) -> Path:
        return Path(self.result["files"]["pdf"])

    @cached_property
    def html(self) -> str:
        return Path(self.result["files"]["html"]).read_text("utf-8")

    @cached_property
    def body(self) -> ET.Element:
        found = _BODY.search(self.html)
        assert found is not None
        return ET.fromstring(found[0])  # noqa: S314 - our own page

    @cached_property
    def text_in_order(self) -> str:
        """The text of the PDF in the order of its structure, as a screen reader tells it.

        Without page furniture, which stands outside the structure, and without the marks of lists and the point that
        the style sheet sets between two words.
        """
        texts = []
        label: int | None = None  # how deep the label stands whose text is passed over
        for line in _run("pdfinfo", "-struct-text", str(self.pdf)).splitlines():
            depth = len(line) - len(line.lstrip())
            if label is not None and depth <= label:
                label = None
            if line.strip().startswith("Lbl"):
                label = depth
            elif label is None and (found := _STRUCTURE_TEXT.match(line)):
                texts.append(found[1].removeprefix("\N{MIDDLE DOT}"))
        return " ".join(texts)

    @cached_property
    def painted_pages(self) -> list[str]:
        """The text of each page as it is painted."""
        return _run("pdftotext", "-raw", str(self.pdf), "-").split("\f")[:-1]

    @cached_property
    def words(self) -> list[Word]:
        told = re.sub(r'<!DOCTYPE[^>]*>|xmlns="[^"]*"', "", _run("pdftotext", "-bbox", str(self.pdf), "-"))
        root = ET.fromstring(told)  # noqa: S314 - what poppler says of our own page
        return [
            Word(word.text or "", number, *(float(word.attrib[edge]) for edge in ("xMin", "yMin", "xMax", "yMax")))
            for number, page in enumerate(root.iter("page"), 1)
            for word in page.iter("word")
        ]


def _run(*command: str) -> str:
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Callable[[Path], Made]:
    """Return a function that makes the leaflet of a visit, once."""
    folder = tmp_path_factory.mktemp("leaflets")
    known: dict[Path, Made] = {}

    def once(visit: Path) -> Made:
        if visit not in known:
            known[visit] = Made(tomllib.loads(visit.read_text("utf-8")), make(visit, out=folder).as_json())
        return known[visit]

    return once


@pytest.fixture(scope="session")
def made_in(tmp_path_factory: pytest.TempPathFactory) -> Callable[[Path, str], Made]:
    """Return a function that makes the leaflet of a visit in a language, once."""
    folder = tmp_path_factory.mktemp("languages")
    known: dict[tuple[Path, str], Made] = {}

    def once(visit: Path, language: str) -> Made:
        if (visit, language) not in known:
            record = tomllib.loads(visit.read_text("utf-8"))
            known[visit, language] = Made(record, make(visit, language=language, out=folder).as_json())
        return known[visit, language]

    return once


@pytest.fixture(scope="session", params=VISITS, ids=lambda path: path.stem)
def made(request: pytest.FixtureRequest, made_once: Callable[[Path], Made]) -> Made:
    """Each leaflet in its turn."""
    return made_once(request.param)


@pytest.fixture(scope="session")
def structure() -> ModuleType:
    """The look at a PDF's structure that the tests of rendering use: a plain module beside them."""
    name = "tests_rendering_structure"
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, TESTS / "rendering" / "structure.py")
        assert spec is not None
        assert spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        sys.modules[name] = module
        spec.loader.exec_module(module)
    return sys.modules[name]
