"""All that a visit may record, by introspection of the record; outcomes as flat mappings; the judge of single rules.

An outcome is a mapping such as {"left.eardrum": "perforated", "person.age_years": 46}. A field that it does not name
was not recorded. What the record itself refuses (wax left where there was none) is no outcome, and is passed over.
"""

import datetime
import itertools
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, get_args, get_origin

from pydantic import ValidationError

from leaflets.plan import plan
from leaflets.rules.rule import Rule
from leaflets.visit import Ear, Person, PlanRecord, Visit

Outcome = dict[str, Any]
Rules = Mapping[str, Rule]

VISIT_DAY = datetime.date(2026, 11, 25)
DROPS_RULE = "wax/softening-drops"
UPKEEP_RULE = "wax/upkeep"
DROPS_BLOCKS = frozenset({"drops/course", "drops/how-to", "drops/upkeep"})


def _choices(annotation: Any) -> tuple[tuple[str, ...], bool]:
    """Return the values that a field's type allows, and whether it is a list of them."""
    if get_origin(annotation) is tuple:
        return _choices(get_args(annotation)[0])[0], True
    parts = get_args(annotation)
    if parts and all(isinstance(part, str) for part in parts):
        return parts, False
    found = [_choices(part) for part in parts]
    return next(((values, many) for values, many in found if values), ((), False))


def _fields(model: Any, table: str, names: Iterable[str]) -> dict[str, tuple[Any, ...]]:
    fields = {}
    for name in names:
        values, many = _choices(model.model_fields[name].annotation)
        fields[f"{table}.{name}"] = ((), *((value,) for value in values)) if many else values
    return fields


# Below, at and above every age that a rule, a label or the guidance names: 0, 1, 2, 3, 5, 12, 16 (and adults).
AGES = (0, 1, 2, 3, 4, 5, 7, 8, 11, 12, 15, 16, 17, 18, 46, 120)

VALUES: dict[str, tuple[Any, ...]] = {
    **_fields(Ear, "left", Ear.model_fields),
    **_fields(Person, "person", ("habits", "conditions", "allergies")),
    **_fields(PlanRecord, "plan", ("drops", "referral")),
    "person.age_years": AGES,
}
"""Field -> the values it may record: for a list the empty one and each value alone. Not recorded stands beside them."""

AGENTS: tuple[str, ...] = tuple(agent for agent in VALUES["plan.drops"] if agent != "none")

NOTHING_AGAINST: Outcome = {
    "person.age_years": 46,
    "person.habits": (),
    "person.conditions": (),
    "person.allergies": (),
    "left.wax_before": "occluding",
    "left.wax_after": "partly-cleared",
    "left.method": ("microsuction",),
    "left.eardrum": "intact",
    "left.canal": (),
    "left.object": "none",
    "left.history": (),
    "left.symptoms": ("hearing-loss",),
    "left.symptoms_after": (),
    "left.events": (),
    "plan.drops": "olive-oil",
    "plan.drops_for": ("left",),
    "plan.referral": "none",
}
"""Wax is left in the left ear, drops are planned for it, and nothing stands against them."""

CLEARED: Outcome = {
    **NOTHING_AGAINST,
    "left.wax_after": "cleared",
    "left.canal": ("deep-hairs",),
    "person.habits": ("ear-plugs", "trims-ear-hair", "swims"),
    "plan.drops": "none",
    "plan.drops_for": (),
}
"""The left ear is clear and nothing is wrong with it: upkeep, trimming and swimming may all be spoken of."""


def with_right(outcome: Outcome, **changes: Any) -> Outcome:
    """Return the outcome with a right ear found as the left one, but for `changes`."""
    right = {f"right.{key.split('.')[1]}": value for key, value in outcome.items() if key.startswith("left.")}
    return {**outcome, **right, **{f"right.{name}": value for name, value in changes.items()}}


def without(outcome: Outcome, *fields: str) -> Outcome:
    """Return the outcome with fields not recorded."""
    return {field: value for field, value in outcome.items() if field not in fields}


def record_of(outcome: Outcome) -> dict[str, Any]:
    """Return the record of an outcome, table by table."""
    record: dict[str, Any] = {"ref": "INV", "date": VISIT_DAY, "reader": "adult", "practitioner": "KD", "left": {}}
    for path, value in outcome.items():
        table, _, name = path.rpartition(".")
        if table:
            record.setdefault(table, {})[name] = value
        else:
            record[name] = value
    return record


def visit_of(outcome: Outcome) -> Visit | None:
    """Return the visit; None: no such visit can be recorded."""
    try:
        return Visit.model_validate(record_of(outcome))
    except ValidationError:
        return None


def product(fields: Iterable[str], base: Outcome, *, unrecorded: bool = True) -> Iterator[Outcome]:
    """Return every combination of the fields' values (and not recorded), over a base."""
    names = tuple(fields)
    ranges = [(*VALUES[name], None) if unrecorded else VALUES[name] for name in names]
    for chosen in itertools.product(*ranges):
        outcome = {**base, **dict(zip(names, chosen, strict=True))}
        yield {field: value for field, value in outcome.items() if value is not None}


def changed_in_two_fields(base: Outcome, *, keep: Iterable[str] = ()) -> Iterator[Outcome]:
    """Return the base with every pair of fields set to every pair of values, not recorded among them."""
    free = [field for field in VALUES if field not in set(keep)]
    for pair in itertools.combinations(free, 2):
        yield from product(pair, base)


class Judge:
    """Judges single rules on outcomes of the left ear, and counts the outcomes judged."""

    def __init__(self, rules: Rules) -> None:
        self.rules = rules
        self.judged = 0

    def verdict(self, rule_id: str, outcome: Outcome, ear: str = "left") -> str | None:
        """Return given, withheld, asked, or nothing (the rule does not apply); None: no such visit can be recorded."""
        visit = visit_of(outcome)
        if visit is None:
            return None
        self.judged += 1
        judged = plan(visit, (self.rules[rule_id],))
        for name in ("given", "withheld", "asked"):
            for one in getattr(judged, name):
                if not one.ears or ear in one.ears:
                    return name
        return "nothing"

    def given(self, rule_id: str, outcome: Outcome, ear: str = "left") -> bool:
        """Return whether the rule is given."""
        return self.verdict(rule_id, outcome, ear) == "given"

    def never_given(self, rule_id: str, forbidding: Outcome, plans: Iterable[Outcome] = ({},)) -> None:
        """Prove that the rule is given in no outcome in which `forbidding` holds, whatever else was recorded.

        With everything else not recorded the rule must be forbidden already. A fact that becomes known never overturns
        a judgement (test_logic), so it stays forbidden in every outcome that `forbidding` is part of. Outcomes with the
        practitioner's confirmation are judged as well: a contraindication cannot be confirmed away.
        """
        for planned in plans:
            for confirmed in ({}, confirmation(rule_id)):
                outcome = {**planned, **forbidding, **confirmed}
                verdict = self.verdict(rule_id, outcome)
                assert verdict in ("withheld", "nothing", None), (rule_id, outcome, verdict)


def confirmation(rule_id: str) -> Outcome:
    """Return the practitioner's confirmation of a rule, with a reason."""
    return {"plan.confirm": ({"rule": rule_id, "reason": "looked at and judged safe"},)}


def planned(agents: Iterable[str] = AGENTS) -> list[Outcome]:
    """Return the plans of drops for the left ear, one for each agent, and nothing else recorded."""
    return [{"plan.drops": agent, "plan.drops_for": ("left",)} for agent in agents]
