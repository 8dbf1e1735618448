"""A clinic's folder with something wrong in it."""

import subprocess
import zlib
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from leaflets.cli import main
from leaflets.pipeline import make

Edited = Callable[..., str]
Refused = Callable[..., list[str]]
CLINIC = "clinic/clinic.toml"


@pytest.fixture
def refused_clinic(edited: Edited, edited_clinic: Edited, refused: Refused) -> Refused:
    """Return a function that has the routine visit refused for what was changed in the invented clinic's file."""
    return lambda *changes: refused(edited(), clinic=edited_clinic(*changes))


@pytest.mark.parametrize(
    ("old", "new", "place", "said", "remedy"),
    [
        # The lines: by hand from clinic.toml beside this file, where name stands on line 4 and so on.
        ('phone = "01632 960 123"', "", "[phone]", "is missing", "write it"),
        ('"01632 960 123"', '""', ":11 [phone]", "not written", "write a telephone number"),
        ('"01632 960 123"', '"ask at the desk"', ":11 [phone]", "not written", "write a telephone number"),
        ('name = "Harrow Lane Ear Room"', "", "[name]", "is missing", "write it"),
        ("Harrow Lane Ear Room", "", ":4 [name]", "says nothing", "write it"),
        ("Harrow Lane Ear Room", "  ", ":4 [name]", "says nothing", "write it"),
        ("Harrow Lane Ear Room", "Ear \\u0007 Room", ":4 [name]", "cannot be printed", "one line of plain text"),
        ("Harrow Lane Ear Room", "Ear\\nRoom", ":4 [name]", "cannot be printed", "one line of plain text"),
        ("Harrow Lane Ear Room", "Ear \\u202e Room", ":4 [name]", "cannot be printed", "one line of plain text"),
        ("#6b2d5c", "purple", ":9 [accent]", "not written", "write a colour"),
        ("#6b2d5c", "#6b2d5c } body { display: none", ":9 [accent]", "not written", "write a colour"),
        ('"ENG"', '"ATLANTIS"', ":6 [subdivision]", "no public holidays", "correct subdivision"),
        ('country = "GB"', 'country = "XX"', ":5 [country]", "no public holidays", "correct country"),
        ('country = "GB"', 'country = "gb"', ":5 [country]", "not written", "two capitals"),
        ('language = "en"', 'language = "zz"', ":7 [language]", "no leaflets for the language 'zz'", "allowed: en"),
        ('paper = "a4"', 'paper = "A4"', ":8 [paper]", "no leaflets for the format 'A4'", "allowed: a4"),
        ('hours = ["Monday to Friday, 9 am to 5 pm"]', "hours = []", ":12 [hours]", "empty", "at least one"),
        ('["Monday to Friday, 9 am to 5 pm"]', '"9 to 5"', ":12 [hours]", "not a list", "write a list"),
        ('"monday", ', '"mondy", ', ":14 [open_days]", "'mondy' is not a value", "did you mean 'monday'?"),
        ("public_holidays = true", 'public_holidays = "yes"', ":15 [public_holidays]", "true or false", "quotes"),
        ("phone =", "fone =", ":11 [fone]", "not a field", "did you mean 'phone'?"),
        ('2026-12-24 = "staff', '2026-13-24 = "staff', ":20 [closed.2026-13-24]", "not a day", "2026-11-25"),
        ('2026-12-24 = "staff', '86400 = "staff', ":20 [closed.86400]", "not a day", "2026-11-25"),
    ],
)
def test_each_fault_is_one_line_with_its_place_and_remedy(
    old: str, new: str, place: str, said: str, remedy: str, refused_clinic: Refused
) -> None:
    lines = refused_clinic((old, new))
    separator = "" if place.startswith(":") else " "
    found = [line for line in lines if line.startswith(f"{CLINIC}{separator}{place}: ")]
    assert len(found) == 1, lines
    problem, _, hint = found[0].split(": ", 1)[1].partition(" (")
    assert said in problem
    assert remedy in hint
    # A key that is misspelt is missing too; nothing else adds a line.
    assert len(lines) == (2 if old == "phone =" else 1)


