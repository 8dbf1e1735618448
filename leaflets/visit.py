"""The visit record: what one practitioner found, did and planned, in the trade's words.

A field that is None was *not recorded*, which is not the same as "none": a list that is empty was looked for and
nothing was found. The record holds no name and no date of birth.
"""

import datetime
from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, Any, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator

from leaflets.record_types import Day, Line, contradiction
from leaflets.vocabulary import (
    AGENTS,
    EARS,
    Allergy,
    Canal,
    Drops,
    Eardrum,
    EarHistory,
    EarName,
    Event,
    Format,
    Habit,
    Method,
    ObjectKind,
    ObjectState,
    PersonCondition,
    Reader,
    Referral,
    Symptom,
    WaxAfter,
    WaxBefore,
    icd10_codes,
)

_LONGEST_REVIEW_DAYS = 730

_Reference = Annotated[
    str,
    Field(
        pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$",
        description="write up to 40 letters, figures, dots, hyphens; it names the files",
    ),
]
_Country = Annotated[str, Field(pattern=r"^[A-Z]{2}$", description="write two capitals, as GB: ISO 3166")]
_Language = Annotated[
    str,
    Field(pattern=r"^[A-Za-z]{2,3}([-_][A-Za-z0-9]{2,8})*$", description="write a language as en or en-GB: BCP 47"),
]


def _coded(field: str) -> dict[str, Any]:
    return {"x-icd-10": icd10_codes(field)}


