"""Where sizes, names and arrows stand: offers, what they cost, the search, and the marks of what was chosen."""

from sheetgen.placing.candidate import Candidate
from sheetgen.placing.costs.ground import Ground
from sheetgen.placing.draw import marks_of
from sheetgen.placing.items import Item, items_of
from sheetgen.placing.offers.on_pictorial import pictorial_offers, sight_arrow
from sheetgen.placing.offers.on_views import view_offers
from sheetgen.placing.search import PlacingError, choose
from sheetgen.placing.table import Offer, Offers, gathered, table_of

__all__ = [
    "Candidate", "Ground", "Item", "Offer", "Offers", "PlacingError", "choose", "gathered", "items_of", "marks_of",
    "pictorial_offers", "sight_arrow", "table_of", "view_offers",
]
