"""Ear-care leaflets from the outcome of a visit, checked before they are printed.

>>> import leaflets
>>> result = leaflets.make({
...     "ref": "A-1", "date": "2026-11-25", "reader": "adult",
...     "right": {"eardrum": "perforated", "wax_after": "partly-cleared"},
...     "plan": {"drops": "olive-oil", "drops_for": ["right"]},
... })
>>> result.status
'stopped'
"""

from leaflets.errors import LeafletError
from leaflets.model import Finding, Result
from leaflets.pipeline import make
from leaflets.visit import Visit

__all__ = ["Finding", "LeafletError", "Result", "Visit", "make"]
