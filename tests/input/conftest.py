"""What every test of bad input needs: a record to spoil, and a run that must refuse it without a trace."""

import re
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from leaflets.cli import main

CLINIC = Path(__file__).parent / "clinic.toml"
ROUTINE = Path(__file__).parents[1] / "visits" / "routine.toml"
Edited = Callable[..., str]
Refused = Callable[..., list[str]]

_PROBLEM = re.compile(r"^(?P<place>[^:]+?(:\d+)?( \[[^\]]+\])?): \S.* \(\S.*\)$")


def _edit(text: str, changes: Sequence[tuple[str, str]]) -> str:
    for old, new in changes:
        assert old in text, f"{old!r} does not stand in the text"
        text = text.replace(old, new, 1)
    return text


@pytest.fixture(scope="session")
def edited() -> Edited:
    """Return the text of the routine visit with the first occurrence of each old text replaced by the new one."""
    text = ROUTINE.read_text("utf-8")
    return lambda *changes: _edit(text, changes)


@pytest.fixture(scope="session")
def edited_clinic() -> Edited:
    """Return the text of an invented clinic's file, changed like `edited`."""
    text = CLINIC.read_text("utf-8")
    return lambda *changes: _edit(text, changes)


@pytest.fixture
def line_with() -> Callable[[str, str], int]:
    """Return the 1-based line of a text on which something stands for the first time."""
    return lambda text, found: next(n for n, line in enumerate(text.splitlines(), 1) if found in line)


@pytest.fixture
def refused(tmp_path: Path) -> Refused:
    """Run `make` on a record that must be refused, and return the problems, with the file's folder taken off.

    Whatever is wrong, it is said in lines of `place: problem (remedy)`, exit code 2, no traceback, nothing written.
    """

    def run(
        record: str | bytes | None, *options: str, name: str = "visit.toml", clinic: str | None = None
    ) -> list[str]:
        visit, out, folder = tmp_path / name, tmp_path / "out", tmp_path / "clinic"
        if record is not None:
            visit.write_bytes(record if isinstance(record, bytes) else record.encode())
        if clinic is not None:
            folder.mkdir(exist_ok=True)
            (folder / "clinic.toml").write_text(clinic, "utf-8")
            options = ("--clinic", str(folder), *options)
        result = CliRunner().invoke(main, ["make", str(visit), "--out", str(out), *options])
        assert not out.exists()
        assert [path for path in tmp_path.rglob("*") if path.suffix in (".part", ".pdf", ".html")] == []
        return problems_of(result, tmp_path)

    return run


def problems_of(result: Result, folder: Path) -> list[str]:
    """Return the problems of a command that refused, one a line, once their form has been looked at."""
    assert result.exit_code == 2, result.output
    assert isinstance(result.exception, SystemExit)
    assert result.stdout == ""
    lines = [line.replace(f"{folder}/", "") for line in result.stderr.splitlines()]
    assert lines
    for line in lines:
        assert _PROBLEM.match(line), line
        assert line.isprintable()
    return lines


@pytest.fixture
def read_problems(tmp_path: Path) -> Callable[[Result], list[str]]:
    """Return the problems of a run by its own command line, looked at like those of `refused`."""
    return lambda result: problems_of(result, tmp_path)


@pytest.fixture
def explained(tmp_path: Path) -> Callable[[str], int]:
    """Return the exit code of `explain` on a record."""

    def run(record: str) -> int:
        visit = tmp_path / "visit.toml"
        visit.write_text(record, "utf-8")
        return CliRunner().invoke(main, ["explain", str(visit)]).exit_code

    return run
