"""A leaflet for a child who reads: a page of its own in front, and the grown-up's leaflet whole behind it."""

import re
import subprocess
import tomllib
from collections.abc import Callable
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any
from xml.etree import ElementTree as ET

import outloud
import pytest

from leaflets import demo
from leaflets.model import Result
from leaflets.pipeline import make
from leaflets.vocabulary import CHILD_READERS

VISIT = Path(demo.__file__).parent / "visits" / "09-a-child-with-a-tube.toml"
DROPS = Path(demo.__file__).parent / "visits" / "10-drops-for-both-ears.toml"
LANGUAGES = ("en", "ar", "ur", "pl")

MakeFor = Callable[..., Result]


@pytest.fixture(scope="module")
def make_for(tmp_path_factory: pytest.TempPathFactory) -> MakeFor:
    """Return a function that makes a leaflet for a reader, once."""
    folder = tmp_path_factory.mktemp("children")

    @cache
    def once(reader: str, language: str = "en", format_: str = "a4", visit: Path = VISIT) -> Result:
        return make(visit, reader=reader, language=language, format=format_, out=folder)

    return once


def _body(result: Result) -> ET.Element:
    page = Path(result.files["html"]).read_text("utf-8")
    found = re.search(r"<body>.*</body>", page, re.DOTALL)
    assert found is not None
    return ET.fromstring(found[0])  # noqa: S314 - our own page


def _childs(body: ET.Element) -> ET.Element:
    (found,) = [one for one in body.iter("div") if "childs-page" in one.get("class", "").split()]
    return found


def _blocks(tree: ET.Element, name: str) -> list[tuple[str, str]]:
    return [(one.get(name, ""), " ".join("".join(one.itertext()).split())) for one in tree.iter("div") if one.get(name)]


def _text_of(pdf: Path) -> list[str]:
    told = subprocess.run(["pdftotext", str(pdf), "-"], capture_output=True, text=True, check=True).stdout
    return told.split("\f")[:-1]


@pytest.mark.parametrize("reader", CHILD_READERS)
@pytest.mark.parametrize("visit", [VISIT, DROPS], ids=["a tube", "drops"])
def test_behind_the_childs_page_stands_the_carers_leaflet_word_for_word(
    reader: str, visit: Path, make_for: MakeFor
) -> None:
    child, carer = make_for(reader, visit=visit), make_for("carer", visit=visit)
    assert child.status == carer.status == "ok"
    assert _blocks(_body(child), "data-block") == _blocks(_body(carer), "data-block")
    assert child.blocks == carer.blocks


@pytest.mark.parametrize("reader", CHILD_READERS)
def test_the_childs_page_is_the_first_alone_and_holds_no_figure(reader: str, make_for: MakeFor) -> None:
    result = make_for(reader, visit=DROPS)
    childs = _childs(_body(result))
    said = _blocks(childs, "data-childs-block")
    assert {"today/findings", "help/urgent", "ears/nothing-inside"} <= {block for block, _ in said}
    assert not any(re.search(r"\d", text) for _, text in said)
    first, second, *_ = _text_of(Path(result.files["pdf"]))
    assert "You and your ears" in first
    assert "999" not in first
    assert "Ear care for" in second
    assert "999" in second


def test_the_two_ages_are_told_in_words_of_their_own_and_the_younger_more_simply(make_for: MakeFor) -> None:
    young, older = (make_for(reader).readability for reader in CHILD_READERS)
    assert young is not None
    assert older is not None
    # Source of the limits: leaflets/readability/targets.toml, grades 1 and 3.
    assert young["grade"] < older["grade"] <= 3
    assert young["grade"] <= 1


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("reader", CHILD_READERS)
def test_checkers_from_outside_find_nothing(
    reader: str, language: str, make_for: MakeFor, structure: ModuleType
) -> None:
    result = make_for(reader, language)
    assert result.status == "ok", result.findings
    pdf = Path(result.files["pdf"])
    assert subprocess.run(["qpdf", "--check", pdf], capture_output=True, check=False).returncode == 0
    told = outloud.check(str(pdf))
    assert told.error is None
    assert [finding.rule for finding in told.findings if finding.severity == "error"] == []
    assert structure.structure_faults(pdf) == []


