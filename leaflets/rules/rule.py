"""Rules: what is indicated, contraindicated or to be confirmed, with the blocks that say so to the reader."""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, TypeVar, get_args

from leaflets.errors import Problem, did_you_mean
from leaflets.rules.conditions import AnyOf, Between, Line
from leaflets.rules.fields import EAR_FIELDS, PERSON_FIELDS
from leaflets.rules.numbers import Number, Numbers
from leaflets.rules.toml import TableReader, TomlFile

Scope = Literal["ear", "person"]
Urgency = Literal["now", "today", "soon"]
URGENCIES: tuple[Urgency, ...] = get_args(Urgency)

_Choice = TypeVar("_Choice", bound=str)
_KEYS = frozenset(
    {
        "applies_to",
        "indications",
        "contraindications",
        "precautions",
        "decided_by",
        "urgency",
        "blocks",
        "source",
        "reviewed",
    }
)


@dataclass(frozen=True)
class Rule:
    """One rule of one clinical topic.

    Attributes:
        id: `topic/name`.
        scope: judged ear by ear, or once for the person.
        indications: any line makes it apply.
        contraindications: any line forbids it, whatever else holds.
        precautions: any line lets it through only with the practitioner's confirmation.
        decided_by: the field that says whether the practitioner planned this treatment; None: no treatment.
        urgency: for a sign of the get-help panel, how soon to act; None: not a sign.
        blocks: ids of the blocks that it gives.
        source: guideline, section, year; or "common practice, no source".
        reviewed: when the clinical lead last looked at it.

    """

    id: str
    scope: Scope
    indications: tuple[Line, ...]
    contraindications: tuple[Line, ...]
    precautions: tuple[Line, ...]
    decided_by: str | None
    urgency: Urgency | None
    blocks: tuple[str, ...]
    source: str
    reviewed: datetime.date
    place: str


def parse_rules(files: Sequence[TomlFile], numbers: Numbers) -> tuple[Mapping[str, Rule], list[Problem]]:
    """Read all rules files: the rules that are whole, and all that is wrong with the others."""
    rules: dict[str, Rule] = {}
    problems: list[Problem] = []
    for file in files:
        topic = file.name.rsplit("/", 1)[-1].removesuffix(".toml")
        for name, table in file.data.items():
            rule = _parse_rule(file, topic, name, table, numbers, problems)
            if rule is not None:
                rules[rule.id] = rule
    return rules, problems


def _parse_rule(
    file: TomlFile, topic: str, name: str, table: object, numbers: Numbers, problems: list[Problem]
) -> Rule | None:
    before = len(problems)
    reader = TableReader(file, (name,), table, _KEYS, problems)
    scope = _one_of(reader, "applies_to", get_args(Scope))
    urgency = _one_of(reader, "urgency", URGENCIES) if reader.get("urgency") is not None else None
    source, reviewed = reader.text("source"), reader.date("reviewed")
    blocks = reader.texts("blocks")
    if not blocks and urgency is None:
        reader.fault(("blocks",), "names no block", 'write blocks = ["topic/name"], or urgency for a sign')
    if scope is None or source is None or reviewed is None:
        return None
    fields = EAR_FIELDS | PERSON_FIELDS if scope == "ear" else PERSON_FIELDS
    decided_by = reader.optional_text("decided_by")
    if decided_by is not None and decided_by not in fields:
        reader.fault(("decided_by",), f"'{decided_by}' is not a field", did_you_mean(decided_by, sorted(fields)))
    indications = (
        (Line(()),) if reader.get("indications") == "always" else _lines(reader, "indications", fields, numbers)
    )
    if not indications:
        reader.fault(("indications",), "there is no indication", 'write a list of lines, or "always"')
    contraindications = _lines(reader, "contraindications", fields, numbers)
    precautions = _lines(reader, "precautions", fields, numbers)
    if urgency is not None and (contraindications or precautions or decided_by):
        reader.fault(
            ("urgency",),
            "a sign is never withheld",
            "leave out its contraindications, precautions and decided_by",
        )
    if len(problems) > before:
        return None
    return Rule(
        id=f"{topic}/{name}",
        scope=scope,
        indications=indications,
        contraindications=contraindications,
        precautions=precautions,
        decided_by=decided_by,
        urgency=urgency,
        blocks=blocks,
        source=source,
        reviewed=reviewed,
        place=file.place(name),
    )


def _one_of(reader: TableReader, key: str, choices: Sequence[_Choice]) -> _Choice | None:
    value = reader.get(key)
    for choice in choices:
        if value == choice:
            return choice
    reader.fault((key,), f"{key} is not one of its values", did_you_mean(str(value), choices))
    return None


def _lines(
    reader: TableReader, key: str, fields: Mapping[str, frozenset[str] | None], numbers: Numbers
) -> tuple[Line, ...]:
    value = reader.get(key)
    if value is None:
        return ()
    if not isinstance(value, list) or not all(isinstance(line, dict) and line for line in value):
        reader.fault((key,), f"{key} is not a list of lines", f'write {key} = [{{ field = ["value"] }}]')
        return ()
    return tuple(
        Line(
            tuple(
                test for field, wanted in line.items() if (test := _test(reader, key, field, wanted, fields, numbers))
            )
        )
        for line in value
    )


def _test(
    reader: TableReader,
    key: str,
    field: str,
    wanted: object,
    fields: Mapping[str, frozenset[str] | None],
    numbers: Numbers,
) -> AnyOf | Between | None:
    if field not in fields:
        reader.fault((key,), f"'{field}' is not a field here", did_you_mean(field, sorted(fields)))
        return None
    values = fields[field]
    if values is None:
        return _between(reader, key, field, wanted, numbers)
    if not isinstance(wanted, list) or not wanted or not all(isinstance(value, str) for value in wanted):
        reader.fault((key,), f"{field} wants a list of values", did_you_mean("", sorted(values)))
        return None
    for value in wanted:
        if value not in values:
            reader.fault((key,), f"'{value}' is not a value of {field}", did_you_mean(value, sorted(values)))
    return AnyOf(field, frozenset(wanted))


def _between(reader: TableReader, key: str, field: str, wanted: object, numbers: Numbers) -> Between | None:
    if not isinstance(wanted, dict) or not wanted or set(wanted) - {"min", "max"}:
        reader.fault((key,), f"{field} is a number", f'write {field} = {{ min = "group.name" }}, max, or both')
        return None
    bounds: dict[str, Number] = {}
    for side, number_id in wanted.items():
        if not isinstance(number_id, str) or number_id not in numbers:
            reader.fault(
                (key,),
                f"{field} names no number of numbers.toml",
                did_you_mean(str(number_id), sorted(numbers)),
            )
            return None
        bounds[side] = numbers[number_id]
    return Between(field, bounds.get("min"), bounds.get("max"))
