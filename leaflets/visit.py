"""The visit record: what one practitioner found, did and planned, in the trade's words.

A field that is None was *not recorded*, which is not the same as "none": a list that is empty was looked for and
nothing was found. The record holds no name and no date of birth.
"""

import datetime
from collections.abc import Sequence
from typing import Annotated, Any, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator
from pydantic_core import PydanticCustomError

from leaflets.vocabulary import (
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


def _coded(field: str) -> dict[str, Any]:
    return {"x-icd-10": icd10_codes(field)}


class _Record(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", strict=False)


def _contradiction(field: str, message: str, hint: str) -> PydanticCustomError:
    """Make the error of two fields that cannot both hold; `field` is the one to look at first."""
    return PydanticCustomError("contradiction", "{message}", {"message": message, "hint": hint, "field": field})


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

    @model_validator(mode="after")
    def _holds_together(self) -> Self:
        if self.wax_before == "none" and self.wax_after not in (None, "none"):
            raise _contradiction(
                "wax_after",
                "wax_before is none, so nothing was there to clear",
                "set wax_after = 'none', or correct wax_before",
            )
        if self.wax_before in ("some", "occluding") and self.wax_after == "none":
            raise _contradiction(
                "wax_after",
                "there was wax before, so wax_after cannot be none",
                "say cleared, partly-cleared, not-cleared or not-attempted",
            )
        if self.method is not None and "none" in self.method and len(self.method) > 1:
            raise _contradiction("method", "none stands beside a method", "leave one of them out")
        return self


class Confirmation(_Record):
    """A precaution that the practitioner confirms: the rule is given all the same, and this goes on the record."""

    rule: Annotated[str, Field(min_length=3, max_length=80)]
    reason: Annotated[str, Field(min_length=3, max_length=300)]


class PlanRecord(_Record):
    """What the practitioner plans. `drops` None: not recorded; "none": no drops are wanted."""

    drops: Drops | None = None
    drops_for: tuple[EarName, ...] | None = None
    drops_per_dose: Annotated[int, Field(strict=True)] | None = None
    times_a_day: Annotated[int, Field(strict=True)] | None = None
    days: Annotated[int, Field(strict=True)] | None = None
    review_date: datetime.date | None = None
    review_in_days: Annotated[int, Field(ge=1, le=_LONGEST_REVIEW_DAYS, strict=True)] | None = None
    referral: Referral | None = None
    confirm: tuple[Confirmation, ...] = ()

    @model_validator(mode="after")
    def _holds_together(self) -> Self:
        dose = [name for name in ("drops_per_dose", "times_a_day", "days") if getattr(self, name) is not None]
        if self.drops in (None, "none"):
            if self.drops_for:
                raise _contradiction(
                    "drops_for", "names an ear, but no drops are planned", "set drops, or leave drops_for out"
                )
            if dose:
                raise _contradiction(dose[0], "is set, but no drops are planned", f"set drops, or leave {dose[0]} out")
        elif not self.drops_for:
            raise _contradiction(
                "drops_for",
                "is not recorded, but drops are planned",
                "name the ear or ears: ['left'], ['right'] or both",
            )
        if self.review_date is not None and self.review_in_days is not None:
            raise _contradiction("review_in_days", "stands beside review_date", "leave one of them out")
        return self


class Visit(_Record):
    """One visit, as it was recorded. See README, "The visit record", field by field."""

    ref: Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$")]
    date: datetime.date
    country: Annotated[str, Field(pattern=r"^[A-Z]{2}$")] | None = None
    language: Annotated[str, Field(pattern=r"^[A-Za-z]{2,3}([-_][A-Za-z0-9]{2,8})*$")] | None = None
    reader: Reader
    format: Format | None = None
    practitioner: Annotated[str, Field(min_length=1, max_length=30)] | None = None
    person: Person = Person()
    left: Ear | None = None
    right: Ear | None = None
    plan: PlanRecord = PlanRecord()

    @model_validator(mode="after")
    def _holds_together(self) -> Self:
        if self.left is None and self.right is None:
            raise _contradiction("left", "neither ear was examined", "record [left], [right] or both")
        for ear in self.plan.drops_for or ():
            if self.ear(ear) is None:
                raise _contradiction(
                    "plan.drops_for",
                    f"names the {ear} ear, which was not examined",
                    f"record [{ear}], or take it out",
                )
        if self.plan.review_date is not None and self.plan.review_date <= self.date:
            raise _contradiction(
                "plan.review_date", "is not after the visit", "give a date after `date`, or leave it out"
            )
        if self.plan.confirm and self.practitioner is None:
            raise _contradiction(
                "practitioner",
                "is not recorded, but a precaution is confirmed",
                "say who confirms it: initials or registration number",
            )
        return self

    def ear(self, name: EarName) -> Ear | None:
        """Return one ear's findings; None: it was not examined."""
        return self.left if name == "left" else self.right

    @property
    def ears_examined(self) -> Sequence[EarName]:
        """The ears that were examined, left first."""
        names: tuple[EarName, ...] = ("left", "right")
        return tuple(name for name in names if self.ear(name) is not None)
