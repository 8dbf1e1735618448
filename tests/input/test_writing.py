"""Where files go: only into the folder that was named, all of them or none, and never half of one."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from leaflets.cli import main

Edited = Callable[..., str]
ReadProblems = Callable[[Result], list[str]]
NAMES = {"A-1042.adult.en.a4.pdf", "A-1042.adult.en.a4.html"}


@pytest.fixture
def make_into(tmp_path: Path, edited: Edited) -> Callable[..., Result]:
    """Return a function that makes the leaflet of the routine visit, changed, into a folder."""

    def run(out: Path, *changes: tuple[str, str]) -> Result:
        visit = tmp_path / "visit.toml"
        visit.write_text(edited(*changes), "utf-8")
        return CliRunner().invoke(main, ["make", str(visit), "--out", str(out)])

    return run


def test_exactly_two_files_are_written_named_by_reference_reader_language_and_format(
    tmp_path: Path, make_into: Callable[..., Result]
) -> None:
    out = tmp_path / "deep" / "below"
    assert make_into(out).exit_code == 0
    assert {path.name for path in out.iterdir()} == NAMES
    assert all(path.stat().st_mode & 0o777 == 0o644 for path in out.iterdir())
    assert {path.name for path in tmp_path.iterdir()} == {"visit.toml", "deep"}


def test_making_it_again_writes_the_same_bytes_over_it(tmp_path: Path, make_into: Callable[..., Result]) -> None:
    make_into(tmp_path / "out")
    first = {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()}
    make_into(tmp_path / "out")
    assert {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()} == first


@pytest.mark.parametrize("reference", ["A..B", "a.b-c_d", "0", "CON.x", "x" * 40])
def test_whatever_the_reference_files_stay_in_the_folder(
    reference: str, tmp_path: Path, make_into: Callable[..., Result]
) -> None:
    assert make_into(tmp_path / "out", ("A-1042", reference)).exit_code == 0
    assert {path.name for path in (tmp_path / "out").iterdir()} == {name.replace("A-1042", reference) for name in NAMES}
    assert {path.name for path in tmp_path.iterdir()} == {"visit.toml", "out"}


def test_a_file_in_place_of_the_folder_is_left_as_it_is(
    tmp_path: Path, make_into: Callable[..., Result], read_problems: ReadProblems
) -> None:
    (tmp_path / "out").write_text("mine")
    (line,) = read_problems(make_into(tmp_path / "out"))
    assert line.startswith("out: cannot be written: ")
    assert "(give another --out)" in line
    assert (tmp_path / "out").read_text() == "mine"


def test_a_folder_below_a_file_cannot_be_written(
    tmp_path: Path, make_into: Callable[..., Result], read_problems: ReadProblems
) -> None:
    (tmp_path / "file").write_text("mine")
    (line,) = read_problems(make_into(tmp_path / "file" / "out"))
    assert line.startswith("file/out: cannot be written: Not a directory (give another --out)")


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may write everywhere")
def test_a_folder_that_may_not_be_written(
    tmp_path: Path, make_into: Callable[..., Result], read_problems: ReadProblems
) -> None:
    (tmp_path / "out").mkdir(mode=0o500)
    (line,) = read_problems(make_into(tmp_path / "out"))
    assert line.startswith("out: cannot be written: Permission denied")
    assert list((tmp_path / "out").iterdir()) == []


def test_a_full_disk_leaves_nothing_behind(
    tmp_path: Path, make_into: Callable[..., Result], read_problems: ReadProblems, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    (line,) = read_problems(make_into(tmp_path / "out"))
    assert line.startswith("out: cannot be written: No space left on device")
    assert list((tmp_path / "out").iterdir()) == []


@pytest.mark.parametrize("blocked", sorted(NAMES))
def test_when_one_of_the_files_cannot_take_its_place_neither_does(
    blocked: str, tmp_path: Path, make_into: Callable[..., Result], read_problems: ReadProblems
) -> None:
    (tmp_path / "out" / blocked).mkdir(parents=True)
    (line,) = read_problems(make_into(tmp_path / "out"))
    assert line.startswith(f"out/{blocked}: is a folder")
    assert [path.name for path in (tmp_path / "out").iterdir()] == [blocked]


def test_a_break_in_the_middle_leaves_nothing_half_written(
    tmp_path: Path, make_into: Callable[..., Result], monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(_descriptor: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", interrupted)
    assert make_into(tmp_path / "out").exit_code != 0
    assert list((tmp_path / "out").iterdir()) == []
