"""The next visit as a code on the printed leaflet, and the whole course as a file, as other programs read them."""

import datetime
import subprocess
from pathlib import Path

import icalendar
import pytest
import zxingcpp
from PIL import Image

from leaflets import demo
from leaflets.locale_files import locales_in
from leaflets.pipeline import make

VISITS = Path(demo.__file__).parent / "visits"
DROPS = VISITS / "02-drops-for-the-right-ear.toml"
ROUTINE = VISITS / "01-both-ears-clear.toml"
LANGUAGES = ["en", *(files.locale for files in locales_in(Path(demo.__file__).parents[2] / "locales"))]
DPI = 150


def _codes(pdf: Path, folder: Path, degrees: float = 0) -> list[str]:
    """Return what a reader that shares no code with the writer reads from the pages, as pixels of 150 dpi."""
    subprocess.run(["pdftoppm", "-r", str(DPI), "-png", pdf, folder / "page"], check=True)
    found = []
    for path in sorted(folder.glob("page*.png")):
        with Image.open(path) as page:
            turned = page.convert("L").rotate(degrees, expand=True, fillcolor=255)
            found += [code.text for code in zxingcpp.read_barcodes(turned, formats=zxingcpp.BarcodeFormat.QRCode)]
    return found


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_code_on_the_leaflet_is_read_as_the_next_visit(language: str, tmp_path: Path) -> None:
    result = make(DROPS, language=language, out=tmp_path)
    (text,) = _codes(Path(result.files["pdf"]), tmp_path)
    (event,) = icalendar.Calendar.from_ical(text).walk("VEVENT")
    # By hand, from the record: review_date = 2026-12-09.
    assert event["dtstart"].dt == datetime.date(2026, 12, 9)
    assert str(event["uid"]).startswith(str(result.leaflet_id))
    for private in ("D-02", "KD", "Harrow"):
        assert private not in text


@pytest.mark.parametrize("degrees", [3, -3])
def test_it_is_read_from_a_page_that_lies_askew(degrees: float, tmp_path: Path) -> None:
    result = make(DROPS, out=tmp_path)
    assert len(_codes(Path(result.files["pdf"]), tmp_path, degrees)) == 1


@pytest.mark.parametrize("format_", ["a5", "large-print", "easy-read"])
def test_it_is_on_every_paper(format_: str, tmp_path: Path) -> None:
    result = make(DROPS, format=format_, out=tmp_path)
    assert len(_codes(Path(result.files["pdf"]), tmp_path)) == 1


def test_where_no_visit_is_planned_there_is_no_code_no_file_and_no_word_of_it(tmp_path: Path) -> None:
    result = make(ROUTINE, out=tmp_path)
    assert _codes(Path(result.files["pdf"]), tmp_path) == []
    assert "ics" not in result.files
    assert "Point your phone" not in Path(result.files["html"]).read_text("utf-8")


@pytest.mark.parametrize("format_", ["phone", "text"])
def test_a_phone_or_a_message_shows_no_code_and_still_has_the_file(format_: str, tmp_path: Path) -> None:
    result = make(DROPS, format=format_, out=tmp_path)
    shown = Path(result.files.get("html", result.files.get("txt", ""))).read_text("utf-8")
    assert "Point your phone" not in shown
    assert "calendar-code" not in shown
    assert "ics" in result.files


def test_the_file_holds_every_dose_of_the_course_and_the_visit(tmp_path: Path) -> None:
    result = make(DROPS, out=tmp_path)
    events = icalendar.Calendar.from_ical(Path(result.files["ics"]).read_bytes()).walk("VEVENT")
    doses, visits = [one for one in events if "rrule" in one], [one for one in events if "rrule" not in one]
    # By hand, from the record: 3 times a day for 5 days, from the day after the visit.
    assert [one["rrule"]["COUNT"] for one in doses] == [[5]] * 3
    assert {one["dtstart"].dt.date() for one in doses} == {datetime.date(2026, 11, 26)}
    assert [one["dtstart"].dt for one in visits] == [datetime.date(2026, 12, 9)]
    assert {str(one["summary"]) for one in doses} == {"Ear drops"}
