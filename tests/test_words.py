"""The words of the project: each template as it is written, and each block as it comes out for every reader and ear."""

import datetime
import re
import tomllib
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from leaflets import pipeline
from leaflets.checks import check_leaflet, check_plan
from leaflets.compose.leaflet import compose
from leaflets.compose.tree import parse_fragment
from leaflets.compose.values import Situation
from leaflets.content import READERS, Content, load_content, templates_folder
from leaflets.fit import compose_to_fit
from leaflets.model import Calendar, Course, Leaflet, Message, PlannedBlock
from leaflets.plan import plan
from leaflets.readability.segment import split_units, words
from leaflets.rules.sources import named_sources
from leaflets.visit import PlanRecord
from leaflets.visits import read_visit
from leaflets.vocabulary import AGENTS, EarName, Referral

TESTS = Path(__file__).parent
CONTENT = load_content()
TEMPLATES = {
    path.relative_to(templates_folder()).as_posix(): path.read_text("utf-8")
    for path in sorted(templates_folder().rglob("*.html"))
    if "web" not in path.parts
}
BLOCKS = sorted(CONTENT.words.blocks)
EARS: tuple[tuple[EarName, ...], ...] = (("left",), ("right",), ("left", "right"))
EXAMPLES = [
    pytest.param(example, id=example["name"])
    for path in sorted((TESTS / "examples").glob("*.toml"))
    for example in tomllib.loads(path.read_text("utf-8"))["example"]
]

LONGEST_UNIT_WORDS = 20
"""The limit for writers; a clinic may set a lower one. Source: derived from rules for easy text, common practice."""
HARDEST_GRADE = 6
"""The highest grade of a leaflet. Source: NHS and NIH advice on reading level (US grade 6)."""

_PLACEHOLDER = re.compile(r"%\(\w+\)s")
_NUMBER_ID = re.compile(r"""\bnumber\(\s*["']([^"']+)["']""")
_HEADER = re.compile(r"\A\s*\{#.*?#\}", re.DOTALL)
_RUN_TOGETHER = re.compile(r"[.?!][A-Z]")
_BLOCK_TAGS = {"div", "h3", "p", "ul", "ol", "li", "strong", "span", "br", "img"} | {
    *("table", "thead", "tbody", "tr", "th", "td"),
}
_ATTRIBUTES = {"class", "dir", "scope", "rowspan", "src", "alt", "id", "data-sign", "data-urgency"}


def _messages(source: str) -> Iterator[tuple[int, str]]:
    """Return every message of a template, with its line: singular and plural forms each for itself."""
    found = CONTENT.words.environment.extract_translations(source, ("_", "N_", "gettext", "ngettext"))  # type: ignore[attr-defined]
    for line, _, text in found:
        # A message that is chosen by a variable has no text here: its choices are marked N_ and found by themselves.
        for form in (text,) if isinstance(text, str) else text or ():
            if form is not None:
                yield line, form


@pytest.mark.parametrize("name", TEMPLATES)
def test_messages_hold_no_figures(name: str) -> None:
    """A clinical number stands in numbers.toml alone."""
    with_digit = [(line, text) for line, text in _messages(TEMPLATES[name]) if re.search(r"\d", text)]
    assert with_digit == []


@pytest.mark.parametrize("name", TEMPLATES)
def test_every_sentence_is_a_message_of_its_own(name: str) -> None:
    more_than_one = [
        (line, text) for line, text in _messages(TEMPLATES[name]) if len(split_units(_PLACEHOLDER.sub("x", text))) > 1
    ]
    # The mark of a leaflet that nobody approved is one notice of two sentences, printed and translated as one.
    assert [text for _, text in more_than_one if "not approved" not in text] == []


@pytest.mark.parametrize("name", TEMPLATES)
def test_messages_hold_no_markup_and_no_spare_space(name: str) -> None:
    """Of markup a message may hold only `strong`; entities and stray spaces are mistakes of the writer."""
    for line, text in _messages(TEMPLATES[name]):
        plain = text.replace("<strong>", "").replace("</strong>", "")
        assert not re.search(r"[<>&{}]", plain), (line, text)
        assert text == " ".join(text.split()), (line, text)
        assert "'" not in text, (line, text, "write a typographic apostrophe")


@pytest.mark.parametrize("name", TEMPLATES)
def test_every_number_that_words_name_exists(name: str) -> None:
    assert set(_NUMBER_ID.findall(TEMPLATES[name])) - set(CONTENT.rule_book.numbers) == set()


@pytest.mark.parametrize("name", TEMPLATES)
def test_messages_are_short(name: str) -> None:
    for line, text in _messages(TEMPLATES[name]):
        assert len(words(_PLACEHOLDER.sub("x", text))) <= LONGEST_UNIT_WORDS, (line, text)


@pytest.mark.parametrize("block_id", BLOCKS)
def test_every_block_has_words_for_every_reader(block_id: str) -> None:
    assert CONTENT.words.blocks[block_id].readers >= set(READERS)


