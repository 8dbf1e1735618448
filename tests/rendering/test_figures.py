"""The drawings of the leaflets: one look, nothing but lines, and the left ear as the mirror image of the right.

What is allowed is our own design: one weight of line, one tint, and one colour beside grey and white.
"""

import re
from collections.abc import Iterator
from typing import Any
from xml.etree import ElementTree as ET

import pypdfium2
import pytest
from jinja2 import UndefinedError
from PIL import Image, ImageChops, ImageOps

from leaflets.compose.words import Words, parse_words, render_template
from leaflets.content import templates_folder
from leaflets.errors import LeafletError
from leaflets.render.fetcher import Asset
from leaflets.render.pdf import load_stylesheet, render_pdf

FIGURES = sorted(path.stem for path in (templates_folder() / "figures").glob("*.svg"))
ONE_FOR_BOTH_SIDES = frozenset({"get-help", "no-objects", "quiet", "sit-down", "warm-drops"})
"""They show no ear of one side."""

ACCENT = "#a1b2c3"
"""A colour that stands in no template."""

WIDTH, HEIGHT, MARGIN = 120, 96, 20
PIXELS_A_UNIT = 3
SVG = "{http://www.w3.org/2000/svg}"
SHAPES = frozenset({"svg", "g", "path", "circle", "ellipse", "rect"})
PLACES = frozenset({"d", "cx", "cy", "r", "rx", "ry", "x", "y", "width", "height", "viewBox", "transform"})
LOOKS = frozenset({"fill", "fill-opacity", "stroke", "stroke-width", "stroke-linecap", "stroke-linejoin"})
MIRRORED = f"translate({WIDTH} 0) scale(-1 1)"


@pytest.fixture(scope="module")
def words() -> Words:
    folder = templates_folder()
    paths = [path for path in sorted(folder.rglob("*.svg")) if path.parent.name in ("figures", "macros")]
    parsed, problems = parse_words({path.relative_to(folder).as_posix(): path.read_text("utf-8") for path in paths})
    assert not problems
    return parsed


def draw(words: Words, name: str, side: str) -> str:
    return render_template(words, f"figures/{name}.svg", {"side": side, "accent": ACCENT})


def faults(svg: str) -> Iterator[str]:
    """Say what is in a drawing that no drawing may hold. Text, scripts and addresses are among what is not listed."""
    root = ET.fromstring(svg)  # noqa: S314 - our own
    frame = {"viewBox": f"0 0 {WIDTH} {HEIGHT}", "width": str(WIDTH), "height": str(HEIGHT)}
    if dict(root.attrib) != frame or [child.tag for child in root] != [f"{SVG}g"]:
        yield "frame"
    for element in root.iter():
        yield from foreign_things(element)
        yield from foreign_colours(element)
    for outer in root:
        if (outer.get("stroke-width"), outer.get("stroke-linecap")) != ("2.5", "round"):
            yield "weight or ends"
        for inner in list(outer.iter())[1:]:
            # What is scaled is drawn with a thinner or thicker line.
            if "stroke-width" in inner.attrib or re.search("scale|skew|matrix", inner.get("transform", "")):
                yield "second weight"


def foreign_things(element: ET.Element) -> Iterator[str]:
    if element.tag.removeprefix(SVG) not in SHAPES:
        yield f"element {element.tag}"
    if (element.text or "").strip() or (element.tail or "").strip():
        yield "text"
    yield from (f"attribute {key}" for key in element.attrib if key not in PLACES | LOOKS)


def foreign_colours(element: ET.Element) -> Iterator[str]:
    for key in ("fill", "stroke"):
        if element.get(key, "none") not in ("#333333", ACCENT, "white", "none"):
            yield f"colour {element.get(key)}"
    if "fill-opacity" in element.attrib and (element.get("fill"), element.get("fill-opacity")) != (ACCENT, "0.12"):
        yield "tint"


def picture(svg: str) -> Image.Image:
    """Return a drawing in grey on white, as print shows it, with a margin that shows what leaves its frame."""
    x, y, width, height = -MARGIN, -MARGIN, WIDTH + 2 * MARGIN, HEIGHT + 2 * MARGIN
    root = ET.fromstring(svg)  # noqa: S314 - our own
    root.attrib |= {"viewBox": f"{x} {y} {width} {height}", "width": str(width), "height": str(height)}
    css = f"@page {{ size: {width}px {height}px; margin: 0 }} body {{ margin: 0 }} img {{ display: block }}"
    body = '<img src="asset:a.svg" alt="a">'
    html = f'<!doctype html><html lang="en"><head><title>a</title></head><body>{body}</body></html>'
    assets = {"asset:a.svg": Asset(ET.tostring(root), "image/svg+xml")}
    rendered = render_pdf(html, stylesheet=load_stylesheet(css, assets), assets=assets)
    assert rendered.pages == 1
    with pypdfium2.PdfDocument(rendered.pdf) as document:
        page: Any = document[0]
        image: Image.Image = page.render(scale=PIXELS_A_UNIT * width / page.get_width()).to_pil().convert("L")
    assert image.size == (PIXELS_A_UNIT * width, PIXELS_A_UNIT * height)
    return image


def drawn_box(image: Image.Image) -> tuple[float, ...]:
    """Return left, top, right and bottom of what is drawn, in the units of the drawing."""
    box = ImageOps.invert(image).getbbox()
    assert box is not None, "nothing is drawn"
    return tuple(edge / PIXELS_A_UNIT - MARGIN for edge in box)