@pytest.mark.parametrize("format_", ["a5", "large-print", "easy-read", "phone", "text", "braille"])
def test_every_format_tells_the_child_first(format_: str, make_for: MakeFor) -> None:
    result = make_for("child-7-11", format_=format_)
    assert result.status == "ok", result.findings
    if "txt" in result.files:
        text = Path(result.files["txt"]).read_text("utf-8")
        assert text.index("You and your ears") < text.index("Tell a grown-up straight away if:") < text.index("999")
        return
    body = _body(result)
    assert list(body.iter()).index(_childs(body)) < list(body.iter()).index(next(body.iter("section")))
    assert "999" not in "".join(_childs(body).itertext())


def test_the_coverage_counts_the_childs_words_and_a_missing_one_stops_the_leaflet(clinic: Path) -> None:
    """The clinic takes one of them away in Polish."""
    record = tomllib.loads(VISIT.read_text("utf-8")) | {"language": "pl"}
    counted = [make(record, reader=reader).coverage for reader in ("carer", "child-5-7")]
    assert counted[0] is not None
    assert counted[1] is not None
    assert counted[1]["messages"] > counted[0]["messages"] + 20
    assert counted[1]["missing"] == 0
    header = (Path(demo.__file__).parents[2] / "locales/pl/LC_MESSAGES/leaflets.po").read_text("utf-8").split("\n\n")[0]
    own = clinic / "locales/pl/LC_MESSAGES/leaflets.po"
    own.parent.mkdir(parents=True)
    stale = '#, fuzzy\nmsgctxt "help/urgent (child)"\nmsgid "You feel very dizzy, or you are sick."\nmsgstr "Stare."\n'
    own.write_text(f"{header}\n\n{stale}", "utf-8")
    stopped = make(record, reader="child-5-7", clinic=clinic)
    assert stopped.status == "stopped"
    assert {(one.code, one.place) for one in stopped.findings if one.severity == "stop"} == {
        ("TRAN01", f"{own}:{header.count(chr(10)) + 5}")
    }
    assert make(record, reader="carer", clinic=clinic).status == "ok"


def test_a_child_is_addressed_as_a_child_and_the_grown_up_as_one(make_for: MakeFor) -> None:
    """Polish: a child is told "Usiądź", a grown-up "Proszę …"; a fact of the language, from memory."""
    result = make_for("child-7-11", "pl")
    body = _body(result)
    assert [text for _, text in _blocks(_childs(body), "data-childs-block") if "Proszę" in text] == []
    assert "Proszę" in "".join(body.itertext())


def test_the_mark_of_drafts_is_on_the_childs_page_too(make_for: MakeFor) -> None:
    for page in _text_of(Path(make_for("child-5-7").files["pdf"])):
        assert "not approved for patients" in " ".join(page.split())


def test_a_reader_that_there_is_not_is_named_with_those_there_are() -> None:
    from leaflets.errors import LeafletError  # noqa: PLC0415

    with pytest.raises(LeafletError, match="allowed: adult, carer, child-5-7, child-7-11"):
        make(VISIT, reader="child-12-16")


def _as_json(result: Result) -> dict[str, Any]:
    return result.as_json()


def test_the_same_record_gives_the_same_bytes(tmp_path: Path) -> None:
    one, other = (make(VISIT, reader="child-5-7", out=tmp_path / name) for name in ("a", "b"))
    assert Path(one.files["pdf"]).read_bytes() == Path(other.files["pdf"]).read_bytes()
    assert {**_as_json(one), "files": {}} == {**_as_json(other), "files": {}}
