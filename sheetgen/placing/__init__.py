"""Where sizes, names and arrows stand: offers, what they cost, the search, and the marks of what was chosen."""

from sheetgen.placing.candidate import Arrowhead, Candidate
from sheetgen.placing.costs.alone import Surroundings
from sheetgen.placing.draw import marks_of
from sheetgen.placing.items import Item, items_of
from sheetgen.placing.legible import Blemish, PictorialRead, ViewsRead
from sheetgen.placing.offers.names import name_offers
from sheetgen.placing.offers.on_pictorial import alike_marks, pictorial_offers, sight_arrow
from sheetgen.placing.offers.on_views import view_offers
from sheetgen.placing.offers.single import ways_of
from sheetgen.placing.search import Placement, PlacingError, choose
from sheetgen.placing.table import Offers, gathered
from sheetgen.placing.weights import WEIGHTS, Weights

__all__ = [
    "WEIGHTS", "Arrowhead", "Blemish", "Candidate", "Item", "Offers", "PictorialRead", "Placement", "PlacingError",
    "Surroundings", "ViewsRead", "Weights", "alike_marks", "choose", "gathered", "items_of", "marks_of", "name_offers",
    "pictorial_offers", "sight_arrow", "view_offers", "ways_of",
]
