"""The fields that rules may use: those of the visit record, and a few that named functions derive.

A rule for the person sees the person's and the plan's fields; a rule for an ear sees that ear's as well.
"""

from collections.abc import Iterable, Mapping
from typing import Literal, get_args, get_origin

from leaflets.rules.conditions import Fact, Facts, FactValue
from leaflets.visit import Ear, Person, PlanRecord, Visit
from leaflets.vocabulary import EarName, Method, Reader

INSTRUMENTS_IN_THE_CANAL: frozenset[Method] = frozenset({"microsuction", "instruments", "irrigation"})


def planned_drops(visit: Visit, ear: EarName) -> FactValue:
    """Return the agent planned for this ear, "none", or None where the plan was not recorded."""
    if visit.plan.drops is None:
        return None
    return visit.plan.drops if ear in (visit.plan.drops_for or ()) else "none"


def instrumented(visit: Visit, ear: EarName) -> FactValue:
    """Return whether anything or any water went into the canal: "yes", "no", or None where no method was recorded."""
    record = visit.ear(ear)
    if record is None or record.method is None:
        return None
    return "yes" if INSTRUMENTS_IN_THE_CANAL & set(record.method) else "no"


def symptomatic(visit: Visit, ear: EarName) -> FactValue:
    """Return whether the person had any symptom in this ear: "yes", "no", or None where it was not recorded."""
    record = visit.ear(ear)
    if record is None or record.symptoms is None:
        return None
    return "yes" if record.symptoms else "no"


_WET_SIGNS: Mapping[str, frozenset[str]] = {
    "eardrum": frozenset({"perforated", "tube"}),
    "object": frozenset({"present", "suspected"}),
    "canal": frozenset({"infected", "discharge"}),
    "symptoms": frozenset({"discharge"}),
    "symptoms_after": frozenset({"discharge"}),
}
"""What in an ear forbids water until somebody has looked at it again.

Source: NHS perforated eardrum; NICE CKS otitis externa; NHS Lothian RefHelp (tubes, objects).
"""


def ear_to_keep_dry(visit: Visit) -> FactValue:
    """Return whether any ear must stay dry until it is seen again: "yes", "no", or None where that is not known."""
    return _fact_of_dry_ears(visit).value


def _fact_of_dry_ears(visit: Visit) -> Fact:
    missing: list[str] = []
    for name in visit.ears_examined:
        ear = visit.ear(name)
        for field, wet in _WET_SIGNS.items():
            value = getattr(ear, field)
            if value is None:
                missing.append(f"{name}.{field}")
            elif wet & _as_set(value):
                return Fact(f"{name}.ear_to_keep_dry", "yes")
    return Fact("ear_to_keep_dry", None if missing else "no", tuple(missing))


def _as_set(value: object) -> set[str]:
    return set(value) if isinstance(value, tuple) else {str(value)}


def review_planned(visit: Visit) -> FactValue:
    """Return "yes" where a review date or interval was recorded, otherwise "no": a plan without one has none."""
    return "yes" if visit.plan.review_date or visit.plan.review_in_days else "no"


_YES_OR_NO = frozenset({"yes", "no"})
_PERSON_RECORDED = ("age_years", "habits", "conditions", "allergies")
_PLAN_RECORDED = ("drops", "referral")


def _values(annotation: object) -> frozenset[str] | None:
    """Return the values that a field's type allows; None: it is a number."""
    if get_origin(annotation) is Literal:
        return frozenset(get_args(annotation))
    found: frozenset[str] = frozenset()
    for part in get_args(annotation):
        found |= _values(part) or frozenset()
    return found or None


def _model_values(model: type[Ear | Person | PlanRecord], names: Iterable[str]) -> dict[str, frozenset[str] | None]:
    return {name: _values(model.model_fields[name].annotation) for name in names}


PERSON_FIELDS: dict[str, frozenset[str] | None] = {
    **_model_values(Person, _PERSON_RECORDED),
    **_model_values(PlanRecord, _PLAN_RECORDED),
    "reader": frozenset(get_args(Reader)),
    "review_planned": _YES_OR_NO,
    "ear_to_keep_dry": _YES_OR_NO,
}
"""Field -> the values it may have; None: it is a number."""

EAR_FIELDS: dict[str, frozenset[str] | None] = {
    **_model_values(Ear, Ear.model_fields),
    "planned_drops": PERSON_FIELDS["drops"],
    "instrumented": _YES_OR_NO,
    "symptomatic": _YES_OR_NO,
}
"""Field -> the values it may have; None: it is a number. Rules for an ear see `PERSON_FIELDS` too."""


def person_facts(visit: Visit) -> Facts:
    """Return what rules for the person see."""
    facts = {name: Fact(f"person.{name}", getattr(visit.person, name)) for name in _PERSON_RECORDED}
    facts |= {name: Fact(f"plan.{name}", getattr(visit.plan, name)) for name in _PLAN_RECORDED}
    facts["reader"] = Fact("reader", visit.reader)
    facts["ear_to_keep_dry"] = _fact_of_dry_ears(visit)
    facts["review_planned"] = Fact("plan.review_planned", review_planned(visit), ("plan.review_date",))
    return facts


def ear_facts(visit: Visit, ear: EarName) -> Facts:
    """Return what rules for an ear see, of an ear that was examined."""
    record = visit.ear(ear)
    facts = dict(person_facts(visit))
    facts |= {name: Fact(f"{ear}.{name}", getattr(record, name)) for name in Ear.model_fields}
    facts["planned_drops"] = Fact("plan.drops", planned_drops(visit, ear))
    facts["instrumented"] = Fact(f"{ear}.instrumented", instrumented(visit, ear), (f"{ear}.method",))
    facts["symptomatic"] = Fact(f"{ear}.symptomatic", symptomatic(visit, ear), (f"{ear}.symptoms",))
    return facts
