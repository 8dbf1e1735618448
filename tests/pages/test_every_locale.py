"""Leaflets in every language that is shipped, as `leaflets make` gives them; tests/rendering reads their print."""

import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

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

MadeIn = Callable[[Path, str], Any]


@pytest.fixture(params=LOCALES)
def locale(request: pytest.FixtureRequest) -> str:
    return str(request.param)


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
    # The leaflet's words are not approved, and each page for staff says so too.
    assert text.count("Its words are not approved for patients.") == len(_text_of(page).split("\f")[:-1])


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
