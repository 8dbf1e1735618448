"""The matrix of states and agents, cell by cell: forbidden, only if the practitioner confirms, or free.

Sources: NHS earwax build-up, NHS Tayside, MSD Manual 2023, AAO-HNSF Cerumen Impaction 2017 (statement 2B and
patient advice), UK labels of sodium bicarbonate and docusate, Health Canada 2013; single cells without a literal label
text extend them with caution, and the clinical lead confirms them cell by cell.
"""

from typing import Any

import pytest
from outcomes import DROPS_RULE, NOTHING_AGAINST, Judge, confirmation, planned

FORBIDDEN, CONFIRM, FREE = "forbidden", "confirm", "free"
_COLUMNS = ("olive-oil", "almond-oil", "saline", "sodium-bicarbonate", "urea-hydrogen-peroxide", "docusate")


def _row(*cells: str) -> dict[str, str]:
    return dict(zip(_COLUMNS, cells, strict=True))


def _oil_and_saline(rest: str, bicarbonate: str | None = None, docusate: str | None = None) -> dict[str, str]:
    """Oil and saline only if confirmed; the others as said."""
    return _row(CONFIRM, CONFIRM, CONFIRM, bicarbonate or rest, rest, docusate or rest)


_NEVER = _row(*[FORBIDDEN] * 6)
_IF_CONFIRMED = _row(*[CONFIRM] * 6)
_OPERATED = _oil_and_saline(FORBIDDEN)
_RAW = _oil_and_saline(FORBIDDEN)
_DIZZY_OR_RINGING = _oil_and_saline(FORBIDDEN, docusate=CONFIRM)
_SYMPTOMS = ("left.symptoms", "left.symptoms_after")

MATRIX: list[tuple[dict[str, Any], dict[str, str]]] = [
    ({"left.eardrum": "perforated"}, _NEVER),
    ({"left.eardrum": "tube"}, _NEVER),
    ({"left.object": "present"}, _NEVER),
    ({"left.object": "suspected"}, _NEVER),
    ({"left.canal": ("infected",)}, _NEVER),
    ({"left.canal": ("discharge",)}, _NEVER),
    *(({field: (sign,)}, _NEVER) for field in _SYMPTOMS for sign in ("pain", "severe-pain", "discharge", "bleeding")),
    *(({field: (sign,)}, _NEVER) for field in _SYMPTOMS for sign in ("swelling-behind-ear", "fever", "vertigo")),
    *(({field: (sign,)}, _NEVER) for field in _SYMPTOMS for sign in ("sudden-hearing-loss", "facial-weakness")),
    ({"left.history": ("ear-surgery",)}, _OPERATED),
    ({"left.canal": ("mastoid-cavity",)}, _OPERATED),
    ({"left.canal": ("eczema",)}, _oil_and_saline(FORBIDDEN, bicarbonate=CONFIRM)),
    ({"left.canal": ("scratched",)}, _RAW),
    ({"left.canal": ("bleeding",)}, _RAW),
    ({"left.events": ("bled",)}, _RAW),
    ({"left.method": ("irrigation",)}, _RAW),
    *(({field: (sign,)}, _DIZZY_OR_RINGING) for field in _SYMPTOMS for sign in ("dizziness", "tinnitus")),
    *(({field: ("pulsing-tinnitus",)}, _DIZZY_OR_RINGING) for field in _SYMPTOMS),
    ({"person.conditions": ("tinnitus",)}, _DIZZY_OR_RINGING),
    ({"person.conditions": ("only-hearing-ear",)}, _NEVER),
    *(({"person.conditions": (one,)}, _IF_CONFIRMED) for one in ("diabetes", "weak-immunity", "blood-thinners")),
    ({"person.conditions": ("head-neck-radiotherapy",)}, _IF_CONFIRMED),
    ({"left.canal": ("narrow",)}, _IF_CONFIRMED),
    ({"left.canal": ("bony-growths",)}, _IF_CONFIRMED),
    # A hole that healed, a tube that came out: sources disagree, so only if the practitioner says that it is whole now.
    ({"left.history": ("perforation",)}, _IF_CONFIRMED),
    ({"left.history": ("tube",)}, _IF_CONFIRMED),
    ({"left.eardrum": "not-seen"}, _IF_CONFIRMED),
    # Common practice, no source.
    ({"left.eardrum": "retracted"}, _IF_CONFIRMED),
    ({"left.eardrum": "fluid"}, _IF_CONFIRMED),
    ({"person.allergies": ("other",)}, _IF_CONFIRMED),
    # Labels (from memory): oil and saline acceptable.
    ({"person.conditions": ("pregnancy",)}, _row(FREE, FREE, FREE, CONFIRM, CONFIRM, CONFIRM)),
    ({"person.allergies": ("nuts",)}, _row(FREE, FORBIDDEN, FREE, FREE, FREE, FREE)),
    ({"person.age_years": 0}, _NEVER),
    ({"person.age_years": 1}, _oil_and_saline(FORBIDDEN, bicarbonate=CONFIRM, docusate=CONFIRM)),
    ({"person.age_years": 4}, _oil_and_saline(FORBIDDEN, bicarbonate=CONFIRM, docusate=CONFIRM)),
    ({"person.age_years": 11}, _row(FREE, FREE, FREE, FREE, CONFIRM, FREE)),
    ({"person.age_years": 12}, _row(*[FREE] * 6)),
    ({}, _row(*[FREE] * 6)),
]


@pytest.mark.parametrize(("state", "cells"), MATRIX, ids=lambda value: "" if "olive-oil" in value else str(value))
def test_inv_01_to_10_every_cell_of_the_matrix_holds_with_and_without_a_confirmation(
    judge: Judge, state: dict[str, Any], cells: dict[str, str]
) -> None:
    for agent, cell in cells.items():
        outcome = {**NOTHING_AGAINST, **state, "plan.drops": agent}
        confirmed = {**outcome, **confirmation(DROPS_RULE)}
        expected = {
            FORBIDDEN: ("withheld", "withheld"),
            CONFIRM: ("asked", "given"),
            FREE: ("given", "given"),
        }[cell]
        assert (judge.verdict(DROPS_RULE, outcome), judge.verdict(DROPS_RULE, confirmed)) == expected, agent
        if cell == FORBIDDEN:
            judge.never_given(DROPS_RULE, state, planned([agent]))
