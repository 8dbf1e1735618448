"""SAFE01: the get-help panel, whole and urgent enough.

What: the panel stands in the leaflet, holds every sign that this person needs, none less urgent than it has to be, in
rows from the most urgent down, each with a time, an action and the right number to call.
Why: these lines are read by somebody who is frightened. A sign that is missing, too mild or beside the wrong number
costs hearing or a life. The list stands here a second time, apart from the rules, so that one wrong line in a rules
file cannot take a sign away.
Source: NICE NG98 1.1.2 to 1.1.4 (seen within 24 hours); NHS ear infections, NHS meningitis; NHS Lothian RefHelp and
SE London ENT guide 2023 (batteries, bleeding); NENC Healthier Together, earache (children); Health Canada 2013
(reaction to ear drops). Urgency of bleeding that does not stop: from memory.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from xml.etree import ElementTree as ET

from leaflets.checks.changes import course_added, person_with, visit_with
from leaflets.checks.evidence import Evidence, Example
from leaflets.compose.tree import text_of
from leaflets.model import Finding
from leaflets.rules.rule import URGENCIES, Urgency

CODE = "SAFE01"
BLOCK = "help/urgent"

EVERYBODY: Mapping[str, Urgency] = {
    "facial-weakness": "now",
    "meningitis": "now",
    "battery": "now",
    "bleeding-not-stopping": "now",
    "sudden-hearing-loss": "today",
    "severe-pain": "today",
    "swelling-behind-ear": "today",
    "discharge": "today",
    "fever-unwell": "today",
    "spinning-vomiting": "today",
    "object-stuck": "today",
}
"""The signs of every leaflet, with the least urgency that each may have."""

CHILDREN: Mapping[str, tuple[int, Urgency]] = {
    "infant-fever": (0, "now"),
    "both-ears-under-two": (1, "today"),
    "drowsy-not-drinking": (15, "now"),
}
"""The signs of children: up to which age in whole years, and the least urgency."""

LOWER_THRESHOLD = "infection-signs-lower-threshold"
ALLERGIC_REACTION = "allergic-reaction"
_HINT = "correct templates/blocks/help/urgent.html or leaflets/rules/help.toml; this leaflet cannot go out"


@dataclass(frozen=True)
class _Row:
    """One row of the panel; `urgency` None: it says none that we know."""

    urgency: Urgency | None
    time: str
    action: str
    number: str
    signs: tuple[str, ...]


def needed_signs(evidence: Evidence) -> Mapping[str, Urgency]:
    """Return the signs that this person's leaflet needs, with the least urgency of each.

    What is not recorded is never taken for "no": a carer whose charge has no age on record is told a child's signs.
    """
    person = evidence.visit.person
    needed = dict(EVERYBODY)
    for sign, (up_to, urgency) in CHILDREN.items():
        concerned = evidence.situation.reader == "carer" if person.age_years is None else person.age_years <= up_to
        if concerned:
            needed[sign] = urgency
    if person.conditions is None or {"diabetes", "weak-immunity"} & set(person.conditions):
        needed[LOWER_THRESHOLD] = "today"
    if evidence.situation.course is not None:
        needed[ALLERGIC_REACTION] = "now"
    return needed


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find what is wrong with the get-help panel."""
    tree = evidence.block_tree(BLOCK)
    if tree is None:
        message = "the leaflet has no get-help panel"
        yield Finding(CODE, "stop", f"templates/blocks/{BLOCK}.html", message, _HINT)
        return
    place = evidence.place(BLOCK)
    rows = [_row(element) for element in tree.iter("tr")]
    for message in (
        *_faults_of_rows(rows, evidence),
        *_faults_of_signs(rows, tree, evidence),
    ):
        yield Finding(CODE, "stop", place, message, _HINT)


def _row(element: ET.Element) -> _Row:
    said = element.get("data-urgency")
    numbers = [child for child in element.iter() if "number" in child.get("class", "").split()]
    heading = element.find("th")
    return _Row(
        urgency=next((urgency for urgency in URGENCIES if urgency == said), None),
        time="" if heading is None else text_of(heading),
        action=next((text_of(child) for child in element.iter("p") if child not in numbers), ""),
        number=" ".join(text_of(child) for child in numbers),
        signs=tuple(sign for child in element.iter() if (sign := child.get("data-sign")) and text_of(child)),
    )


