"""In Arabic and Urdu, every number and Latin word stands where a browser would print it.

Paragraphs of real leaflets are laid out at many widths by our renderer and by Chromium, with the same fonts and style
sheet. Chromium's bidirectional code is ICU, WeasyPrint's is Pango's: two independent readings of Unicode Standard
Annex #9. Only figures and Latin letters are compared, since nothing can read the letters of Nastaliq out of a PDF.
"""

import ctypes
import html
import io
import json
import os
import re
import shutil
import subprocess
import tomllib
import xml.etree.ElementTree as ET
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NoReturn

import pikepdf
import pypdfium2
import pytest
from pypdfium2 import raw as pdfium

from leaflets.compose.values import isolated
from leaflets.content import Content
from leaflets.pipeline import make
from leaflets.render.fonts import FONT_FILES, FONT_FOLDER
from leaflets.render.html import style_sheet
from leaflets.render.pdf import load_stylesheet, render_pdf

VISITS = Path(__file__).parents[2] / "leaflets" / "demo" / "visits"
LEAFLETS = ("02-drops-for-the-right-ear", "03-hole-in-the-eardrum", "08-sudden-hearing-loss")
LANGUAGES = ("ar", "ur")
WIDTHS = tuple(range(200, 501, 36))  # CSS pixels
MORE_WIDTHS = tuple(range(200, 501, 15))

TOKEN = "[0-9A-Za-z.+°%/;-]"  # noqa: S105 - the characters that are looked at, not a secret

# Baselines of one line, in pixels apart; those of two lines are at least 14 apart (a line of 12 points at 1.2).
SAME_LINE = 3.0

# What is no text of a paragraph: counters of pages, drawings, and what the head of every page repeats.
LEFT_OUT = {"pages", "figure", "mark"}


def _missing(reason: str) -> NoReturn:
    if os.environ.get("CI", "").lower() == "true":
        pytest.fail(f"a reference is missing in CI: {reason}", pytrace=False)
    pytest.skip(reason)


@dataclass(frozen=True)
class Mark:
    """A figure or Latin letter where an engine put it: pixels from the left, and of its baseline from the top."""

    text: str
    left: float
    down: float


Lines = list[str]
"""The figures and Latin letters of each line that has any, from left to right, without the spaces between them."""


def as_lines(marks: Iterable[Mark]) -> Lines:
    lines: list[list[Mark]] = []
    for mark in sorted(marks, key=lambda one: one.down):
        if not lines or mark.down - lines[-1][0].down > SAME_LINE:
            lines.append([])
        lines[-1].append(mark)
    return ["".join(mark.text for mark in sorted(line, key=lambda one: one.left)) for line in lines]


def broken_alike(ours: Lines, theirs: Lines) -> bool:
    """Say whether the same figures and letters stand on the same lines, in whatever order within the line."""
    return [sorted(line) for line in ours] == [sorted(line) for line in theirs]


@dataclass(frozen=True)
class Case:
    """A paragraph, as HTML, at one width."""

    paragraph: str
    width: int


def cases_of(paragraphs: Sequence[str], widths: Sequence[int] = WIDTHS) -> list[Case]:
    return [Case(paragraph, width) for paragraph in paragraphs for width in widths]


def document(language: str, cases: Sequence[Case], head: str = "") -> str:
    """Return a document with one page for each case."""
    shown = "".join(f'<div class="case" style="width:{case.width}px">{case.paragraph}</div>' for case in cases)
    return (
        f'<!doctype html><html lang="{language}" dir="rtl" class="a4"><head><meta charset="utf-8"/>'
        f"<title>Cases</title>{head}</head><body>{shown}</body></html>"
    )


def look_of(content: Content) -> str:
    return style_sheet(content.styles["a4.css"], content.clinic.accent) + "\n.case { break-before: page }\n"


Layout = Callable[[str, Sequence[Case]], list[Lines]]


