"""Prevention leaflets by topic: made without a visit, of words that are right for everybody."""

import datetime
import re
from pathlib import Path

import pypdfium2
import pytest

from leaflets.checks.get_help import EVERYBODY
from leaflets.content import Content, missing_topic_words
from leaflets.model import Finding
from leaflets.rules.toml import TomlFile
from leaflets.rules.topics import FOR_EVERYBODY, IN_EVERY_LEAFLET, parse_topics
from leaflets.sheet_result import SheetResult
from leaflets.sheets import make_sheet

DAY = datetime.date(2027, 1, 15)
TOPICS = ("wax", "cotton-buds", "ear-hair", "swimming", "loud-sound", "hearing-aids", "small-children")
_DATE = re.compile(r"\d{1,2} [A-Z][a-z]+ 20\d\d")


def text_of(path: str) -> str:
    with pypdfium2.PdfDocument(path) as document:
        return " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in document)


def stops(result: SheetResult) -> list[Finding]:
    return [one for one in result.findings if one.severity == "stop"]


def test_the_topics_are_those_asked_for(content: Content) -> None:
    assert tuple(content.rule_book.topics) == TOPICS


@pytest.mark.parametrize("topic", TOPICS)
def test_a_leaflet_of_each_topic_is_made(topic: str, tmp_path: Path, content: Content) -> None:
    result = make_sheet(topic, date=DAY, out=tmp_path)
    assert stops(result) == []
    assert result.status == "ok"
    # Two sides are the most of a leaflet: numbers.toml, leaflet.pages.
    (part,) = result.parts
    assert part.pages is not None
    assert part.pages <= 2
    assert {block.id for block in result.blocks} == set(content.rule_book.topics[topic].blocks)
    text = text_of(result.files["pdf"])
    # The clinic's, and the emergency and advice numbers of Great Britain (countries.toml).
    assert {"999", "111", content.clinic.file.phone} <= set(re.findall(r"01632 960 \d{3}|\b\d{3}\b", text))
    assert "not approved for patients" in text
    assert set(_DATE.findall(text)) == {"25 November 2026"}, "the day of the last review, and never that of the sheet"
    assert re.search(rf"L-\w{{5}}-\w{{5}}, content {content.version}", text)
    html = Path(result.files["html"]).read_text("utf-8")
    for sign in EVERYBODY:
        assert f'data-sign="{sign}"' in html


@pytest.mark.parametrize("topic", TOPICS)
def test_no_topic_gives_drops_or_speaks_of_a_finding(topic: str, content: Content) -> None:
    blocks = content.rule_book.topics[topic].blocks
    assert set(IN_EVERY_LEAFLET) <= set(blocks)
    assert {block.split("/")[0] for block in blocks} <= FOR_EVERYBODY
    html = " ".join(
        content.words.sources[f"blocks/{block}.html"] for block in blocks if not block.startswith(("help", "next"))
    )
    # What asks about the outcome of a visit: a leaflet without one would print the wrong branch or none.
    assert not re.search(r"\b(course|agent|review|visit|referral)\b\s*[.%}]", html)


def test_parents_are_told_the_signs_of_children_and_adults_are_not(tmp_path: Path) -> None:
    parents = Path(make_sheet("small-children", date=DAY, out=tmp_path).files["html"]).read_text("utf-8")
    adults = Path(make_sheet("wax", date=DAY, out=tmp_path).files["html"]).read_text("utf-8")
    for sign in ("infant-fever", "drowsy-not-drinking", "both-ears-under-two"):
        assert (f'data-sign="{sign}"' in parents, f'data-sign="{sign}"' in adults) == (True, False)
    assert 'id="lower-threshold"' in parents
    assert 'id="lower-threshold"' in adults


def test_the_same_request_gives_the_same_bytes(tmp_path: Path) -> None:
    first, second = (make_sheet("wax", date=DAY, out=tmp_path / name) for name in ("a", "b"))
    for ending in ("pdf", "html"):
        assert Path(first.files[ending]).read_bytes() == Path(second.files[ending]).read_bytes()


def test_the_country_sets_the_numbers(tmp_path: Path) -> None:
    text = text_of(make_sheet("wax", country="US", paper="letter", date=DAY, out=tmp_path).files["pdf"])
    # Source: countries.toml, United States: 911, and no line for the whole country.
    assert "911" in text
    assert "999" not in text
    assert "go to an emergency department" in text


def test_a_second_language_follows_the_first_in_one_file(tmp_path: Path) -> None:
    result = make_sheet("wax", beside="ar-XB", date=DAY, out=tmp_path)
    assert result.status == "ok"
    assert [part.language for part in result.parts] == ["en", "ar-XB"]
    with pypdfium2.PdfDocument(result.files["pdf"]) as document:
        assert len(document) == sum(part.pages or 0 for part in result.parts)
        for page in document:
            assert "Its words are not approved for patients." in page.get_textpage().get_text_range()
    html = Path(result.files["html"]).read_text("utf-8")
    assert '<div class="second-language" id="second-language" lang="ar-XB" dir="rtl">' in html
    ids = re.findall(r'\bid="([^"]+)"', html)
    assert sorted(ids) == sorted(set(ids))


def test_words_that_are_not_translated_stop_a_leaflet(french_clinic: Path, tmp_path: Path) -> None:
    result = make_sheet("wax", language="fr", clinic=french_clinic, date=DAY, out=tmp_path / "out")
    assert result.status == "stopped"
    assert {finding.code for finding in stops(result)} == {"TRAN01"}
    assert {finding.place.split(":")[0] for finding in stops(result)} > {"templates/layouts/topic.html"}
    assert not (tmp_path / "out").exists()


def test_words_nobody_has_reviewed_for_too_long_stop_a_leaflet(tmp_path: Path) -> None:
    # Two years from 25 November 2026, the oldest review of its words: numbers.toml, content.review-years.
    assert make_sheet("wax", date=datetime.date(2028, 11, 25), out=tmp_path).status == "ok"
    late = make_sheet("wax", date=datetime.date(2028, 11, 26), out=tmp_path / "late")
    assert {finding.code for finding in stops(late)} == {"RULE06"}
    assert not (tmp_path / "late").exists()


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ("blocks = []", "names no block"),
        ('blocks = ["drops/course"]', "'drops/course' is about a visit, and not for everybody"),
        ('blocks = ["today/findings"]', "'today/findings' is about a visit"),
        ('blocks = ["ears/candles"]\nreader = "child-5-7"', "is not a reader of these leaflets"),
        ('blocks = ["ears/candles"]\ncolour = "red"', "'colour' is not a key here"),
        ('blocks = "ears/candles"', "blocks is not a list of texts"),
    ],
)
def test_a_fault_in_the_topics_is_said_with_its_line(table: str, said: str) -> None:
    text = f'[wax]\n{table}\nsource = "common practice, no source"\nreviewed = 2026-11-25\n'
    topics, problems = parse_topics(TomlFile.parse("topics.toml", text))
    assert "wax" not in topics
    assert any(said in problem.message and problem.place.startswith("topics.toml:") for problem in problems)


def test_a_block_that_does_not_exist_is_found(content: Content) -> None:
    text = '[wax]\nblocks = ["ears/candels"]\nsource = "common practice, no source"\nreviewed = 2026-11-25\n'
    topics, problems = parse_topics(TomlFile.parse("topics.toml", text))
    assert problems == []
    assert [one.message for one in missing_topic_words(topics, content.words)] == [
        "names the block 'ears/candels', which has no words for 'adult'"
    ]
