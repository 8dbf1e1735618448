"""Shared by the invariants: the plain modules beside them, and the judge of one rule over many outcomes."""

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from leaflets.content import Content

# The tests are no package, so the modules they share are found by their folder.
sys.path.insert(0, str(Path(__file__).parent))

from composing import Composed, compose_visit, leaflets_of_examples
from outcomes import Judge, Rules


@pytest.fixture(scope="session")
def rules(content: Content) -> Rules:
    """Every rule by its id."""
    return content.rule_book.rules


@pytest.fixture(scope="session")
def judge(rules: Rules) -> Judge:
    """Judges single rules on outcomes, and counts how many."""
    return Judge(rules)


@pytest.fixture(scope="session")
def composed(content: Content) -> Callable[..., Composed]:
    """Return a function that takes a flat outcome through plan, dates, words and checks, and stops before the paper."""

    def compose(outcome: dict[str, Any]) -> Composed:
        return compose_visit(outcome, content)

    return compose


@pytest.fixture(scope="session")
def leaflets(routine: dict[str, Any], content: Content) -> list[Composed]:
    """Leaflets that together show every block to both readers."""
    return leaflets_of_examples(routine, content)
