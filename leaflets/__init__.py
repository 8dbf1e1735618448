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

from typing import TYPE_CHECKING, Any

from leaflets.errors import LeafletError
from leaflets.model import Finding, Result

if TYPE_CHECKING:
    from leaflets.pipeline import make
    from leaflets.visit import Visit

__all__ = ["Finding", "LeafletError", "Result", "Visit", "make"]


def __getattr__(name: str) -> Any:  # noqa: ANN401 - the type of each name stands above, for type checkers
    """Import the pipeline when it is first asked for: parts such as the readability engine are used without it."""
    if name == "make":
        from leaflets.pipeline import make  # noqa: PLC0415

        return make
    if name == "Visit":
        from leaflets.visit import Visit  # noqa: PLC0415

        return Visit
    raise AttributeError(f"module 'leaflets' has no attribute '{name}'")
