"""Shared by all tests: the content, and visits made from the routine one."""

import copy
import tomllib
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

from leaflets.clinic import write_new_clinic
from leaflets.content import Content, load_content

TESTS = Path(__file__).parent
Record = dict[str, Any]
ChangedVisit = Callable[..., Record]


@pytest.fixture(scope="session")
def content() -> Content:
    """Everything that leaflets are made of, with the invented clinic."""
    return load_content()


@pytest.fixture
def clinic(tmp_path: Path) -> Path:
    """Return the folder of a clinic of its own, filled in, with nothing else in it."""
    path = write_new_clinic(tmp_path / "clinic")
    filled = {
        'name = ""': 'name = "Invented Ear Room"',
        'phone = ""': 'phone = "01632 960 111"',
        "hours = []": 'hours = ["Monday, 9 am to 5 pm"]',
        'out_of_hours = ""': 'out_of_hours = "Call 111."',
    }
    text = path.read_text("utf-8")
    for empty, full in filled.items():
        text = text.replace(empty, full, 1)
    path.write_text(text, "utf-8")
    return path.parent


@pytest.fixture(scope="session")
def routine() -> Record:
    """The routine visit: both ears were blocked with wax, both are clear, nothing else was found."""
    return tomllib.loads((TESTS / "visits" / "routine.toml").read_text("utf-8"))


@pytest.fixture
def changed_visit(routine: Record) -> ChangedVisit:
    """Return a function that merges changes over the routine visit, and takes out what is not recorded."""

    def change(changes: Mapping[str, Any] | None = None, unrecorded: tuple[str, ...] = ()) -> Record:
        record = merged(routine, changes or {})
        for path in unrecorded:
            *tables, field = path.split(".")
            table = record
            for name in tables:
                table = table[name]
            del table[field]
        return record

    return change


def merged(record: Mapping[str, Any], changes: Mapping[str, Any]) -> Record:
    """Return a record with changes merged over it, table by table."""
    result = copy.deepcopy(dict(record))
    for key, value in changes.items():
        here = result.get(key)
        result[key] = merged(here, value) if isinstance(here, dict) and isinstance(value, dict) else value
    return result
