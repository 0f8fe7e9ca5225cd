"""Proof that what is given has exactly one answer, and the other answers where it has not."""

from sheetgen.certainty.assumptions import Assumption
from sheetgen.certainty.given import views_given
from sheetgen.certainty.grid import Grid, grid_of
from sheetgen.certainty.kinds import certainty
from sheetgen.certainty.missing import LeftOut, lines_missing
from sheetgen.certainty.record import Certainty
from sheetgen.certainty.square import certainty_of

__all__ = ["Assumption", "Certainty", "Grid", "LeftOut", "certainty", "certainty_of", "grid_of", "lines_missing", "views_given"]