def _faults_of_rows(rows: list[_Row], evidence: Evidence) -> Iterator[str]:
    order = [URGENCIES.index(row.urgency) for row in rows if row.urgency is not None]
    if len(order) < len(rows):
        yield "a row of the panel says no urgency that is known"
    if order != sorted(set(order)):
        yield "the rows do not stand in the order now, today, soon, each once"
    country, for_school = evidence.situation.country, evidence.situation.for_school
    numbers = {"now": (country.emergency, "the emergency number of the country of care")}
    if not for_school:
        numbers["today"] = (evidence.situation.clinic.phone, "the clinic's number")
    else:
        # A sheet from school names no clinic: the country's advice line, where it has one, and a doctor in words.
        numbers["today"] = (country.advice or "", "the advice line of the country")
    for row in rows:
        name = f"the row '{row.urgency or row.time}'"
        if not row.time:
            yield f"{name} has no time word"
        if not row.action:
            yield f"{name} does not say what to do"
        if not row.signs:
            yield f"{name} names no sign"
        right, what = numbers.get(row.urgency or "", (row.number, ""))
        if not any(character.isdigit() for character in row.number) and not (for_school and row.urgency != "now"):
            yield f"{name} has no number to call"
        if row.number != right:
            yield f"{name} does not show {what}"


def _faults_of_signs(rows: list[_Row], tree: ET.Element, evidence: Evidence) -> Iterator[str]:
    urgency_of: dict[str, Urgency] = {}
    for row in rows:
        for sign in row.signs:
            if sign in urgency_of:
                yield f"the sign '{sign}' stands in the panel twice"
            if row.urgency is not None:
                urgency_of[sign] = row.urgency
    in_rows = {sign for row in rows for sign in row.signs}
    for element in tree.iter():
        if (printed := element.get("data-sign")) and printed not in in_rows:
            yield f"the sign '{printed}' stands outside the rows, or without words"
    yield from _signs_missing_or_too_mild(urgency_of, evidence)


def _signs_missing_or_too_mild(urgency_of: Mapping[str, Urgency], evidence: Evidence) -> Iterator[str]:
    needed = needed_signs(evidence)
    for sign, least in needed.items():
        if sign not in urgency_of:
            yield f"the sign '{sign}' is missing"
        elif URGENCIES.index(urgency_of[sign]) > URGENCIES.index(least):
            yield f"the sign '{sign}' stands under '{urgency_of[sign]}' and has to be '{least}' at least"
    for sign in evidence.situation.signs:
        if sign not in urgency_of and sign not in CHILDREN and sign not in needed:
            yield f"the rules give the sign '{sign}', and the words do not have it"


def _other_country(evidence: Evidence) -> Evidence:
    country = replace(evidence.situation.country, emergency="911")
    return replace(evidence, situation=replace(evidence.situation, country=country))


GOOD = (
    Example("the panel of a routine visit", lambda evidence: evidence),
    Example(
        "an adult whose age is not recorded needs no child's signs",
        lambda evidence: person_with(evidence, age_years=None),
    ),
)
BAD = (
    Example("the panel is gone", lambda evidence: evidence.without_block(BLOCK)),
    Example(
        "facial weakness is gone",
        lambda evidence: evidence.with_block_text(BLOCK, 'data-sign="facial-weakness"', 'data-sign="droop"'),
    ),
    Example(
        "what is for now says soon", lambda evidence: evidence.with_block_text(BLOCK, 'urgency="now"', 'urgency="soon"')
    ),
    Example(
        "what is for today says soon",
        lambda evidence: evidence.with_block_text(BLOCK, 'data-urgency="today"', 'data-urgency="soon"'),
    ),
    Example("a row has no time word", lambda evidence: evidence.with_block_text(BLOCK, ">Now<", "><")),
    Example(
        "a row does not say what to do", lambda evidence: evidence.with_block_text(BLOCK, "<p>", '<p class="number">')
    ),
    Example(
        "a number is another one",
        lambda evidence: evidence.with_block_text(BLOCK, evidence.situation.clinic.phone, "112"),
    ),
    Example("the emergency number is another country's", _other_country),
    Example("a course is given, an allergic reaction is not named", course_added),
    Example("the person has diabetes", lambda evidence: person_with(evidence, conditions=("diabetes",))),
    Example("whether there is diabetes is not recorded", lambda evidence: person_with(evidence, conditions=None)),
    Example("a child of four has no child's signs", lambda evidence: person_with(evidence, age_years=4)),
    Example(
        "a carer's charge without an age has no child's signs",
        lambda evidence: replace(
            person_with(visit_with(evidence, reader="carer"), age_years=None),
            situation=replace(person_with(evidence, age_years=None).situation, reader="carer"),
        ),
    ),
    Example(
        "a sign stands outside the rows",
        lambda evidence: evidence.with_block_text(BLOCK, "</table>", '</table><p data-sign="other">Other.</p>'),
    ),
)
