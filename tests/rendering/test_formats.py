"""Each format of one leaflet, measured in the finished files by programs that know nothing of ours.

Sizes: UKAAF G003 and MS03 (12 points for clear print, 18 for large print, page numbers and labels the same); GOV.UK
advice on easy read (14 points, at most 15 words in a sentence). Lines 1.5 apart in large print: from memory. Paper:
ISO 216; Letter is 8.5 by 11 inches. Contrast and sideways scroll: WCAG 2.2, 1.4.3 and 1.4.10 (320 CSS pixels).
"""

import ctypes
import html
import importlib.util
import io
import json
import re
import shutil
import subprocess
import tomllib
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path
from types import ModuleType
from typing import Any
from xml.etree import ElementTree as ET

import pikepdf
import pypdfium2
import pytest
from pypdfium2 import raw as pdfium

from leaflets import demo
from leaflets.colours import contrast
from leaflets.compose.reflow import reflowed
from leaflets.compose.tree import parse_fragment, text_of
from leaflets.content import load_content
from leaflets.errors import LeafletError
from leaflets.formats import FORMATS
from leaflets.model import Result
from leaflets.pipeline import make
from leaflets.readability.segment import split_units
from leaflets.render.folded import saddle_order

TESTS = Path(__file__).parents[1]
VISITS = Path(demo.__file__).parent / "visits"
DROPS, TUBE = "02-drops-for-the-right-ear", "09-a-child-with-a-tube"

LANGUAGES = ("en", "ar", "ur", "bn")
RIGHT_TO_LEFT = ("ar", "ur")
PAPERS = ("a4", "letter", "a5", "large-print", "easy-read")
LEAST_POINTS = {"a4": 12, "letter": 12, "a5": 12, "large-print": 18, "easy-read": 14}
A4, A5, LETTER = (595.28, 841.89), (419.53, 595.28), (612.0, 792.0)
PAPER_POINTS = {"a4": A4, "letter": LETTER, "a5": A5, "large-print": A4, "easy-read": A4}
LARGE_PRINT_LINES = 1.5
POINTS_IN_A_PIXEL = 3 / 4  # WeasyPrint writes sizes of letters in pixels of CSS, and scales the page


