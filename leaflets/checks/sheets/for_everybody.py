"""SAFE11: a sheet for everybody that is about somebody.

What: a sheet names a date, a person's reference, a line to write a name on, a telephone number other than those of the
country (or, in a prevention leaflet, of the clinic that gives it out), a dose, or a block about a visit; a school sheet
has a figure that is neither its own number nor a telephone number, or names a medicine.
Why: a sheet goes to a whole class or lies on a counter. What is right for one person harms another, and what names a
person stays lying about.
Source: UK GDPR, data minimisation (from memory); no home drops advice addressed to a child: Sheffield Children's ear
care (drops only if a specialist recommends them); common practice, no source.
"""

import re
from collections.abc import Iterator
from dataclasses import replace
from xml.etree import ElementTree as ET

from leaflets.checks.evidence import Evidence, Example
from leaflets.compose.tree import text_of
from leaflets.model import Finding
from leaflets.rules.topics import FOR_EVERYBODY

CODE = "SAFE11"

_SCHOOL = "school"
_OWN_FIGURES = ("number-of-sheet", "answer-number", "measure", "review-day", "sources", "seed", "age", "grid")
"""Classes of what prints figures of its own in a school sheet, each put in by a template and by nobody's words."""

_DOSE = re.compile(
    r"\b\d+\s*(?:drops?|ml|mg|sprays?|puffs?|tablets?|teaspoons?)\b|\b(?:dose|dosage|times a day)\b", re.IGNORECASE
)
_MEDICINE = re.compile(
    r"\b(?:medicines?|(?:ear|eye|nose|use|put|try|give|need|the|with|some) drops?|sprays?|tablets?|pills?|syrup"
    r"|painkillers?|cream|oil|peroxide)\b",
    re.IGNORECASE,
)
_LINE_TO_FILL_IN = re.compile(r"_{3,}|\.{5,}|…{2,}")
_DIGIT = re.compile(r"\d")
_HINT = "take it out: a sheet for everybody says nothing about anybody"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find what is about somebody."""
    body = evidence.page_tree().find("html/body")
    assert body is not None, "every layout has a body"
    place = evidence.layout_place
    for name in sorted({block.id.split("/")[0] for block in evidence.leaflet.blocks} - FOR_EVERYBODY - {_SCHOOL}):
        yield Finding(CODE, "stop", place, f"blocks of '{name}' are about a visit", _HINT)
    for message in (*_marked_values(body, evidence), *_said(body, evidence)):
        yield Finding(CODE, "stop", place, message, _HINT)


def _marked_values(body: ET.Element, evidence: Evidence) -> Iterator[str]:
    situation = evidence.situation
    phones = {situation.country.emergency, situation.country.advice}
    if situation.topic is not None:
        phones.add(situation.clinic.phone)
    for element in body.iter():
        classes = element.get("class", "").split()
        if "date" in classes:
            yield f"the date {text_of(element)} is printed"
        if "phone" in classes and text_of(element) not in phones:
            yield f"the telephone number {text_of(element)} is not one of the country's"
        if element.tag in ("input", "textarea", "form"):
            yield "there is a field to fill in"
    if situation.for_school and situation.clinic.phone in text_of(body):
        yield "the clinic's telephone number is printed"


def _said(body: ET.Element, evidence: Evidence) -> Iterator[str]:
    # English words are found in every language by the sources of its messages.
    texts = {unit.text for unit in evidence.leaflet.units} | {one.source for one in evidence.leaflet.messages}
    for text in sorted(texts):
        if found := _LINE_TO_FILL_IN.search(text) or _DOSE.search(text):
            yield f"'{found[0]}' stands in “{text}”"
        if evidence.situation.for_school and (found := _MEDICINE.search(text)):
            yield f"'{found[0]}' stands in “{text}”"
    if evidence.situation.for_school:
        for text in _texts_with_figures(body, _OWN_FIGURES):
            yield f"there is a figure in “{text}”"


def _texts_with_figures(element: ET.Element, own: tuple[str, ...]) -> Iterator[str]:
    classes = element.get("class", "").split()
    if {"phone", "foot", *own} & set(classes) or element.get("data-block") == "help/urgent":
        return
    for text in (element.text, *(child.tail for child in element)):
        if text and _DIGIT.search(text):
            yield " ".join(text.split())
    for child in element:
        yield from _texts_with_figures(child, own)


def _with(html: str) -> Example:
    def change(evidence: Evidence) -> Evidence:
        page = evidence.leaflet.html.replace("</body>", f"{html}</body>")
        return evidence.with_page(page, evidence.leaflet.blocks)

    return Example(f"the page says {html}", change)


def _about_a_visit(evidence: Evidence) -> Evidence:
    first, *others = evidence.leaflet.blocks
    blocks = (replace(first, id="today/findings"), *others)
    return replace(evidence, leaflet=replace(evidence.leaflet, blocks=blocks))


GOOD = (
    Example("a child's sheet", lambda evidence: evidence),
    _with('<p>Call <span class="phone">999</span>.</p>'),
    _with('<p class="number-of-sheet">Sheet 12</p>'),
)
BAD = (
    _with('<p><span class="date">Wednesday, 25 November 2026</span></p>'),
    _with('<p>Call <span class="phone">01632 960 111</span>.</p>'),
    _with("<p>Put in 3 drops.</p>"),
    _with("<p>Use the ear drops.</p>"),
    _with("<p>The dose is small.</p>"),
    _with("<p>Name: ________</p>"),
    _with('<p>Name: <input type="text"/></p>'),
    _with("<p>You are 7 years old.</p>"),
    Example("a block about a visit", _about_a_visit),
)
