"""What is asked for a sheet for everybody, by topic or for a school class. No field is about a person."""

from typing import Annotated

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field

from leaflets.record_types import Day, Line, contradiction
from leaflets.visit import Person, PlanRecord, Visit
from leaflets.vocabulary import AgeBand, Paper, Reader

SMALLEST_CLASS = 1
LARGEST_CLASS = 60
"""Children of a class set: two classes together are the most; common practice, no source."""
LONGEST_SEED = 80
"""Characters of a seed, which stands on the answers; our own choice."""

Language = Annotated[
    str,
    Field(pattern=r"^[A-Za-z]{2,3}([-_][A-Za-z0-9]{2,8})*$", description="write a language as en or en-GB: BCP 47"),
]
Country = Annotated[str, Field(pattern=r"^[A-Z]{2}$", description="write two capitals, as GB: ISO 3166")]


def _a_class(size: int) -> int:
    """Refuse a class of nobody, and one that no school has."""
    if not SMALLEST_CLASS <= size <= LARGEST_CLASS:
        hint = f"give {SMALLEST_CLASS} to {LARGEST_CLASS}; make a larger group class by class, each with its own seed"
        raise contradiction(f"{size} is no class size", hint)
    return size


def _short(seed: object) -> object:
    if isinstance(seed, str) and len(seed) > LONGEST_SEED:
        raise contradiction(f"has {len(seed)} characters", f"give {LONGEST_SEED} at most, such as a class's name")
    return seed


class _Request(BaseModel):
    """What every sheet for everybody is asked for with.

    `date`: the day it is made, which decides whether the review of its words is overdue; it is not printed.
    `beside`: a second language beside the first. None: there is none.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=False)

    language: Language
    country: Country
    paper: Paper = "a4"
    date: Day
    beside: Language | None = None


class TopicRequest(_Request):
    """A prevention leaflet on one topic of topics.toml."""

    topic: Annotated[str, Field(min_length=1, max_length=40)]


class SchoolRequest(_Request):
    """A school pack.

    `class_size`: how many pages of activities are made, each of its own, SMALLEST_CLASS to LARGEST_CLASS.
    `seed`: with the number of the page it decides what stands on it, so that the same class set can be made again.
    """

    band: AgeBand
    class_size: Annotated[int, Field(strict=True), AfterValidator(_a_class)] = 1
    seed: Annotated[Line, BeforeValidator(_short)] = "1"


def nobodys_visit(request: TopicRequest | SchoolRequest, reader: Reader, age_years: int | None) -> Visit:
    """Return what stands in for the visit of a sheet for everybody: nobody was seen, and nothing was found or planned.

    `reader`: whom the sheet speaks to. `age_years`: of those whom it is about. None: of every age.

    It holds no condition that a sheet would have to ask about: who has one is spoken to in words of its own.
    """
    return Visit.model_construct(
        ref="for-everybody",
        date=request.date,
        country=request.country,
        language=request.language,
        reader=reader,
        format=request.paper,
        practitioner=None,
        person=Person(age_years=age_years, conditions=(), habits=(), allergies=()),
        left=None,
        right=None,
        plan=PlanRecord(drops="none"),
    )
