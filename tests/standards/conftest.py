"""The evidence of the routine visit, made by the pipeline's own pieces."""

from pathlib import Path

import pytest

from leaflets import pipeline
from leaflets.checks.evidence import Evidence
from leaflets.content import Content
from leaflets.fit import compose_to_fit
from leaflets.plan import plan
from leaflets.visits import read_visit

ROUTINE = Path(__file__).parents[1] / "visits" / "routine.toml"


@pytest.fixture(scope="session")
def evidence(content: Content) -> Evidence:
    visit = read_visit(ROUTINE, content, {})
    planned = plan(visit, content.rule_book.rules.values())
    situation, _ = pipeline.situation_of(visit, planned, content)
    composition = compose_to_fit(content, planned.blocks, situation)
    return pipeline._evidence(visit, planned, situation, composition.leaflet, content)  # noqa: SLF001