@pytest.mark.parametrize("block_id", BLOCKS)
def test_every_block_is_given_by_a_rule(block_id: str) -> None:
    assert any(block_id in rule.blocks for rule in CONTENT.rule_book.rules.values())


# -- sources ---------------------------------------------------------------------------------------------------------


def _sourced() -> Iterator[tuple[str, str]]:
    for block in CONTENT.words.blocks.values():
        yield block.place, block.source
    for rule in CONTENT.rule_book.rules.values():
        yield rule.id, rule.source
    for number in CONTENT.rule_book.numbers.values():
        yield number.id, number.source


@pytest.mark.parametrize(("place", "source"), [pytest.param(*one, id=one[0]) for one in _sourced()])
def test_every_named_source_is_one_of_the_list(place: str, source: str) -> None:
    assert place
    assert named_sources((source,), CONTENT.rule_book.sources) != ()


# -- blocks as they come out -----------------------------------------------------------------------------------------


def _course(agent: Any, ears: tuple[EarName, ...], size: int, start: datetime.date) -> Course:
    return Course(agent, ears, 1 + size % 5, 1 + size % 4, 3 + size, start, 1 + size % 2 * 4, 20)


def _situations(reader: str, ears: tuple[EarName, ...]) -> Iterator[Situation]:
    """Return situations that between them take every turning: agents, referrals, ages, dates, neighbours."""
    visit = read_visit(TESTS / "visits" / "routine.toml", CONTENT, {"reader": reader})
    judged = plan(visit, CONTENT.rule_book.rules.values())
    routine, _ = pipeline.situation_of(visit, judged, CONTENT)
    signs = tuple(rule.id.split("/")[1] for rule in CONTENT.rule_book.rules.values() if rule.urgency)
    referrals: tuple[Referral, ...] = ("gp", "ent-routine", "ent-urgent", "audiology", "emergency", "gp")
    ages = (46, 9, None, 1, 70, 15)
    tomorrow = visit.date + datetime.timedelta(days=1)
    for size, (agent, referral, age) in enumerate(zip(AGENTS, referrals, ages, strict=True)):
        recorded = {
            "person": visit.person.model_copy(update={"age_years": age}),
            "plan": PlanRecord(drops=agent, drops_for=ears, referral=referral),
        }
        for alone in (False, True):
            yield replace(
                routine,
                visit=visit.model_copy(update=recorded),
                course=_course(agent, ears, size, tomorrow),
                calendar=Calendar({} if alone else dict.fromkeys(ears, tomorrow), tomorrow),
                signs=signs,
                block_ids=frozenset() if alone else frozenset(BLOCKS),
            )
        for neighbour in ("eardrum/tube", "hearing/sudden-loss", "next/referral", "after/what-to-expect"):
            yield replace(
                routine,
                visit=visit.model_copy(update=recorded),
                course=_course(agent, ears, size, tomorrow),
                calendar=Calendar({}, tomorrow),
                signs=signs,
                block_ids=frozenset({neighbour}),
            )


@cache
def _leaflets(reader: str, ears: tuple[EarName, ...]) -> tuple[Leaflet, ...]:
    """Return leaflets of every block there is, in every situation."""
    planned = [PlannedBlock(block_id, "none: a test", ears, ()) for block_id in BLOCKS]
    accent = CONTENT.clinic.accent
    return tuple(compose(CONTENT.words, planned, situation, accent).leaflet for situation in _situations(reader, ears))


_EVERY_READER_AND_EARS = pytest.mark.parametrize(
    ("reader", "ears"), [(reader, ears) for reader in READERS for ears in EARS], ids=str
)


def _own_lines() -> set[str]:
    """Return the lines that are the clinic's own and no messages of ours."""
    clinic = CONTENT.clinic.file
    lines = {*clinic.hours, clinic.out_of_hours, *clinic.address, clinic.name}
    return {unit.text for line in lines for unit in split_units(line)}


def _shape(message: Message) -> str:
    text = re.sub(r"</?strong>", "", message.translated)
    return ".+?".join(re.escape(" ".join(part.split())) for part in _PLACEHOLDER.split(text))


@_EVERY_READER_AND_EARS
def test_every_unit_is_one_whole_message(reader: str, ears: tuple[EarName, ...]) -> None:
    """No sentence is glued from parts, none stands in a template outside a message, none runs into the next."""
    for leaflet in _leaflets(reader, ears):
        shapes = re.compile("|".join(f"(?:{_shape(message)})" for message in leaflet.messages))
        own = _own_lines()
        for block in leaflet.blocks:
            for unit in block.units:
                if unit.kind in ("heading", "sentence", "item"):
                    assert unit.text in own or shapes.fullmatch(unit.text), (block.id, unit.text)


