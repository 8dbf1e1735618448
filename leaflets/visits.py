"""Taking in a visit: from a file, plain values or a `Visit`, checked against the content that leaflets are made of."""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from leaflets.catalogue.pseudo import PSEUDO_LOCALES
from leaflets.content import READERS, Content
from leaflets.course import dose_faults
from leaflets.errors import LeafletError, Problem, did_you_mean
from leaflets.formats import FORMATS
from leaflets.records import FieldFault, load_record, shown, validation_faults
from leaflets.visit import Visit, contradictions
from leaflets.vocabulary import CHILD_READERS

VisitSource = Visit | Mapping[str, Any] | Path | str

_IN_CLINIC_FILE = {"country": "country", "language": "language", "format": "paper"}
"""The field of a record -> the line of clinic.toml that fills it in where the record does not."""


def read_visit(source: VisitSource, content: Content, overrides: Mapping[str, str]) -> Visit:
    """Read a visit and fill in what the clinic's folder says where the record does not.

    `overrides`: language, reader or format to use instead of what the record says.

    Raises:
        LeafletError: with every problem, each with its place.

    """
    settled = {
        "country": content.clinic.file.country,
        "language": content.clinic.file.language,
        "format": content.clinic.file.paper,
    }

    wrongly_settled = _settled_problems(settled, content)
    wrongly_overridden = _override_problems(overrides, content)
    problems = [*wrongly_settled.values(), *wrongly_overridden.values()]

    def settle(data: Mapping[str, Any]) -> dict[str, Any]:
        return {
            **{field: value for field, value in settled.items() if field not in wrongly_settled},
            **{field: value for field, value in data.items() if value is not None},
            **{field: value for field, value in overrides.items() if field not in wrongly_overridden},
        }

    visit: Visit | None = None
    try:
        visit = _read(source, settle, content)
    except LeafletError as error:
        problems += error.problems
    if problems or visit is None:
        raise LeafletError(problems)
    return visit


def _read(source: VisitSource, settle: Callable[[Mapping[str, Any]], dict[str, Any]], content: Content) -> Visit:
    def faults(data: Mapping[str, Any]) -> list[FieldFault]:
        return [*contradictions(data), *content_faults(data, content)]

    if isinstance(source, Path | str):
        return load_record(Path(source), Visit, settle, faults)
    data = settle(source.model_dump() if isinstance(source, Visit) else source)
    found: list[FieldFault] = []
    visit: Visit | None = None
    try:
        visit = Visit.model_validate(data)
    except ValidationError as error:
        found += validation_faults(error, Visit)
    found += faults(data)
    if found or visit is None:
        raise LeafletError(
            Problem(f"visit [{'.'.join(map(str, path))}]", said, hint) for path, said, hint in dict.fromkeys(found)
        )
    return visit


def content_faults(data: Mapping[str, Any], content: Content) -> list[FieldFault]:
    """Return what the content cannot serve: a country, language, reader or format, a dose, a rule that is confirmed."""
    found: list[FieldFault] = []
    for field, known in _offered(content).items():
        value = data.get(field)
        if isinstance(value, str) and _plain(value) not in known and _well_formed(field, value):
            found.append(((field,), *_not_offered(field, value, known)))
    plan = data.get("plan")
    if isinstance(plan, Mapping):
        found += [
            (("plan", field), message, hint) for field, message, hint in dose_faults(plan, content.rule_book.numbers)
        ]
        for place, confirmation in enumerate(_confirmations(plan)):
            rule = confirmation.get("rule")
            if isinstance(rule, str) and rule not in content.rule_book.rules:
                hint = did_you_mean(rule, [known.id for known in content.rule_book.rules.values() if known.precautions])
                found.append((("plan", "confirm", place, "rule"), "is not a rule", hint))
    return found


def _offered(content: Content) -> dict[str, Sequence[str]]:
    return {
        "country": sorted(content.rule_book.countries),
        "language": (*content.languages, *PSEUDO_LOCALES),
        "reader": (*READERS, *CHILD_READERS),
        "format": tuple(FORMATS),
    }


def _not_offered(field: str, value: str, known: Sequence[str]) -> tuple[str, str]:
    offered = [one for one in known if one not in PSEUDO_LOCALES]
    return f"there are no leaflets for the {field} {shown(value)}", did_you_mean(value, offered)


def _override_problems(overrides: Mapping[str, str], content: Content) -> dict[str, Problem]:
    """Return what is wrong with the values given instead of the record's: they stand on no line of its file."""
    return {
        field: Problem(f"--{field}", *_not_offered(field, value, known))
        for field, known in _offered(content).items()
        if (value := overrides.get(field)) is not None and _plain(value) not in known
    }


def _settled_problems(settled: Mapping[str, str], content: Content) -> dict[str, Problem]:
    """Return what is wrong with the clinic's values for what a record leaves out, at their place in its file."""
    offered = _offered(content)
    return {
        field: Problem(content.clinic.place(_IN_CLINIC_FILE[field]), *_not_offered(field, value, offered[field]))
        for field, value in settled.items()
        if _plain(value) not in offered[field]
    }


def _confirmations(plan: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    confirm = plan.get("confirm")
    return [one for one in confirm if isinstance(one, Mapping)] if isinstance(confirm, list | tuple) else []


def _plain(value: str) -> str:
    return value.replace("_", "-")


def _well_formed(field: str, value: str) -> bool:
    """Return whether the record's own model lets the value pass, so that a fault is not reported twice."""
    try:
        Visit.__pydantic_validator__.validate_assignment(Visit.model_construct(), field, value)
    except ValidationError as error:
        return not any(details["loc"][:1] == (field,) for details in error.errors(include_url=False))
    return True
