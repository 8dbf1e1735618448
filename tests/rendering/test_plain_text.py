"""The leaflet as plain text: all that the page says, in its order, on lines that a message can hold."""

import re
import tomllib
import unicodedata
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from bidi import get_display
from wcwidth import wcswidth

from leaflets import demo
from leaflets.errors import LeafletError
from leaflets.locale_files import locales_in
from leaflets.model import Leaflet
from leaflets.render.plain_text import COLUMNS, plain_text, wrap

VISITS = sorted((Path(demo.__file__).parent / "visits").glob("*.toml"))
NUMBERS = [path.name[:2] for path in VISITS]
LOCALES = sorted({"en", *(files.locale for files in locales_in(Path(__file__).parents[2] / "locales"))})
RIGHT_TO_LEFT = ("ar", "ur")
STEERING = "\u2066\u2067\u2069\u200f"

Demo = Callable[[str, str], Leaflet]


@pytest.fixture(params=LOCALES)
def locale(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(params=NUMBERS)
def leaflet(request: pytest.FixtureRequest, locale: str, demo_leaflet: Demo) -> Leaflet:
    """Each demonstration visit in each locale."""
    return demo_leaflet(request.param, locale)


def body_of(leaflet: Leaflet) -> ET.Element:
    body = ET.fromstring(leaflet.html.removeprefix("<!DOCTYPE html>")).find("body")  # noqa: S314 - our own page
    assert body is not None
    return body


def with_body(leaflet: Leaflet, body: str) -> Leaflet:
    head, _, _ = leaflet.html.partition("<body>")
    return replace(leaflet, html=f"{head}<body>{body}</body></html>")


def folded(text: str) -> str:
    return " ".join("".join(one for one in text if one not in STEERING).split())


def words(text: str) -> Counter[str]:
    """Return the words and numbers of a text, without punctuation."""
    return Counter("".join(one if unicodedata.category(one)[0] in "LMN" else " " for one in folded(text)).split())


def spans(leaflet: Leaflet, *kinds: str) -> Iterator[str]:
    for span in body_of(leaflet).iter("span"):
        if span.get("class") in kinds:
            yield folded("".join(span.itertext()))


def stands_elsewhere(block: str, kind: str) -> bool:
    """Whether a unit stands elsewhere than on the page: in the strip of days, or in the page's mark and foot."""
    return kind == "field" and block in ("drops/course", "layout")


def test_every_word_of_every_block_stands_in_the_order_of_the_page(leaflet: Leaflet) -> None:
    text = folded(re.sub(r"^(?:- |\d+\. |[-=]+$)", "", plain_text(leaflet), flags=re.MULTILINE))
    at = 0
    units = [unit for unit in leaflet.units if not stands_elsewhere(unit.block, unit.kind)]
    assert {block.id for block in leaflet.blocks if block.safety} <= {unit.block for unit in units}
    for unit in units:
        found = text.find(folded(unit.text), at)
        assert found >= 0, unit
        at = found + len(folded(unit.text))


def test_every_word_of_the_page_is_said_as_often_at_least(leaflet: Leaflet) -> None:
    page = body_of(leaflet)
    for span in page.iter("span"):
        if span.get("class") == "pages":
            span.clear()
    missing = words(" ".join(page.itertext())) - words(plain_text(leaflet))
    assert missing == Counter()


def test_nothing_is_said_that_the_page_does_not_say(leaflet: Leaflet) -> None:
    page = set(folded(" ".join(body_of(leaflet).itertext())).split())
    words = [word for word in folded(plain_text(leaflet)).split() if not re.fullmatch(r"[-=]+|\[|\]|\d+\.", word)]
    # A day of a course is followed by a colon, which is the only sign of ours.
    page |= {f"{word}:" for word in page}
    joined = folded("".join(body_of(leaflet).itertext()))
    assert [word for word in words if word not in page and word not in joined] == []


def test_lines_are_at_most_72_columns_and_end_without_spaces(leaflet: Leaflet) -> None:
    text = plain_text(leaflet)
    lines = text.split("\n")
    assert lines.pop() == ""
    assert lines[-1]
    assert max(map(wcswidth, lines)) <= COLUMNS == 72
    assert [line for line in lines if line != line.rstrip()] == []
    assert "\n\n\n" not in text
    assert not re.search(r"[<>\r\t\u00a0\u202f\u200b\u00ad]|&\w+;", text)
    assert {unicodedata.category(one) for one in text} & {"Cc", "Co", "Cn", "Cs"} == {"Cc"}


def test_a_date_a_measure_and_a_telephone_number_stand_on_one_line(leaflet: Leaflet) -> None:
    lines = [folded(line) for line in plain_text(leaflet).splitlines()]
    kept = list(spans(leaflet, "date", "review-day", "measure", "phone"))
    assert kept
    assert [one for one in kept if not any(one in line for line in lines)] == []


def test_headings_are_set_off(leaflet: Leaflet) -> None:
    lines = [folded(line) for line in plain_text(leaflet).splitlines()]
    around = list(zip(["", *lines[:-1]], lines, [*lines[1:], ""], strict=True))
    for tag, sign in (("h1", "="), ("h2", "-"), ("h3", None)):
        for heading in body_of(leaflet).iter(tag):
            text = folded("".join(heading.itertext()))
            below = [after for before, line, after in around if line == text and before == ""]
            assert below
            assert sign is None or sign * wcswidth(text) in below


def test_the_mark_that_words_are_not_approved_stands_at_the_start_and_the_end(leaflet: Leaflet) -> None:
    (mark,) = (folded("".join(one.itertext())) for one in body_of(leaflet).iter("p") if "mark" in one.get("class", ""))
    text = folded(plain_text(leaflet))
    assert text.startswith(mark)
    assert text.endswith(mark)
    assert text.count(mark) == 2


def test_an_approved_leaflet_has_no_mark_and_ends_with_its_id(demo_leaflet: Demo) -> None:
    draft = demo_leaflet("01", "en")
    approved = replace(draft, html=re.sub(r'<p class="mark fact">.*?</p>', "", draft.html, flags=re.DOTALL))
    text = plain_text(approved)
    assert text.splitlines()[0] == "Harrow Lane Ear Room"
    assert draft.id in text.splitlines()[-1]


def test_each_day_of_a_course_is_a_line_with_its_doses(locale: str, demo_leaflet: Demo) -> None:
    record = tomllib.loads(VISITS[1].read_text("utf-8"))
    text = plain_text(demo_leaflet("02", locale))
    # 5 days of 3 doses from the day after the visit, then the review: 15 boxes on 5 lines, and a sixth line.
    assert (record["plan"]["days"], record["plan"]["times_a_day"]) == (5, 3)
    days = [line for line in text.splitlines() if line.lstrip(STEERING).startswith("- ") and "[ ]" in line]
    assert [line.count("[ ]") for line in days] == [3] * 5
    assert [re.findall(r"\d+", line)[0] for line in days] == ["26", "27", "28", "29", "30"]
    following = text.splitlines()[text.splitlines().index(days[-1]) + 1]
    assert following.startswith("- ")
    assert re.findall(r"\d+", following) == ["9"]
    assert following.partition(": ")[2]


def test_steps_keep_their_numbers(demo_leaflet: Demo) -> None:
    text = plain_text(demo_leaflet("02", "en"))
    steps = [len(one) for one in body_of(demo_leaflet("02", "en")).iter("ol")]
    assert [int(number) for number in re.findall(r"^(\d+)\. ", text, re.MULTILINE)] == list(range(1, steps[0] + 1))


def test_drawings_are_left_out_and_the_name_that_a_logo_stands_for_is_not(demo_leaflet: Demo) -> None:
    leaflet = demo_leaflet("01", "en")
    (drawing, *_) = [one.get("alt", "") for one in body_of(leaflet).iter("img")]
    assert drawing
    assert drawing not in folded(plain_text(leaflet))
    logo = '<div class="masthead"><img class="logo" src="asset:logo" alt="Invented Ear Room"/></div>'
    assert plain_text(with_body(leaflet, logo)) == "Invented Ear Room\n"


def test_a_number_is_not_parted_from_what_it_counts() -> None:
    assert list(wrap("wait for 10\u00a0minutes now", 11)) == ["wait for", "10 minutes", "now"]


def test_a_date_wider_than_a_line_breaks_at_its_spaces_and_a_long_word_is_not_cut() -> None:
    assert list(wrap("on Wednesday,\u00a09\u00a0December", 12)) == ["on", "Wednesday, 9", "December"]
    assert list(wrap("see example.org/a-long-address", 12)) == ["see", "example.org/a-long-address"]


@pytest.mark.parametrize("locale", RIGHT_TO_LEFT)
def test_telephone_numbers_and_measures_are_shown_in_their_order(locale: str, demo_leaflet: Demo) -> None:
    """As an independent implementation of Unicode Standard Annex 9 shows each line: left of the screen first."""
    for number in NUMBERS:
        leaflet = demo_leaflet(number, locale)
        shown = [
            "".join(one for one in str(get_display(line, base_dir="R")) if one not in STEERING)
            for line in plain_text(leaflet).splitlines()
        ]
        page = body_of(leaflet)
        runs = [folded("".join(span.itertext())) for span in page.iter("span") if span.get("dir") == "ltr"]
        short = [run for run in runs if len(run) < 40]
        assert "01632 960 123" in short
        assert [run for run in short if not any(run in line for line in shown)] == []
        # Every whole number, as a dose or a count of days, has its figures in order.
        figures = re.findall(r"\d+", folded(plain_text(leaflet)))
        assert sorted(re.findall(r"\d+", " ".join(shown))) == sorted(figures)


def test_without_isolates_a_telephone_number_would_be_shown_from_its_end() -> None:
    # Annex 9, rules W2 and N1: after an Arabic letter each group is an Arabic number, and spaces take the line's way.
    assert "123 960 01632" in get_display("اتصل 01632 960 123 الآن", base_dir="R")


@pytest.mark.parametrize("locale", RIGHT_TO_LEFT)
def test_isolates_are_closed_on_their_own_line(locale: str, demo_leaflet: Demo) -> None:
    for line in plain_text(demo_leaflet("02", locale)).splitlines():
        depth = 0
        for one in line:
            depth += (one in "\u2066\u2067") - (one == "\u2069")
            assert depth in (0, 1)
        assert depth == 0


def test_a_text_from_left_to_right_has_no_character_that_steers(demo_leaflet: Demo) -> None:
    assert not set(STEERING) & set(plain_text(demo_leaflet("02", "en")))


@pytest.mark.parametrize(
    ("body", "what"),
    [
        ("<p>Keep it dry.</p><dl><dt>Word</dt></dl>", "<dl>"),
        ("<div>Loose words<p>Keep it dry.</p></div>", "loose text in <div>"),
        ("<div><p>Keep it dry.</p>Loose words</div>", "loose text in <div>"),
        ("<ul><p>Keep it dry.</p></ul>", "<p> in a list"),
        ("<p>Keep <em>it</em> dry.</p>", "<em> in <p>"),
        ("<ul><li>Keep<ul><li>it dry.</li></ul></li></ul>", "<ul> in <li>"),
        ("<table><tr><td>Keep it dry.</td></tr></table>", "a table of another kind"),
    ],
)
def test_an_element_without_a_form_in_lines_stops_the_leaflet(body: str, what: str, demo_leaflet: Demo) -> None:
    block = f'<div data-block="own/block">{body}</div>'
    with pytest.raises(LeafletError) as stopped:
        plain_text(with_body(demo_leaflet("01", "en"), block))
    (problem,) = stopped.value.problems
    assert problem.place == "templates/blocks/own/block.html"
    assert problem.message.startswith(what)
    assert "DEVELOPERS.md" in problem.hint


def test_the_same_leaflet_gives_the_same_text(demo_leaflet: Demo) -> None:
    assert plain_text(demo_leaflet("10", "ur")) == plain_text(replace(demo_leaflet("10", "ur")))