@pytest.mark.parametrize(
    ("setting", "said", "remedy"),
    [
        ('"dry.days-after-suction" = 1', "not a clinic's setting", "did you mean 'dry.days-after-microsuction'?"),
        ('"age.child-up-to" = 15', "not a clinic's setting", "allowed: "),
        ('"dry.days-after-microsuction" = 9', "9 is out of bounds", "allowed: 1 to 5 days"),
        ('"dry.days-after-microsuction" = "two"', "is not a number", "1 to 5"),
        ('"dry.days-after-microsuction" = true', "is not a number", "1 to 5"),
        ('"dry.days-after-microsuction" = nan', "not a whole number", "1 to 5"),
        ('"dry.days-after-microsuction" = 2.5', "", ""),
        ('"leaflet.pages" = 1.5', "", ""),
        ("dry.days-after-suction = 2", "not a clinic's setting", "did you mean 'dry.days-after-microsuction'?"),
    ],
)
def test_a_number_that_a_clinic_may_not_set_so_is_refused_at_its_line(
    setting: str, said: str, remedy: str, edited: Edited, edited_clinic: Edited, refused: Refused
) -> None:
    text = edited_clinic() + setting + "\n"
    (line,) = refused(edited(), clinic=text)
    assert line.startswith(f"{CLINIC}:{len(text.splitlines())} [numbers.")
    problem, _, hint = line.split(": ", 1)[1].partition(" (")
    assert said in problem
    assert remedy in hint


def test_all_faults_of_a_clinic_come_together_sorted_by_line(refused_clinic: Refused) -> None:
    lines = refused_clinic(
        ('"01632 960 123"', '"x"'),
        ("#6b2d5c", "purple"),
        ('"monday", ', '"mondy", '),
        ("address =", 'logo = "none.svg"\naddress ='),
        ("address =", "adress ="),
    )
    assert [line.split(": ")[0] for line in lines] == [
        f"{CLINIC}:9 [accent]",
        f"{CLINIC}:11 [phone]",
        f"{CLINIC}:14 [open_days]",
        f"{CLINIC}:16 [logo]",
        f"{CLINIC}:17 [adress]",
    ]


def test_settings_come_together_with_the_other_faults(edited: Edited, edited_clinic: Edited, refused: Refused) -> None:
    text = edited_clinic(("#6b2d5c", "white")) + '"dry.days-after-microsuction" = 9\n"no.such" = 1\n'
    assert len(refused(edited(), clinic=text)) == 3


def test_several_settings_come_together(edited: Edited, edited_clinic: Edited, refused: Refused) -> None:
    text = edited_clinic() + '"dry.days-after-microsuction" = 9\n"no.such" = 1\n'
    assert len(refused(edited(), clinic=text)) == 2


@pytest.mark.parametrize(
    ("text", "said"), [("", "is empty"), ('name = "x\n', "is not TOML"), ("#" * 10_000_000, "large")]
)
def test_a_file_that_is_no_clinic_is_refused(text: str, said: str, edited: Edited, refused: Refused) -> None:
    (line,) = refused(edited(), clinic=text)
    assert line.startswith(CLINIC)
    assert said in line


def test_a_new_clinic_is_refused_until_it_is_filled_in(
    tmp_path: Path, edited: Edited, read_problems: Callable[[Result], list[str]]
) -> None:
    runner = CliRunner()
    (tmp_path / "visit.toml").write_text(edited(), "utf-8")
    assert runner.invoke(main, ["new-clinic", str(tmp_path / "clinic")]).exit_code == 0
    arguments = ["make", str(tmp_path / "visit.toml"), "--clinic", str(tmp_path / "clinic")]
    lines = read_problems(runner.invoke(main, arguments))
    assert {line.split("[")[1].split("]")[0] for line in lines} == {"name", "phone", "hours", "out_of_hours"}


@pytest.mark.parametrize("folder", ["nowhere", "visit.toml"])
def test_a_clinic_that_is_not_there_is_refused(folder: str, tmp_path: Path, edited: Edited, refused: Refused) -> None:
    (line,) = refused(edited(), "--clinic", str(tmp_path / folder))
    assert line.startswith(f"{folder}/clinic.toml: does not exist (make a clinic's folder with: leaflets new-clinic")


