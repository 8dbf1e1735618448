"""Ear-care leaflets from the outcome of a visit, checked before they are printed.

>>> import leaflets
>>> result = leaflets.make({
...     "ref": "A-1", "date": "2026-11-25", "reader": "adult",
...     "person": {"age_years": 40, "conditions": [], "allergies": []},
...     "right": {"eardrum": "perforated", "wax_after": "partly-cleared"},
...     "plan": {"drops": "olive-oil", "drops_for": ["right"]},
... })
>>> result.status, result.withheld[0].because
('stopped', ('right.eardrum = perforated',))

"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from leaflets.errors import LeafletError
    from leaflets.model import Finding, Result
    from leaflets.pipeline import make
    from leaflets.school import make_school_pack
    from leaflets.sheet_result import SheetResult
    from leaflets.sheets import make_sheet
    from leaflets.visit import Visit

__all__ = ["Finding", "LeafletError", "Result", "SheetResult", "Visit", "make", "make_school_pack", "make_sheet"]

_HOMES = {
    "Finding": "leaflets.model",
    "LeafletError": "leaflets.errors",
    "Result": "leaflets.model",
    "SheetResult": "leaflets.sheet_result",
    "Visit": "leaflets.visit",
    "make": "leaflets.pipeline",
    "make_school_pack": "leaflets.school",
    "make_sheet": "leaflets.sheets",
}


def __getattr__(name: str) -> Any:  # noqa: ANN401 - the type of each name stands above, for type checkers
    """Import what stands behind a name when it is first asked for, so that parts are used without the whole."""
    if name not in _HOMES:
        raise AttributeError(f"module 'leaflets' has no attribute '{name}'")
    return getattr(import_module(_HOMES[name]), name)
