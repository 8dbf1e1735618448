"""Codes for a phone's camera, printed and read again.

They are printed as leaflets are, turned into pixels by poppler, and read by zxing-cpp, which shares no code with segno.
"""

import datetime
import io
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path
from typing import Any

import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageFilter

from leaflets.calendar_entry import CalendarWords, calendar_for_code
from leaflets.content import Content
from leaflets.model import Course
from leaflets.render.code import code_svg
from leaflets.render.fetcher import Asset
from leaflets.render.pdf import load_stylesheet, render_pdf

DPI = 150
MM = 25.4
PAGE = (
    '<!doctype html><html lang="en"><head><title>A code</title></head><body>'
    '<p><img src="asset:code.svg" alt="A code"></p></body></html>'
)
CSS = """
@page { size: 148mm 210mm; margin: 20mm }
html { font-family: "Noto Sans" }
body, p { margin: 0 }
img { display: block }
"""

# Invented words, of no clinical value.
WORDS = {
    "en": CalendarWords("Put in your ear drops", "Ear check"),
    "ar": CalendarWords("ضع قطرات الأذن", "فحص الأذن"),
    "ur": CalendarWords("کان کے قطرے ڈالیں", "کان کا معائنہ"),
    "bn": CalendarWords("কানের ড্রপ দিন", "কান পরীক্ষা"),
}


def of_a_course(content: Content, language: str, times_a_day: int) -> str:
    course = Course("olive-oil", ("left", "right"), 3, times_a_day, 5, datetime.date(2026, 11, 26), 5, 200)
    return calendar_for_code(
        course,
        datetime.date(2026, 12, 9),
        content.rule_book.numbers,
        WORDS[language],
        leaflet_id="L-0A1B2-C3D4E",
        visit_date=datetime.date(2026, 11, 25),
    )


def drawn(text: str, largest_mm: float) -> str:
    svg = code_svg(text, largest_mm)
    assert svg is not None, "it fits"
    return svg


def modules_of(svg: str) -> int:
    """Return how many squares wide a code is, its white border included."""
    return int(ET.fromstring(svg).attrib["viewBox"].split()[2])  # noqa: S314 - our own


def in_print(svg: str, tmp_path: Path, *options: str) -> Image.Image:
    look = load_stylesheet(CSS, {})
    document = render_pdf(PAGE, stylesheet=look, assets={"asset:code.svg": Asset(svg.encode(), "image/svg+xml")})
    pdf = tmp_path / "code.pdf"
    pdf.write_bytes(document.pdf)
    command = ["pdftoppm", "-r", str(DPI), "-png", "-singlefile", *options, str(pdf)]
    told = subprocess.run(command, capture_output=True, check=True)
    return Image.open(io.BytesIO(told.stdout)).convert("L")


def read(image: Image.Image) -> Any:
    (found,) = zxingcpp.read_barcodes(image, formats=zxingcpp.BarcodeFormat.QRCode)
    return found


def pixels_of(svg: str, scale: int = 3) -> Image.Image:
    """Return a code as pixels without our printing, for the many cases: the rectangles of its path, filled."""
    modules = modules_of(svg)
    image = Image.new("L", (modules * scale, modules * scale), 255)
    for x, y, width in dark_runs(svg):
        image.paste(0, (x * scale, y * scale, (x + width) * scale, (y + 1) * scale))
    return image


def dark_runs(svg: str) -> list[tuple[int, int, int]]:
    path = ET.fromstring(svg)[1].attrib["d"]  # noqa: S314 - our own
    assert re.fullmatch(r"(M\d+ \d+h\d+v1h-\d+z)+", path)
    return [(int(x), int(y), int(width)) for x, y, width in re.findall(r"M(\d+) (\d+)h(\d+)v", path)]


@pytest.mark.parametrize("language", WORDS)
@pytest.mark.parametrize("times_a_day", [1, 3, 4])
def test_a_code_of_a_course_is_read_from_print(
    content: Content, tmp_path: Path, language: str, times_a_day: int
) -> None:
    said = of_a_course(content, language, times_a_day)
    image = in_print(drawn(said, 56), tmp_path)
    assert read(image).text == said
    turned = image.rotate(3, Image.Resampling.BICUBIC, expand=True, fillcolor=255)
    assert read(turned).text == said