# The logo: only a picture that holds nothing but a picture, from the clinic's own folder.

SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10">{}</svg>'


def _chunk(kind: bytes, body: bytes) -> bytes:
    return len(body).to_bytes(4) + kind + body + zlib.crc32(kind + body).to_bytes(4)


PNG = (
    # One grey point (ISO/IEC 15948): width 1, height 1, 8 bits, grey, then one row with filter 0.
    b"\x89PNG\r\n\x1a\n"
    + _chunk(b"IHDR", b"\0\0\0\1\0\0\0\1\x08\0\0\0\0")
    + _chunk(b"IDAT", zlib.compress(b"\0\x80"))
    + _chunk(b"IEND", b"")
)


@pytest.fixture
def with_logo(tmp_path: Path, edited: Edited, edited_clinic: Edited) -> Callable[[str, bytes], tuple[str, str]]:
    """Return a function that puts a logo into a clinic's folder and returns the visit's and the clinic's text."""

    def put(name: str, body: bytes) -> tuple[str, str]:
        (tmp_path / "clinic").mkdir()
        (tmp_path / "clinic" / "logo").with_name(name).write_bytes(body)
        return edited(), edited_clinic(("address =", f'logo = "{name}"\naddress ='))

    return put


@pytest.mark.parametrize(
    "inside",
    [
        "<script>alert(1)</script>",
        '<s:script xmlns:s="http://www.w3.org/2000/svg">alert(1)</s:script>',
        '<h:script xmlns:h="http://www.w3.org/1999/xhtml">alert(1)</h:script>',
        '<foreignObject><p xmlns="http://www.w3.org/1999/xhtml">Call 000</p></foreignObject>',
        '<image href="http://example.org/x.png"/>',
        '<use href="#x"/>',
        '<a href="javascript:alert(1)"><circle r="4"/></a>',
        '<circle r="4" onload="alert(1)"/>',
        '<circle r="4" OnClick="alert(1)"/>',
        '<circle r="4" fill="url(http://example.org/x)"/>',
        '<style>@import "http://example.org/x"</style>',
        '<animate attributeName="r"/>',
        "<text>Call 000</text>",
        '<g xmlns:x="http://www.w3.org/1999/xlink"><path x:href="y"/></g>',
    ],
)
def test_a_logo_that_is_more_than_shapes_is_refused(
    inside: str, with_logo: Callable[[str, bytes], tuple[str, str]], refused: Refused
) -> None:
    visit, clinic = with_logo("logo.svg", SVG.format(inside).encode())
    (line,) = refused(visit, clinic=clinic)
    assert line.startswith(f"{CLINIC}:16 [logo]: holds ")
    assert "(take a plain SVG picture, or a PNG)" in line


@pytest.mark.parametrize(
    ("name", "body"),
    [
        ("logo.svg", b""),
        ("logo.svg", b"no picture"),
        ("logo.svg", SVG.format("<g>").encode()),
        ("logo.svg", b"<html><svg/></html>"),
        ("logo.svg", SVG.format("").encode("utf-16")),
        ("logo.svg", b'<!DOCTYPE svg [<!ENTITY a "aaaa">]>' + SVG.format("&a;").encode()),
        ("logo.svg", b'<?xml version="1.0" encoding="utf-16"?>' + SVG.format("").encode()),
        ("logo.svg", b'<?xml-stylesheet href="x.css"?>' + SVG.format("").encode()),
        ("logo.svg", SVG.format("<path/>" * 100_000).encode()),
        ("logo.png", b""),
        ("logo.png", b"GIF89a"),
        ("logo.png", PNG[:-8]),
        ("logo.png", PNG.replace(b"IDAT", b"IDOT")),
        ("logo.png", PNG + b"more"),
        ("logo.gif", b"GIF89a"),
        ("logo", PNG),
        ("clinic.toml", b""),
    ],
    ids=lambda value: str(value)[:24],
)
def test_a_logo_that_is_no_picture_is_refused(
    name: str, body: bytes, with_logo: Callable[[str, bytes], tuple[str, str]], refused: Refused
) -> None:
    visit, clinic = with_logo(name, body)
    (line,) = refused(visit, clinic=clinic)
    assert line.startswith(f"{CLINIC}:16 [logo]: ")


