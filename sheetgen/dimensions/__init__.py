"""Measures, the proof that they suffice, and placing them on views and pictorials."""

from sheetgen.dimensions.candidate import Candidate
from sheetgen.dimensions.draw import marks_of
from sheetgen.dimensions.ends import MeasureError
from sheetgen.dimensions.ground import Ground
from sheetgen.dimensions.items import Item, items_of
from sheetgen.dimensions.measures import Measure, measures_of
from sheetgen.dimensions.offers import Offer, Offers, gathered, table_of
from sheetgen.dimensions.on_pictorial import pictorial_offers, sight_arrow
from sheetgen.dimensions.on_views import view_offers
from sheetgen.dimensions.placed import PlacedView
from sheetgen.dimensions.proof import Proof, prove
from sheetgen.dimensions.readable import awkward_meetings, pictorial_faults
from sheetgen.dimensions.search import PlacingError, choose
from sheetgen.dimensions.through import is_hollow

__all__ = [
    "Candidate", "Ground", "Item", "Measure", "MeasureError", "Offer", "Offers", "PlacedView", "PlacingError", "Proof",
    "awkward_meetings", "choose", "gathered", "is_hollow", "items_of", "marks_of", "measures_of", "pictorial_faults",
    "pictorial_offers", "prove", "sight_arrow", "table_of", "view_offers",
]
