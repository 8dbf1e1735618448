"""The page for the practitioner: reasons, what was withheld, questions to ask, what to record; never for a patient."""

import re
import subprocess
import tomllib
from pathlib import Path
from types import ModuleType
from typing import Any

import outloud
import pytest

from leaflets import demo
from leaflets.model import Result
from leaflets.pipeline import make

VISITS = Path(demo.__file__).parent / "visits"
INFECTION = VISITS / "07-diabetes-and-infection.toml"
DROPS = VISITS / "02-drops-for-the-right-ear.toml"
TEACH_BACK = Path(demo.__file__).parents[2] / "templates" / "macros" / "teach_back.html"


def _made(visit: Any, out: Path, **chosen: Any) -> tuple[Result, Path, str]:
    result = make(visit, out=out, practitioner=True, **chosen)
    assert result.status == "ok", result.findings
    page = Path(result.files["practitioner.pdf"])
    told = subprocess.run(["pdftotext", "-layout", str(page), "-"], capture_output=True, text=True, check=True).stdout
    return result, page, told


def test_each_block_stands_there_with_its_reason_and_each_rule_that_was_withheld(tmp_path: Path) -> None:
    result, _, told = _made(INFECTION, tmp_path)
    joined = re.sub(r"\s+", "", told)
    for block in result.blocks:
        assert block.id.replace(" ", "") in joined
        for reason in block.because:
            assert re.sub(r"\s+", "", reason) in joined
    assert result.withheld
    for one in result.withheld:
        assert one.rule in joined
        assert all(re.sub(r"\s+", "", reason) in joined for reason in one.because)
    assert "Do not hand this page to a patient." in told
    assert "not approved for patients" in " ".join(told.split())


def test_there_are_three_questions_of_the_blocks_of_this_leaflet_the_most_important_first(tmp_path: Path) -> None:
    result, _, told = _made(DROPS, tmp_path)
    listed = re.findall(r'\("([\w/-]+)", N_\("([^"]+)"\)\)', TEACH_BACK.read_text("utf-8"))
    assert len(listed) > 20
    given = {block.id for block in result.blocks}
    wanted = [question for block, question in listed if block in given][:3]
    asked = re.findall(r"^ *\d\. +(.+)$", told, re.MULTILINE)
    assert asked == wanted


def test_no_question_can_be_answered_by_yes_or_no() -> None:
    """Source: AHRQ, Health Literacy Universal Precautions Toolkit, 2nd edition, tool 5 (from memory)."""
    questions = re.findall(r'N_\("([^"]+)"\)', TEACH_BACK.read_text("utf-8"))
    openings = (
        "Where",
        "Why",
        "Who",
        "What",
        "Which",
        "How",
        "When",
        "Please show me",
        "Some wax is still there: what",
    )
    assert questions
    assert [question for question in questions if not question.startswith(openings)] == []


def test_every_question_belongs_to_a_block_that_there_is() -> None:
    from leaflets.content import load_content  # noqa: PLC0415

    named = set(re.findall(r'\("([\w/-]+)", N_', TEACH_BACK.read_text("utf-8")))
    assert named <= set(load_content().words.blocks)


@pytest.mark.parametrize(
    ("visit", "language", "line", "there"),
    [
        (DROPS, "en", "The drops were shown", True),
        (INFECTION, "en", "The drops were shown", False),
        (INFECTION, "en", "The referral is sent.", True),
        (DROPS, "en", "The referral is sent.", False),
        (DROPS, "pl", "An interpreter was there", True),
        (DROPS, "en", "An interpreter was there", False),
        (DROPS, "pl", "in this language: Polish.", True),
        (DROPS, "en", "Next visit booked for Wednesday, 9 December 2026.", True),
    ],
)
def test_what_is_to_be_recorded_is_what_this_visit_has(
    visit: Path, language: str, line: str, there: bool, tmp_path: Path
) -> None:
    _, _, told = _made(visit, tmp_path, language=language)
    assert (line in " ".join(told.split())) is there


def test_it_speaks_the_clinics_language_whatever_the_leaflet_speaks(clinic: Path, tmp_path: Path) -> None:
    file = clinic / "clinic.toml"
    text = re.sub(r'(?m)^language = "en"', 'language = "cy"', file.read_text("utf-8"))
    file.write_text(text, "utf-8")
    _, page, told = _made(DROPS, tmp_path, language="ur", clinic=clinic)
    assert "ymarferydd" in told
    assert page.name.endswith(".practitioner.pdf")


def test_a_confirmation_stands_there_with_its_reason(tmp_path: Path) -> None:
    record = tomllib.loads(DROPS.read_text("utf-8"))
    record["right"] |= {"canal": ["eczema"]}
    asked = make(record)
    (rule,) = {one.rule for one in asked.asked if one.to_confirm}
    record["plan"] |= {"confirm": [{"rule": rule, "reason": "Skin looked at, dry and whole 24"}]}
    _, _, told = _made(record, tmp_path)
    joined = " ".join(told.split())
    assert "Given with care, as you confirmed" in joined
    assert rule in joined
    assert "Skin looked at, dry and whole 24" in joined


def test_it_is_accessible_and_only_made_when_asked_for(structure: ModuleType, tmp_path: Path) -> None:
    _, page, _ = _made(INFECTION, tmp_path, language="ar")
    assert structure.structure_faults(page) == []
    told = outloud.check(str(page))
    assert [finding.rule for finding in told.findings if finding.severity == "error"] == []
    assert subprocess.run(["qpdf", "--check", page], capture_output=True, check=False).returncode == 0
    assert "practitioner.pdf" not in make(INFECTION, out=tmp_path).files
