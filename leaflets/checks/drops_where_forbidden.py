"""SAFE02: drops for an ear that must not have them.

What: for each ear that a block of drops is for, what the invariants forbid is looked up in the visit once more.
Why: drops behind a hole, on a battery, or in place of urgent care do harm. The rules hold all of this as well; this
list stands apart from them, so that one wrong line in a rules file cannot let drops through. A field that decides and
was not recorded counts as forbidden.
Source: NHS earwax build-up, NHS Tayside RefGuide Ear wax, Sussex Community, MSD Manual (hole, tube, eardrum not seen);
labels, AAO-HNSF 2017 patient advice (infection, pain, surgery); NHS Lothian RefHelp (object, battery); NICE NG98 1.1.2
(sudden loss); AboutKidsHealth and labels (ages). Confirmed doubts: the same sources, cell by cell, in part a careful
extension of them that the clinical lead confirms.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from leaflets.checks.changes import block_added, course_added, ear_with, person_with, plan_with
from leaflets.checks.evidence import Evidence, Example
from leaflets.model import Finding
from leaflets.visit import Confirmation, Ear, Person
from leaflets.vocabulary import AGENTS, EarName

CODE = "SAFE02"

COURSE_BLOCKS = ("drops/course", "drops/how-to")
UPKEEP_BLOCK = "drops/upkeep"
COURSE_RULE = "wax/softening-drops"
"""The rule whose confirmation the practitioner records when drops are given despite a doubt."""

_UPKEEP_AGENT = "olive-oil"
_PLAIN_AGENTS = frozenset({"olive-oil", "almond-oil", "saline"})
_CONFIRMABLE_AGENTS: Mapping[str, frozenset[str]] = {
    "infected": frozenset(),
    "discharge": frozenset(),
    "eczema": _PLAIN_AGENTS | {"sodium-bicarbonate"},
    "ear-surgery": _PLAIN_AGENTS,
    "mastoid-cavity": _PLAIN_AGENTS,
    "scratched": _PLAIN_AGENTS,
    "bleeding": _PLAIN_AGENTS,
    "perforation": frozenset(AGENTS),
    "tube": frozenset(AGENTS),
    "narrow": frozenset(AGENTS),
    "bony-growths": frozenset(AGENTS),
}
"""What of an ear's history or canal stands against drops, with the agents that may be confirmed all the same."""

_RISKY_HISTORY = frozenset({"perforation", "ear-surgery", "tube", "recurrent-infection"})
_FORBIDDEN_SYMPTOMS = frozenset(
    {
        "pain",
        "severe-pain",
        "discharge",
        "bleeding",
        "swelling-behind-ear",
        "facial-weakness",
        "fever",
        "sudden-hearing-loss",
    }
)
_NO_DROPS_UP_TO_YEARS = 0
_ORDERED_ONLY_UP_TO_YEARS = 2
_BICARBONATE_CONFIRMED_UP_TO_YEARS = 4
_PEROXIDE_CONFIRMED_UP_TO_YEARS = 11


