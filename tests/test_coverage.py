"""Coverage of each kind of leaflet by language, for a program, for a terminal, and for a manager."""

import json
from html.parser import HTMLParser
from pathlib import Path

import pytest
from click.testing import CliRunner

from leaflets.catalogue.pseudo import PSEUDO_LOCALES
from leaflets.cli import main as cli
from leaflets.cli.show_coverage import coverage_page
from leaflets.compose.messages import source_messages
from leaflets.content import Content
from leaflets.coverage import ALL, CoverageRow, coverage_rows
from leaflets.pipeline import check, make

VISITS = Path(__file__).parents[1] / "leaflets" / "demo" / "visits"
KEYS = {"locale", "kind", "reader", "messages", "missing", "stale", "draft", "reviewed", "percent"}


def test_a_program_gets_the_keys_of_the_contract() -> None:
    result = CliRunner().invoke(cli, ["coverage", "--language", "pl", "--json"])
    rows = json.loads(result.stdout)
    assert all(set(row) == KEYS for row in rows)
    assert {row["locale"] for row in rows} == {"pl"}
    for row in rows:
        assert row["messages"] == row["missing"] + row["stale"] + row["draft"] + row["reviewed"]


def test_everything_is_all_messages_of_the_templates(content: Content) -> None:
    rows = [row for row in coverage_rows(content, ["cy"]) if row.kind == ALL]
    assert [row.messages for row in rows] == [len(source_messages(content.words))]


def test_a_leaflet_that_leaves_nothing_out_counts_as_its_row_does(content: Content) -> None:
    """The row has every block that the outcome gives, the result only those that had room."""
    result = make(VISITS / "08-sudden-hearing-loss.toml", language="pl")
    row = next(
        row for row in coverage_rows(content, ["pl"]) if (row.kind, row.reader) == ("sudden-hearing-loss", "adult")
    )
    assert result.coverage is not None
    assert row.messages >= int(result.coverage["messages"])
    if not [finding for finding in result.findings if finding.code == "PAGE03"]:
        assert row.messages == result.coverage["messages"]


@pytest.mark.parametrize(
    ("missing", "stale", "draft", "reviewed", "percent"),
    [(0, 0, 3, 0, 100.0), (1, 0, 1, 1, 66.6), (1, 1, 0, 0, 0.0), (1, 0, 999, 1, 99.9), (0, 0, 0, 0, 100.0)],
)
def test_the_share_is_rounded_down_so_that_100_is_all(
    missing: int, stale: int, draft: int, reviewed: int, percent: float
) -> None:
    total = missing + stale + draft + reviewed
    assert CoverageRow("pl", "x", "adult", total, missing, stale, draft, reviewed).percent == percent


class _Cells(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.classes: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "td":
            self.classes.append(dict(attrs).get("class") or "")


def test_the_page_of_the_manager_says_in_words_what_its_colours_show() -> None:
    rows = [
        CoverageRow("pl", "a-kind", "adult", 10, 0, 0, 10, 0),
        CoverageRow("ro", "a-kind", "adult", 10, 0, 0, 0, 10),
        CoverageRow("pl", "b-kind", "adult", 100, 1, 0, 99, 0),
        CoverageRow("ro", "b-kind", "adult", 10, 5, 0, 5, 0),
    ]
    page = coverage_page(rows)
    cells = _Cells()
    cells.feed(page)
    assert cells.classes == ["draft", "reviewed", "gaps", "far"]
    for words in ("whole, not signed off", "signed off", "some is missing", "much is missing"):
        assert words in page


# Languages that nobody speaks


@pytest.mark.parametrize("language", PSEUDO_LOCALES)
@pytest.mark.parametrize("visit", sorted(VISITS.glob("*.toml")), ids=lambda path: path.stem)
def test_no_word_of_a_leaflet_escaped_the_catalogue(language: str, visit: Path) -> None:
    """What stands outside square brackets is a value: a date, a measure, a number, somebody's own words."""
    import tomllib  # noqa: PLC0415
    from xml.etree import ElementTree as ET  # noqa: PLC0415 - our own page

    record = {**tomllib.loads(visit.read_text("utf-8")), "language": language}
    evidence = check(record).evidence
    assert evidence is not None

    def outside(element: ET.Element) -> str:
        is_value = element.tag == "span" and (element.get("class") or element.get("lang"))
        own = "" if is_value else (element.text or "") + "".join(outside(child) for child in element)
        return own + (element.tail or "")

    body = evidence.page_tree().find("html/body")
    assert body is not None
    text, depth, left = outside(body), 0, ""
    for letter in text:
        depth += (letter == "[") - (letter == "]")
        left += letter if depth == 0 and letter.isalpha() else ""
    clinic = evidence.situation.clinic
    for own in (clinic.name, *clinic.hours, clinic.out_of_hours, *clinic.address):
        left = left.replace("".join(filter(str.isalpha, own)), "")
    # Short dates of the strip of days and the date of the visit stand in spans; nothing else may be left.
    assert left == ""
