"""SAFE03: a course of drops out of bounds, for another ear than planned, or printed wrongly.

What: drops, times and days within bounds that stand here a second time; the ears of the course are the ears of its
blocks and the ears that were planned; the figures that were worked out are the figures in print, no others; a box to
tick for each dose; oil for upkeep on two days a week at most.
Why: a wrong figure or the wrong ear is the mistake that a reader cannot see.
Source: NHS earwax build-up, NE Devon formulary 12.1.3, AAO-HNSF 2017 Table 2, labels of the agents (bounds); United
States labels (up to ten drops of peroxide); Northern Care Alliance (upkeep). Ears: common practice, no source.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from xml.etree import ElementTree as ET

from leaflets.checks.changes import block_added, course_added, plan_with, situation_with
from leaflets.checks.evidence import Evidence, Example
from leaflets.compose.tree import text_of
from leaflets.model import Course, Finding

CODE = "SAFE03"

COURSE_BLOCK = "drops/course"
EARS_BLOCKS = (COURSE_BLOCK, "drops/how-to")
MOST_DROPS_A_DOSE = 5
MOST_PEROXIDE_DROPS_IN_THE_US = 10
MOST_TIMES_A_DAY = 4
MOST_DAYS = 14
MOST_DAYS_OF: Mapping[str, int] = {"sodium-bicarbonate": 5, "urea-hydrogen-peroxide": 4}
MOST_UPKEEP_DAYS_A_WEEK = 2

_FIGURE = re.compile(r"\d+(?:[.,]\d+)?")
_HINT = "correct the plan; if it is right, report the fault: this course cannot go out"
_SIDES = ("left", "right")


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find what is wrong with the course of drops, and with oil for upkeep."""
    course = evidence.situation.course
    if course is not None:
        for field, message in (
            *_out_of_bounds(course, evidence.situation.country.code),
            *_wrong_ears(course, evidence),
        ):
            yield Finding(CODE, "stop", f"plan.{field}", message, _HINT)
    tree = evidence.block_tree(COURSE_BLOCK)
    if tree is not None:
        wrong = (
            ("it is printed, but no course was worked out",) if course is None else _wrong_print(course, tree, evidence)
        )
        for message in wrong:
            yield Finding(CODE, "stop", evidence.place(COURSE_BLOCK), message, _HINT)
    times_a_week = evidence.situation.numbers["upkeep.times-a-week"].value
    if evidence.block("drops/upkeep") is not None and times_a_week > MOST_UPKEEP_DAYS_A_WEEK:
        message = f"oil for upkeep on {times_a_week} days a week, and {MOST_UPKEEP_DAYS_A_WEEK} is the most"
        hint = "correct upkeep.times-a-week here or in clinic.toml"
        yield Finding(CODE, "stop", "leaflets/rules/numbers.toml [upkeep.times-a-week]", message, hint)


def _out_of_bounds(course: Course, country: str) -> Iterator[tuple[str, str]]:
    most_drops = MOST_DROPS_A_DOSE
    if country == "US" and course.agent == "urea-hydrogen-peroxide":
        most_drops = MOST_PEROXIDE_DROPS_IN_THE_US
    for field, value, most in (
        ("drops_per_dose", course.drops_per_dose, most_drops),
        ("times_a_day", course.times_a_day, MOST_TIMES_A_DAY),
        ("days", course.days, MOST_DAYS_OF.get(course.agent, MOST_DAYS)),
    ):
        if not 1 <= value <= most:
            yield field, f"{value} is out of bounds for {course.agent}: 1 to {most}"


def _wrong_ears(course: Course, evidence: Evidence) -> Iterator[tuple[str, str]]:
    planned = evidence.visit.plan.drops_for or ()
    if set(course.ears) != set(planned):
        yield "drops_for", f"names {_names(planned)}, but the course is for {_names(course.ears)}"
    if course.agent != evidence.visit.plan.drops:
        yield "drops", f"is {evidence.visit.plan.drops}, but the course is of {course.agent}"
    for block_id in EARS_BLOCKS:
        block = evidence.block(block_id)
        if block is not None and block.ears != course.ears:
            yield "drops_for", f"{block_id} is for {_names(block.ears)}, but the course is for {_names(course.ears)}"


