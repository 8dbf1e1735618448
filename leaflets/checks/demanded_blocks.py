"""SAFE07: a block that the outcome demands, and that the leaflet does not have.

What: a table of what holds in the visit, and of which blocks one must then be there, for the ear concerned.
Why: the rules decide what is given; this table, which stands apart from them, says what must never be left out.
Source: each line of the table names its own.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from leaflets.checks.changes import ear_with, person_with, plan_with
from leaflets.checks.evidence import Evidence, Example
from leaflets.compose.tree import text_of
from leaflets.model import Finding
from leaflets.visit import Ear, Visit
from leaflets.vocabulary import EarName

CODE = "SAFE07"

_PUT_SOMETHING_IN = frozenset({"microsuction", "instruments", "irrigation"})
_NOT_CLOSED = frozenset({"perforated", "tube"})
_RISKY_HISTORY = frozenset({"perforation", "ear-surgery", "tube", "recurrent-infection"})


@dataclass(frozen=True)
class EarDemand:
    """What is found in one ear, and the blocks of which one must speak of this ear. `dated`: with a date in it."""

    what: str
    holds: Callable[[Ear], bool]
    blocks: tuple[str, ...]
    source: str
    dated: bool = False


@dataclass(frozen=True)
class VisitDemand:
    """What is recorded of the person or the plan, and the blocks of which one must be there."""

    what: str
    holds: Callable[[Visit], bool]
    blocks: tuple[str, ...]
    source: str


def _symptom(*symptoms: str) -> Callable[[Ear], bool]:
    return lambda ear: bool({*(ear.symptoms or ()), *(ear.symptoms_after or ())} & set(symptoms))


def _canal(*found: str) -> Callable[[Ear], bool]:
    return lambda ear: bool(set(ear.canal or ()) & set(found))


def _eardrum(*states: str) -> Callable[[Ear], bool]:
    return lambda ear: ear.eardrum in states


def _condition(*conditions: str) -> Callable[[Visit], bool]:
    return lambda visit: bool(set(visit.person.conditions or ()) & set(conditions))


def _referral(*places: str) -> Callable[[Visit], bool]:
    return lambda visit: visit.plan.referral in places


def _object_stays(ear: Ear, *, battery: bool) -> bool:
    return ear.object in ("present", "suspected") and (ear.object_kind == "battery") is battery


def _is_sound(ear: Ear) -> bool:
    """Return whether an ear is known to be closed and dry, with nothing in it and no surgery behind it."""
    return (
        ear.eardrum in ("intact", "retracted", "fluid")
        and not {"infected", "discharge", "mastoid-cavity"} & set(ear.canal or ())
        and "ear-surgery" not in (ear.history or ())
        and ear.object not in ("present", "suspected")
        and "discharge" not in {*(ear.symptoms or ()), *(ear.symptoms_after or ())}
    )


def _nothing_done_about_wax(visit: Visit) -> bool:
    confirmed = any(confirmation.rule == "wax/left-in" for confirmation in visit.plan.confirm)
    return not confirmed and any(
        ear is not None and ear.wax_after == "not-cleared" for ear in (visit.left, visit.right)
    )


EAR_DEMANDS: tuple[EarDemand, ...] = (
    EarDemand(
        "a sudden loss of hearing",
        _symptom("sudden-hearing-loss"),
        ("hearing/sudden-loss",),
        "NICE NG98 1.1.2",
    ),
    EarDemand(
        "a weak face",
        _symptom("facial-weakness"),
        ("help/emergency-now",),
        "NICE NG98 1.1.3; NHS Lothian RefHelp",
    ),
    EarDemand(
        "a battery in the ear",
        lambda ear: _object_stays(ear, battery=True),
        ("object/battery",),
        "SE London ENT guide 2023; NHS Lothian RefHelp",
    ),
    EarDemand(
        "a battery in the ear: emergency department",
        lambda ear: _object_stays(ear, battery=True),
        ("help/emergency-now",),
        "SE London ENT guide 2023",
    ),
    EarDemand(
        "an object in the ear",
        lambda ear: _object_stays(ear, battery=False),
        ("object/still-there", "object/battery"),
        "St John Ambulance; NHS Lothian RefHelp",
    ),
    EarDemand(
        "something put into an ear with a closed eardrum",
        lambda ear: bool(_PUT_SOMETHING_IN & set(ear.method or ())) and ear.eardrum not in _NOT_CLOSED,
        ("after/keep-dry",),
        "pages of ear clinics; NHS perforated eardrum",
    ),
    EarDemand(
        "something put into a sound ear with a closed eardrum",
        lambda ear: bool(_PUT_SOMETHING_IN & set(ear.method or ())) and _is_sound(ear),
        ("after/keep-dry",),
        "pages of ear clinics (24 to 48 hours; 4 to 5 days after water): with the last day",
        dated=True,
    ),
    EarDemand(
        "a warning sign that stays",
        lambda ear: bool({"severe-pain", "swelling-behind-ear", "fever"} & set(ear.symptoms_after or ())),
        ("help/today-now", "help/emergency-now"),
        "NHS ear infections; NENC Healthier Together, earache; Cornwall referral guide: same day",
    ),
    EarDemand(
        "a battery that was taken out",
        lambda ear: ear.object == "removed" and ear.object_kind == "battery",
        ("object/battery-removed",),
        "Acta Otorhinolaryngol Ital 2023",
    ),
    EarDemand("a hole in the eardrum", _eardrum("perforated"), ("eardrum/perforation",), "NHS perforated eardrum"),
    EarDemand("a tube in the eardrum", _eardrum("tube"), ("eardrum/tube",), "Sussex Community; NHS Lothian RefHelp"),
    EarDemand(
        "no drops through a hole or a tube", _eardrum(*_NOT_CLOSED), ("drops/not-for-you",), "NHS earwax build-up"
    ),
    EarDemand(
        "an eardrum out of sight", _eardrum("not-seen"), ("eardrum/not-seen",), "MSD Manual, cerumen removal, 2023"
    ),
    EarDemand(
        "an eardrum out of sight that may have a hole",
        lambda ear: ear.eardrum == "not-seen" and bool(_RISKY_HISTORY & set(ear.history or ())),
        ("drops/not-for-you",),
        "MSD Manual, cerumen removal, 2023",
    ),
    EarDemand("fluid behind the eardrum", _eardrum("fluid"), ("eardrum/fluid",), "NHS glue ear; NICE NG233"),
    EarDemand("infection", _canal("infected"), ("canal/infection",), "NICE CKS Otitis externa"),
    EarDemand(
        "discharge",
        lambda ear: "discharge" in {*(ear.canal or ()), *(ear.symptoms_after or ())},
        ("canal/discharge", "canal/infection"),
        "NHS ear infections; AAO-HNSF 2017 patient advice",
    ),
    EarDemand(
        "ear surgery or a mastoid cavity",
        lambda ear: "ear-surgery" in (ear.history or ()) or "mastoid-cavity" in (ear.canal or ()),
        ("health/ear-surgery",),
        "AAO-HNSF 2017 patient advice; NHS Tayside RefGuide Ear wax",
    ),
    EarDemand(
        "a symptom that stays although the ear is clear",
        lambda ear: ear.wax_after in ("cleared", "none") and bool(ear.symptoms_after),
        ("hearing/still-a-problem", "hearing/sudden-loss", "help/today-now", "help/emergency-now"),
        "AAO-HNSF 2017 statement 9 (from memory)",
    ),
    EarDemand(
        "dizziness on leaving",
        lambda ear: "dizzy" in (ear.events or ()) or bool({"dizziness", "vertigo"} & set(ear.symptoms_after or ())),
        ("after/dizzy",),
        "NHS Tayside LN0311 (2018); pages of ear clinics",
    ),
    EarDemand(
        "bleeding",
        lambda ear: "bled" in (ear.events or ()),
        ("after/bleeding",),
        "NHS Tayside LN0311 (2018); AAO-HNSF 2017",
    ),
)

VISIT_DEMANDS: tuple[VisitDemand, ...] = (
    VisitDemand("any visit: whom to call", lambda _: True, ("next/contact",), "safety-netting (from memory)"),
    VisitDemand("any visit: what was found", lambda _: True, ("today/findings",), "BSA aural care guidance 2021"),
    VisitDemand(
        "diabetes or weak immunity",
        _condition("diabetes", "weak-immunity"),
        ("health/diabetes-immunity",),
        "NICE NG98 1.1.4; Herts and West Essex otitis externa pathway",
    ),
    VisitDemand(
        "blood thinners", _condition("blood-thinners"), ("health/blood-thinners",), "AAO-HNSF 2017 statement 2B"
    ),
    VisitDemand(
        "an only hearing ear",
        _condition("only-hearing-ear"),
        ("health/only-hearing-ear",),
        "NHS Tayside RefGuide Ear wax",
    ),
    VisitDemand(
        "hearing aids",
        lambda visit: "hearing-aids" in (visit.person.habits or ()),
        ("life/hearing-aids",),
        "AAO-HNSF 2017 Table 4",
    ),
    VisitDemand(
        "wax that would not come out",
        _nothing_done_about_wax,
        ("next/referral", "next/review", "drops/course"),
        "NICE NG98 1.2; AAO-HNSF 2017 statement 9 (from memory)",
    ),
    VisitDemand(
        "a planned referral",
        _referral("gp", "ent-routine", "ent-urgent", "audiology", "emergency"),
        ("next/referral",),
        "AAO-HNSF 2017 statement 10 (from memory)",
    ),
    VisitDemand(
        "a referral to the emergency department",
        _referral("emergency"),
        ("help/emergency-now",),
        "common practice, no source",
    ),
    VisitDemand(
        "a planned review",
        lambda visit: visit.plan.review_date is not None or visit.plan.review_in_days is not None,
        ("next/review",),
        "AAO-HNSF 2017 statement 9 (from memory)",
    ),
    VisitDemand(
        "planned drops: the course",
        lambda visit: bool(visit.plan.drops_for),
        ("drops/course",),
        "NHS earwax build-up",
    ),
    VisitDemand(
        "planned drops: how to put them in",
        lambda visit: bool(visit.plan.drops_for),
        ("drops/how-to",),
        "NHS earwax build-up; labels of the drops",
    ),
)


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find what the outcome demands and the leaflet lacks."""
    for name, ear in evidence.ears:
        for demand in EAR_DEMANDS:
            if demand.holds(ear) and not any(_speaks_of(evidence, block, name, demand) for block in demand.blocks):
                dated = " with a date" if demand.dated else ""
                yield _missing(name, demand.what, f"{' or '.join(demand.blocks)}{dated}", demand.source)
    for wanted in VISIT_DEMANDS:
        if wanted.holds(evidence.visit) and not any(evidence.block(block) for block in wanted.blocks):
            yield _missing("visit", wanted.what, " or ".join(wanted.blocks), wanted.source)


