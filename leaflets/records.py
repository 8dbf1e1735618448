"""Reading a record from disk: TOML or JSON, checked against its model, every problem with its place."""

import json
import re
import tomllib
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from leaflets.errors import LeafletError, Problem, did_you_mean
from leaflets.positions import line_of
from leaflets.rules.toml import not_toml

LARGEST_BYTES = 1_000_000
"""A record is a page of text; anything larger is a mistake."""

_Model = TypeVar("_Model", bound=BaseModel)
FieldFault = tuple[tuple[str | int, ...], str, str]
"""Where in the record, what is wrong, what to do."""

_QUOTED = re.compile(r"'([^']*)'")
_LONGEST_SHOWN = 40
_SIMPLE_MESSAGES = {
    "missing": "is missing",
    "bool_type": "is not true or false",
    "date_from_datetime_inexact": "is not a day",
    "date_from_datetime_parsing": "is not a day",
    "date_parsing": "is not a day",
    "date_type": "is not a day",
    "int_from_float": "is not a whole number",
    "int_parsing": "is not a whole number",
    "int_type": "is not a whole number",
    "mapping_type": "is not a table",
    "model_attributes_type": "is not a table",
    "model_type": "is not a table",
    "string_pattern_mismatch": "is not written as it has to be",
    "string_type": "is not a text",
    "too_short": "is an empty list",
    "tuple_type": "is not a list",
}
_SIMPLE_HINTS = {
    "missing": "write it",
    "int_type": "write a whole number, without quotes",
    "int_parsing": "write a whole number, without quotes",
    "int_from_float": "write a whole number",
    "date_from_datetime_parsing": "write a day that exists, as 2026-11-25",
    "date_parsing": "write a day that exists, as 2026-11-25",
    "date_type": "write a day that exists, as 2026-11-25",
    "date_from_datetime_inexact": "write a day without a time, as 2026-11-25",
    "mapping_type": "write a table with its lines below it",
    "model_attributes_type": "write a table with its fields below it",
    "too_short": "write at least one",
    "tuple_type": 'write a list, as ["left"], or [] for "looked for, none"',
    "string_type": "write a text, in quotes",
    "model_type": "write a table with its fields below it",
    "bool_type": "write true or false, without quotes",
}


def _as_written(data: Mapping[str, Any]) -> Mapping[str, Any]:
    return data


def _no_more_faults(_data: Mapping[str, Any]) -> list[FieldFault]:
    return []


def load_record(
    path: Path,
    model: type[_Model],
    settle: Callable[[Mapping[str, Any]], Mapping[str, Any]] = _as_written,
    more_faults: Callable[[Mapping[str, Any]], list[FieldFault]] = _no_more_faults,
) -> _Model:
    """Read a record.

    `settle` fills in what the record leaves to others; `more_faults` looks at the values for what a model of fields
    cannot say.

    Raises:
        LeafletError: with every problem of the file, in the order of their lines.

    """
    name = str(path)
    text = _read_text(path)
    data = settle(_parse(text, name, as_json=path.suffix.lower() == ".json"))
    faults: list[FieldFault] = []
    record: _Model | None = None
    try:
        record = model.model_validate(data)
    except ValidationError as error:
        faults += validation_faults(error, model)
    faults += more_faults(data)
    if faults or record is None:
        raise LeafletError(_placed(faults, name, text))
    return record


def validation_faults(error: ValidationError, model: type[BaseModel]) -> list[FieldFault]:
    """Turn a model's errors into faults in words a person can act on."""
    return [_fault(details, model) for details in error.errors(include_url=False)]


def _read_text(path: Path) -> str:
    try:
        with path.open("rb") as file:
            body = file.read(LARGEST_BYTES + 1)
        if len(body) > LARGEST_BYTES:
            message = f"is too large: a record has {LARGEST_BYTES} bytes at most"
            raise LeafletError.at(str(path), message, "look whether this is the right file")
        text = body.decode("utf-8-sig")
    except OSError as error:
        raise LeafletError.at(str(path), f"cannot be read: {error.strerror}", "give the path of a record") from None
    except UnicodeDecodeError as error:
        line = body.count(b"\n", 0, error.start) + 1
        raise LeafletError.at(f"{path}:{line}", f"is not UTF-8: byte {error.start}", "save the file as UTF-8") from None
    if not text.strip():
        raise LeafletError.at(str(path), "is empty", "write the record; see README, 'The visit record'")
    return text


