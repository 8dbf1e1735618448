"""In every locale that is shipped: what a reader, a screen reader and a searching program get from the finished PDF.

Two leaflets, a course of drops and a baby's, and some articles of the Universal Declaration of Human Rights in the
leaflet's own looks. The Declaration is text that nobody chose for our fonts.

Urdu is printed in Nastaliq. Its letters hang over and under each other, and no reader of PDF brings its words back
(measured with poppler, pdfium, pymupdf, pypdf and mutool: 0.24 of the words at best). Nothing is asserted of the words
in such a PDF, and the HTML file, which is always written beside it, is held to account instead.
"""

import ctypes
import importlib.util
import io
import re
import subprocess
import tomllib
import unicodedata
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache, cached_property
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
from leaflets.content import Content
from leaflets.locale_files import locales_in
from leaflets.pipeline import make
from leaflets.render.fonts import missing_characters
from leaflets.render.html import style_sheet
from leaflets.render.pdf import load_stylesheet, render_pdf

TESTS = Path(__file__).parents[1]
VISITS = Path(demo.__file__).parent / "visits"


@cache
def _module(path: str) -> ModuleType:
    """Import a module of the tests, which are no package."""
    spec = importlib.util.spec_from_file_location(f"tests_locales_{Path(path).stem}", TESTS / path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


declaration = _module("readability/conftest.py").declaration  # a fixture: skips, and fails in CI, where npm is missing

LOCALES = sorted({"en", *(files.locale for files in locales_in(TESTS.parent / "locales"))})
RIGHT_TO_LEFT = [locale for locale in LOCALES if locale in ("ar", "ur")]
NASTALIQ = "ur"
READABLE = [locale for locale in LOCALES if locale != NASTALIQ]

# The families that stand beside Noto Sans: Naskh for Arabic, Nastaliq for Urdu, else the script's own. A locale in
# another script than Latin has to be named here.
SCRIPT_FAMILY = {
    "ar": "Noto-Naskh-Arabic",
    "bn": "Noto-Sans-Bengali",
    "pa": "Noto-Sans-Gurmukhi",
    "ur": "Noto-Nastaliq-Urdu",
}

# Measured with poppler 22.12 on the same kind of leaflet: 1.00 from left to right, 0.88 in Arabic, where poppler puts
# marks and some joined letters beside their word.
LEAST_SHARE = {"ar": 0.85}
LEAST_SHARE_FROM_LEFT_TO_RIGHT = 0.99

SMALLEST_POINTS = 12.0  # the smallest size that large bodies of guidance on patient print accept: from memory
POINTS_IN_A_PIXEL = 3 / 4  # WeasyPrint writes sizes of letters in pixels of CSS, and scales the page
A_MILLIMETRE = 72 / 25.4  # in points; the least that parts two words in columns: common practice, no source
ARTICLES = 24  # paragraphs of the Declaration, about half of it


def _drops() -> dict[str, Any]:
    return tomllib.loads((VISITS / "02-drops-for-the-right-ear.toml").read_text("utf-8"))


def _baby() -> dict[str, Any]:
    """Return the record of a baby with a tube in the eardrum, whose leaflet gives a temperature."""
    record = tomllib.loads((VISITS / "09-a-child-with-a-tube.toml").read_text("utf-8"))
    return record | {"person": record["person"] | {"age_years": 0}}


RECORDS = {"drops": _drops, "baby": _baby}


def _language(locale: str) -> str:
    return locale.partition("-")[0]


@dataclass(frozen=True)
class Glyph:
    """A character where it is painted: its edges from the left, its baseline from the bottom and its size in points."""

    text: str
    page: int
    left: float
    up: float
    right: float
    size: float


@dataclass(frozen=True)
class Printed:
    """One leaflet in one locale, its files as other programs read them."""

    locale: str
    pdf: Path
    html: str

    @cached_property
    def root(self) -> ET.Element:
        return ET.fromstring(self.html.removeprefix("<!DOCTYPE html>"))  # noqa: S314 - our own page

    @cached_property
    def body(self) -> ET.Element:
        body = self.root.find("body")
        assert body is not None
        return body

    @cached_property
    def furniture(self) -> str:
        """The text of what stands in the margins of every page: the mark and the foot."""
        margins = (each for each in self.body.iter() if each.get("class", "").split()[:1] in (["mark"], ["foot"]))
        return " ".join(text for margin in margins for text in margin.itertext())

    @cached_property
    def lines(self) -> list[list[Glyph]]:
        """The visible characters of each baseline, from left to right."""
        with pypdfium2.PdfDocument(_without_words_beside(self.pdf)) as pdf:
            return [line for number, page in enumerate(pdf, 1) for line in _lines_of(page, number)]

    def spans(self, *kinds: str) -> list[str]:
        """Return the texts of the spans of these classes, each as often as it stands."""
        return [
            "".join(span.itertext()) for span in self.body.iter("span") if set(span.get("class", "").split()) & {*kinds}
        ]


def _without_words_beside(source: Path) -> bytes:
    """Return a PDF without ActualText: a reader that takes the words from it does not say where each glyph stands."""
    stripped = io.BytesIO()
    with pikepdf.open(source) as pdf:
        for page in pdf.pages:
            content: list[Any] = list(pikepdf.parse_content_stream(page))
            for each in content:
                if str(each.operator) == "BDC" and "/ActualText" in each.operands[1]:
                    del each.operands[1]["/ActualText"]
            page.Contents = pdf.make_stream(pikepdf.unparse_content_stream(content))
        pdf.save(stripped)
    return stripped.getvalue()


def _lines_of(page: Any, number: int) -> Iterator[list[Glyph]]:
    text = page.get_textpage()
    left, up = ctypes.c_double(), ctypes.c_double()
    found: list[Glyph] = []
    for index in range(text.count_chars()):
        character = chr(pdfium.FPDFText_GetUnicode(text, index))
        if character.isspace() or unicodedata.category(character).startswith("C"):
            continue
        assert pdfium.FPDFText_GetCharOrigin(text, index, left, up)
        size = pdfium.FPDFText_GetFontSize(text, index) * POINTS_IN_A_PIXEL
        found.append(Glyph(character, number, left.value, up.value, text.get_charbox(index)[2], size))
    found.sort(key=lambda glyph: glyph.up)
    line: list[Glyph] = []
    for glyph in found:
        if line and glyph.up - line[-1].up > 1:
            yield sorted(line, key=lambda one: one.left)
            line = []
        line.append(glyph)
    yield sorted(line, key=lambda one: one.left)


Kind = Callable[[str, str], Printed]


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Kind:
    """Return a function that makes a leaflet in a locale, once."""
    folder = tmp_path_factory.mktemp("locales")

    @cache
    def once(kind: str, locale: str) -> Printed:
        result = make(RECORDS[kind](), language=locale, out=folder)
        assert result.status == "ok", result.findings
        return Printed(locale, Path(result.files["pdf"]), Path(result.files["html"]).read_text("utf-8"))

    return once


@pytest.fixture(params=LOCALES)
def locale(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(params=RECORDS)
def kind(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(params=LOCALES)
def leaflet(request: pytest.FixtureRequest, kind: str, printed: Kind) -> Printed:
    """Each leaflet in each locale."""
    return printed(kind, request.param)


@pytest.fixture(params=READABLE)
def readable(request: pytest.FixtureRequest, kind: str, printed: Kind) -> Printed:
    """Each leaflet in each locale whose words come back from a PDF."""
    return printed(kind, request.param)


@pytest.fixture(params=RIGHT_TO_LEFT)
def from_the_right(request: pytest.FixtureRequest, kind: str, printed: Kind) -> Printed:
    return printed(kind, request.param)


def _words(text: str) -> Counter[str]:
    """Return the words of letters and their marks, in NFC and without the characters that show nothing."""
    shown = "".join(one for one in unicodedata.normalize("NFC", text) if unicodedata.category(one) != "Cf")
    letters = (one if unicodedata.category(one)[0] in "LM" else " " for one in shown)
    return Counter("".join(letters).split())


def _text_of(pdf: Path) -> str:
    return subprocess.run(["pdftotext", str(pdf), "-"], capture_output=True, text=True, check=True).stdout


def _share(back: Counter[str], said: Counter[str]) -> float:
    """Return the share of the words that came back, each as often as it was said."""
    return (said & back).total() / said.total()


def _least(locale: str) -> float:
    return LEAST_SHARE.get(locale, LEAST_SHARE_FROM_LEFT_TO_RIGHT)


def test_several_locales_are_looked_at() -> None:
    assert len(LOCALES) > 1
    assert RIGHT_TO_LEFT
    # By hand: "first" thrice said and twice back, with its ligature unresolved once, and a word that nobody said.
    said, back = _words("first, first; first 3 day"), _words("first \N{LATIN SMALL LIGATURE FI}rst first day more")
    assert _share(back, said) == pytest.approx(3 / 4)


def test_an_outside_checker_of_accessibility_finds_no_error(leaflet: Printed, tmp_path: Path) -> None:
    errors_of_outloud = _module("rendering/test_accessible.py").errors_of_outloud
    assert errors_of_outloud(leaflet.pdf.read_bytes(), tmp_path) == set()


def test_the_file_is_sound(leaflet: Printed) -> None:
    checked = subprocess.run(["qpdf", "--check", leaflet.pdf], capture_output=True, text=True, check=False)
    assert checked.returncode == 0, checked.stderr
    assert "No syntax or stream encoding errors found" in checked.stdout


def test_the_structure_holds_all_content_headers_and_pictures(leaflet: Printed, structure: ModuleType) -> None:
    assert structure.structure_faults(leaflet.pdf) == []
    with pikepdf.open(leaflet.pdf) as pdf:
        elements = [each for each in pdf.objects if isinstance(each, pikepdf.Dictionary) and "/S" in each]
        scopes = [each for each in elements if each.S == "/TH" and each.A.Scope in ("/Row", "/Column")]
        pictures = [str(each.Alt) for each in elements if each.S == "/Figure"]
    assert len(scopes) == len(list(leaflet.body.iter("th"))) > 0
    assert sorted(pictures) == sorted(image.get("alt", "") for image in leaflet.body.iter("img"))
    assert pictures


def test_the_document_says_its_language_and_direction(leaflet: Printed) -> None:
    with pikepdf.open(leaflet.pdf) as pdf:
        assert pdf.Root.Lang == leaflet.locale
    assert leaflet.root.get("lang") == leaflet.locale
    assert leaflet.root.get("dir") == ("rtl" if leaflet.locale in RIGHT_TO_LEFT else "ltr")


@pytest.mark.parametrize("locale", [locale for locale in LOCALES if not locale.startswith("en")])
def test_words_in_english_say_so_to_a_screen_reader(locale: str, printed: Kind) -> None:
    # ISO 14289-1:2014 (PDF/UA-1), 7.2, and WCAG 2.2, 3.1.2, both from memory: changes of language are declared.
    leaflet = printed("drops", locale)
    assert [span for span in leaflet.body.iter("span") if span.get("lang") == "en"]
    with pikepdf.open(leaflet.pdf) as pdf:
        said = {str(each.Lang) for each in pdf.objects if isinstance(each, pikepdf.Dictionary) and "/Lang" in each}
        for page in pdf.pages:
            marks: list[Any] = [
                each.operands for each in pikepdf.parse_content_stream(page) if str(each.operator) == "BDC"
            ]
            said |= {str(mark[1].Lang) for mark in marks if "/Lang" in mark[1]}
    assert "en" in said


def test_the_words_of_the_html_come_back_from_the_pdf(readable: Printed) -> None:
    said = _words(" ".join(readable.body.itertext())) - _words(readable.furniture)
    back = _words(_text_of(readable.pdf))
    assert said.total() > 400  # counted in English: some 750
    assert _share(back, said) >= _least(readable.locale), (said - back).most_common(20)


@pytest.mark.parametrize("locale", READABLE)
def test_the_words_of_the_margins_come_back_from_every_page(locale: str, printed: Kind) -> None:
    # The mark says that the words are not approved: whoever copies a page has to get it too.
    leaflet = printed("drops", locale)
    said = _words(leaflet.furniture)
    pages = _text_of(leaflet.pdf).split("\f")[:-1]
    assert said.total() > 10
    assert len(pages) > 1
    for page in pages:
        assert _share(_words(page), said) >= _least(locale), (said - _words(page)).most_common(20)


def test_a_ligature_or_a_joined_letter_comes_back_as_plain_letters(readable: Printed) -> None:
    # Unicode 15, blocks FB00 to FDFF and FE70 to FEFF: kept for old systems, and found by no search for a word.
    text = _text_of(readable.pdf)
    assert not {f"{ord(one):04X}" for one in text if 0xFB00 <= ord(one) < 0xFE00 or 0xFE70 <= ord(one) < 0xFEFF}


@pytest.fixture
def on_screen(kind: str, printed: Kind) -> Path:
    """The PDF of an Urdu leaflet that is meant for a screen: in Naskh, where the printed one is in Nastaliq."""
    path = printed(kind, NASTALIQ).pdf.with_suffix(".screen.pdf")
    assert path.is_file()
    return path


def test_the_words_of_urdu_come_back_from_its_pdf_for_the_screen(on_screen: Path, kind: str, printed: Kind) -> None:
    """As in Arabic, whose letters it shares; from the printed one hardly any come back."""
    leaflet = printed(kind, NASTALIQ)
    said = _words(" ".join(leaflet.body.itertext())) - _words(leaflet.furniture)
    back = _words(_text_of(on_screen))
    assert _share(back, said) >= LEAST_SHARE["ar"], (said - back).most_common(20)
    assert _share(_words(_text_of(leaflet.pdf)), said) < LEAST_SHARE["ar"]


def test_the_pdf_of_urdu_for_the_screen_is_accessible_and_in_naskh(
    on_screen: Path, structure: ModuleType, tmp_path: Path
) -> None:
    errors_of_outloud = _module("rendering/test_accessible.py").errors_of_outloud
    assert errors_of_outloud(on_screen.read_bytes(), tmp_path) == set()
    assert structure.structure_faults(on_screen) == []
    families = {name.removesuffix("-Bold") for name in structure.embedded_fonts(on_screen.read_bytes())}
    assert families == {"Noto-Sans", "Noto-Naskh-Arabic"}


def test_only_urdu_has_a_pdf_of_its_own_for_the_screen(leaflet: Printed) -> None:
    assert leaflet.pdf.with_suffix(".screen.pdf").is_file() == (leaflet.locale == NASTALIQ)


def test_the_html_of_urdu_holds_its_words_in_plain_letters(kind: str, printed: Kind) -> None:
    leaflet = printed(kind, NASTALIQ)
    text = "".join(leaflet.body.itertext())
    assert text == unicodedata.normalize("NFC", text)
    assert "\N{REPLACEMENT CHARACTER}" not in text
    letters = [one for one in text if unicodedata.category(one).startswith("L")]
    urdu = [one for one in letters if 0x0600 <= ord(one) < 0x0700]  # Unicode 15: the block Arabic, not its old forms
    own = [span for span in leaflet.body.iter("span") if span.get("dir") == "ltr"]
    foreign = Counter("".join("".join(span.itertext()) for span in own))
    # What is not Urdu is isolated, but for the leaflet's own number, whose letters are A to F and L.
    rest = Counter(one for one in letters if not 0x0600 <= ord(one) < 0x0700) - foreign
    assert set(rest) <= set("ABCDEFL")
    assert len(urdu) > 1500
    # The commonest words of Urdu, of, is and in: from memory.
    assert {"کے", "ہے", "میں"} <= set(_words(text))


def test_every_character_of_the_declaration_is_drawn(locale: str, declaration: Callable[[str], str]) -> None:
    text = declaration(_language(locale))
    assert len(text) > 5000
    assert missing_characters(text) == ()


def test_the_words_of_the_declaration_come_back_in_the_looks_of_a_leaflet(
    locale: str, declaration: Callable[[str], str], content: Content, tmp_path: Path, structure: ModuleType
) -> None:
    paragraphs = declaration(_language(locale)).split("\n")[:ARTICLES]
    direction = "rtl" if locale in RIGHT_TO_LEFT else "ltr"
    page = (
        f'<!DOCTYPE html><html lang="{locale}" dir="{direction}" class="a4"><head><title>Articles</title></head><body>'
        + "".join(f"<p>{paragraph}</p>" for paragraph in paragraphs)
        + "</body></html>"
    )
    look = load_stylesheet(style_sheet(content.styles["a4.css"], content.clinic.accent), {})
    pdf = render_pdf(page, stylesheet=look, assets={}).pdf
    file = tmp_path / "articles.pdf"
    file.write_bytes(pdf)
    assert structure.structure_faults(pdf) == []
    if locale != NASTALIQ:
        said, back = _words(" ".join(paragraphs)), _words(_text_of(file))
        assert said.total() > 300
        assert _share(back, said) >= _least(locale), (said - back).most_common(20)


def test_the_fonts_are_ours_embedded_and_those_of_the_script(leaflet: Printed, structure: ModuleType) -> None:
    names = structure.embedded_fonts(leaflet.pdf.read_bytes())
    expected = {"Noto-Sans"} | {SCRIPT_FAMILY[key] for key in {_language(leaflet.locale)} & SCRIPT_FAMILY.keys()}
    assert {name.removesuffix("-Bold") for name in names} == expected
    with pikepdf.open(leaflet.pdf) as pdf:
        for page in pdf.pages:
            for font in page.Resources.Font.values():
                for part in font.DescendantFonts:
                    assert "/FontFile2" in part.FontDescriptor or "/FontFile3" in part.FontDescriptor


def test_headings_and_what_matters_are_bold_in_the_letters_of_the_script(
    locale: str, printed: Kind, structure: ModuleType
) -> None:
    names = structure.embedded_fonts(printed("drops", locale).pdf.read_bytes())
    family = SCRIPT_FAMILY.get(_language(locale), "Noto-Sans")
    assert {family, f"{family}-Bold"} <= names


def test_no_letter_is_smaller_than_twelve_points(leaflet: Printed) -> None:
    sizes = _module("pages/test_paper.py")._sizes(leaflet.pdf)  # noqa: SLF001 - one measure for both folders
    assert min(sizes) >= SMALLEST_POINTS - 0.01


def _runs(line: list[Glyph], allowed: str) -> Iterator[list[Glyph]]:
    """Group the characters of a line that are allowed and stand no further apart than the words of one line.

    A space of Noto Sans is 0.26 of the letter's size.
    """
    run: list[Glyph] = []
    for glyph in line:
        if not re.fullmatch(allowed, glyph.text):
            continue
        if run and glyph.left - run[-1].right > 0.4 * glyph.size:
            yield run
            run = []
        run.append(glyph)
    if run:
        yield run


def _as_text(run: list[Glyph]) -> str:
    return "".join(glyph.text for glyph in run)


def test_the_figures_of_a_telephone_number_stand_from_left_to_right(from_the_right: Printed) -> None:
    numbers = {re.sub(r"\s", "", number) for number in from_the_right.spans("phone")}
    assert max(map(len, numbers)) > 9
    painted = Counter(_as_text(run) for line in from_the_right.lines for run in _runs(line, r"[0-9+]"))
    text = "".join(re.sub(r"(?<=\d)[ \u00a0](?=\d)", "", each) for each in from_the_right.body.itertext())
    for number in numbers:
        assert painted[number] == len(re.findall(rf"(?<!\d){number}(?!\d)", text)), painted


def test_the_look_at_glyphs_sees_a_number_that_is_not_isolated(content: Content, tmp_path: Path) -> None:
    # Unicode Standard Annex 9: groups of European figures in Arabic text stand from the right, each as it is.
    paragraph = "اتصل 01632 960 123 الآن"
    look = load_stylesheet(style_sheet(content.styles["a4.css"], content.clinic.accent), {})
    page = f'<!DOCTYPE html><html lang="ar" dir="rtl"><title>a</title><body><p>{paragraph}</p></body></html>'
    file = tmp_path / "bare.pdf"
    file.write_bytes(render_pdf(page, stylesheet=look, assets={}).pdf)
    lines = Printed("ar", file, page).lines
    assert [_as_text(run) for line in lines for run in _runs(line, r"\d")] == ["12396001632"]


def test_the_groups_of_a_telephone_number_stand_from_left_to_right(from_the_right: Printed) -> None:
    """The same by the word boxes of poppler, which knows nothing of pdfium."""
    groups = {number: number.split() for number in from_the_right.spans("phone") if " " in number}
    told = subprocess.run(["pdftotext", "-bbox", from_the_right.pdf, "-"], capture_output=True, text=True, check=True)
    found = re.findall(r'xMin="([\d.]+)" yMin="[\d.]+" xMax="[\d.]+" yMax="([\d.]+)">([^<]*)<', told.stdout)
    boxes = [(float(left), round(float(foot)), text) for left, foot, text in found]
    assert groups
    for number, parts in groups.items():
        starts = [at for at, (_, _, text) in enumerate(boxes) if text == parts[0]]
        lines = [boxes[at : at + len(parts)] for at in starts]
        whole = [line for line in lines if [text for _, _, text in line] == parts]
        assert len(whole) == from_the_right.spans("phone").count(number)
        for line in whole:
            assert len({foot for _, foot, _ in line}) == 1
            assert all(here[0] < after[0] for here, after in pairwise(line))


def test_a_date_reads_day_then_year_from_the_right(from_the_right: Printed) -> None:
    dates = [re.findall(r"\d+", date) for date in from_the_right.spans("date", "review-day")]
    expected = Counter((date[0], date[1]) for date in dates if len(date) == 2)
    assert expected
    years = {year for _, year in expected}
    painted: Counter[tuple[str, str]] = Counter()
    for line in from_the_right.lines:
        runs = [_as_text(run) for run in _runs(line, r"\d")]
        painted.update((after, here) for here, after in pairwise(runs) if here in years)
    assert painted == expected


def test_a_measure_stands_with_its_unit_as_it_is_written(from_the_right: Printed) -> None:
    for measure in from_the_right.spans("measure"):
        plain = re.sub(r"[\s\u200e\u200f]", "", measure)
        if plain.replace("°", "").isascii():
            painted = [_as_text(run) for line in from_the_right.lines for run in _runs(line, "[0-9A-Za-z°]")]
            assert plain in painted
            continue
        number, unit = re.findall(r"\d+°?|[^\d°]+", plain)
        # A unit in Arabic stands on the left of its number, and reads from the right. The degree sign stays on the
        # right of its figures, as a part of the number: Unicode Standard Annex 9, rule W5.
        painted = [_left_of(line, number) for line in from_the_right.lines]
        assert any(text.startswith(unit) for text in painted), (measure, painted)


def _left_of(line: list[Glyph], number: str) -> str:
    """Return what stands on the left of a number, read from the right; nothing where the number is not in the line."""
    for run in _runs(line, r"[\d°]"):
        if _as_text(run) == number:
            before = [glyph for glyph in line if glyph.left < run[0].left]
            return unicodedata.normalize("NFKC", _as_text(before[::-1]))
    return ""


def test_the_urgency_stands_apart_from_what_is_beside_it(locale: str, printed: Kind) -> None:
    first_page = [glyph for line in printed("drops", locale).lines for glyph in line if glyph.page == 1]
    # The number for emergencies is the only one of 26 points; the labels of 18 points start beside it.
    emergency = max(glyph.up for glyph in first_page if round(glyph.size) == 26 and glyph.text.isdigit())
    panel = [glyph for glyph in first_page if glyph.text.isalpha() and glyph.up < emergency + 18]
    labels = [glyph for glyph in panel if round(glyph.size) == 18]
    others = [glyph for glyph in panel if round(glyph.size) == 12]
    gaps = [
        max(other.left - label.right, label.left - other.right)
        for label in labels
        for other in others
        if abs(other.up - label.up) < 12
    ]
    assert gaps
    assert min(gaps) >= A_MILLIMETRE
