"""Words that people write freely are printed as they stand: never markup, never a template, never a command."""

import re
import subprocess
from collections import Counter
from collections.abc import Callable
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from leaflets.cli import main
from leaflets.pipeline import make

Edited = Callable[..., str]

NASTY = [
    "<script>alert(1)</script>",
    "</p></body></html>",
    "<img src=x onerror=alert(1)>",
    "<strong>bold</strong>",
    "&amp; &lt; &#60; &",
    "{{ 7 * 7 }}",
    "{% raw %}",
    "{# gone #}",
    "%(name)s",
    "100 % %s %%",
    "'\" onload='x' \"",
    '<style id="looks"></style>',
    "</style><style>*{display:none}",
    "leaflet-id-goes-here",
    'src="asset:ear-left.svg"',
    "[bold red]loud[/]",
    "$HOME `id` ; rm",
    "Dr \u0641\u0627\u0637\u0645\u0629 \u200f(MD)",
]


class _Page(HTMLParser):
    """The text of a page, and every element and attribute in it, read by another parser than our own."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.text = ""
        self.elements: list[str] = []
        self.attributes: list[str] = []
        self._silent = 0
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append(tag)
        self.attributes += [name for name, _ in attrs]
        self._silent += tag in ("style", "title")

    def handle_endtag(self, tag: str) -> None:
        self._silent -= tag in ("style", "title")

    def handle_data(self, data: str) -> None:
        if not self._silent:
            self.text += data


def _words(text: str) -> str:
    return re.sub(r"\s+", " ", text)


@pytest.fixture(scope="session")
def plain_page(routine: dict[str, Any], tmp_path_factory: pytest.TempPathFactory) -> _Page:
    result = make(routine, out=tmp_path_factory.mktemp("plain"))
    return _Page(Path(result.files["html"]).read_text("utf-8"))


def _toml(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


_MOST_WORDS_OF_ONES_OWN = 4
"""The clinic's name twice, in the masthead and in how to reach it; the practitioner; the reference."""


def _difference(ones: list[str], others: list[str]) -> tuple[Counter[str], Counter[str]]:
    return Counter(ones) - Counter(others), Counter(others) - Counter(ones)


@pytest.mark.parametrize("text", NASTY)
def test_free_text_is_printed_as_it_stands(
    text: str, plain_page: _Page, tmp_path: Path, edited: Edited, edited_clinic: Edited
) -> None:
    """In every field that people write freely and that is printed, at once."""
    (tmp_path / "clinic").mkdir()
    clinic = edited_clinic(
        ('"Harrow Lane Ear Room"', _toml(f"N {text}")),
        ('"Monday to Friday, 9 am to 5 pm"', f"{_toml(f'H {text}')}, {_toml('second line')}"),
        ('"When we are closed and it cannot wait, call 111."', _toml(f"O {text}")),
    )
    (tmp_path / "clinic" / "clinic.toml").write_text(clinic, "utf-8")
    practitioner = text[:30]
    visit = tmp_path / "visit.toml"
    visit.write_text(edited(('practitioner = "KD"', f"practitioner = {_toml(practitioner)}")), "utf-8")
    result = make(visit, clinic=tmp_path / "clinic", out=tmp_path / "out")
    assert result.status == "ok", result.findings
    page = _Page(Path(result.files["html"]).read_text("utf-8"))
    printed = _words(page.text)
    for written in (f"N {text}", f"H {text}", f"O {text}", f"Seen by {practitioner}"):
        assert _words(written) in printed
    # No element and no attribute more than with plain words, but for the second line of the hours, and for what marks
    # words with figures as somebody's own.
    more, less = _difference(page.elements, [*plain_page.elements, "br"])
    assert (set(more), less) == ({"span"}, Counter())
    assert more["span"] <= 1 + _MOST_WORDS_OF_ONES_OWN
    more, less = _difference(page.attributes, plain_page.attributes)
    assert set(more) <= {"class", "dir"}
    assert less == Counter()
    read = subprocess.run(
        ["pdftotext", "-raw", result.files["pdf"], "-"], capture_output=True, text=True, check=True
    ).stdout
    if text.isascii():
        assert re.sub(r"\s", "", f"H {text}") in re.sub(r"\s", "", read)


def test_the_reason_of_a_confirmation_stands_in_the_result_and_on_no_page(
    changed_visit: Callable[..., dict[str, Any]], tmp_path: Path
) -> None:
    reason = "<script>{{ 7 * 7 }} [bold]x[/] %(y)s"
    record = changed_visit(
        {
            "left": {"wax_after": "partly-cleared", "canal": ["eczema"]},
            "plan": {
                "drops": "olive-oil",
                "drops_for": ["left"],
                "confirm": [{"rule": "wax/softening-drops", "reason": reason}],
            },
        }
    )
    result = make(record, out=tmp_path)
    assert result.status == "ok", result.findings
    assert result.as_json()["confirmed"][0]["reason"] == reason
    assert "7 * 7" not in Path(result.files["html"]).read_text("utf-8")


def test_a_reference_cannot_become_the_leaflet_s_id(
    changed_visit: Callable[..., dict[str, Any]], tmp_path: Path
) -> None:
    result = make(changed_visit({"ref": "leaflet-id-goes-here"}), out=tmp_path)
    assert "Reference leaflet-id-goes-here." in _words(_Page(Path(result.files["html"]).read_text("utf-8")).text)


@pytest.mark.parametrize("text", ["K\u0001D", "K\u202eD", "K\nD", "  "])
def test_what_cannot_be_printed_is_told_of_the_field_where_it_was_written(
    text: str, edited: Edited, refused: Callable[..., list[str]]
) -> None:
    """A control, an override that turns the words after it round (Unicode annex 9), a second line, nothing."""
    escaped = "".join(
        letter if letter.isascii() and letter.isprintable() else f"\\U{ord(letter):08x}" for letter in text
    )
    lines = refused(edited(('"KD"', f'"{escaped}"')))
    assert [line for line in lines if "[practitioner]" in line]


def test_a_sign_that_no_font_has_stops_the_leaflet(
    changed_visit: Callable[..., dict[str, Any]], tmp_path: Path
) -> None:
    result = make(changed_visit({"practitioner": "K\N{EAR WITH HEARING AID}D"}), out=tmp_path / "out")
    assert [finding for finding in result.findings if finding.severity == "stop" and "U+1F9BB" in finding.message]
    assert not (tmp_path / "out").exists()


def test_console_markup_is_printed_as_text(tmp_path: Path, edited: Edited) -> None:
    (tmp_path / "[red]out").mkdir()
    visit = tmp_path / "[red]out" / "visit.toml"
    visit.write_text(edited(), "utf-8")
    result = CliRunner().invoke(main, ["make", str(visit), "--out", str(tmp_path / "[red]out")])
    assert f"{tmp_path}/[red]out/A-1042.adult.en.a4.pdf" in result.stdout
