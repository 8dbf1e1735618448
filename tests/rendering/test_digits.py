"""Figures in the digits of a language, where a clinic asks for them: of what is read, never of what is dialled.

Sources: Unicode 15, names of characters; CLDR, the numbering systems "native" of Arabic, Bengali, Panjabi and Urdu.
"""

# ruff: noqa: RUF001 - digits of other scripts are what is compared

import re
import unicodedata
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from click.testing import CliRunner

from leaflets import cldr
from leaflets.cli import main
from leaflets.model import Result
from leaflets.pipeline import make
from leaflets.render.digits import style_with_digits, with_digits
from leaflets.render.fonts import missing_characters

DROPS = Path(__file__).parents[2] / "leaflets" / "demo" / "visits" / "02-drops-for-the-right-ear.toml"
NAMES = {"ar": "ARABIC-INDIC", "bn": "BENGALI", "pa": "GURMUKHI", "ur": "EXTENDED ARABIC-INDIC"}
WORDS = ("ZERO", "ONE", "TWO", "THREE", "FOUR", "FIVE", "SIX", "SEVEN", "EIGHT", "NINE")

MakeIn = Callable[[str, str], Result]


def _ask_for(clinic: Path, languages: str) -> int:
    """Let a clinic ask for the digits of languages, as TOML, and return the line of its file."""
    file = clinic / "clinic.toml"
    text, count = re.subn(r"(?m)^native_digits = \[.*?\]", f"native_digits = {languages}", file.read_text("utf-8"))
    assert count == 1
    file.write_text(text, "utf-8")
    return text[: text.index("native_digits")].count("\n") + 1


@pytest.fixture
def make_in(clinic: Path, tmp_path: Path) -> MakeIn:
    """Return a function that makes the leaflet of a course of drops, in a clinic that asks for digits of languages."""

    def made(language: str, asked: str) -> Result:
        _ask_for(clinic, asked)
        return make(DROPS, language=language, clinic=clinic, out=tmp_path / asked.strip('[]"'))

    return made


@pytest.mark.parametrize("language", NAMES)
def test_the_digits_of_a_language_are_those_of_unicode_and_every_font_has_them(language: str) -> None:
    digits = cldr.native_digits(language)
    assert digits is not None
    assert [unicodedata.name(digit) for digit in digits] == [f"{NAMES[language]} DIGIT {word}" for word in WORDS]
    assert missing_characters(digits) == ()


def _texts(page: ET.Element, kind: str) -> list[str]:
    return ["".join(span.itertext()) for span in page.iter("span") if span.get("class") == kind]


def _root(result: Result) -> ET.Element:
    """Return the page without its reference and version, which are others when a clinic asks for other digits."""
    page = Path(result.files["html"]).read_text("utf-8")
    assert result.leaflet_id is not None
    assert page.count(result.leaflet_id) == page.count(result.content_version) == 1
    page = page.replace(result.leaflet_id, "L").replace(result.content_version, "V")
    return ET.fromstring(re.sub(r"<!DOCTYPE html>|<style>.*?</style>", "", page, flags=re.DOTALL))  # noqa: S314


@pytest.mark.parametrize("language", NAMES)
def test_a_leaflet_says_the_same_figures_in_them_but_for_what_is_dialled_or_looked_up(
    language: str, make_in: MakeIn
) -> None:
    plain, own = _root(make_in(language, "[]")), _root(make_in(language, f'["{language}"]'))
    back = str.maketrans(str(cldr.native_digits(language)), "0123456789")
    assert "".join(own.itertext()).translate(back).split() == "".join(plain.itertext()).split()
    for kind in ("phone", "code"):
        assert _texts(own, kind) == _texts(plain, kind) != []
    dates = _texts(own, "date")
    assert len(dates) > 5
    assert not any(re.search("[0-9]", date) for date in dates)
    kept = sum(len(re.findall("[0-9]", text)) for kind in ("phone", "code") for text in _texts(own, kind))
    lines = own.findall(".//span[@lang]") + [one for one in own.iter("span") if one.get("class") == "clinic-line"]
    kept += sum(len(re.findall("[0-9]", "".join(line.itertext()))) for line in lines)
    body = own.find("body")
    assert body is not None
    assert len(re.findall("[0-9]", "".join(body.itertext()))) == kept


def test_a_clinic_that_asks_for_none_gets_0_to_9(make_in: MakeIn) -> None:
    page = "".join(_root(make_in("bn", '["ar"]')).itertext())
    assert not any(digit in page for digit in str(cldr.native_digits("bn")))


@pytest.mark.parametrize("asked", ['["pl"]', '["qq"]', '["bn", "en"]'])
def test_a_language_without_digits_of_its_own_is_refused_with_its_line(asked: str, clinic: Path) -> None:
    line = _ask_for(clinic, asked)
    result = CliRunner().invoke(main, ["make", str(DROPS), "--clinic", str(clinic)])
    assert result.exit_code == 2
    assert f"clinic.toml:{line} [native_digits]" in result.stderr.replace("\n", "")


@pytest.mark.parametrize(
    ("page", "expected"),
    [
        ("<p>10 &amp; 5&#160;ml<br/>3</p>", "<p>১০ &amp; ৫&#160;ml<br/>৩</p>"),
        (
            '<p class="d1">1<span class="phone n" dir="ltr">999</span>2</p>',
            '<p class="d1">১<span class="phone n" dir="ltr">999</span>২</p>',
        ),
        ('<p><span lang="en">2017 <b>3</b></span> 4</p>', '<p><span lang="en">2017 <b>3</b></span> ৪</p>'),
        ("<head><title>2</title></head><!-- 3 --><p>4</p>", "<head><title>2</title></head><!-- 3 --><p>৪</p>"),
        ('<p><img src="a1.svg" alt="2"/>3</p>', '<p><img src="a1.svg" alt="2"/>৩</p>'),
    ],
)
def test_only_the_figures_of_text_change(page: str, expected: str) -> None:
    assert with_digits(page, str(cldr.native_digits("bn"))) == expected


def test_pages_are_counted_in_them() -> None:
    """Source: W3C, CSS Counter Styles Level 3, section 6.1."""
    names = {"ar": "arabic-indic", "bn": "bengali", "pa": "gurmukhi", "ur": "persian"}
    for language, name in names.items():
        digits = str(cldr.native_digits(language))
        assert (
            style_with_digits("counter(page) counter(pages)", digits) == f"counter(page, {name}) counter(pages, {name})"
        )
