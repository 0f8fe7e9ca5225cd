"""Proof that what is given has exactly one answer, and the other answers where it has not."""

from sheetgen.certainty.assumptions import Assumption
from sheetgen.certainty.given import views_given
from sheetgen.certainty.grid import Grid, grid_of
from sheetgen.certainty.kinds import certainty
from sheetgen.certainty.missing import lines_missing, views_to_complete
from sheetgen.certainty.record import Certainty
from sheetgen.certainty.square import certainty_of
from sheetgen.certainty.strokes import LeftOut

__all__ = ["Assumption", "Certainty", "Grid", "LeftOut", "certainty", "certainty_of", "grid_of", "lines_missing", "views_given",
           "views_to_complete"]