@pytest.fixture(scope="module")
def lay_out(content: Content) -> Layout:
    """Return a function that lays out cases with our renderer, and reads the lines of each from the PDF."""
    stylesheet = load_stylesheet(look_of(content), {})

    def ours(language: str, cases: Sequence[Case]) -> list[Lines]:
        rendered = render_pdf(document(language, cases), stylesheet=stylesheet, assets={})
        assert rendered.pages == len(cases)
        with pypdfium2.PdfDocument(_without_replacement_text(rendered.pdf)) as pdf:
            return [as_lines(_marks_of(page)) for page in pdf]

    return ours


def _without_replacement_text(source: bytes) -> bytes:
    """Take out the texts that stand for glyphs (ActualText): pdfium spreads their letters, and forgets the glyphs."""
    written = io.BytesIO()
    with pikepdf.open(io.BytesIO(source)) as pdf:
        for page in pdf.pages:
            content = page.Contents.read_bytes()
            if b"ActualText" in content:
                page.Contents.write(re.sub(rb"/ActualText\s*<[0-9a-f]*>", b"", content))
        pdf.save(written)
    return written.getvalue()


def _marks_of(page: Any) -> Iterator[Mark]:
    height = page.get_height()
    text = page.get_textpage()
    left, up = ctypes.c_double(), ctypes.c_double()
    for index in range(text.count_chars()):
        character = chr(pdfium.FPDFText_GetUnicode(text, index))
        if re.fullmatch(TOKEN, character):
            assert pdfium.FPDFText_GetCharOrigin(text, index, left, up)
            yield Mark(character, left.value * 4 / 3, (height - up.value) * 4 / 3)  # a point is 4/3 of a pixel


# Each face under the name that the style sheet calls it by.
FACES = "".join(
    f'@font-face {{ font-family: "{re.sub("(?<=[a-z])(?=[A-Z])", " ", family)}"; '
    f"font-weight: {'bold' if weight == 'Bold' else 'normal'}; src: url({(FONT_FOLDER / name).as_uri()}) }}\n"
    for name in FONT_FILES
    for family, weight in [name.removesuffix(".ttf").split("-")]
)

# All faces are loaded first: one that is still on its way would be measured in another's letters.
LOOK = """
Promise.all([...document.fonts].map(face => face.load())).then(() => {
  const token = new RegExp(TOKEN), range = document.createRange();
  const found = [...document.querySelectorAll(".case")].map(one => {
    const marks = [], walker = document.createTreeWalker(one, NodeFilter.SHOW_TEXT);
    for (let node; (node = walker.nextNode());) {
      for (let index = 0; index < node.length; index++) {
        if (!token.test(node.data[index])) continue;
        range.setStart(node, index); range.setEnd(node, index + 1);
        const box = range.getBoundingClientRect();
        marks.push([node.data[index], box.left, box.bottom]);
      }
    }
    return marks;
  });
  document.body.textContent = JSON.stringify(found);
});
"""


@pytest.fixture(scope="module")
def lay_out_in_browser(content: Content, tmp_path_factory: pytest.TempPathFactory) -> Layout:
    """Return a function that lays out cases with Chromium, and asks it where each character stands."""
    chromium = shutil.which("chromium") or _missing("chromium is not installed: apt-get install chromium")
    folder = tmp_path_factory.mktemp("chromium")

    def theirs(language: str, cases: Sequence[Case]) -> list[Lines]:
        page = folder / "cases.html"
        script = LOOK.replace("TOKEN", json.dumps(TOKEN))
        written = document(language, cases, f"<style>{FACES}{look_of(content)}</style>")
        page.write_text(written.replace("</body>", f"<script>{script}</script></body>"), "utf-8")
        options = ["--headless", "--no-sandbox", "--disable-gpu", "--allow-file-access-from-files"]
        options += [
            "--font-render-hinting=none",
            "--virtual-time-budget=60000",
            f"--user-data-dir={folder / 'profile'}",
        ]
        command = [chromium, *options, "--dump-dom", page.as_uri()]
        told = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", check=True, timeout=120)
        answer = re.search(r"<body>(\[.*\])</body>", told.stdout, re.DOTALL)
        assert answer, f"Chromium measured nothing: {told.stderr[-500:]}"
        found = [as_lines([Mark(*mark) for mark in marks]) for marks in json.loads(html.unescape(answer[1]))]
        assert len(found) == len(cases)
        return found

    return theirs


