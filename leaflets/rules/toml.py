"""Reading the tables of a rules file, so that each fault is reported with its line and none hides another."""

import datetime
import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from leaflets.errors import LeafletError, Problem, did_you_mean
from leaflets.positions import line_of


def not_toml(name: str, error: tomllib.TOMLDecodeError) -> LeafletError:
    """Return the error of a text that is not TOML, at its line."""
    line = re.search(r"line (\d+)", str(error))
    place = f"{name}:{line[1]}" if line else name
    return LeafletError.at(place, f"is not TOML: {error}", "correct the line")


@dataclass(frozen=True)
class TomlFile:
    """A TOML text with its name for messages. `name` is a path from the top of the project."""

    name: str
    text: str
    data: Mapping[str, Any]

    @classmethod
    def parse(cls, name: str, text: str) -> "TomlFile":
        """Parse the text.

        Raises:
            LeafletError: it is not TOML; the message has line and column.

        """
        try:
            return cls(name, text, tomllib.loads(text))
        except tomllib.TOMLDecodeError as error:
            raise not_toml(name, error) from None

    def place(self, *path: str | int) -> str:
        """Return `file:line [key]` for the key at `path`; in a list, its place is counted from 0."""
        key = ".".join(str(part) for part in path)
        line = line_of(self.text, path)
        return f"{self.name}:{line} [{key}]" if line else f"{self.name} [{key}]"


class TableReader:
    """Takes one table apart, adding a problem for each key that is missing, unknown or of the wrong type."""

    def __init__(
        self,
        file: TomlFile,
        path: tuple[str | int, ...],
        table: object,
        keys: Iterable[str],
        problems: list[Problem],
    ) -> None:
        self._file = file
        self._path = path
        self._problems = problems
        self._table: Mapping[str, Any] = table if isinstance(table, dict) else {}
        if not isinstance(table, dict):
            self.fault((), "is not a table", f"write [{'.'.join(map(str, path))}] and its keys below")
        for key in self._table:
            if key not in keys:
                self.fault((key,), f"'{key}' is not a key here", did_you_mean(key, sorted(keys)))

    def fault(self, key: tuple[str | int, ...], message: str, hint: str) -> None:
        """Add a problem at a key of this table."""
        self._problems.append(Problem(self._file.place(*self._path, *key), message, hint))

    def get(self, key: str) -> object:
        """Return the raw value; None: the key is not there."""
        return self._table.get(key)

    def text(self, key: str) -> str | None:
        """Return a text that is not empty; None after reporting a fault."""
        value = self._table.get(key)
        if isinstance(value, str) and value.strip():
            return value
        self.fault((key,), f"{key} is missing or empty", f'write {key} = "…"')
        return None

    def optional_text(self, key: str) -> str | None:
        """Return a text; None: the key is not there (or, after reporting a fault, not a text)."""
        return self.text(key) if key in self._table else None

    def number(self, key: str) -> int | float | None:
        """Return a number; None after reporting a fault."""
        value = self._table.get(key)
        if isinstance(value, int | float) and not isinstance(value, bool):
            return value
        self.fault((key,), f"{key} is missing or not a number", f"write {key} = a number")
        return None

    def date(self, key: str) -> datetime.date | None:
        """Return a date; None after reporting a fault."""
        value = self._table.get(key)
        if isinstance(value, datetime.date) and not isinstance(value, datetime.datetime):
            return value
        self.fault((key,), f"{key} is missing or not a date", f"write {key} = 2026-11-25, without quotes")
        return None

    def flag(self, key: str) -> bool:
        """Return true or false; false where the key is not there."""
        value = self._table.get(key, False)
        if not isinstance(value, bool):
            self.fault((key,), f"{key} is not true or false", "write true or false, without quotes")
            return False
        return value

    def texts(self, key: str) -> tuple[str, ...]:
        """Return a list of texts; empty where the key is not there."""
        value = self._table.get(key, [])
        if isinstance(value, list) and all(isinstance(item, str) for item in value):
            return tuple(value)
        self.fault((key,), f"{key} is not a list of texts", f'write {key} = ["…"]')
        return ()