def _wrong_print(course: Course, tree: ET.Element, evidence: Evidence) -> Iterator[str]:
    """Find wrong figures in the block's words: dates and the size of a bottle are checked elsewhere."""
    boxes = sum("box" in element.get("class", "").split() for element in tree.iter())
    if boxes != course.days * course.times_a_day:
        yield f"it has {boxes} boxes to tick for {course.days * course.times_a_day} doses"
    text = " ".join(text_of(paragraph) for paragraph in _without_spans(tree).iter("p"))
    printed = {int(figure) if figure.isdigit() else figure for figure in _FIGURE.findall(text)}
    wanted = {course.drops_per_dose, course.total_drops, *({course.times_a_day} - {1})}
    for figure in sorted(wanted - printed):
        yield f"it does not say {figure}, which is part of the dose"
    for stray in sorted(map(str, printed - wanted - {course.bottles})):
        yield f"it says {stray}, which is no part of the dose"
    if evidence.leaflet.language == "en":
        yield from _wrong_sides(course, text_of(tree))


def _wrong_sides(course: Course, text: str) -> Iterator[str]:
    said = {side for side in _SIDES if re.search(rf"\b{side}\b", text, re.IGNORECASE)}
    for side in sorted(said - set(course.ears)):
        yield f"it speaks of the {side} ear, and the course is for {_names(course.ears)}"
    for side in sorted(set(course.ears) - said):
        if len(course.ears) == 1 or not re.search(r"\b(both|each)\b", text, re.IGNORECASE):
            yield f"it does not name the {side} ear, which the course is for"


def _names(ears: tuple[str, ...]) -> str:
    return " and ".join(ears) or "no ear"


def _without_spans(tree: ET.Element) -> ET.Element:
    """Return a copy of the tree with the text of each span taken out: dates, measures, telephone numbers."""
    copy = ET.fromstring(ET.tostring(tree))  # noqa: S314 - our own words, parsed a moment ago
    for span in [one for one in copy.iter("span") if one.get("class") != "sentence"]:
        span.text = ""
        for child in list(span):
            span.remove(child)
    return copy


def _dose(**changed: int) -> Example:
    return Example(f"out of bounds: {changed}", lambda evidence: course_added(evidence, **changed))  # type: ignore[arg-type]


GOOD = (
    Example("no course", lambda evidence: evidence),
    Example("a course within bounds for one ear", course_added),
    Example("a course for both ears", lambda evidence: course_added(evidence, ears=("left", "right"))),
    Example(
        "ten drops of peroxide in the United States",
        lambda evidence: course_added(
            situation_with(evidence, country=replace(evidence.situation.country, code="US")),
            agent="urea-hydrogen-peroxide",
            drops_per_dose=10,
            days=4,
        ),
    ),
)
BAD = (
    _dose(drops_per_dose=6),
    _dose(times_a_day=5),
    _dose(days=15),
    _dose(drops_per_dose=0),
    Example("six days of bicarbonate", lambda evidence: course_added(evidence, agent="sodium-bicarbonate", days=6)),
    Example("five days of peroxide", lambda evidence: course_added(evidence, agent="urea-hydrogen-peroxide", days=5)),
    Example(
        "ten drops of peroxide in Britain",
        lambda evidence: course_added(evidence, agent="urea-hydrogen-peroxide", drops_per_dose=10, days=4),
    ),
    Example("planned for the other ear", lambda evidence: plan_with(course_added(evidence), drops_for=("right",))),
    Example("another agent than planned", lambda evidence: plan_with(course_added(evidence), drops="saline")),
    Example(
        "the how-to is for the other ear",
        lambda evidence: block_added(course_added(evidence), "drops/how-to", ("right",), "<p>Lie down.</p>"),
    ),
    Example(
        "the words say another dose",
        lambda evidence: course_added(evidence).with_block_text(COURSE_BLOCK, "Put 3 drops", "Put 13 drops"),
    ),
    Example(
        "the words name the other ear",
        lambda evidence: course_added(evidence).with_block_text(COURSE_BLOCK, "in your left ear", "in your right ear"),
    ),
    Example(
        "a box to tick is missing",
        lambda evidence: course_added(evidence).with_block_text(
            COURSE_BLOCK, '<span class="box"></span></td>', "</td>"
        ),
    ),
    Example(
        "a course is printed that nobody worked out",
        lambda evidence: situation_with(course_added(evidence), course=None),
    ),
)