@_EVERY_READER_AND_EARS
def test_sentences_do_not_run_together(reader: str, ears: tuple[EarName, ...]) -> None:
    for leaflet in _leaflets(reader, ears):
        for unit in leaflet.units:
            assert not _RUN_TOGETHER.search(unit.text), unit


@_EVERY_READER_AND_EARS
def test_units_are_short(reader: str, ears: tuple[EarName, ...]) -> None:
    for leaflet in _leaflets(reader, ears):
        for unit in (unit for block in leaflet.blocks for unit in block.units):
            if unit.kind in ("sentence", "item"):
                assert len(words(unit.text)) <= LONGEST_UNIT_WORDS, unit


@_EVERY_READER_AND_EARS
def test_blocks_are_well_formed_and_use_only_the_markup_agreed(reader: str, ears: tuple[EarName, ...]) -> None:
    for leaflet in _leaflets(reader, ears):
        for block in leaflet.blocks:
            for element in parse_fragment(block.html, block.id).iter():
                assert element.tag in _BLOCK_TAGS, (block.id, element.tag)
                assert set(element.keys()) <= _ATTRIBUTES, (block.id, element.attrib)


@_EVERY_READER_AND_EARS
def test_no_block_comes_out_empty_or_without_a_title(reader: str, ears: tuple[EarName, ...]) -> None:
    for leaflet in _leaflets(reader, ears):
        for block in leaflet.blocks:
            headings = [unit for unit in block.units if unit.kind == "heading"]
            # The panel is titled by the label of its section.
            assert headings or block.id == "help/urgent", block.id
            assert len(block.units) > len(headings), block.id
            for heading in headings:
                assert not heading.text.endswith("."), heading


_HE_OR_SHE = re.compile(r"\b(he|she|him|his|her|hers)\b", re.IGNORECASE)
_YOUR_EAR = re.compile(r"\byour (\w+ )?(ears?|eardrums?|hearing|face|head)\b", re.IGNORECASE)
_THEIR_EAR = re.compile(r"\btheir (\w+ )?(ears?|eardrums?)\b", re.IGNORECASE)


@pytest.mark.parametrize("ears", EARS, ids=str)
def test_words_for_a_carer_speak_of_the_person_as_they(ears: tuple[EarName, ...]) -> None:
    """One text serves a child and an adult: no he or she, and never the carer's own ear."""
    for leaflet in _leaflets("carer", ears):
        for unit in leaflet.units:
            assert not _HE_OR_SHE.search(unit.text), unit
            assert not _YOUR_EAR.search(unit.text), unit


@pytest.mark.parametrize("ears", EARS, ids=str)
def test_words_for_an_adult_speak_to_the_person(ears: tuple[EarName, ...]) -> None:
    for leaflet in _leaflets("adult", ears):
        for unit in leaflet.units:
            assert not _THEIR_EAR.search(unit.text), unit


@pytest.mark.parametrize("reader", READERS)
def test_words_name_the_ear_they_are_for_and_no_other(reader: str) -> None:
    """Drops for the left ear never speak of the right one; the findings name both, and are left out."""
    for (ear,), other in ((("left",), "right"), (("right",), "left")):
        for leaflet in _leaflets(reader, (ear,)):
            for block in leaflet.blocks:
                if block.id != "today/findings":
                    text = " ".join(unit.text for unit in block.units)
                    assert not re.search(rf"\b{other} (ear|eardrum)\b", text), (block.id, text)


# -- whole leaflets --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("example", EXAMPLES)
def test_an_example_that_is_not_stopped_by_its_plan_makes_a_leaflet_that_is_easy_and_safe(
    example: dict[str, Any], content: Content, changed_visit: Any
) -> None:
    record = changed_visit(example.get("visit"), tuple(example.get("unrecorded", ())))
    if record["reader"] not in READERS:
        record["reader"] = "carer"  # words for children are not among those that visits are given
    visit = read_visit(record, content, {})
    judged = plan(visit, content.rule_book.rules.values())
    situation, findings = pipeline.situation_of(visit, judged, content)
    if any(
        finding.severity == "stop"
        for finding in [*findings, *check_plan(judged, content.rule_book.rules.values(), content.words.blocks)]
    ):
        return
    leaflet = compose_to_fit(content, judged.blocks, situation).leaflet
    evidence = pipeline._evidence(visit, judged, situation, leaflet, content)  # noqa: SLF001
    assert evidence.report.grade is not None
    assert evidence.report.grade <= HARDEST_GRADE
    assert [str(finding) for finding in check_leaflet(evidence) if finding.severity == "stop"] == []


def test_every_block_stands_on_the_page_once() -> None:
    for leaflet in _leaflets("adult", ("left",)):
        root = parse_fragment(leaflet.html.removeprefix("<!DOCTYPE html>"), "templates/layouts/leaflet.html")
        on_page = [name for element in root.iter("div") if (name := element.get("data-block"))]
        assert on_page == [block.id for block in leaflet.blocks]
