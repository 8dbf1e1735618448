"""The leaflet in braille: the words of the page, in its order, in the code of its language, on pages that fit.

Two things are looked at apart. That liblouis writes a language's code is tried on published examples. That a leaflet
reaches the reader whole is tried by having its file put back into print, by the command of liblouis that comes with
`liblouis-bin`, and comparing that with the units of the page.
"""

# ruff: noqa: RUF001 - braille patterns and letters of other scripts are what is compared

import os
import re
import shutil
import subprocess
import unicodedata
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from difflib import SequenceMatcher
from itertools import pairwise
from pathlib import Path
from typing import NoReturn
from xml.etree import ElementTree as ET

import pytest

from leaflets import demo
from leaflets.errors import LeafletError
from leaflets.model import Leaflet
from leaflets.readability.segment import base_language
from leaflets.render import braille_codes, liblouis
from leaflets.render.braille import LINE_CELLS, PAGE_LINES, as_braille_ascii, braille
from leaflets.render.braille_codes import CODES, as_tables_know_it, in_braille
from leaflets.render.passages import UNBROKEN_SPACE, Run

NUMBERS = [path.name[:2] for path in sorted((Path(demo.__file__).parent / "visits").glob("*.toml"))]
LOCALES = ["ar", "bn", "cy", "en", "en-US", "es", "pa", "pl", "ur"]
OTHER_SCRIPTS = ("ar", "bn", "pa", "ur")
TABLES = Path("/usr/share/liblouis/tables")
CELLS = {as_braille_ascii(chr(0x2800 + number)): chr(0x2800 + number) for number in range(64)}

# Of the words of a leaflet, in order, the least over all demonstration visits, rounded down; measured with liblouis
# 3.24. Everywhere else all come back. Bengali has the number sign for a letter, and Welsh the pound sign.
LEAST_SHARE = {"bn": 0.97, "cy": 0.99, "pa": 0.995, "ur": 0.997}

Demo = Callable[[str, str], Leaflet]


def _missing(reason: str) -> NoReturn:
    if os.environ.get("CI", "").lower() == "true":
        pytest.fail(f"a reference is missing in CI: {reason}", pytrace=False)
    pytest.skip(reason)


@pytest.fixture(scope="module", autouse=True)
def reference() -> None:
    if shutil.which("lou_translate") is None or not TABLES.is_dir():
        _missing("the command of liblouis and its tables (apt-get install liblouis-bin liblouis-data)")


