"""Emergency and advice numbers by country of care (countries.toml), never by language."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, replace

from leaflets.errors import Problem
from leaflets.rules.toml import TableReader, TomlFile

_UNION = "EU"
_KEYS = frozenset({"emergency", "advice", "source", "reviewed", "members"})


@dataclass(frozen=True)
class Country:
    """A country of care.

    Attributes:
        code: ISO 3166-1 alpha-2.
        emergency: the number to dial for an ambulance.
        advice: the number of a national health advice line; None: there is none.
        source: where the numbers come from.
        reviewed: when the clinical lead last looked at them.

    """

    code: str
    emergency: str
    advice: str | None
    source: str
    reviewed: datetime.date


def parse_countries(file: TomlFile) -> tuple[Mapping[str, Country], list[Problem]]:
    """Read countries.toml. Members of the European Union without a table of their own get the Union's number."""
    problems: list[Problem] = []
    countries: dict[str, Country] = {}
    members: tuple[str, ...] = ()
    for code, table in file.data.items():
        reader = TableReader(file, (code,), table, _KEYS, problems)
        emergency, source, reviewed = reader.text("emergency"), reader.text("source"), reader.date("reviewed")
        advice = reader.optional_text("advice")
        if code == _UNION:
            members = reader.texts("members")
        if emergency is not None and source is not None and reviewed is not None:
            countries[code] = Country(code, emergency, advice, source, reviewed)
    union = countries.pop(_UNION, None)
    if union is not None:
        for code in members:
            countries.setdefault(code, replace(union, code=code))
    return countries, problems