@cache
def _module(path: str) -> ModuleType:
    spec = importlib.util.spec_from_file_location(f"tests_formats_{Path(path).stem}", TESTS / path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@dataclass(frozen=True)
class Made:
    """One leaflet in one format, its files as other programs read them."""

    result: Result

    def file(self, kind: str) -> Path:
        return Path(self.result.files[kind])

    @property
    def html(self) -> str:
        return self.file("html").read_text("utf-8")

    @property
    def body(self) -> ET.Element:
        body = ET.fromstring(self.html.removeprefix("<!DOCTYPE html>")).find("body")  # noqa: S314 - our own page
        assert body is not None
        return body

    @property
    def blocks(self) -> dict[str, ET.Element]:
        """The blocks in the order of the page, by id."""
        return {each.get("data-block", ""): each for each in self.body.iter() if each.get("data-block")}


Maker = Callable[..., Made]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Maker:
    """Return a function that makes a leaflet in a format, once."""
    folder = tmp_path_factory.mktemp("formats")

    @cache
    def once(format_: str, language: str = "en", visit: str = DROPS) -> Made:
        result = make(VISITS / f"{visit}.toml", format=format_, language=language, out=folder)
        assert result.status == "ok", result.findings
        return Made(result)

    return once


@pytest.fixture(params=PAPERS)
def paper(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(params=LANGUAGES)
def language(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def test_every_format_on_paper_and_every_page_is_looked_at() -> None:
    assert {row.name for row in FORMATS.values() if row.kind == "paper"} == set(PAPERS)
    assert {row.name for row in FORMATS.values() if row.kind == "page"} == {"phone"}


def test_no_letter_is_smaller_than_the_standard_of_its_format(paper: str, language: str, made: Maker) -> None:
    sizes = _module("pages/test_paper.py")._sizes  # noqa: SLF001 - the measure has tests of its own there
    for visit in (DROPS, TUBE):
        found = sizes(made(paper, language, visit).file("pdf"))
        assert min(found) >= LEAST_POINTS[paper] - 0.01
        assert len({round(size, 1) for size in found}) <= 4


def test_the_paper_has_its_size_and_the_pages_are_counted(paper: str, made: Maker) -> None:
    leaflet = made(paper)
    with pikepdf.open(leaflet.file("pdf")) as pdf:
        assert len(pdf.pages) == leaflet.result.pages
        for page in pdf.pages:
            assert [float(edge) for edge in page.mediabox] == pytest.approx([0, 0, *PAPER_POINTS[paper]], abs=0.1)


def test_an_outside_checker_of_accessibility_and_qpdf_find_no_error(
    paper: str, language: str, made: Maker, structure: ModuleType, tmp_path: Path
) -> None:
    pdf = made(paper, language).file("pdf")
    assert _module("rendering/test_accessible.py").errors_of_outloud(pdf.read_bytes(), tmp_path) == set()
    assert structure.structure_faults(pdf) == []
    checked = subprocess.run(["qpdf", "--check", pdf], capture_output=True, text=True, check=False)
    assert checked.returncode == 0, checked.stdout + checked.stderr


def test_no_more_pages_than_wanted_or_a_warning(paper: str, language: str, made: Maker) -> None:
    result, row = made(paper, language).result, FORMATS[paper]
    assert row.pages is not None
    assert result.pages is not None
    wanted = load_content().rule_book.numbers.whole(row.pages)
    assert (result.pages > wanted) == any(finding.code == "PAGE02" for finding in result.findings)


# What stands where


def _without_course(block: ET.Element) -> str:
    """Return the words of a block but for those of the strip of a course, which stand in another order by day."""
    for parent in list(block.iter()):
        for child in list(parent):
            if set(child.get("class", "").split()) & {"strip", "days", "days-title", "picture"}:
                parent.remove(child)
    return text_of(block)


@pytest.mark.parametrize("visit", [DROPS, TUBE])
@pytest.mark.parametrize("format_", [*PAPERS[1:], "phone"])
def test_every_format_says_the_same_words_and_its_safety_blocks_in_the_same_order(
    format_: str, visit: str, language: str, made: Maker
) -> None:
    base, other = made("a4", language, visit), made(format_, language, visit)
    safety = {block.id for block in load_content().words.blocks.values() if block.safety}
    in_order = [[block.id for block in one.result.blocks if block.id in safety] for one in (base, other)]
    assert in_order[0] == in_order[1]
    assert len(in_order[0]) > 4
    said = {block_id: _without_course(block) for block_id, block in base.blocks.items()}
    again = {block_id: _without_course(block) for block_id, block in other.blocks.items()}
    assert set(said) & set(again) >= safety & set(said)
    for block_id in set(said) & set(again):
        # A format may leave spaces out where lines end; the words and their order are the same.
        words, others = said[block_id].split(), again[block_id].split()
        if format_ == "phone" and block_id == "next/review":  # a code for a phone is of no use on that phone
            assert words[: len(others)] == others
            continue
        assert others == words, block_id


def _pages_of(pdf: Path) -> list[Counter[str]]:
    told = subprocess.run(["pdftotext", "-raw", str(pdf), "-"], capture_output=True, text=True, check=True)
    return [Counter(re.findall(r"\w+", page)) for page in told.stdout.split("\f")[:-1]]


@pytest.mark.parametrize("visit", [DROPS, TUBE, "04-a-battery-in-the-ear"])
def test_the_get_help_panel_is_whole_on_page_1_or_on_page_2_or_starts_with_its_most_urgent_row(
    paper: str, visit: str, made: Maker
) -> None:
    leaflet = made(paper, "en", visit)
    panel = next(part for part in leaflet.body.iter("section") if part.get("id") == "help")
    words = Counter(re.findall(r"\w+", " ".join(panel.itertext())))
    assert words.total() > 100
    pages = _pages_of(leaflet.file("pdf"))
    whole_on = [number for number, page in enumerate(pages, 1) if not words - page]
    notes = [finding for finding in leaflet.result.findings if finding.code == "PAGE01"]
    if 1 in whole_on:
        assert notes == []
        return
    assert paper not in ("a4", "letter")
    if not whole_on:
        assert paper in ("large-print", "easy-read")
        assert [note.severity for note in notes] == ["warn"]
        now = next(row for row in panel.iter("tr") if row.get("data-urgency") == "now")
        assert not Counter(re.findall(r"\w+", " ".join(now.itertext()))) - pages[0]
        assert not words - pages[0] - pages[1]
        return
    assert whole_on == [2]
    assert [note.severity for note in notes] == ["note"]
    pointer = next(each for each in leaflet.body.iter("p") if "pointer" in each.get("class", ""))
    told = subprocess.run(
        ["pdftotext", "-l", "1", leaflet.file("pdf"), "-"], capture_output=True, text=True, check=True
    )
    assert f"Get help Page 2 of {len(pages)}" in " ".join(told.stdout.split())
    assert text_of(pointer).startswith("Get help")


@pytest.mark.parametrize("format_", ["large-print", "easy-read"])
def test_a_panel_that_no_page_holds_starts_on_page_1_breaks_between_rows_and_warns(format_: str, made: Maker) -> None:
    leaflet = made(format_, "ur")
    rows = [row for row in leaflet.body.iter("tr") if row.get("data-urgency")]
    assert [row.get("data-urgency") for row in rows] == ["now", "today", "soon"]
    notes = [finding.severity for finding in leaflet.result.findings if finding.code == "PAGE01"]
    assert notes == ["warn"]
    # Figures come back from Nastaliq: each row's number stands in the row. 999 is for now, and on page 1 alone.
    pages = _pages_of(leaflet.file("pdf"))
    assert pages[0]["999"] >= 1
    assert [page["999"] for page in pages[1:]] == [0] * (len(pages) - 1)
    assert pages[0]["01632"] == 0  # the clinic's number opens the rows for today and this week
    assert pages[1]["01632"] >= 2


def test_the_days_of_a_course_are_lines_with_a_box_for_each_dose(made: Maker) -> None:
    strip = made("a4").blocks["drops/course"].find(".//table")
    assert strip is not None
    dates = [text_of(head) for head in strip.iter("th") if head.find("span") is not None]
    for format_ in ("a5", "large-print", "easy-read", "phone"):
        block = made(format_).blocks["drops/course"]
        assert block.find(".//table") is None
        days = [line for line in block.iter("li") if "fact" in line.get("class", "")]
        # Five days three times a day, and the review: from the visit's record.
        assert [sum(span.get("class") == "box" for span in day.iter("span")) for day in days] == [3, 3, 3, 3, 3, 0]
        assert [text_of(next(day.iter("span"))) for day in days] == dates
        assert [text_of(span) for span in days[0].iter("span") if span.get("class") == "dose"] == [
            text_of(row) for row in strip.iter("th") if row.get("scope") == "row"
        ]


# Large print: lines


@dataclass(frozen=True)
class Line:
    up: float
    size: float
    text: str


def _lines(pdf: Path) -> Iterator[list[Line]]:
    """Return the baselines of each page from the top, with the largest letter of each."""
    left, up = ctypes.c_double(), ctypes.c_double()
    with pypdfium2.PdfDocument(pdf) as opened:
        for page in opened:
            text, lines = page.get_textpage(), dict[float, list[tuple[float, str]]]()
            for index in range(text.count_chars()):
                letter = chr(pdfium.FPDFText_GetUnicode(text, index))
                if letter.isspace() or not letter.isprintable():
                    continue
                assert pdfium.FPDFText_GetCharOrigin(text, index, left, up)
                size = pdfium.FPDFText_GetFontSize(text, index) * POINTS_IN_A_PIXEL
                lines.setdefault(round(up.value, 1), []).append((size, letter))
            found = [
                Line(place, max(size for size, _ in letters), "".join(letter for _, letter in letters))
                for place, letters in lines.items()
            ]
            yield sorted(found, key=lambda line: -line.up)


def test_the_lines_of_large_print_are_one_and_a_half_apart(made: Maker) -> None:
    looked_at = 0
    for visit in (DROPS, TUBE):
        for page in _lines(made("large-print", "en", visit).file("pdf")):
            # The mark and the foot stand in the margins: the first two lines and the last.
            assert page[0].text.startswith("Example")
            for above, below in pairwise(page[2:-1]):
                if above.size == below.size == pytest.approx(18, abs=0.05):
                    looked_at += 1
                    assert above.up - below.up >= 18 * LARGE_PRINT_LINES - 0.1, (above, below)
    assert looked_at > 100


# A5, folded


def _words_in(page: Any, left: float, right: float) -> Counter[str]:
    return Counter(page.get_textpage().get_text_bounded(left=left, right=right).split())


@pytest.mark.parametrize(
    ("pages", "sides"),
    [
        # By hand, folding sheets of paper and numbering them.
        (1, [(None, 1), (None, None)]),
        (4, [(4, 1), (2, 3)]),
        (5, [(None, 1), (2, None), (None, 3), (4, 5)]),
        (8, [(8, 1), (2, 7), (6, 3), (4, 5)]),
        (12, [(12, 1), (2, 11), (10, 3), (4, 9), (8, 5), (6, 7)]),
    ],
)
def test_pages_of_a_folded_sheet_stand_in_saddle_order(pages: int, sides: list[tuple[int | None, int | None]]) -> None:
    assert saddle_order(pages) == sides


@pytest.mark.parametrize("language", ["en", "ar", "ur"])
def test_the_copy_for_folding_has_every_page_where_the_fold_wants_it(language: str, made: Maker) -> None:
    leaflet = made("a5", language)
    assert leaflet.file("folded.pdf").name.endswith(f".{language}.a5-folded.pdf")
    checked = subprocess.run(
        ["qpdf", "--check", leaflet.file("folded.pdf")], capture_output=True, text=True, check=False
    )
    assert checked.returncode == 0, checked.stderr
    with (
        pypdfium2.PdfDocument(leaflet.file("pdf")) as pages,
        pypdfium2.PdfDocument(leaflet.file("folded.pdf")) as sheets,
    ):
        single = [_words_in(page, 0, A5[0]) for page in pages]
        assert len(sheets) == -(-len(single) // 4) * 2
        for (left, right), side in zip(saddle_order(len(single)), sheets, strict=True):
            assert side.get_size() == pytest.approx((2 * A5[0], A5[1]), abs=0.5)
            halves = (right, left) if language in RIGHT_TO_LEFT else (left, right)  # bound at the right
            for page, edges in zip(halves, [(0, A5[0]), (A5[0], 2 * A5[0])], strict=True):
                assert _words_in(side, *edges) == (Counter() if page is None else single[page - 1])
        assert all(page.total() > 5 for page in single)
        assert len({frozenset(page.items()) for page in single}) == len(single)


def test_the_copy_for_folding_is_the_same_twice_and_turns_on_its_short_edge(made: Maker, tmp_path: Path) -> None:
    first = made("a5").file("folded.pdf").read_bytes()
    again = make(VISITS / f"{DROPS}.toml", format="a5", language="en", out=tmp_path)
    assert Path(again.files["folded.pdf"]).read_bytes() == first
    with pikepdf.open(io.BytesIO(first)) as pdf:
        assert pdf.Root.ViewerPreferences.Duplex == "/DuplexFlipShortEdge"
        assert "/StructTreeRoot" not in pdf.Root  # for printing only: nothing claims to be accessible


# Easy read


def test_each_row_of_easy_read_is_one_sentence(language: str, made: Maker) -> None:
    rows = [span for span in made("easy-read", language).body.iter("span") if span.get("class") == "sentence"]
    assert len(rows) > 40
    for row in rows:
        assert len(split_units(text_of(row))) <= 1, text_of(row)
    # No paragraph or item keeps two sentences in one row.
    for block in made("easy-read", language).blocks.values():
        for element in block.iter():
            if element.tag in ("p", "li") and not list(element.iter("br")) and "fact" not in element.get("class", ""):
                assert len([*element]) >= 1
                assert {child.get("class") for child in element} == {"sentence"}


def test_sentences_are_parted_with_all_that_stands_around_their_words() -> None:
    markup = '<p><strong>Stop. Call <span class="phone">1 2</span>.</strong> Then <b>wait</b>\n  here. End.</p>'
    rows = parse_fragment(reflowed(markup, "here", FORMATS["easy-read"]), "here").iter("span")
    found = [ET.tostring(row, encoding="unicode").strip() for row in rows if row.get("class") == "sentence"]
    # By hand: the bold goes on in the second row, and is closed in each.
    assert found == [
        '<span class="sentence"><strong>Stop. </strong></span>',
        '<span class="sentence"><strong>Call <span class="phone">1 2</span>.</strong> </span>',
        '<span class="sentence">Then <b>wait</b> here. </span>',
        '<span class="sentence">End.</span>',
    ]


def test_a_sentence_over_fifteen_words_is_found_in_easy_read_alone(made: Maker) -> None:
    long = {"easy-read": [], "a4": []}  # type: dict[str, list[str]]
    for format_, messages in long.items():
        messages += [finding.message for finding in made(format_).result.findings if finding.code == "READ10"]
    over_fifteen = [message for message in long["easy-read"] if int(message.split()[0]) > 15]
    assert over_fifteen
    assert long["easy-read"] == over_fifteen
    assert long["a4"] == []  # the same words: at most 20 are wanted there


def test_a_block_shows_its_drawing_before_its_words(made: Maker) -> None:
    picture, words = made("easy-read").blocks["ears/nothing-inside"][0]
    assert (picture.get("class"), words.get("class")) == ("picture", "words")
    assert [image.get("alt") for image in picture] == ["A hand wipes only the outside of the ear with a damp cloth."]
    assert (picture[0].get("src") or "").startswith("data:image/svg+xml;base64,")
    assert not list(words.iter("img"))
    assert words.find("h3") is not None


# The page for a phone


class _Tags(HTMLParser):
    def __init__(self, page: str) -> None:
        super().__init__()
        self.open: list[tuple[str, dict[str, str | None]]] = []
        self.seen: list[tuple[str, dict[str, str | None], str | None]] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append((tag, dict(attrs), self.open[-1][0] if self.open else None))
        if tag not in ("meta", "img", "br"):
            self.open.append((tag, dict(attrs)))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert tag in ("meta", "img", "br")
        self.handle_starttag(tag, attrs)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop()[0] == tag


def test_the_page_for_a_phone_refers_to_nothing_outside_and_runs_nothing(language: str, made: Maker) -> None:
    leaflet = made("phone", language)
    assert set(leaflet.result.files) == {"html", "ics"}
    assert leaflet.result.pages is None
    seen = _Tags(leaflet.html).seen
    assert {tag for tag, _, _ in seen} & {"script", "link", "iframe", "object", "embed", "base", "form"} == set()
    for tag, attributes, _ in seen:
        for name, value in attributes.items():
            assert not name.startswith("on")
            if name in ("src", "href", "srcset", "action", "data", "poster"):
                assert (tag, name) in (("img", "src"), ("a", "href"))
                assert re.fullmatch(r"data:image/svg\+xml;base64,[A-Za-z0-9+/=]+|tel:\+?[0-9]+", value or "")
    style = re.search(r"<style>(.*?)</style>", leaflet.html, re.DOTALL)
    assert style is not None
    assert not re.search(r"url\(|@import|@font-face", style[1])
    assert seen[0][1]["lang"] == language
    assert seen[0][1]["dir"] == ("rtl" if language in RIGHT_TO_LEFT else "ltr")
    assert [attributes for tag, attributes, _ in seen if tag == "meta" and attributes.get("name") == "viewport"]


def test_each_telephone_number_calls_itself_and_holds_nothing_else(language: str, made: Maker) -> None:
    links = list(made("phone", language).body.iter("a"))
    numbers = {text_of(link) for link in links}
    # Great Britain: 999 and 111 by country of care; the invented clinic's own number.
    assert numbers == {"999", "111", "01632 960 123"}
    for link in links:
        assert len(link) == 0
        assert link.get("href") == "tel:" + text_of(link).replace(" ", "")
        assert link.get("dir") == "ltr"
    assert not [span for span in made("phone", language).body.iter("span") if span.get("class") == "phone"]


MEASURE = """
const found = [];
const ratio = (style) => style.match(/[\\d.]+/g).map(Number);
for (const frame of document.querySelectorAll("iframe")) {
  const inside = frame.contentDocument, root = inside.documentElement, texts = [];
  const walker = inside.createTreeWalker(inside.body, NodeFilter.SHOW_TEXT);
  for (let node; (node = walker.nextNode());) {
    if (!node.data.trim()) continue;
    let element = node.parentElement, style = frame.contentWindow.getComputedStyle(element);
    if (!element.getClientRects().length) continue;
    let ground = null;
    for (let above = element; above && !ground; above = above.parentElement) {
      const colour = ratio(frame.contentWindow.getComputedStyle(above).backgroundColor);
      if (colour.length < 4 || colour[3] > 0) ground = colour;
    }
    const box = element.getBoundingClientRect();
    texts.push([parseFloat(style.fontSize), ratio(style.color), ground || [255, 255, 255], box.left, box.right]);
  }
  found.push([frame.clientWidth, root.scrollWidth, texts]);
}
document.body.textContent = JSON.stringify(found);
"""


def _hex(colour: list[float]) -> str:
    return "#{:02x}{:02x}{:02x}".format(*(round(part) for part in colour[:3]))


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_the_page_for_a_phone_fits_narrow_and_wide_in_letters_and_colours_that_can_be_read(
    dark: bool, made: Maker, tmp_path: Path
) -> None:
    chromium = shutil.which("chromium") or _module("rendering/test_right_to_left.py")._missing("chromium is not there")  # noqa: SLF001
    frames = "".join(
        f'<iframe style="border:0;width:{width}px;height:900px" '
        f'srcdoc="{html.escape(made("phone", language, visit).html)}"></iframe>'
        for language in LANGUAGES
        for visit in (DROPS, TUBE)
        for width in (320, 1200)
    )
    page = tmp_path / "frames.html"
    script = f"<script>window.onload = () => {{ {MEASURE} }}</script>"
    page.write_text(f"<!doctype html><meta charset=utf-8><body>{frames}{script}</body>", "utf-8")
    command = [
        *(chromium, "--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={tmp_path / 'profile'}"),
        *("--window-size=1400,1000", "--virtual-time-budget=30000", "--hide-scrollbars"),
        f"--blink-settings=preferredColorScheme={0 if dark else 1}",
        *("--dump-dom", page.as_uri()),
    ]
    told = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", check=True, timeout=120)
    answer = re.search(r"<body>(\[.*\])</body>", told.stdout, re.DOTALL)
    assert answer, told.stderr[-500:]
    found = json.loads(html.unescape(answer[1]))
    assert [width for width, _, _ in found] == [320, 1200] * 2 * len(LANGUAGES)
    grounds: set[str] = set()
    for width, scrolled, texts in found:
        assert scrolled <= width
        assert len(texts) > 50
        for size, ink, ground, left, right in texts:
            assert size >= 16
            assert left >= -0.5
            assert right <= width + 0.5
            assert contrast(_hex(ink), _hex(ground)) >= 4.5, (ink, ground)
            grounds.add(_hex(ground))
    assert all((contrast(ground, "#ffffff") > 10) == dark for ground in grounds), grounds


def test_the_page_for_a_phone_prints(made: Maker, tmp_path: Path) -> None:
    chromium = shutil.which("chromium") or _module("rendering/test_right_to_left.py")._missing("chromium is not there")  # noqa: SLF001
    out = tmp_path / "printed.pdf"
    command = [
        *(chromium, "--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={tmp_path / 'profile'}"),
        *("--blink-settings=preferredColorScheme=0", "--no-pdf-header-footer", f"--print-to-pdf={out}"),
        made("phone").file("html").as_uri(),
    ]
    subprocess.run(command, capture_output=True, check=True, timeout=120)
    with pypdfium2.PdfDocument(out) as pdf:
        assert 1 < len(pdf) <= 4
        assert "999" in pdf[0].get_textpage().get_text_range()
        # In the dark too it prints dark on white: its first and last points are paper.
        picture = pdf[0].render(scale=0.5).to_pil().convert("RGB")
    assert picture.getpixel((2, 2)) == (255, 255, 255)
    assert picture.getpixel((picture.width - 3, picture.height - 3)) == (255, 255, 255)


# What is asked for and is not there


def test_a_format_that_is_not_made_is_refused_with_those_that_are(tmp_path: Path) -> None:
    with pytest.raises(LeafletError) as refused:
        make(VISITS / f"{DROPS}.toml", format="a6", out=tmp_path)
    (problem,) = refused.value.problems
    assert problem.place == "--format"
    assert "a4" in problem.hint
    record = tomllib.loads((VISITS / f"{DROPS}.toml").read_text("utf-8")) | {"format": "wallpaper"}
    with pytest.raises(LeafletError) as refused:
        make(record, out=tmp_path)
    assert any(name in str(refused.value) for name in ("large-print", "easy-read"))
    assert not list(tmp_path.iterdir())
