"""Leaflets in every language that is shipped, as they come out on paper and on screen."""

import re
import subprocess
import unicodedata
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import outloud
import pikepdf
import pytest

from leaflets import demo
from leaflets.catalogue import locale_of_folder

TOP = Path(__file__).parents[2]
VISITS = Path(demo.__file__).parent / "visits"
DROPS = VISITS / "02-drops-for-the-right-ear.toml"
LOCALES = sorted(locale_of_folder(path.name) for path in (TOP / "locales").iterdir() if path.is_dir())
RIGHT_TO_LEFT = ("ar", "ur")
_SAME_LINE = 4.0  # points
_MARKS = ".:,;\u060c\u06d4\u0964"
FONTS = {
    "ar": "Noto-Naskh-Arabic",
    "bn": "Noto-Sans-Bengali",
    "pa": "Noto-Sans-Gurmukhi",
    "ur": "Noto-Nastaliq-Urdu",
}
# The share of the words that a reader of PDF gets back. Measured before: 0.99 from left to right, 0.87 in Arabic, whose
# letters poppler joins otherwise now and then; no reader gets the words of Nastaliq, so there is none for Urdu.
LEAST_SHARE = dict.fromkeys(LOCALES, 0.99) | {"ar": 0.85}
LEAST_SHARE.pop("ur")

MadeIn = Callable[[Path, str], Any]


@pytest.fixture(params=LOCALES)
def locale(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def _letters(text: str) -> Counter[str]:
    """Return the words of letters of a text, each as often as it stands, in one normal form."""
    plain = unicodedata.normalize("NFC", re.sub("[\u200b-\u200f\u202a-\u202e\u00ad\u2060]", "", text))
    words = re.split(r"[\s\d.,:;!?·•()\[\]/|\u060c\u061b\u061f\u06d4\u0964\u00b0%-]+", plain)
    return Counter(word for word in words if any(map(str.isalpha, word)))


def _text_of(pdf: Path) -> str:
    return subprocess.run(["pdftotext", str(pdf), "-"], capture_output=True, text=True, check=True).stdout


def test_it_is_made_and_says_its_language(made_in: MadeIn, locale: str) -> None:
    made = made_in(DROPS, locale)
    assert made.result["status"] == "ok"
    assert made.result["coverage"] == {
        **made.result["coverage"],
        "language": locale,
        "missing": 0,
        "stale": 0,
        "reviewed": 0,
    }
    with pikepdf.open(made.pdf) as pdf:
        assert str(pdf.Root.Lang) == locale
    html = Path(made.result["files"]["html"]).read_text("utf-8")
    direction = "rtl" if locale in RIGHT_TO_LEFT else "ltr"
    assert f'<html lang="{locale}" dir="{direction}"' in html


def test_checkers_from_outside_find_nothing(made_in: MadeIn, locale: str) -> None:
    made = made_in(DROPS, locale)
    checked = subprocess.run(["qpdf", "--check", str(made.pdf)], capture_output=True, text=True, check=False)
    assert checked.returncode == 0, checked.stderr
    result = outloud.check(str(made.pdf))
    assert result.error is None, result.error
    assert {finding.rule: finding for finding in result.findings if finding.severity == "error"} == {}


def test_our_own_look_at_the_structure_finds_nothing(made_in: MadeIn, structure: Any, locale: str) -> None:
    assert structure.structure_faults(made_in(DROPS, locale).pdf) == []


def test_the_fonts_are_ours_and_fit_the_script(made_in: MadeIn, structure: Any, locale: str) -> None:
    names = structure.embedded_fonts(made_in(DROPS, locale).pdf.read_bytes())
    assert all(name.startswith("Noto-") for name in names)
    families = {name.removesuffix("-Bold") for name in names}
    assert families == {"Noto-Sans", FONTS[locale]} if locale in FONTS else families == {"Noto-Sans"}


def test_the_words_can_be_read_out_of_the_pdf(made_in: MadeIn, locale: str) -> None:
    if locale not in LEAST_SHARE:
        html = Path(made_in(DROPS, locale).result["files"]["html"]).read_text("utf-8")
        assert "کان" in html  # "ear": what is read out is the HTML file beside the PDF
        return
    made = made_in(DROPS, locale)
    parts = [part for part in made.body.iter() if part.tag in ("p", "li", "h3") and "mark" not in part.get("class", "")]
    said = _letters(" ".join("".join(part.itertext()) for part in parts))
    back = _letters(_text_of(made.pdf))
    found = sum(min(count, back[word]) for word, count in said.items())
    assert found / said.total() >= LEAST_SHARE[locale], (said - back).most_common(20)


def test_telephone_numbers_run_from_left_to_right(made_in: MadeIn, locale: str) -> None:
    """By the place of each group on paper: the clinic's 01632 960 123 is one line, its groups in their order."""
    words = made_in(DROPS, locale).words
    found = {
        group: [word for word in words if word.text.strip(_MARKS).startswith(group)]
        for group in ("01632", "960", "123")
    }
    assert len(found["01632"]) >= 2
    for first in found["01632"]:
        line = [
            [word for word in found[group] if word.page == first.page and abs(word.bottom - first.bottom) < _SAME_LINE]
            for group in ("960", "123")
        ]
        for second, third in zip(*line, strict=True):
            assert first.left < second.left < third.left
        assert line[0]


def test_a_page_for_staff_has_both_languages(tmp_path: Path, structure: Any) -> None:
    from leaflets.pipeline import make  # noqa: PLC0415

    result = make(DROPS, language="pl", beside="en", out=tmp_path)
    page = Path(result.files["beside-en.pdf"])
    assert structure.structure_faults(page) == []
    text = " ".join(_text_of(page).split())
    for words in ("Wash your hands.", "Proszę umyć ręce.", "Do not hand this page to a patient."):
        assert words in text


@pytest.mark.parametrize("visit", sorted(VISITS.glob("*.toml")), ids=lambda path: path.stem)
@pytest.mark.parametrize("language", ["ur", "pl"])
def test_the_get_help_panel_is_whole_on_page_one_where_words_take_more_room(
    made_in: MadeIn, visit: Path, language: str
) -> None:
    made = made_in(visit, language)
    assert made.result["status"] == "ok"
    assert "PAGE01" not in {finding["code"] for finding in made.result["findings"]}


def test_letter_paper_is_letter_paper(tmp_path: Path) -> None:
    from leaflets.pipeline import make  # noqa: PLC0415

    result = make(DROPS, language="en-US", format="letter", out=tmp_path)
    # Source: ANSI letter, 8.5 by 11 inches; 72 points an inch.
    with pikepdf.open(result.files["pdf"]) as pdf:
        assert {tuple(float(edge) for edge in page.mediabox) for page in pdf.pages} == {(0, 0, 612, 792)}
