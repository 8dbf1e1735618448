"""Taking in a visit: from a file, plain values or a `Visit`, checked against the content that leaflets are made of."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from leaflets.content import FORMATS, LANGUAGES, READERS, Content
from leaflets.course import dose_faults
from leaflets.errors import LeafletError, Problem, did_you_mean
from leaflets.records import FieldFault, load_record, validation_faults
from leaflets.visit import Visit

VisitSource = Visit | Mapping[str, Any] | Path | str


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

    def settle(data: Mapping[str, Any]) -> dict[str, Any]:
        return {**settled, **{key: value for key, value in data.items() if value is not None}, **overrides}

    def faults(data: Mapping[str, Any]) -> list[FieldFault]:
        return content_faults(data, content)

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
        raise LeafletError(Problem(f"visit [{'.'.join(map(str, path))}]", said, hint) for path, said, hint in found)
    return visit


def content_faults(data: Mapping[str, Any], content: Content) -> list[FieldFault]:
    """Return what the content cannot serve: a country, language, reader or format, a dose, a rule that is confirmed."""
    found: list[FieldFault] = []
    offered = {
        "country": sorted(content.rule_book.countries),
        "language": LANGUAGES,
        "reader": READERS,
        "format": FORMATS,
    }
    for field, known in offered.items():
        value = data.get(field)
        if isinstance(value, str) and _plain(value) not in known and _well_formed(field, value):
            found.append(((field,), f"there are no leaflets for the {field} '{value}'", did_you_mean(value, known)))
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
