"""Measures, the proof that they suffice, and placing them on views and pictorials."""

from sheetgen.dimensions.candidate import Candidate
from sheetgen.dimensions.draw import marks_of
from sheetgen.dimensions.ends import MeasureError
from sheetgen.dimensions.ground import Ground
from sheetgen.dimensions.items import Item, items_of
from sheetgen.dimensions.measures import Measure, measures_of
from sheetgen.dimensions.on_pictorial import pictorial_candidates, sight_arrow
from sheetgen.dimensions.on_views import candidates_on
from sheetgen.dimensions.placed import PlacedView
from sheetgen.dimensions.proof import Proof, prove
from sheetgen.dimensions.search import PlacingError, choose

__all__ = [
    "Candidate", "Ground", "Item", "Measure", "MeasureError", "PlacedView", "PlacingError", "Proof", "candidates_on", "choose",
    "items_of", "marks_of", "measures_of", "pictorial_candidates", "prove", "sight_arrow",
]
