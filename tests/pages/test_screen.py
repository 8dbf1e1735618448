"""The HTML beside the PDF: one file that opens without a network, well formed, and sound for a screen reader."""

import base64
import re
from html.parser import HTMLParser
from itertools import pairwise
from typing import Any
from xml.etree import ElementTree as ET

ALLOWED = {
    "html", "head", "meta", "title", "style", "body", "header", "section", "div", "h1", "h2", "h3", "p", "span",
    "strong", "br", "ul", "ol", "li", "table", "thead", "tbody", "tr", "th", "td", "caption", "figure", "img",
}  # fmt: skip
VOID = {"meta", "br", "img"}


class _Tags(HTMLParser):
    """Every element, and whether the tags of a page close in their order, by the parser of HTML and not of XML."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.seen: list[tuple[str, dict[str, str | None]]] = []
        self.faults: list[str] = []
        self.declared = ""
        self.feed(page)
        self.close()

    def handle_decl(self, decl: str) -> None:
        self.declared = decl

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append((tag, dict(attrs)))
        if len(dict(attrs)) != len(attrs):
            self.faults.append(f"{tag} has an attribute twice")
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in VOID:
            self.faults.append(f"<{tag}/> is no element that may be empty")
        self.seen.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"</{tag}> closes another element")


def test_the_page_is_well_formed_for_both_parsers(made: Any) -> None:
    tags = _Tags(made.html)
    assert tags.declared.lower() == "doctype html"
    assert tags.faults == []
    assert tags.open == []
    ET.fromstring(made.html.removeprefix("<!DOCTYPE html>"))  # noqa: S314 - our own page


def test_markup_is_the_small_set(made: Any) -> None:
    assert {tag for tag, _ in _Tags(made.html).seen} <= ALLOWED


def test_nothing_comes_from_outside(made: Any) -> None:
    for tag, attributes in _Tags(made.html).seen:
        for name, value in attributes.items():
            if name in ("src", "href", "srcset", "poster", "action", "background"):
                assert (tag, name) == ("img", "src")
                assert (value or "").startswith("data:image/"), value
            assert not name.startswith("on")
            assert name != "style"
    style = re.search(r"<style>(.*?)</style>", made.html, re.DOTALL)
    assert style is not None
    assert not re.search(r"url\(|@import|@font-face|expression\(", style[1])
    visible = re.sub(r'src="data:[^"]*"', "", made.html)
    assert not re.search(r"https?://|//[a-z0-9.-]+\.[a-z]{2,}/", visible)


def test_pictures_inside_are_plain_drawings_with_words_in_their_place(made: Any) -> None:
    pictures = [attributes for tag, attributes in _Tags(made.html).seen if tag == "img"]
    assert pictures
    for picture in pictures:
        assert (picture["alt"] or "").strip()
        kind, _, body = (picture["src"] or "").partition(";base64,")
        assert kind == "data:image/svg+xml"
        drawing = ET.fromstring(base64.b64decode(body, validate=True))  # noqa: S314 - our own drawing
        assert drawing.tag == "{http://www.w3.org/2000/svg}svg"
        names = {element.tag.rpartition("}")[2] for element in drawing.iter()}
        assert names <= {"svg", "g", "path", "circle", "ellipse", "line", "rect"}, "no letters, no scripts"


def test_left_and_right_drawings_are_mirrored(made: Any) -> None:
    shown = {attributes["alt"]: attributes["src"] for tag, attributes in _Tags(made.html).seen if tag == "img"}
    assert all(shown)
    ears = {src for alt, src in shown.items() if (alt or "").startswith("Drawing of the ")}
    assert len(ears) == 2


def test_the_page_says_its_language_title_and_headings_in_order(made: Any) -> None:
    tags = _Tags(made.html).seen
    assert tags[0][0] == "html"
    assert tags[0][1]["lang"] == made.record["language"]
    assert re.search(r"<title>[^<]+</title>", made.html)
    levels = [int(tag[1]) for tag, _ in tags if re.fullmatch(r"h[1-6]", tag)]
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    for tag, attributes in tags:
        if tag == "th":
            assert attributes.get("scope") in ("row", "col", "rowgroup", "colgroup")
    ids = [attributes["id"] for _, attributes in tags if "id" in attributes]
    assert len(ids) == len(set(ids))


def test_no_template_syntax_and_no_empty_line_is_left(made: Any) -> None:
    text = "".join(made.body.itertext())
    assert not re.search(r"\{\{|\}\}|\{%|%\}|%\(|\bNone\b|Undefined", text)
    for element in made.body.iter():
        if element.tag in ("p", "li", "h1", "h2", "h3", "th"):
            assert "".join(element.itertext()).strip() or list(element.iter("img")), ET.tostring(element, "unicode")


def test_the_page_says_that_it_is_an_example_and_replaces_no_advice(made: Any) -> None:
    text = " ".join("".join(made.body.itertext()).split())
    assert "invented clinic" in text
    assert "does not replace" in text
    assert f"Reference {made.record['ref']}." in text