def unlike(one: Image.Image, other: Image.Image) -> float:
    """Return which part of the pixels differ by more than half of the way from black to white."""
    different = ImageChops.difference(one, other).point(lambda value: 255 if value > 127 else 0)
    return different.histogram()[255] / (one.width * one.height)


def test_there_are_figures() -> None:
    assert {"ear", *ONE_FOR_BOTH_SIDES} < set(FIGURES)


@pytest.mark.parametrize("name", FIGURES)
def test_a_figure_says_on_top_what_it_shows(name: str) -> None:
    text = (templates_folder() / "figures" / f"{name}.svg").read_text("utf-8")
    assert re.match(r"\{# [A-Z][^#]{60,}\. #\}\n", text)


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("name", FIGURES)
def test_a_figure_is_nothing_but_lines_of_one_look(name: str, side: str, words: Words) -> None:
    assert list(faults(draw(words, name, side))) == []


@pytest.mark.parametrize("name", FIGURES)
def test_a_figure_asks_for_its_colour(name: str, words: Words) -> None:
    with pytest.raises(LeafletError) as caught:
        render_template(words, f"figures/{name}.svg", {"side": "left"})
    assert isinstance(caught.value.__cause__, UndefinedError)


@pytest.mark.parametrize("name", FIGURES)
def test_a_figure_is_mirrored_on_its_outer_group_alone(name: str, words: Words) -> None:
    left, right = draw(words, name, "left"), draw(words, name, "right")
    if name in ONE_FOR_BOTH_SIDES:
        assert left == right
    else:
        assert left.count(MIRRORED) == 1
        assert MIRRORED not in right
        assert left.replace(f'transform="{MIRRORED}"', "").split() == right.split()
    outer = ET.fromstring(left)[0]  # noqa: S314 - our own
    assert outer.get("transform") == (None if name in ONE_FOR_BOTH_SIDES else MIRRORED)


@pytest.mark.parametrize("name", FIGURES)
def test_a_figure_fills_its_frame_and_stays_in_it(name: str, words: Words) -> None:
    left, top, right, bottom = drawn_box(picture(draw(words, name, "right")))
    assert left >= 0
    assert top >= 0
    assert right <= WIDTH
    assert bottom <= HEIGHT
    # Common practice, no source: what uses less than three quarters of a side is drawn too small to be seen at 30 mm.
    assert max((right - left) / WIDTH, (bottom - top) / HEIGHT) > 0.75


@pytest.mark.parametrize("name", sorted(set(FIGURES) - ONE_FOR_BOTH_SIDES))
def test_the_left_ear_is_the_mirror_image_of_the_right(name: str, words: Words) -> None:
    left, right = picture(draw(words, name, "left")), picture(draw(words, name, "right"))
    # Smoothed edges may fall otherwise when mirrored, but not by half of the way from black to white.
    assert unlike(ImageOps.mirror(left), right) < 0.0005
    # None is its own mirror image, or the comparison would say nothing.
    assert unlike(left, right) > 0.02


GOOD = (
    f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 120 96" width="120" height="96"><g fill="none" '
    f'stroke="#333333" stroke-width="2.5" stroke-linecap="round"><path d="M2 2 H9" stroke="{ACCENT}"/></g></svg>'
)


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("<path", "<text>a</text><path", "text"),
        ("<path", "<script/><path", "element"),
        ("<path", '<image href="https://example.org/a.png"/><path', "attribute href"),
        ("<path", '<path d="M0 0" style="stroke: red"/><path', "attribute style"),
        ("<path", '<path d="M0 0" stroke="red"/><path', "colour red"),
        ("<path", '<path d="M0 0" fill="url(#a)"/><path', "colour url"),
        ("<path", f'<path d="M0 0" fill="{ACCENT}" fill-opacity="0.5"/><path', "tint"),
        ("<path", '<path d="M0 0" fill="#333333" fill-opacity="0.12"/><path', "tint"),
        ("<path", '<path d="M0 0" stroke-width="2.5"/><path', "second weight"),
        ("<path", '<path d="M0 0" transform="scale(2)"/><path', "second weight"),
        ('stroke-width="2.5"', 'stroke-width="3"', "weight or ends"),
        (' stroke-linecap="round"', "", "weight or ends"),
        ("0 0 120 96", "0 0 120 90", "frame"),
        ("</svg>", "<g/></svg>", "frame"),
    ],
)
def test_a_drawing_with_a_fault_is_found_out(old: str, new: str, fault: str) -> None:
    assert list(faults(GOOD)) == []
    assert old in GOOD
    assert any(found.startswith(fault) for found in faults(GOOD.replace(old, new)))


def test_what_leaves_the_frame_is_seen() -> None:
    # A line of weight 2.5 with round ends reaches 1.25 beyond its ends, to within the width of a pixel.
    assert drawn_box(picture(GOOD)) == pytest.approx((0.75, 0.75, 10.25, 3.25), abs=1 / PIXELS_A_UNIT)
    assert drawn_box(picture(GOOD.replace("M2 2", "M-9 2")))[0] == pytest.approx(-10.25, abs=1 / PIXELS_A_UNIT)


def test_nothing_drawn_is_seen() -> None:
    with pytest.raises(AssertionError, match="nothing is drawn"):
        drawn_box(picture(GOOD.replace(ACCENT, "white")))
