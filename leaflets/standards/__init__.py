"""Published checklists for written health information, answered for one leaflet as far as a program can.

An item that the program cannot answer stays "for a person to judge": nothing is ever met by default.
"""

from typing import Any

from leaflets.checks.evidence import Evidence
from leaflets.standards import cci, pemat
from leaflets.standards.checklist import JudgedStandard

STANDARDS = {"pemat-p": pemat, "cci": cci}
"""Each standard by its key in the result; a module has judge(evidence), COMPUTED, GOOD and BAD."""


def judge_standards(evidence: Evidence) -> dict[str, JudgedStandard]:
    """Answer every item of every standard for a leaflet."""
    return {key: module.judge(evidence) for key, module in STANDARDS.items()}


def standards_as_json(judged: dict[str, JudgedStandard]) -> dict[str, Any]:
    """Return the answers as plain values, by standard."""
    return {key: standard.as_json() for key, standard in judged.items()}
