"""Taking in what somebody asks for who makes a sheet, checked against the content that sheets are made of."""

from collections.abc import Mapping
from typing import Any, TypeVar

from pydantic import ValidationError

from leaflets.catalogue.pseudo import PSEUDO_LOCALES
from leaflets.content import Content
from leaflets.errors import LeafletError, Problem, did_you_mean
from leaflets.outreach_request import SchoolRequest, TopicRequest
from leaflets.records import shown, validation_faults

_Request = TypeVar("_Request", TopicRequest, SchoolRequest)
_ARGUMENTS = ("topic",)
"""Fields that the command takes without an option."""
_ALSO = {"topic": ("school",)}
"""What the command takes in the place of a field's own values."""


def read_request(model: type[_Request], given: Mapping[str, Any], content: Content) -> _Request:
    """Read a request. What is not given is as the clinic has it: language, country, paper.

    Raises:
        LeafletError: with every problem, each with its option.

    """
    file = content.clinic.file
    # A clinic on another paper than the two prints its sheets on A4.
    paper = file.paper if file.paper == "letter" else "a4"
    data: dict[str, Any] = {"language": file.language, "country": file.country, "paper": paper}
    data |= {field: value for field, value in given.items() if value is not None}
    problems = []
    request: _Request | None = None
    try:
        request = model.model_validate(data)
    except ValidationError as error:
        problems += [
            Problem(place_of(str(path[0]) if path else ""), message, hint)
            for path, message, hint in validation_faults(error, model)
        ]
    faulty = {problem.place for problem in problems}
    problems += [problem for problem in _not_offered(data, content) if problem.place not in faulty]
    if problems or request is None:
        raise LeafletError(dict.fromkeys(problems))
    return request


def place_of(field: str) -> str:
    """Return how a field of a request is shown.

    >>> place_of("class_size"), place_of("topic")
    ('--class-size', 'topic')

    """
    return field if field in _ARGUMENTS else f"--{field.replace('_', '-')}"


def _not_offered(data: Mapping[str, Any], content: Content) -> list[Problem]:
    """Return what the content cannot serve: a topic, a language or a country."""
    languages = (*content.languages, *PSEUDO_LOCALES)
    topics = tuple(content.rule_book.topics)
    offered = {"topic": topics, "language": languages, "beside": languages, "country": content.rule_book.countries}
    problems = []
    for field, known in offered.items():
        value = data.get(field)
        if isinstance(value, str) and value not in known:
            said = f"there are no sheets for the {'language' if field == 'beside' else field} {shown(value)}"
            hint = did_you_mean(value, [one for one in (*known, *_ALSO.get(field, ())) if one not in PSEUDO_LOCALES])
            problems.append(Problem(place_of(field), said, hint))
    beside = data.get("beside")
    if beside is not None and beside == data.get("language"):
        problems.append(Problem("--beside", "is the language of the sheet itself", "name another, or leave it out"))
    return problems
