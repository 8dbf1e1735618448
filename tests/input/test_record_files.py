"""A file that is no record at all: broken, empty, far too large, in another encoding, or not there."""

import json
import os
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner

from leaflets.cli import main

Edited = Callable[..., str]
Refused = Callable[..., list[str]]


@pytest.mark.parametrize(
    ("record", "place", "said"),
    [
        ('ref = "A-1\ndate = 2026-11-25\n', "visit.toml:1", "is not TOML"),
        ('ref = "A-1"\nref = "A-2"\n', "visit.toml:2", "is not TOML"),
        ('ref = "A-1"\n\ndate = 2026-02-30\n', "visit.toml:3", "is not TOML"),
        ("[left\n", "visit.toml:1", "is not TOML"),
        ("Seen today, all well.\n", "visit.toml:1", "is not TOML"),
        ("a = " + "[" * 50_000, "visit.toml", "is nested too deeply"),
        ("", "visit.toml", "is empty"),
        (" \n\n\t", "visit.toml", "is empty"),
        (b"\xef\xbb\xbf", "visit.toml", "is empty"),
        (b'ref = "A-1"\npractitioner = "\xe9"\n', "visit.toml:2", "is not UTF-8"),
        ('ref = "A-1"\n'.encode("utf-16"), "visit.toml:1", "is not UTF-8"),
        (b"%PDF-1.7\n\x00\xff\n", "visit.toml:2", "is not UTF-8"),
        ("#" * 10_000_000, "visit.toml", "is too large"),
    ],
    ids=lambda value: str(value)[:24],
)
def test_a_file_that_is_no_toml_record(record: str | bytes, place: str, said: str, refused: Refused) -> None:
    (line,) = refused(record)
    assert line.startswith(f"{place}: {said}")


@pytest.mark.parametrize(
    ("record", "place", "said"),
    [
        ('{"ref": "A-1",\n "date": }\n', "visit.json:2", "is not JSON"),
        ('{"ref": "A-1"', "visit.json:1", "is not JSON"),
        ("[1, 2]", "visit.json", "is not a record"),
        ('"A-1"', "visit.json", "is not a record"),
        ("null", "visit.json", "is not a record"),
        ('{"left": {},\n "left": {"eardrum": "perforated"}}', "visit.json:2", "'left' stands twice"),
        ('{"a":' * 50_000, "visit.json", "is nested too deeply"),
        ("", "visit.json", "is empty"),
        ('{"ref": "' + "x" * 10_000_000 + '"}', "visit.json", "is too large"),
        (b'{"ref": "\xff"}', "visit.json:1", "is not UTF-8"),
    ],
    ids=lambda value: str(value)[:24],
)
def test_a_file_that_is_no_json_record(record: str | bytes, place: str, said: str, refused: Refused) -> None:
    (line,) = refused(record, name="visit.json")
    assert line.startswith(f"{place}: {said}")


def test_a_json_record_is_read_like_a_toml_record_and_its_faults_have_lines(edited: Edited, refused: Refused) -> None:
    record = tomllib.loads(edited(('"intact"', '"intct"'), ("age_years = 46", 'age_years = "x"')))
    text = json.dumps(record, default=str, indent=1)
    lines = refused(text, name="visit.JSON")
    numbers = [
        text.splitlines().index(line) + 1 for line in text.splitlines() if "age_years" in line or "intct" in line
    ]
    assert [line.split(" [")[0] for line in lines] == [f"visit.JSON:{number}" for number in numbers]
    assert "did you mean 'intact'?" in lines[1]


def test_a_record_that_is_not_there(refused: Refused) -> None:
    (line,) = refused(None)
    assert line.startswith("visit.toml: cannot be read: No such file")


def test_a_folder_in_place_of_a_record(tmp_path: Path, refused: Refused) -> None:
    (tmp_path / "visit.toml").mkdir()
    (line,) = refused(None)
    assert line.startswith("visit.toml: cannot be read: Is a directory")


def test_what_has_no_size_is_read_no_further_than_a_record_can_be() -> None:
    """A device says that it has 0 bytes, and never ends."""
    result = CliRunner().invoke(main, ["make", "/dev/zero"])
    assert result.exit_code == 2
    assert result.stderr.startswith("/dev/zero: is too large")


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may read everything")
def test_a_record_that_may_not_be_read(tmp_path: Path, edited: Edited, refused: Refused) -> None:
    visit = tmp_path / "visit.toml"
    visit.write_text(edited(), "utf-8")
    visit.chmod(0)
    (line,) = refused(None)
    assert line.startswith("visit.toml: cannot be read: Permission denied")


def test_a_record_with_a_mark_of_its_encoding_is_taken(tmp_path: Path, edited: Edited) -> None:
    (tmp_path / "visit.toml").write_bytes(b"\xef\xbb\xbf" + edited().replace("\n", "\r\n").encode())
    assert CliRunner().invoke(main, ["explain", str(tmp_path / "visit.toml")]).exit_code == 0