def test_the_smallest_squares_are_read_upright_turned_and_in_grey(content: Content, tmp_path: Path) -> None:
    """Squares of 0.4 mm, 2.36 pixels at 150 dots per inch."""
    said = of_a_course(content, "en", 3)
    svg = drawn(said, modules_of(drawn(said, 56)) * 0.4)
    image = in_print(svg, tmp_path, "-gray")
    # A tired printer: black is a grey, the paper is not white, and edges run.
    pale = image.point(lambda level: 110 + level * 120 // 255).filter(ImageFilter.GaussianBlur(0.7))
    for printed in (image, pale):
        for degrees in (0, 3, -3, 180):
            turned = printed.rotate(degrees, Image.Resampling.BICUBIC, expand=True, fillcolor=printed.getpixel((0, 0)))
            assert read(turned).text == said, degrees


def test_the_code_is_as_large_as_asked_with_its_border(tmp_path: Path) -> None:
    svg = drawn("A text", 40)
    image = in_print(svg, tmp_path)
    left, top, right, bottom = image.point(lambda level: 255 * (level < 128)).getbbox() or (0, 0, 0, 0)
    # 21 squares of version 1 and 4 on either side are 29: the squares fill 21 / 29 of 40 mm, 4 / 29 from the margin.
    assert modules_of(svg) == 29
    side, border = 40 * 21 / 29, 40 * 4 / 29
    for measured, expected in ((right - left, side), (bottom - top, side), (left, 20 + border), (top, 20 + border)):
        assert measured / DPI * MM == pytest.approx(expected, abs=2 / DPI * MM)


def test_the_border_is_four_squares_and_all_is_black_on_white() -> None:
    svg = drawn("A text", 40)
    modules = modules_of(svg)
    runs = dark_runs(svg)
    assert min(x for x, _, _ in runs) == min(y for _, y, _ in runs) == 4
    assert max(x + width for x, _, width in runs) == max(y + 1 for _, y, _ in runs) == modules - 4
    root = ET.fromstring(svg)  # noqa: S314 - our own
    assert [child.attrib["fill"] for child in root] == ["#ffffff", "#000000"]
    assert root[0].attrib["d"] == f"M0 0h{modules}v{modules}h-{modules}z"
    assert re.findall(r"#\w+", svg) == ["#ffffff", "#000000"]
    assert (root.attrib["width"], root.attrib["height"]) == ("40mm", "40mm")


# How many bytes a code of a version holds at a level: ISO/IEC 18004, table 7 (from memory). A code is 17 squares wide
# and 4 more for each version.
CAPACITY = [
    pytest.param(1, "M", 14, id="1-M"),
    pytest.param(1, "L", 17, id="1-L"),
    pytest.param(2, "M", 26, id="2-M"),
    pytest.param(10, "M", 213, id="10-M"),
    pytest.param(10, "L", 271, id="10-L"),
    pytest.param(40, "M", 2331, id="40-M"),
    pytest.param(40, "L", 2953, id="40-L"),
]


@pytest.mark.parametrize(("version", "level", "capacity"), CAPACITY)
def test_a_text_as_long_as_fits_squares_of_the_least_size_is_drawn_and_a_longer_one_is_not(
    version: int, level: str, capacity: int
) -> None:
    modules = 17 + 4 * version + 8
    side = modules * 4 / 10
    svg = drawn("a" * capacity, side)
    assert modules_of(svg) == modules
    found = read(pixels_of(svg))
    assert found.text == "a" * capacity
    assert found.ec_level == level
    assert code_svg("a" * capacity, side - 0.01) is None or level == "M"
    longer = code_svg("a" * (capacity + 1), side)
    assert longer is None or (level == "M" and read(pixels_of(longer)).ec_level == "L")


def test_a_text_that_no_code_holds_is_not_drawn() -> None:
    assert code_svg("a" * 2954, 1000) is None
    # Three bytes each in UTF-8: 984 of them are 2952.
    assert code_svg("ক" * 984, 1000) is not None
    assert code_svg("ক" * 985, 1000) is None


def test_what_does_not_fit_its_place_legibly_is_not_drawn(content: Content) -> None:
    said = of_a_course(content, "bn", 4)
    assert code_svg(said, 30) is None
    assert code_svg(said, 0) is None
    assert code_svg(said, 60) is not None


def test_more_is_corrected_where_it_takes_no_more_room() -> None:
    # Version 1 holds 7 bytes at level H, 11 at Q, 14 at M: ISO/IEC 18004, table 7 (from memory).
    found = [read(pixels_of(drawn("a" * length, 20))).ec_level for length in (7, 8, 11, 12, 14)]
    assert found == ["H", "Q", "Q", "M", "M"]


def test_no_text_is_no_code() -> None:
    with pytest.raises(ValueError, match="says something"):
        code_svg("", 40)


@pytest.mark.parametrize(
    "said", ["0123456789", "ALL IN CAPITALS", "Zażółć gęślą jaźń", "日本語", "é", "ضع", "🙂", "a\r\nb"]
)
def test_letters_of_all_kinds_are_read_as_utf_8(said: str) -> None:
    found = read(pixels_of(drawn(said, 40)))
    assert found.text == said
    assert found.bytes == said.encode()


def test_the_same_text_gives_the_same_code_in_another_process() -> None:
    told = subprocess.run(
        [sys.executable, "-c", "from leaflets.render.code import code_svg; print(code_svg('A text', 40))"],
        env={"PYTHONHASHSEED": "7", "PYTHONPATH": ":".join(sys.path)},
        capture_output=True,
        text=True,
        check=True,
    )
    assert told.stdout.rstrip("\n") == drawn("A text", 40)
    assert drawn("Another", 40) != drawn("A text", 40)


@settings(max_examples=25, deadline=None)
@given(said=st.text(st.characters(codec="utf-8"), min_size=1, max_size=120), side=st.floats(5, 80))
def test_any_text_is_read_again_or_not_drawn(said: str, side: float) -> None:
    svg = code_svg(said, side)
    if svg is None:
        # Version 11, 69 squares of 0.4 mm, holds 321 bytes at level L (ISO/IEC 18004, table 7, from memory).
        assert side < 27.6 or len(said.encode()) > 321
    else:
        assert side >= modules_of(svg) * 0.4 - 0.001
        assert read(pixels_of(svg)).bytes == said.encode()