def _speaks_of(evidence: Evidence, block_id: str, ear: EarName, demand: EarDemand) -> bool:
    block, tree = evidence.block(block_id), evidence.block_tree(block_id)
    if block is None or tree is None or (block.ears and ear not in block.ears):
        return False
    return not demand.dated or any(span.get("class") == "date" and text_of(span) for span in tree.iter("span"))


def _missing(place: str, what: str, blocks: str, source: str) -> Finding:
    message = f"{what}, and the leaflet does not have {blocks}"
    hint = f"see why the rules did not give it ({source}); this leaflet cannot go out"
    return Finding(CODE, "stop", place, message, hint)


def _ear(field: str, value: object) -> Example:
    return Example(f"left.{field} = {value}", lambda evidence: ear_with(evidence, "left", **{field: value}))


def _condition_on_record(condition: str) -> Example:
    return Example(condition, lambda evidence: person_with(evidence, conditions=(condition,)))


def _battery(evidence: Evidence) -> Evidence:
    return ear_with(evidence, "left", object="suspected", object_kind="battery")


GOOD = (Example("a routine visit", lambda evidence: evidence),)
BAD = (
    *(_ear("symptoms", (symptom,)) for symptom in ("sudden-hearing-loss", "facial-weakness")),
    *(_ear("symptoms_after", (symptom,)) for symptom in ("hearing-loss", "vertigo", "severe-pain")),
    *(_ear("eardrum", state) for state in ("perforated", "tube", "not-seen", "fluid")),
    *(_ear("canal", (found,)) for found in ("infected", "discharge", "mastoid-cavity")),
    *(_ear("events", (event,)) for event in ("dizzy", "bled")),
    _ear("history", ("ear-surgery",)),
    _ear("object", "present"),
    _ear("wax_after", "not-cleared"),
    Example("a battery", _battery),
    Example(
        "a battery that was taken out",
        lambda evidence: ear_with(evidence, "left", object="removed", object_kind="battery"),
    ),
    Example(
        "an eardrum out of sight in an ear that once had a tube",
        lambda evidence: ear_with(evidence, "left", eardrum="not-seen", history=("tube",)),
    ),
    Example("what was found is gone", lambda evidence: evidence.without_block("today/findings")),
    Example("keeping dry is gone", lambda evidence: evidence.without_block("after/keep-dry")),
    Example(
        "keeping dry has no date",
        lambda evidence: evidence.with_block_text("after/keep-dry", 'class="date"', 'class="day"'),
    ),
    Example("whom to call is gone", lambda evidence: evidence.without_block("next/contact")),
    *(
        _condition_on_record(condition)
        for condition in ("diabetes", "weak-immunity", "blood-thinners", "only-hearing-ear")
    ),
    Example("hearing aids", lambda evidence: person_with(evidence, habits=("hearing-aids",))),
    Example("a referral", lambda evidence: plan_with(evidence, referral="emergency")),
    Example("a review", lambda evidence: plan_with(evidence, review_in_days=14)),
    Example("drops", lambda evidence: plan_with(evidence, drops="olive-oil", drops_for=("left",))),
)
