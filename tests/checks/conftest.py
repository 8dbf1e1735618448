"""The evidence of the routine visit, made by the pipeline's own pieces, and its pages as they are printed."""

from pathlib import Path

import pytest

from leaflets import pipeline
from leaflets.checks.evidence import Evidence, Pages
from leaflets.compose.leaflet import Composition
from leaflets.content import Content
from leaflets.fit import compose_to_fit, render_to_fit, sheet_for
from leaflets.plan import plan
from leaflets.visits import read_visit

ROUTINE = Path(__file__).parents[1] / "visits" / "routine.toml"


@pytest.fixture(scope="session")
def judged(content: Content) -> tuple[Evidence, Composition]:
    visit = read_visit(ROUTINE, content, {})
    planned = plan(visit, content.rule_book.rules.values())
    situation, _ = pipeline.situation_of(visit, planned, content)
    composition = compose_to_fit(content, planned.blocks, situation)
    return pipeline._evidence(visit, planned, situation, composition.leaflet, content), composition  # noqa: SLF001


@pytest.fixture(scope="session")
def evidence(judged: tuple[Evidence, Composition]) -> Evidence:
    return judged[0]


@pytest.fixture(scope="session")
def pages(content: Content, judged: tuple[Evidence, Composition]) -> Pages:
    evidence, composition = judged
    sheet = sheet_for(content, evidence.situation, composition)
    *_, rendered = render_to_fit(content, evidence.plan.blocks, evidence.situation, composition, sheet)
    return Pages(rendered.pages, rendered.anchors)