@pytest.fixture(scope="module")
def paragraphs(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, list[str]]:
    """The paragraphs of real leaflets with a figure or a Latin letter; of those that differ in these alone, one."""
    found: dict[str, list[str]] = {}
    for language in LANGUAGES:
        several: dict[str, str] = {}  # by what they share
        for record in (*(tomllib.loads((VISITS / f"{name}.toml").read_text("utf-8")) for name in LEAFLETS), baby()):
            result = make(record, language=language, out=tmp_path_factory.mktemp(language))
            assert result.status == "ok", result.findings
            page = Path(result.files["html"]).read_text("utf-8")
            several |= {re.sub("[0-9A-Za-z]+", "0", paragraph): paragraph for paragraph in paragraphs_of(page)}
        found[language] = list(several.values())
    return found


def baby() -> dict[str, Any]:
    """Return the record of a baby, whose leaflet gives a temperature."""
    record = tomllib.loads((VISITS / "03-hole-in-the-eardrum.toml").read_text("utf-8"))
    return record | {"reader": "carer", "person": record["person"] | {"age_years": 0}}


def paragraphs_of(page: str) -> Iterator[str]:
    body = ET.fromstring(re.sub(r"<style.*?</style>", "", page, flags=re.DOTALL)).find("body")  # noqa: S314 - our own
    assert body is not None
    for parent in list(body.iter()):
        for child in [one for one in parent if LEFT_OUT & set(one.get("class", "").split())]:
            parent.remove(child)
    for element in body.iter():
        if element.tag in ("p", "li") or element.get("class") == "strip":
            element.attrib.pop("id", None)
            element.tail = None
            if re.search("[0-9A-Za-z]", "".join(element.itertext())):
                yield ET.tostring(element, encoding="unicode", method="html").strip()


def differences(
    cases: Sequence[Case], ours: Sequence[Lines], theirs: Sequence[Lines]
) -> list[tuple[Case, Lines, Lines]]:
    """Return the cases that both engines broke into the same lines, and printed in another order."""
    compared = zip(cases, ours, theirs, strict=True)
    return [(case, one, other) for case, one, other in compared if broken_alike(one, other) and one != other]


@pytest.fixture(scope="module", params=LANGUAGES)
def printed(
    request: pytest.FixtureRequest, paragraphs: Mapping[str, list[str]], lay_out: Layout
) -> tuple[str, list[Case], list[Lines]]:
    """The paragraphs of a language at all widths, and what we print."""
    cases = cases_of(paragraphs[request.param])
    return request.param, cases, lay_out(request.param, cases)


def test_figures_and_latin_words_stand_where_a_browser_puts_them(
    printed: tuple[str, list[Case], list[Lines]], lay_out_in_browser: Layout
) -> None:
    language, cases, ours = printed
    theirs = lay_out_in_browser(language, cases)
    assert differences(cases, ours, theirs) == []
    # Lines may break elsewhere where a width is within a pixel of a word's end; most have to be comparable.
    assert sum(map(broken_alike, ours, theirs)) > len(cases) * 0.8
    assert len(cases) > 200


KEPT_WHOLE = re.compile('<span class="(phone|measure|date|review-day)" dir="(ltr|rtl)">([^<]*)</span>')


def as_read(direction: str, text: str) -> str:
    """Return the figures and letters of a run as they stand from left to right.

    In a run from right to left, as in "day month year", the first figure is the rightmost. Source: Unicode Standard
    Annex #9, rules W5, I1, I2 and L2, worked by hand: a number is one run from left to right, its degree sign with it.
    """
    parts = re.findall(f"{TOKEN}+", text)
    return "".join(parts if direction == "ltr" else reversed(parts))


