"""Every clinical number, once: value, unit, bounds, source and the day it was reviewed (numbers.toml)."""

import datetime
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from leaflets.errors import LeafletError, Problem, did_you_mean
from leaflets.rules.toml import TableReader, TomlFile

_LEAST, _MOST = "-minimum", "-maximum"
_FILE_KEYS = frozenset({"value", "minimum", "maximum", "unit", "setting", "source", "reviewed"})


@dataclass(frozen=True)
class Number:
    """A clinical number.

    Attributes:
        id: `group.name`, as in numbers.toml.
        value: what is used, in `unit`.
        minimum: the smallest that a practitioner may record or a clinic may set, included.
        maximum: the largest, included.
        unit: in words, plural.
        setting: whether a clinic may set another value within the bounds.
        source: where the value and its bounds come from.
        reviewed: when the clinical lead last looked at it.

    """

    id: str
    value: int | float
    minimum: int | float
    maximum: int | float
    unit: str
    setting: bool
    source: str
    reviewed: datetime.date

    def out_of_bounds(self, value: float) -> bool:
        """Return whether a recorded or set value is outside the bounds."""
        return not self.minimum <= value <= self.maximum


class Numbers(Mapping[str, Number]):
    """All clinical numbers by id. A number that is missing is an error, never a guess."""

    def __init__(self, numbers: Mapping[str, Number]) -> None:
        self._numbers = dict(numbers)

    def __getitem__(self, number_id: str) -> Number:
        try:
            return self._numbers[number_id]
        except KeyError:
            raise LeafletError.at(
                "leaflets/rules/numbers.toml",
                f"there is no number '{number_id}'",
                did_you_mean(number_id, self._numbers),
            ) from None

    def __contains__(self, number_id: object) -> bool:
        return number_id in self._numbers

    def __iter__(self) -> Iterator[str]:
        return iter(self._numbers)

    def __len__(self) -> int:
        return len(self._numbers)

    def whole(self, number_id: str) -> int:
        """Return the value of a number that counts things."""
        value = self[number_id].value
        if not isinstance(value, int):
            raise TypeError(f"{number_id} is not a whole number")
        return value

    def setting_faults(self, settings: Mapping[str, Any]) -> list[tuple[str, str, str]]:
        """Return (id, what is wrong, what to do) for each value that a clinic may not set so."""
        faults = []
        for number_id, value in flattened(settings).items():
            number = self._numbers.get(number_id)
            if number is None or not number.setting:
                allowed = [known.id for known in self._numbers.values() if known.setting]
                faults.append((number_id, "is not a clinic's setting", did_you_mean(number_id, allowed)))
                continue
            bounds = f"{number.minimum} to {number.maximum} {number.unit}"
            if isinstance(value, bool) or not isinstance(value, int | float):
                faults.append((number_id, "is not a number", f"give {bounds}"))
            elif isinstance(number.value, int) and not isinstance(value, int):
                faults.append((number_id, "is not a whole number", f"give {bounds}"))
            elif number.out_of_bounds(value):
                faults.append((number_id, f"{value} is out of bounds", f"allowed: {bounds}; source: {number.source}"))
        return faults or self.with_settings(settings).crossed_pairs()

    def crossed_pairs(self) -> list[tuple[str, str, str]]:
        """Return (id, what is wrong, what to do) for each `-minimum` that is more than its `-maximum`."""
        faults = []
        for least in self._numbers.values():
            most = self._numbers.get(least.id.removesuffix(_LEAST) + _MOST) if least.id.endswith(_LEAST) else None
            if most is not None and least.value > most.value:
                message = f"{least.value} is more than {most.value}, its maximum"
                faults.append((least.id, message, f"set {least.id} or {most.id} so that they fit"))
        return faults

    def with_settings(self, settings: Mapping[str, Any]) -> "Numbers":
        """Return the numbers with a clinic's own values, in which `setting_faults` found no fault."""
        settings = flattened(settings)
        own = {number_id: replace(self._numbers[number_id], value=value) for number_id, value in settings.items()}
        return Numbers({**self._numbers, **own})


def flattened(settings: Mapping[str, Any]) -> dict[str, Any]:
    """Return settings by the ids of their numbers, whether the ids stand in quotes or not.

    >>> flattened({"dry": {"days": 2}, "swim.days": 3})
    {'dry.days': 2, 'swim.days': 3}

    """
    flat: dict[str, Any] = {}
    for name, value in settings.items():
        if isinstance(value, Mapping):
            flat |= {f"{name}.{inner}": one for inner, one in flattened(value).items()}
        else:
            flat[name] = value
    return flat


def parse_numbers(file: TomlFile) -> tuple[Numbers, list[Problem]]:
    """Read numbers.toml: the numbers that are whole, and all that is wrong with the others."""
    numbers: dict[str, Number] = {}
    problems: list[Problem] = []
    for group, tables in file.data.items():
        if not isinstance(tables, dict):
            problems.append(Problem(file.place(group), "is not a group of numbers", "write [group.name] tables"))
            continue
        for name, table in tables.items():
            number_id = f"{group}.{name}"
            reader = TableReader(file, (group, name), table, _FILE_KEYS, problems)
            value = reader.number("value")
            low, high = reader.number("minimum"), reader.number("maximum")
            unit, source = reader.text("unit"), reader.text("source")
            reviewed = reader.date("reviewed")
            setting = reader.flag("setting")
            if value is None or low is None or high is None or unit is None or source is None or reviewed is None:
                continue
            number = Number(number_id, value, low, high, unit, setting, source, reviewed)
            if number.out_of_bounds(value):
                problems.append(
                    Problem(
                        file.place(group, name),
                        f"value {value} is out of its own bounds",
                        f"bring it within {low} to {high}",
                    )
                )
            numbers[number_id] = number
    return Numbers(numbers), problems
