"""Checks of sheets: each says what it is for, its own examples hold, and it runs."""

import pkgutil
import re
from collections.abc import Callable
from dataclasses import replace

import pytest

import leaflets.checks.sheets
from leaflets.catalogue import sign_off_hash
from leaflets.checks import CHECKS, LAYOUT_CHECKS
from leaflets.checks.evidence import Evidence
from leaflets.checks.sheets import OWN_CHECKS, OWN_LAYOUT_CHECKS, check_sheet, does_not_fit, whom_to_tell
from leaflets.compose.leaflet import Composition
from leaflets.compose.messages import source_messages
from leaflets.compose.school import LAYOUT, PARTS, ClassSet, compose_school_part, reader_of
from leaflets.content import Content
from leaflets.outreach_request import SchoolRequest
from leaflets.sheets import situation_for

from .conftest import DAY

PartEvidence = Callable[..., tuple[Evidence, Composition]]
ALL = (*OWN_CHECKS, *OWN_LAYOUT_CHECKS)
EXAMPLES = [
    pytest.param(module, example, kind, id=f"{module.CODE}: {example.name}")
    for module in OWN_CHECKS
    for kind in ("GOOD", "BAD")
    for example in getattr(module, kind)
]


def test_every_module_of_the_folder_is_run_and_has_a_code_of_its_own() -> None:
    names = {module.name for module in pkgutil.iter_modules(leaflets.checks.sheets.__path__)}
    assert names == {module.__name__.rsplit(".", 1)[-1] for module in ALL}
    others = {
        code for module in (*CHECKS, *LAYOUT_CHECKS) for code in (getattr(module, "CODES", None) or (module.CODE,))
    }
    assert len({module.CODE for module in ALL}) == len(ALL)
    assert not {module.CODE for module in ALL} & others


@pytest.mark.parametrize("module", ALL, ids=lambda module: module.CODE)
def test_a_check_says_what_why_and_from_where(module: object) -> None:
    said = module.__doc__ or ""
    assert said.startswith(f"{module.CODE}: ")  # type: ignore[attr-defined]
    for part in ("What", "Why", "Source"):
        assert re.search(rf"^{part}: \S", said, re.MULTILINE)


@pytest.mark.parametrize(("module", "example", "kind"), EXAMPLES)
def test_an_example_of_a_check_holds(module: object, example: object, kind: str, part_evidence: PartEvidence) -> None:
    evidence, _ = part_evidence("child-sheet")
    findings = list(module.check(example.change(evidence)))  # type: ignore[attr-defined]
    assert bool(findings) == (kind == "BAD")
    assert {finding.code for finding in findings} <= {module.CODE}  # type: ignore[attr-defined]
    assert {finding.severity for finding in findings} <= {"stop"}


@pytest.mark.parametrize(
    ("example", "kind"), [(one, "GOOD") for one in does_not_fit.GOOD] + [(one, "BAD") for one in does_not_fit.BAD]
)
def test_what_does_not_fit_is_found(example: does_not_fit.SheetExample, kind: str, part_evidence: PartEvidence) -> None:
    evidence, _ = part_evidence("child-sheet")
    assert bool(list(does_not_fit.check(evidence, example.laid_out))) == (kind == "BAD")


@pytest.mark.parametrize("part", ["letter", "notes"])
@pytest.mark.parametrize("lost", [whom_to_tell.PANEL, whom_to_tell.LOWER_THRESHOLD])
def test_a_letter_without_its_panel_is_stopped(part: str, lost: str, part_evidence: PartEvidence) -> None:
    evidence, _ = part_evidence(part)
    blocks = tuple(block for block in evidence.leaflet.blocks if block.id != lost)
    without = evidence.with_page(evidence.leaflet.html.replace(f'id="{lost}"', 'id="other"'), blocks)
    assert "SAFE10" in {finding.code for finding in check_sheet(without)}


@pytest.mark.parametrize("band", ["5-7", "7-11"])
@pytest.mark.parametrize("part", PARTS)
def test_no_part_is_stopped_or_warned_of_for_its_words(part: str, band: str, part_evidence: PartEvidence) -> None:
    evidence, _ = part_evidence(part, band)
    found = [one for one in check_sheet(evidence) if one.severity != "note" and one.code != "RULE11"]
    # Its one long word is the name of a part of the ear that a child learns here.
    assert [str(one) for one in found if "cochlea" not in one.message] == []


def test_forbidden_advice_in_a_school_sheet_is_found(part_evidence: PartEvidence) -> None:
    evidence, _ = part_evidence("child-sheet")
    block = evidence.leaflet.blocks[0]
    changed = evidence.with_block_text(block.id, "damp cloth", "damp hairpin")
    assert "SAFE05" in {finding.code for finding in check_sheet(changed)}


def test_a_sheet_too_hard_for_its_age_is_stopped(part_evidence: PartEvidence) -> None:
    evidence, _ = part_evidence("child-sheet", "5-7")
    # Source: leaflets/readability/targets.toml, child-5-7: grade 2 is the limit that stops.
    hard = replace(evidence, report=replace(evidence.report, grade=2.1, high=3.0))
    assert ("READ01", "stop") in {(one.code, one.severity) for one in check_sheet(hard)}


def test_a_panel_with_another_countrys_number_is_stopped(part_evidence: PartEvidence) -> None:
    evidence, _ = part_evidence("letter")
    changed = evidence.with_block_text("help/urgent", "999", "911")
    assert {"SAFE01", "SAFE11"} <= {finding.code for finding in check_sheet(changed)}


def test_a_panel_without_an_advice_line_sends_to_a_doctor(part_evidence: PartEvidence) -> None:
    # Source: countries.toml, Ireland: 112, no line for the whole country.
    evidence, _ = part_evidence("letter", country="IE")
    assert [str(one) for one in check_sheet(evidence) if one.severity == "stop"] == []
    assert evidence.situation.clinic.phone not in evidence.leaflet.html


def test_a_sheet_whose_words_are_all_signed_off_carries_no_mark(part_evidence: PartEvidence, content: Content) -> None:
    approved = frozenset(sign_off_hash("en", one.key, ()) for one in source_messages(content.words))
    for part in PARTS:
        _, draft = part_evidence(part, "5-7")
        request = SchoolRequest(band="5-7", language="en", country="GB", date=DAY)
        situation, _ = situation_for(request, reader_of(part, "5-7"), 5, content)
        own = replace(situation.clinic, invented=False)
        situation = replace(situation, layout=LAYOUT, for_school=True, signed_off=approved, clinic=own)
        signed = compose_school_part(content.words, part, ClassSet("5-7", 1, "oak"), situation, "#333333").leaflet
        assert ('class="mark fact"' in signed.html, 'class="mark fact"' in draft.leaflet.html) == (False, True)
        assert {message.state for message in signed.messages} == {"reviewed"}