@pytest.fixture(params=LOCALES)
def locale(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(params=NUMBERS)
def leaflet(request: pytest.FixtureRequest, locale: str, demo_leaflet: Demo) -> Leaflet:
    """Each demonstration visit in each locale that has a braille code."""
    return demo_leaflet(request.param, locale)


def lou_translate(option: str, tables: str, text: str) -> str:
    command = ["lou_translate", option, tables]
    return subprocess.run(command, input=text, capture_output=True, text=True, check=True).stdout


def pages_of(leaflet: Leaflet) -> list[list[str]]:
    """Return the lines of each page; the last of a page is followed by a line's end, and by nothing."""
    pages = [page.split("\r\n") for page in braille(leaflet).decode("ascii").split("\f")]
    assert all(page.pop() == "" for page in pages)
    return pages


def text_lines(leaflet: Leaflet) -> list[str]:
    return [line for page in pages_of(leaflet) for line in page[:-1]]


def ascii_of(text: str, language: str = "en") -> str:
    return as_braille_ascii(in_braille((Run(text, language, "ltr"),), language, "a test").cells)


def with_body(leaflet: Leaflet, body: str) -> Leaflet:
    head, _, _ = leaflet.html.partition("<body>")
    return replace(leaflet, html=f"{head}<body>{body}</body></html>")


def body_of(leaflet: Leaflet) -> ET.Element:
    body = ET.fromstring(leaflet.html.removeprefix("<!DOCTYPE html>")).find("body")  # noqa: S314 - our own page
    assert body is not None
    return body


# --- the code


@pytest.mark.parametrize(
    ("text", "cells", "section"),
    [
        ("knowledge", "K", "10.1"),
        ("it", "X", "2.6.1"),
        ("was", "0", "2.6.1"),
        ("also", "AL", "2.6.1"),
        ("very, very still; rather good.", "V1 V /2 R GD4", "2.6.3"),
        ("Not Like That", ",N ,L ,T", "2.6.2"),
        ("LITTLE CHILD", ",,LL ,,*", "2.6.2"),
        ("this/that", "?IS_/?AT", "2.6.2"),
        ("AT&T", ",,AT@&,T", "3.1.1"),
        ("21°C", "#BA^J,C", "3.11.1"),
        ("62", "#FB", "6.2.1"),
        ("3,500", "#C1EJJ", "6.2.1"),
        ("8.93", "#H4IC", "6.2.1"),
        ("7:30 a.m.", "#G3#CJ A4M4", "6.3.1"),
        ("32", "#CB", "6.5.2"),
        ("3m", "#CM", "6.5.2"),
        ("There are 3 beds in this 4-bed ward.", ',"! >E #C B$S 9 ? #D-B$ W>D4', "6.5.4"),
        ("phone: (61) 3 1234 5678", 'PH"O3 "<#FA"> #C"ABCD"EFGH', "6.6.1"),
        ("time: 16 00", '"T3 #AF"JJ', "6.6.1"),
        ("10.30 am", "#AJ4CJ AM", "6.7.1"),
    ],
)
def test_english_is_written_as_the_rules_of_unified_english_braille_have_it(
    text: str, cells: str, section: str
) -> None:
    """Source: International Council on English Braille, The Rules of Unified English Braille, 2nd edition, 2013.

    The sections are those that give the example; all but 10.1 as liblouis cites them in its tests of the table.
    """
    assert section
    assert ascii_of(text) == cells


@pytest.mark.parametrize(
    ("word", "cells"),
    [
        ("many", "_M"),
        ("mother", '"M'),
        ("myself", "MYF"),
        ("name", '"N'),
        ("the", "!"),
        ("themselves", "!MVS"),
        ("there", '"!'),
        ("these", "^!"),
        ("this", "?"),
        ("those", "^?"),
        ("through", '"?'),
        ("every", "E"),
        ("from", "F"),
        ("spirit", "_S"),
    ],
)
def test_english_is_contracted_as_a_published_chart_has_it(word: str, cells: str) -> None:
    # Source: Unified English Braille chart of Duxbury Systems; "the" to "from", "spirit": common practice besides.
    assert ascii_of(word) == cells


def test_the_characters_of_the_cells_are_those_of_north_american_braille_ascii() -> None:
    """Against the display table of liblouis for BRF, which this project does not use."""
    shown = re.findall(r"^display\s+(\S+)\s+([0-6]+)", (TABLES / "en-us-brf.dis").read_text("utf-8"), re.MULTILINE)
    published = {}
    for character, dots in shown:
        character = {"\\s": " ", "\\\\": "\\"}.get(character, character)  # noqa: PLW2901 - how the table writes them
        published[chr(0x2800 + sum(1 << int(dot) - 1 for dot in dots if dot != "0"))] = character
    assert len(published) == 64
    assert {cell: character for character, cell in CELLS.items()} == published


@pytest.mark.parametrize("language", sorted(CODES))
def test_figures_are_the_first_ten_letters_after_the_number_sign(language: str) -> None:
    # Common practice in all these codes, no source: number sign dots 3456, then a (1) to j (0).
    assert ascii_of("1234567890", language) == "#ABCDEFGHIJ"


@pytest.mark.parametrize(
    ("language", "text", "cells"),
    [
        # Dots 256, as liblouis writes the same character in Panjabi, and in Bengali since its issue 933.
        ("bn", "।", "4"),
        ("pa", "।", "4"),
        # Dots 25: UNESCO, World Braille Usage, 2013 (Persian and Bharati punctuation).
        ("ur", ":", "3"),
        # Letters of Bengali in Unicode's two forms. Source: liblouis, its tests of Bengali: dots 26.
        ("bn", "\u09df", "5"),
        ("bn", "\u09af\u09bc", "5"),
        # The alphabet of Louis Braille: a, l, and the letters with signs of Polish and Spanish (from memory).
        ("pl", "ł", "<"),
        ("es", "ñ", "]"),
    ],
)
def test_other_languages_have_their_own_signs(language: str, text: str, cells: str) -> None:
    assert ascii_of(text, language) == cells


def test_a_letter_in_uncontracted_welsh_has_no_sign_that_it_is_one() -> None:
    # Source: Welsh Braille Code (Braille Authority of the United Kingdom): ch is dots 16, th dots 1456.
    assert ascii_of("yw\u2019r i'w chi\u2019n wyth", "cy") == "YW'R I'W *I'N WY?"


def test_a_rule_that_liblouis_does_not_take_is_named() -> None:
    place, message, _ = problem_of(lambda: liblouis.translate("dry", "en-ueb-g1.ctb", ("no such rule",)))
    assert place == "this machine [liblouis]"
    assert message.endswith("does not take the rule 'no such rule' into en-ueb-g1.ctb")


def test_english_alone_is_contracted() -> None:
    assert {language for language, code in CODES.items() if code.grade == 2} == {"en"}
    assert all(code.table == code.uncontracted for code in CODES.values() if code.grade == 1)


@pytest.mark.parametrize("language", sorted(CODES))
def test_liblouis_itself_says_that_a_table_is_not_for_computers(language: str) -> None:
    """Read from the tables: they hold six dots, and no word for computer braille stands in what they are called."""
    code = CODES[language]
    for table in {code.table, code.uncontracted}:
        head = (TABLES / table).read_text("utf-8")[:4000]
        assert "#+type:computer" not in head.replace(" ", "")
        assert "#+dots:8" not in head.replace(" ", "")


def test_words_of_another_language_are_not_contracted() -> None:
    runs = (Run("Rhif: ", "cy", "ltr"), Run("the children", "en", "ltr"))
    assert as_braille_ascii(in_braille(runs, "cy", "a test").cells).endswith("*ILDREN")  # Welsh ch is one sign
    runs = (Run("the children: ", "en", "ltr"), Run("dla dzieci", "pl", "ltr"))
    assert as_braille_ascii(in_braille(runs, "en", "a test").cells) == "! *N3 DLA DZIECI"


def test_latin_letters_that_the_urdu_code_lacks_are_uncontracted_unified_english_braille() -> None:
    assert ascii_of("حوالہ D-10۔", "ur") == f"{ascii_of('حوالہ ', 'ur')},D-#AJ4"
    assert ascii_of("the", "ur") == "THE"
    # The Rules of Unified English Braille, 2.6.2 and 4.2: the acute accent, dots 45 and 34, stands before its letter.
    assert ascii_of("Café", "ur") == ascii_of("Café", "ar") == ",CAF^/E"


def test_what_only_steers_print_is_not_written() -> None:
    assert as_tables_know_it("\u2066999\u2069\u200f a\u00adb\u200bc\u2060") == "999 abc"
    assert ascii_of("call \u2066999\u2069 re\u00adturn") == ascii_of("call 999 return")


def test_braille_in_arabic_stands_in_the_order_of_reading() -> None:
    # Dots of the letters alif (1), ba (12), ta (2345): the international alphabet, a, b, t (from memory).
    assert ascii_of("ابت 12", "ar") == "ABT #AB"


# --- the page


def test_the_words_of_the_page_come_back_in_their_order(leaflet: Leaflet, locale: str) -> None:
    """Every unit of the page against what the command of liblouis makes of the file.

    Where a code writes two print signs alike, the way back guesses; where that is known, `comparable` makes both alike.
    """
    code = CODES[base_language(locale)]
    cells = "\n".join("".join(CELLS[character] for character in line) for line in text_lines(leaflet))
    back = comparable(lou_translate("--backward", f"unicode.dis,{code.table}", cells + "\n"), locale)
    units = [unit for unit in leaflet.units if not (unit.kind == "field" and unit.block in ("drops/course", "layout"))]
    page = [word for unit in units for word in comparable(unit.text, locale)]
    assert {block.id for block in leaflet.blocks if block.safety} <= {unit.block for unit in units}
    matched = SequenceMatcher(None, page, back, autojunk=False).get_matching_blocks()
    share = sum(match.size for match in matched) / len(page)
    assert share >= LEAST_SHARE.get(locale, 1.0), (share, Counter(page) - Counter(back))


def comparable(text: str, locale: str) -> list[str]:
    """Return the words of a text, letters only, as far as the code of the language tells them apart."""
    text = unicodedata.normalize("NFC", text).casefold().replace("\u2019", "'").replace("\u00a0", " ")
    match locale:
        case "ar":
            text = text.replace("\u0651", "")  # the sign of doubling stands before its letter in braille
        case "bn":
            text = text.replace("\u09ce", "\u09a4\u09cd")
        case "cy":
            text = text.replace("æ", "ae")
        case "ur":
            text = text.replace("«", "\u06be")  # dots 236 are both
        case _:
            pass
    if locale in OTHER_SCRIPTS:
        # Bharati braille writes a vowel's letter for its sign; Latin words are written in another code.
        text = re.sub("[a-z]+", " ", "".join(map(_vowel_letter, text)))
    kept = "".join(one if unicodedata.category(one)[0] in "LM" or one == "'" else " " for one in text)
    return [word for part in kept.split() if (word := part.strip("'"))]


def _vowel_letter(character: str) -> str:
    name = unicodedata.name(character, "")
    try:
        return unicodedata.lookup(name.replace(" VOWEL SIGN ", " LETTER "))
    except KeyError:
        return character


def test_a_line_has_at_most_40_cells_and_a_page_25_lines(leaflet: Leaflet) -> None:
    pages = pages_of(leaflet)
    assert LINE_CELLS == 40
    assert {len(page) for page in pages} == {PAGE_LINES} == {25}
    lines = [line for page in pages for line in page]
    assert max(map(len, lines)) <= 40
    assert [line for line in lines if line != line.rstrip(" ")] == []
    assert set("".join(lines)) <= {chr(number) for number in range(0x20, 0x60)}
    assert [page[0] for page in pages if not page[0]] == []


def test_form_feeds_part_the_pages_and_each_ends_with_its_number(leaflet: Leaflet) -> None:
    file = braille(leaflet)
    pages = pages_of(leaflet)
    assert len(pages) > 1
    assert file.count(b"\f") == len(pages) - 1
    assert file.count(b"\r\n\f") == len(pages) - 1
    assert file.endswith(b"\r\n")
    assert file.count(b"\n") == file.count(b"\r") == file.count(b"\r\n") == 25 * len(pages)
    digits = str.maketrans("1234567890", "ABCDEFGHIJ")
    assert [page[-1] for page in pages] == [
        f"#{str(number).translate(digits)}".rjust(40) for number in range(1, len(pages) + 1)
    ]


def test_a_telephone_number_stands_on_one_line(leaflet: Leaflet, locale: str) -> None:
    digits = str.maketrans("1234567890 ", 'ABCDEFGHIJ"' if base_language(locale) == "en" else "ABCDEFGHIJ ")
    phones = {"".join(span.itertext()) for span in body_of(leaflet).iter("span") if span.get("class") == "phone"}
    lines = text_lines(leaflet)
    assert "01632 960 123" in phones
    for phone in phones:
        # Unified English Braille joins the groups by dot 5 (rule 6.6); other codes begin each with the number sign.
        written = f"#{phone.translate(digits)}".replace(" ", " #")
        assert any(written in line for line in lines), written


def test_a_date_stands_on_one_line_where_it_fits(leaflet: Leaflet, locale: str) -> None:
    dates = {"".join(span.itertext()) for span in body_of(leaflet).iter("span") if span.get("class") == "date"}
    lines = text_lines(leaflet)
    written = {ascii_of(" ".join(date.split()), locale) for date in dates}
    fitting = {date for date in written if len(date) <= 38}
    assert len(fitting) >= len(written) - 1
    assert [date for date in fitting if not any(date in line for line in lines)] == []


def test_a_title_is_centred_and_a_heading_begins_in_cell_5(demo_leaflet: Demo) -> None:
    leaflet = demo_leaflet("02", "en")
    lines = [line for page in pages_of(leaflet) for line in ["", *page[:-1], ""]]
    around = list(zip(["", *lines[:-1]], lines, [*lines[1:], ""], strict=True))
    for tag in ("h1", "h2"):
        for heading in body_of(leaflet).iter(tag):
            text = ascii_of("".join(heading.itertext()))
            found = [one for one in around if one[1].strip() == text and one[1].startswith("   " * 3)]
            assert [(before, after) for before, _, after in found] == [("", "")]
            (_, line, _) = found[0]
            left, right = len(line) - len(text), 40 - len(line)
            assert min(left, right) >= 3
            assert right - left in (0, 1)
    for heading in body_of(leaflet).iter("h3"):
        text = ascii_of("".join(heading.itertext()))
        assert [before for before, line, _ in around if line == f"    {text}"] == [""]


@pytest.mark.parametrize("lines_before", range(26))
def test_a_heading_never_ends_a_page(lines_before: int, demo_leaflet: Demo) -> None:
    filler = "<p>dry</p>" * lines_before
    body = f"<section>{filler}<h2>Help</h2><h3>Water</h3><p>{'keep it dry ' * 12}</p></section>"
    pages = pages_of(with_body(demo_leaflet("01", "en"), body))
    (page,) = [page[:-1] for page in pages if any("HELP" in line for line in page)]
    at = next(index for index, line in enumerate(page) if "HELP" in line)
    # Centred heading, blank line, heading from cell 5, then at least two lines of what they head.
    assert [bool(line) for line in page[at : at + 5]] == [True, False, True, True, True]
    assert page[at + 2] == "    ,WAT]"
    assert at == 0 or page[at - 1] == ""


def test_paragraphs_begin_in_cell_3_and_items_go_on_there(demo_leaflet: Demo) -> None:
    words = "keep it dry " * 12
    body = f"<p>{words}</p><ul><li>{words}</li><li>{words}</li></ul><ol><li>{words}</li></ol><p>dry</p>"
    lines = text_lines(with_body(demo_leaflet("01", "en"), body))
    starts = [len(line) - len(line.lstrip(" ")) if line else None for line in lines]
    # Keep is "keep", it is X, dry is "dry": 10 cells and a blank each time, so 12 of them take four lines of 40.
    paragraph, item = [2, 0, 0, 0], [0, 2, 2, 2]
    assert ascii_of("keep it dry") == "KEEP X DRY"
    assert starts[:18] == [*paragraph, None, *item, *item, *item, None]
    assert lines[13].startswith("#A4 KEEP")
    assert lines[18] == "  DRY"


def test_each_day_of_a_course_is_an_item_with_its_doses(demo_leaflet: Demo) -> None:
    lines = text_lines(demo_leaflet("02", "en"))
    days = [line for line in lines if "MORN+1" in line]
    # 26 to 30 November, as figures: 26 BF, 27 BG, 28 BH, 29 BI, 30 CJ; November abbreviated, in capitals' sign.
    assert [re.findall(r"#([A-J]+) ,NOV3", day) for day in days] == [["BF"], ["BG"], ["BH"], ["BI"], ["CJ"]]
    assert lines[lines.index(days[-1]) + 1].startswith(",W$ #I ,DEC3 ,NEXT")


def test_the_mark_that_words_are_not_approved_opens_and_closes_the_file(demo_leaflet: Demo) -> None:
    lines = [line for line in text_lines(demo_leaflet("01", "en")) if line]
    assert lines[:2] == lines[-2:]
    assert lines[0].startswith("  ,EXAMPLE")


def test_the_same_leaflet_gives_the_same_bytes(demo_leaflet: Demo) -> None:
    assert braille(demo_leaflet("10", "ur")) == braille(replace(demo_leaflet("10", "ur")))


def test_a_line_breaks_at_no_unbroken_space_and_a_long_date_at_its_spaces(demo_leaflet: Demo) -> None:
    leaflet = demo_leaflet("01", "es")
    long_date = "miércoles veinticinco de noviembre de dos mil veintiséis"
    body = (
        f'<p>dia <span class="date">{long_date}</span></p><p>{"a " * 17}<span class="measure">10 mililitros</span></p>'
    )
    first, *further = [line for line in text_lines(with_body(leaflet, body)) if line]
    assert first.strip() == "DIA MI!RCOLES VEINTICINCO DE NOVIEMBRE"  # 2 + 38 cells
    assert [line for line in further if "#AJ" in line] == ["#AJ MILILITROS"]


# --- errors


def problem_of(make: Callable[[], object]) -> tuple[str, str, str]:
    with pytest.raises(LeafletError) as stopped:
        make()
    (problem,) = stopped.value.problems
    return problem.place, problem.message, problem.hint


@pytest.fixture
def fresh_library() -> Iterator[None]:
    """Let the library be looked for anew, and again afterwards."""
    cached = (liblouis._library, liblouis.require_table, liblouis._knows)  # noqa: SLF001
    for one in cached:
        one.cache_clear()
    yield
    for one in cached:
        one.cache_clear()


def test_a_language_without_a_braille_code_is_refused(demo_leaflet: Demo) -> None:
    place, message, hint = problem_of(lambda: braille(demo_leaflet("01", "ro")))
    assert place == "visit [format]"
    assert message == "there is no braille code for reading in the language 'ro'"
    assert "ar, bn, cy, en, es, pa, pl, ur" in hint


def test_all_that_liblouis_has_for_romanian_is_computer_braille_of_eight_dots() -> None:
    with pytest.raises(liblouis.UnwritableError) as stopped:
        liblouis.translate("Ureche", "ro.ctb")
    assert stopped.value.characters == ()
    assert "#+type:computer" in (TABLES / "ro.tbl").read_text("utf-8")


@pytest.mark.usefixtures("fresh_library")
def test_a_machine_without_liblouis_is_told_the_packages(demo_leaflet: Demo, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(liblouis, "LIBRARY_NAMES", ("no-such-library",))
    place, message, hint = problem_of(lambda: braille(demo_leaflet("01", "en")))
    assert place == "this machine [liblouis]"
    assert "not installed" in message
    assert "apt-get install liblouis20 liblouis-data" in hint


def test_a_table_that_is_not_there_is_named() -> None:
    _, message, hint = problem_of(lambda: liblouis.translate("dry", "no-such-table.ctb"))
    assert re.fullmatch(r"liblouis \d+\.\d+\.\d+ has no table no-such-table\.ctb", message)
    assert "liblouis-data" in hint


@pytest.mark.parametrize(("text", "character"), [("keep 漢 dry", "U+6F22"), ("keep \U0001f442 dry", "U+1F442")])
def test_a_character_that_no_table_knows_stops_the_leaflet(text: str, character: str, demo_leaflet: Demo) -> None:
    leaflet = with_body(demo_leaflet("01", "en"), f'<div data-block="own/block"><p>{text}</p></div>')
    place, message, _ = problem_of(lambda: braille(leaflet))
    assert place == "templates/blocks/own/block.html"
    assert message == f"cannot be written in braille: {character} (table en-ueb-g2.ctb)"


def test_a_character_of_another_language_that_no_table_knows_stops_the_leaflet(demo_leaflet: Demo) -> None:
    leaflet = with_body(demo_leaflet("01", "ar"), '<p>كلام <span lang="en">漢</span></p>')
    _, message, _ = problem_of(lambda: braille(leaflet))
    assert message == "cannot be written in braille: U+6F22 (table en-ueb-g1.ctb)"


def test_a_word_longer_than_a_line_stops_the_leaflet(demo_leaflet: Demo) -> None:
    leaflet = with_body(demo_leaflet("01", "pl"), f"<p>{'x' * 41}</p>")
    _, message, hint = problem_of(lambda: braille(leaflet))
    assert message == "has a word of 41 cells, and a line of braille has 40"
    assert "part it with a space" in hint


def test_unbroken_spaces_are_no_breaks() -> None:
    piece = braille_codes.in_braille((Run(f"at 10{UNBROKEN_SPACE}ml now", "pl", "ltr"),), "pl", "a test")
    assert as_braille_ascii(piece.cells) == "AT #AJ ML NOW"
    assert [at for at, breaks in enumerate(piece.breaks) if breaks] == [2, 9]
    assert all(piece.cells[at] == "\u2800" for at, here in enumerate(piece.breaks) if here)
    assert [left for left, right in pairwise(piece.breaks) if left and right] == []
