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
    from leaflets.visit import Visit

__all__ = ["Finding", "LeafletError", "Result", "Visit", "make"]

_HOMES = {
    "Finding": "leaflets.model",
    "LeafletError": "leaflets.errors",
    "Result": "leaflets.model",
    "Visit": "leaflets.visit",
    "make": "leaflets.pipeline",
}


def __getattr__(name: str) -> Any:  # noqa: ANN401 - the type of each name stands above, for type checkers
    """Import what stands behind a name when it is first asked for, so that parts are used without the whole."""
    if name not in _HOMES:
        raise AttributeError(f"module 'leaflets' has no attribute '{name}'")
    return getattr(import_module(_HOMES[name]), name)