def test_a_telephone_number_measure_or_date_is_never_reversed_and_never_split(
    printed: tuple[str, list[Case], list[Lines]],
) -> None:
    _, cases, found = printed
    kinds: set[str] = set()
    for case, lines in zip(cases, found, strict=True):
        if "<table" in case.paragraph:
            continue  # dates may wrap in the narrow columns of a table
        for kind, direction, text in KEPT_WHOLE.findall(case.paragraph):
            kinds.add(kind)
            assert any(as_read(direction, text) in line for line in lines), (case, lines)
    assert kinds == {"phone", "measure", "date", "review-day"}


PHONE = "01632 960 123"


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_telephone_number_where_a_line_ends_is_whole_for_its_span_alone(
    language: str, paragraphs: Mapping[str, list[str]], lay_out: Layout
) -> None:
    held = f'<span class="phone" dir="ltr">{PHONE}</span>'
    sentences = [one for one in paragraphs[language] if held in one and "number" not in one]
    chosen = sorted(sentences, key=len)[:2]  # the shortest, for speed
    assert chosen
    whole, reversed_whole = as_read("ltr", PHONE), as_read("rtl", PHONE)
    for lines in lay_out(language, cases_of(chosen, MORE_WIDTHS)):
        assert any(whole in line for line in lines)
    without = lay_out(language, cases_of([one.replace(held, PHONE) for one in chosen], MORE_WIDTHS))
    # Numbers apart by spaces are runs of their own, and the first stands rightmost, as words of the text would.
    assert not any(whole in line for lines in without for line in lines)
    assert any(reversed_whole in line for lines in without for line in lines)
    assert any(not any(reversed_whole in line for line in lines) for lines in without)  # split over two lines


# The name is invented, and so are the sentences: "this is the medicine ... it is useful".
SENTENCES = {
    "ar": "هذا هو الدواء الذي يجب استخدامه كل يوم {} وهو مفيد جدا",
    "ur": "یہ وہ دوا ہے جو آپ کو ہر روز لینی ہے {} یہ بہت مفید ہے",
}
VALUES = ("Examplicillin 250 mg", "38.5 °C", "+44 1234 567891")


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_dose_a_temperature_and_a_number_that_wrap_keep_their_order_for_their_span(
    language: str, lay_out: Layout, lay_out_in_browser: Layout
) -> None:
    sentence = f"<p>{SENTENCES[language]}</p>"
    cases = cases_of([sentence.format(isolated(value, language)) for value in VALUES], MORE_WIDTHS)
    ours, theirs = lay_out(language, cases), lay_out_in_browser(language, cases)
    whole = [as_read("ltr", value) for value in VALUES for _ in MORE_WIDTHS]
    assert ["".join(lines) for lines in ours] == whole
    assert {text for text, lines in zip(whole, ours, strict=True) if len(lines) > 1} == set(whole)  # each wraps
    assert differences(cases, ours, theirs) == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_comparison_finds_a_dose_without_its_span(
    language: str, lay_out: Layout, lay_out_in_browser: Layout
) -> None:
    cases = cases_of([f"<p>{SENTENCES[language].format(VALUES[0])}</p>"], MORE_WIDTHS)
    found = differences(cases, lay_out(language, cases), lay_out_in_browser(language, cases))
    assert found
    assert all(ours == ["Examplicillin", "mg250"] for _, ours, _ in found)
    assert all(theirs == ["Examplicillin", "250mg"] for _, _, theirs in found)


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_temperature_without_its_span_is_reversed(language: str, lay_out: Layout) -> None:
    cases = cases_of([f"<p>{SENTENCES[language].format(VALUES[1])}</p>"])
    assert ["C°38.5"] in lay_out(language, cases)