@pytest.mark.parametrize(
    "name", ["../logo.svg", "sub/logo.svg", "/etc/logo.svg", "..", ".", "", "missing.svg", "link.svg"]
)
def test_a_logo_outside_the_folder_is_refused(
    name: str, tmp_path: Path, edited: Edited, edited_clinic: Edited, refused: Refused
) -> None:
    (tmp_path / "clinic" / "sub").mkdir(parents=True)
    for place in (tmp_path / "logo.svg", tmp_path / "clinic" / "sub" / "logo.svg"):
        place.write_text(SVG.format(""), "utf-8")
    (tmp_path / "clinic" / "link.svg").symlink_to(tmp_path / "logo.svg")
    (line,) = refused(edited(), clinic=edited_clinic(("address =", f'logo = "{name}"\naddress =')))
    assert line.startswith(f"{CLINIC}:16 [logo]: ")


@pytest.mark.parametrize(
    ("name", "body"),
    [("logo.svg", SVG.format('<title>Our mark</title><circle cx="5" cy="5" r="4"/>').encode()), ("Logo.PNG", PNG)],
)
def test_a_logo_of_shapes_is_printed(
    name: str, body: bytes, tmp_path: Path, with_logo: Callable[[str, bytes], tuple[str, str]]
) -> None:
    visit, clinic = with_logo(name, body)
    (tmp_path / "visit.toml").write_text(visit, "utf-8")
    (tmp_path / "clinic" / "clinic.toml").write_text(clinic, "utf-8")
    arguments = ["check", str(tmp_path / "visit.toml"), "--clinic", str(tmp_path / "clinic")]
    result = CliRunner().invoke(main, arguments)
    assert result.exit_code == 0, result.output


def test_a_colour_that_paper_would_swallow_is_printed_darker_and_that_is_said(
    tmp_path: Path, edited_clinic: Edited, edited: Edited
) -> None:
    """By hand, by the formula of WCAG 2.2: #ffee00 has 1.2 to 1 on white."""
    (tmp_path / "clinic").mkdir()
    (tmp_path / "clinic" / "clinic.toml").write_text(edited_clinic(("#6b2d5c", "#ffee00")), "utf-8")
    (tmp_path / "visit.toml").write_text(edited(), "utf-8")
    result = make(tmp_path / "visit.toml", clinic=tmp_path / "clinic", out=tmp_path / "out")
    assert result.status == "ok"
    (found,) = [finding for finding in result.findings if finding.code == "PAGE04"]
    assert found.message.startswith("#ffee00 has a contrast of 1.2 to 1 on white")
    page = Path(result.files["html"]).read_text("utf-8")
    assert "#ffee00" not in page


@pytest.mark.parametrize(
    "name",
    ["Ear " * 50, "عيادة الأذن في الشارع الطويل", "Ear Room \N{EAR}\N{EMOJI MODIFIER FITZPATRICK TYPE-4}", "W" * 60],
    ids=["200 letters", "from right to left", "a picture letter", "one long word"],
)
def test_a_name_is_printed_whole_or_its_letters_are_named(
    name: str, tmp_path: Path, edited_clinic: Edited, edited: Edited
) -> None:
    (tmp_path / "clinic").mkdir()
    text = edited_clinic(('"Harrow Lane Ear Room"', f'"{name.strip()}"'))
    (tmp_path / "clinic" / "clinic.toml").write_text(text, "utf-8")
    (tmp_path / "visit.toml").write_text(edited(), "utf-8")
    result = make(tmp_path / "visit.toml", clinic=tmp_path / "clinic", out=tmp_path / "out")
    if result.status == "stopped":
        assert "\N{EAR}" in name
        assert {finding.code for finding in result.findings if finding.severity == "stop"} & {"FONT01", "TRAN14"}
        return
    told = subprocess.run(
        ["pdftotext", "-raw", result.files["pdf"], "-"], capture_output=True, text=True, check=True
    ).stdout
    letters = "".join(sorted(filter(str.isalnum, name)))
    if name.isascii():
        assert "".join(name.split()) in "".join(told.split())
    else:
        assert len(letters) > 5
    assert "PAGE01" not in {finding.code for finding in result.findings}