def _parse(text: str, name: str, *, as_json: bool) -> Mapping[str, Any]:
    try:
        data = json.loads(text, object_pairs_hook=_each_name_once) if as_json else tomllib.loads(text)
    except json.JSONDecodeError as error:
        raise LeafletError.at(f"{name}:{error.lineno}", f"is not JSON: {error.msg}", "correct the line") from None
    except tomllib.TOMLDecodeError as error:
        raise not_toml(name, error) from None
    except _TwiceInJsonError as error:
        message = f"{shown(error.name)} stands twice in one object"
        again = [match.start() for match in re.finditer(rf'"{re.escape(error.name)}"\s*:', text)][-1:]
        place = f"{name}:{text.count(chr(10), 0, again[0]) + 1}" if again else name
        raise LeafletError.at(place, message, "leave one of them out") from None
    except RecursionError:
        raise LeafletError.at(name, "is nested too deeply", "write a record as README shows") from None
    if not isinstance(data, dict):
        raise LeafletError.at(name, "is not a record", "write an object with the fields that README lists")
    return data


class _TwiceInJsonError(Exception):
    """A name that an object has twice: the standard library would keep the last and say nothing."""

    def __init__(self, name: str) -> None:
        super().__init__(name)
        self.name = name


def _each_name_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    taken: dict[str, Any] = {}
    for name, value in pairs:
        if name in taken:
            raise _TwiceInJsonError(name)
        taken[name] = value
    return taken


def _placed(faults: list[FieldFault], name: str, text: str) -> list[Problem]:
    lines = [(line_of(text, path), path, message, hint) for path, message, hint in faults]
    lines.sort(key=lambda fault: (fault[0] or 0, [str(part) for part in fault[1]]))
    problems = [
        Problem(f"{name}:{line} [{_key(path)}]" if line else f"{name} [{_key(path)}]", message, hint)
        for line, path, message, hint in lines
    ]
    return list(dict.fromkeys(problems))


def _key(path: tuple[str | int, ...]) -> str:
    return ".".join(_printable(part) for part in path if not isinstance(part, int)) or "record"


def shown(value: object) -> str:
    """Return a value as a message shows it, on one line: in quotes, or "this" for what is long or not a text."""
    if isinstance(value, str) and len(value) <= _LONGEST_SHOWN:
        return f"'{_printable(value)}'"
    return "this"


def _printable(text: str) -> str:
    """Return a text without what would break the line or steer a terminal."""
    cut = text if len(text) <= _LONGEST_SHOWN else f"{text[:_LONGEST_SHOWN]}…"
    return "".join(letter if letter.isprintable() else "\N{REPLACEMENT CHARACTER}" for letter in cut)


def _fault(details: ErrorDetails, model: type[BaseModel]) -> FieldFault:
    location = tuple(part for part in details["loc"] if part != "[key]")  # pydantic's mark of a key at fault
    kind = details["type"]
    context = details.get("ctx", {})
    if kind == "contradiction":
        path = (*location, *(part for part in str(context["field"]).split(".") if part))
        return path, str(context["message"]), str(context["hint"])
    if kind == "extra_forbidden":
        known = _fields_at(model, location[:-1])
        return location, f"{shown(str(location[-1]))} is not a field here", did_you_mean(str(location[-1]), known)
    if kind == "literal_error":
        value = details["input"]
        allowed = _QUOTED.findall(str(context.get("expected", "")))
        return location, f"{shown(value)} is not a value", did_you_mean(str(value)[:_LONGEST_SHOWN], allowed)
    message = _SIMPLE_MESSAGES.get(kind) or details["msg"][0].lower() + details["msg"][1:]
    return location, message, _SIMPLE_HINTS.get(kind) or _described(model, location)


def _described(model: type[BaseModel], location: tuple[str | int, ...]) -> str:
    """Return what the field at a location wants, in the words of its own description."""
    names = [part for part in location if isinstance(part, str)]
    field = _model_at(model, names[:-1]).model_fields.get(names[-1]) if names else None
    return (field and field.description) or "see README, the fields of this file"


def _fields_at(model: type[BaseModel], location: tuple[str | int, ...]) -> list[str]:
    """Return the names of the fields of the table at a location."""
    return list(_model_at(model, location).model_fields)


def _model_at(model: type[BaseModel], location: Sequence[str | int]) -> type[BaseModel]:
    here: type[BaseModel] = model
    for part in location:
        if isinstance(part, str) and part in here.model_fields:
            found = _model_in(here.model_fields[part].annotation)
            if found is not None:
                here = found
    return here


def _model_in(annotation: Any) -> type[BaseModel] | None:  # noqa: ANN401 - annotations are of any kind
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for part in getattr(annotation, "__args__", ()):
        found = _model_in(part)
        if found is not None:
            return found
    return None