class _Record(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", strict=False)


class Person(_Record):
    """The person whose ears were looked at."""

    age_years: Annotated[int, Field(ge=0, le=120, strict=True)] | None = None
    habits: tuple[Habit, ...] | None = Field(default=None, json_schema_extra=_coded("habits"))
    conditions: tuple[PersonCondition, ...] | None = Field(default=None, json_schema_extra=_coded("conditions"))
    allergies: tuple[Allergy, ...] | None = None


class Ear(_Record):
    """What was found and done in one ear."""

    wax_before: WaxBefore | None = Field(default=None, json_schema_extra=_coded("wax_before"))
    wax_after: WaxAfter | None = None
    method: tuple[Method, ...] | None = None
    eardrum: Eardrum | None = Field(default=None, json_schema_extra=_coded("eardrum"))
    canal: tuple[Canal, ...] | None = Field(default=None, json_schema_extra=_coded("canal"))
    object: ObjectState | None = Field(default=None, json_schema_extra=_coded("object"))
    object_kind: ObjectKind | None = None
    history: tuple[EarHistory, ...] | None = None
    symptoms: tuple[Symptom, ...] | None = Field(default=None, json_schema_extra=_coded("symptoms"))
    symptoms_after: tuple[Symptom, ...] | None = Field(default=None, json_schema_extra=_coded("symptoms_after"))
    events: tuple[Event, ...] | None = None


class Confirmation(_Record):
    """A precaution that the practitioner confirms: the rule is given all the same, and this goes on the record."""

    rule: Annotated[str, Field(min_length=3, max_length=80)]
    reason: Annotated[Line, Field(min_length=3)]


class PlanRecord(_Record):
    """What the practitioner plans. `drops` None: not recorded; "none": no drops are wanted."""

    drops: Drops | None = None
    drops_for: tuple[EarName, ...] | None = None
    drops_per_dose: Annotated[int, Field(strict=True)] | None = None
    times_a_day: Annotated[int, Field(strict=True)] | None = None
    days: Annotated[int, Field(strict=True)] | None = None
    review_date: Day | None = None
    review_in_days: Annotated[int, Field(ge=1, le=_LONGEST_REVIEW_DAYS, strict=True)] | None = None
    referral: Referral | None = None
    confirm: tuple[Confirmation, ...] = ()


class Visit(_Record):
    """One visit, as it was recorded. See README, "The visit record", field by field."""

    ref: _Reference
    date: Day
    country: _Country | None = None
    language: _Language | None = None
    reader: Reader
    format: Format | None = None
    practitioner: Annotated[Line, Field(max_length=30)] | None = None
    person: Person = Person()
    left: Ear | None = None
    right: Ear | None = None
    plan: PlanRecord = PlanRecord()

    @model_validator(mode="after")
    def _holds_together(self) -> Self:
        for path, message, hint in contradictions(self.model_dump()):
            raise contradiction(message, hint, ".".join(path))
        return self

    def ear(self, name: EarName) -> Ear | None:
        """Return one ear's findings; None: it was not examined."""
        return self.left if name == "left" else self.right

    @property
    def ears_examined(self) -> Sequence[EarName]:
        """The ears that were examined, left first."""
        names: tuple[EarName, ...] = ("left", "right")
        return tuple(name for name in names if self.ear(name) is not None)


def contradictions(record: Mapping[str, Any]) -> Iterator[tuple[tuple[str, ...], str, str]]:
    """Find what cannot hold together in a record: the path of the field to look at, what is wrong, what to do.

    Works on the values as they were written, so that a field which is wrong in itself hides no contradiction of others;
    what it cannot read it leaves to the fields' own types.
    """
    ears = [name for name in EARS if isinstance(record.get(name), Mapping)]
    if not ears and not any(record.get(name) for name in EARS):
        yield ("left",), "neither ear was examined", "record [left], [right] or both"
    for name in ears:
        for field, message, hint in _ear_contradictions(record[name]):
            yield (name, field), message, hint
    plan = record.get("plan")
    if isinstance(plan, Mapping):
        for field, message, hint in _plan_contradictions(plan, ears, _as_day(record.get("date"))):
            yield ("plan", field), message, hint
        if plan.get("confirm") and record.get("practitioner") is None:
            message = "is not recorded, but a precaution is confirmed"
            yield ("practitioner",), message, "say who confirms it: initials or registration number"


def _ear_contradictions(ear: Mapping[str, Any]) -> Iterator[tuple[str, str, str]]:
    before, after, method = ear.get("wax_before"), ear.get("wax_after"), ear.get("method")
    if before == "none" and after in ("cleared", "partly-cleared", "not-cleared", "not-attempted"):
        message = "wax_before is none, so nothing was there to clear"
        yield "wax_after", message, "set wax_after = 'none', or correct wax_before"
    if before in ("some", "occluding") and after == "none":
        message = "there was wax before, so wax_after cannot be none"
        yield "wax_after", message, "say cleared, partly-cleared, not-cleared or not-attempted"
    if isinstance(method, list | tuple) and "none" in method and len(method) > 1:
        yield "method", "none stands beside a method", "leave one of them out"


def _plan_contradictions(
    plan: Mapping[str, Any], ears: Sequence[EarName], date: datetime.date | None
) -> Iterator[tuple[str, str, str]]:
    drops, drops_for = plan.get("drops"), plan.get("drops_for")
    if drops is None or drops == "none":
        if drops_for:
            yield "drops_for", "names an ear, but no drops are planned", "set drops, or leave drops_for out"
        for field in ("drops_per_dose", "times_a_day", "days"):
            if plan.get(field) is not None:
                yield field, "is set, but no drops are planned", f"set drops, or leave {field} out"
    elif drops in AGENTS and not drops_for:
        message = "is not recorded, but drops are planned"
        yield "drops_for", message, "name the ear or ears: ['left'], ['right'] or both"
    for ear in drops_for if isinstance(drops_for, list | tuple) else ():
        if ear in EARS and ear not in ears:
            yield "drops_for", f"names the {ear} ear, which was not examined", f"record [{ear}], or take it out"
    review = _as_day(plan.get("review_date"))
    if plan.get("review_date") is not None and plan.get("review_in_days") is not None:
        yield "review_in_days", "stands beside review_date", "leave one of them out"
    if review is not None and date is not None and review <= date:
        yield "review_date", "is not after the visit", "give a date after `date`, or leave it out"


def _as_day(value: object) -> datetime.date | None:
    """Return a day as TOML or JSON writes it; None: it is none."""
    if isinstance(value, datetime.date) and not isinstance(value, datetime.datetime):
        return value
    try:
        return datetime.date.fromisoformat(value) if isinstance(value, str) else None
    except ValueError:
        return None
