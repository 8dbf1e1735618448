"""What does not fit its paper is found, and two languages stand together only where they have the same rows."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from leaflets import school, sheets
from leaflets.checks.evidence import Evidence
from leaflets.compose.leaflet import Composition
from leaflets.compose.two_languages import one_after_the_other, row_beside_row
from leaflets.content import Content
from leaflets.errors import LeafletError
from leaflets.render.pdf import load_stylesheet, render_pdf
from leaflets.school import make_school_pack
from leaflets.sheets import make_sheet

from .conftest import DAY

PartEvidence = Callable[..., tuple[Evidence, Composition]]
CSS = """
@page { size: 100mm 100mm; margin: 20mm; @top-left { content: element(top) } }
body { margin: 0; font-family: "Noto Sans" }
.top { position: running(top) }
.column { width: 20mm }
"""


def outside(body: str) -> tuple[str, ...]:
    html = f'<!DOCTYPE html><html lang="en"><head><title>a</title></head><body>{body}</body></html>'
    return render_pdf(html, stylesheet=load_stylesheet(CSS, {}), assets={}, find_outside=True).outside


@pytest.mark.parametrize(
    ("body", "found"),
    [
        ("<p>ear</p>", ()),
        ("<p>" + "ear " * 200 + "</p>", ()),
        ('<div class="column"><p>incomprehensibilities</p></div>', ("incomprehensibilities",)),
        ('<div class="column"><p>an ear</p></div>', ()),
        (f"<p>{'incomprehensibilities' * 3}</p>", ("incomprehensibilities" * 3,)),
        ('<p class="top">one<br/>two<br/>three<br/>four<br/>five<br/>six<br/>seven<br/>eight</p><p>a</p>', None),
    ],
    ids=["short", "long", "too wide for its column", "narrow", "too wide for the page", "margin"],
)
def test_text_over_an_edge_is_found(body: str, found: tuple[str, ...] | None) -> None:
    said = outside(body)
    assert said == found if found is not None else "one" in said


def test_a_label_too_long_for_its_place_stops_the_pack_and_writes_nothing(
    content: Content, monkeypatch: pytest.MonkeyPatch, tmp_path: Any
) -> None:
    longest = "Incomprehensibilities" * 5
    sources = {
        path: text.replace('N_("ear canal")', f'N_("{longest}")') for path, text in content.words.sources.items()
    }
    changed = _content_with(content, sources)
    monkeypatch.setattr(school, "load_content", lambda _clinic: changed)
    result = make_school_pack("7-11", date=DAY, out=tmp_path / "out")
    assert result.status == "stopped"
    assert {one.code for one in result.findings if one.severity == "stop"} == {"PAGE05"}
    assert any(longest in one.message for one in result.findings if one.severity == "stop")
    assert not (tmp_path / "out").exists()


def test_words_for_more_pages_than_a_sheet_has_stop_the_pack(
    content: Content, monkeypatch: pytest.MonkeyPatch, tmp_path: Any
) -> None:
    sources = dict(content.words.sources)
    poster = "macros/school_poster.html"
    sources[poster] = sources[poster].replace("Turn loud sounds down.", "Turn loud sounds down now. " * 12)
    monkeypatch.setattr(school, "load_content", lambda _clinic: _content_with(content, sources))
    result = make_school_pack("5-7", date=DAY, out=tmp_path / "out")
    (found,) = [one for one in result.findings if one.severity == "stop"]
    assert (found.code, found.place) == ("PAGE05", "templates/school/poster.html")
    assert "takes 2 pages, and 1 is the most" in found.message


def test_a_title_too_wide_for_a_leaflet_stops_it(
    content: Content, monkeypatch: pytest.MonkeyPatch, tmp_path: Any
) -> None:
    longest = "Incomprehensibilities" * 3
    sources = dict(content.words.sources)
    layout = "layouts/topic.html"
    sources[layout] = sources[layout].replace('N_("Ears and swimming")', f'N_("{longest}")')
    monkeypatch.setattr(sheets, "load_content", lambda _clinic: _content_with(content, sources))
    result = make_sheet("swimming", date=DAY, out=tmp_path / "out")
    (found,) = [one for one in result.findings if one.severity == "stop"]
    assert (found.code, found.place) == ("PAGE05", "templates/layouts/topic.html")
    assert longest in found.message
    assert not (tmp_path / "out").exists()


def _content_with(content: Content, sources: dict[str, str]) -> Content:
    from leaflets.compose.words import parse_words  # noqa: PLC0415 - where the words are changed

    words, problems = parse_words(sources)
    assert problems == []
    return replace(content, words=words)


def test_two_languages_with_other_rows_are_refused(part_evidence: PartEvidence) -> None:
    first = part_evidence("child-sheet", "5-7")[0].leaflet
    older = part_evidence("child-sheet", "7-11")[0].leaflet
    with pytest.raises(LeafletError, match="give both the same rows"):
        row_beside_row(first, replace(older, language="pl"))


def test_both_languages_are_named_and_told_apart(part_evidence: PartEvidence) -> None:
    first = part_evidence("child-sheet", "5-7")[0].leaflet
    page = row_beside_row(first, replace(first, language="ar-XB", title="Another"))
    assert page.count('lang="ar-XB" dir="rtl"') == page.count('class="words second"')
    assert f"<title>{first.title} \N{EM DASH} Another</title>" in page
    letter = part_evidence("letter", "5-7")[0].leaflet
    both = one_after_the_other(letter, replace(letter, language="ar-XB"))
    assert both.count('id="help"') == 1
    assert both.count("999") == 2 * letter.html.count("999")