@dataclass(frozen=True)
class Obstacle:
    """What stands against drops in one ear.

    Attributes:
        field: path of the field in the visit.
        fact: what it says, in the record's own words.
        confirmable: whether the practitioner may give drops all the same, with a reason on record.

    """

    field: str
    fact: str
    confirmable: bool = False


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find drops given where the visit forbids them."""
    confirmed = any(confirmation.rule == COURSE_RULE for confirmation in evidence.visit.plan.confirm)
    for block in evidence.leaflet.blocks:
        if block.id not in (*COURSE_BLOCKS, UPKEEP_BLOCK):
            continue
        # Nobody can confirm oil for upkeep: the confirmation on record is of the course.
        agent = _UPKEEP_AGENT if block.id == UPKEEP_BLOCK else evidence.visit.plan.drops
        confirmations_count = confirmed and block.id != UPKEEP_BLOCK
        for ear in block.ears or evidence.visit.ears_examined:
            for obstacle in obstacles(evidence, ear, agent):
                if not (obstacle.confirmable and confirmations_count):
                    message = f"{block.id} is given for the {ear} ear, and {obstacle.field} {obstacle.fact}"
                    hint = "take the drops out of the plan for this ear, and report the rule that let them through"
                    yield Finding(CODE, "stop", obstacle.field, message, hint)


def obstacles(evidence: Evidence, name: EarName, agent: str | None) -> Iterator[Obstacle]:
    """Return all that stands against drops of an agent in one ear."""
    ear = evidence.visit.ear(name)
    if ear is None:
        yield Obstacle(name, "is not recorded: the ear was not examined")
        return
    if agent is None or agent == "none":
        yield Obstacle("plan.drops", "plans none")
        return
    yield from _not_recorded(name, ear, evidence.visit.person)
    yield from _of_ear(name, ear, agent)
    yield from _of_symptoms(name, ear)
    yield from _of_person(evidence.visit.person, agent)


def _not_recorded(name: EarName, ear: Ear, person: Person) -> Iterator[Obstacle]:
    decisive = ("eardrum", "canal", "object", "history", "symptoms", "symptoms_after")
    for path, value in (
        *((f"{name}.{field}", getattr(ear, field)) for field in decisive),
        *((f"person.{field}", getattr(person, field)) for field in ("age_years", "conditions", "allergies")),
    ):
        if value is None:
            yield Obstacle(path, "is not recorded, which is not the same as none")


def _of_ear(name: EarName, ear: Ear, agent: str) -> Iterator[Obstacle]:
    risky = sorted(set(ear.history or ()) & _RISKY_HISTORY)
    if ear.eardrum in ("perforated", "tube"):
        yield Obstacle(f"{name}.eardrum", f"is {ear.eardrum}")
    if ear.eardrum == "not-seen":
        fact = f"is not-seen, with {', '.join(risky)} before" if risky else "is not-seen"
        yield Obstacle(f"{name}.eardrum", fact, confirmable=not risky)
    if ear.object in ("present", "suspected"):
        yield Obstacle(f"{name}.object", f"is {ear.object}")
    found: tuple[tuple[str, Sequence[str]], ...] = (("history", ear.history or ()), ("canal", ear.canal or ()))
    for field, values in found:
        for value in values:
            if value in _CONFIRMABLE_AGENTS:
                confirmable = agent in _CONFIRMABLE_AGENTS[value]
                yield Obstacle(f"{name}.{field}", f"holds {value}", confirmable)


def _of_symptoms(name: EarName, ear: Ear) -> Iterator[Obstacle]:
    for field, symptoms in (("symptoms", ear.symptoms), ("symptoms_after", ear.symptoms_after)):
        for symptom in sorted(set(symptoms or ()) & _FORBIDDEN_SYMPTOMS):
            yield Obstacle(f"{name}.{field}", f"holds {symptom}")
    if ear.wax_after == "cleared" and ear.symptoms_after:
        yield Obstacle(f"{name}.symptoms_after", "is not empty although the wax is cleared: more drops are no answer")
    if ear.wax_after == "none":
        yield Obstacle(f"{name}.wax_after", "is none: there is nothing to soften")


def _of_person(person: Person, agent: str) -> Iterator[Obstacle]:
    conditions, age = set(person.conditions or ()), person.age_years
    if "only-hearing-ear" in conditions:
        yield Obstacle("person.conditions", "holds only-hearing-ear")
    for condition in sorted(conditions & {"diabetes", "weak-immunity", "blood-thinners", "head-neck-radiotherapy"}):
        yield Obstacle("person.conditions", f"holds {condition}", confirmable=True)
    if agent == "almond-oil" and "nuts" in (person.allergies or ()):
        yield Obstacle("person.allergies", "holds nuts, and the drops are almond-oil")
    if age is None:
        return
    if age <= _NO_DROPS_UP_TO_YEARS:
        yield Obstacle("person.age_years", "is under one year")
    elif age <= _ORDERED_ONLY_UP_TO_YEARS:
        yield Obstacle("person.age_years", "is under three years", confirmable=True)
    elif age <= _BICARBONATE_CONFIRMED_UP_TO_YEARS and agent == "sodium-bicarbonate":
        yield Obstacle("person.age_years", f"is under five years, and the drops are {agent}", confirmable=True)
    elif age <= _PEROXIDE_CONFIRMED_UP_TO_YEARS and agent == "urea-hydrogen-peroxide":
        yield Obstacle("person.age_years", f"is under twelve years, and the drops are {agent}", confirmable=True)


def _confirmed(evidence: Evidence) -> Evidence:
    reason = Confirmation(rule=COURSE_RULE, reason="the ear surgeon's team allows oil")
    return plan_with(course_added(evidence), confirm=(reason,))


def _upkeep(evidence: Evidence) -> Evidence:
    return block_added(evidence, UPKEEP_BLOCK, ("left",), "<p>Put oil in your left ear.</p>")


def _forbidden(name: str, field: str, value: object) -> Example:
    return Example(name, lambda evidence: ear_with(course_added(evidence), "left", **{field: value}))


GOOD = (
    Example("no drops are given", lambda evidence: evidence),
    Example("a course for an ear that has nothing against it", course_added),
    Example(
        "oil after ear surgery, which the practitioner confirmed",
        lambda evidence: ear_with(_confirmed(evidence), "left", history=("ear-surgery",)),
    ),
    Example("oil for upkeep in an ear that has nothing against it", _upkeep),
)
BAD = (
    _forbidden("a hole in the eardrum", "eardrum", "perforated"),
    _forbidden("a tube in the eardrum", "eardrum", "tube"),
    _forbidden("the eardrum is not recorded", "eardrum", None),
    _forbidden("an object may be in the ear", "object", "suspected"),
    _forbidden("whether an object is in the ear is not recorded", "object", None),
    _forbidden("infection", "canal", ("infected",)),
    _forbidden("eczema that nobody confirmed", "canal", ("eczema",)),
    _forbidden("ear surgery that nobody confirmed", "history", ("ear-surgery",)),
    _forbidden("pain", "symptoms", ("pain",)),
    _forbidden("sudden hearing loss", "symptoms", ("sudden-hearing-loss",)),
    _forbidden("the ear is clear and ringing stays", "symptoms_after", ("tinnitus",)),
    Example(
        "an eardrum out of sight in an ear that once had a hole, although confirmed",
        lambda evidence: ear_with(_confirmed(evidence), "left", eardrum="not-seen", history=("perforation",)),
    ),
    Example(
        "bicarbonate after ear surgery, although confirmed",
        lambda evidence: ear_with(
            plan_with(_confirmed(evidence), drops="sodium-bicarbonate"), "left", history=("ear-surgery",)
        ),
    ),
    Example(
        "only one ear hears", lambda evidence: person_with(course_added(evidence), conditions=("only-hearing-ear",))
    ),
    Example("a baby", lambda evidence: person_with(_confirmed(evidence), age_years=0)),
    Example("a child of two, not confirmed", lambda evidence: person_with(course_added(evidence), age_years=2)),
    Example(
        "bicarbonate for a child of four, not confirmed",
        lambda evidence: person_with(course_added(evidence, agent="sodium-bicarbonate"), age_years=4),
    ),
    Example(
        "peroxide for a child of eleven, not confirmed",
        lambda evidence: person_with(course_added(evidence, agent="urea-hydrogen-peroxide"), age_years=11),
    ),
    Example(
        "almond oil with an allergy to nuts",
        lambda evidence: person_with(course_added(evidence, agent="almond-oil"), allergies=("nuts",)),
    ),
    Example("allergies are not recorded", lambda evidence: person_with(course_added(evidence), allergies=None)),
    Example(
        "upkeep for an ear with a tube, which no confirmation covers",
        lambda evidence: ear_with(_upkeep(evidence), "left", eardrum="tube"),
    ),
    Example("upkeep for diabetes", lambda evidence: person_with(_upkeep(evidence), conditions=("diabetes",))),
)
