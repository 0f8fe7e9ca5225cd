"""What is measured on a solid, and the proof that the measures fix it: every size once, none missing."""

from sheetgen.measures.drilled import DRILL_POINT, drill_points
from sheetgen.measures.ends import EndRef, LostSideError, MeasureError, surface_named
from sheetgen.measures.measures import Measure, measures_of
from sheetgen.measures.proof import Proof, fixed_surfaces, prove
from sheetgen.measures.symmetry import check_symmetry

__all__ = [
    "DRILL_POINT", "EndRef", "LostSideError", "Measure", "MeasureError", "Proof", "check_symmetry", "drill_points",
    "fixed_surfaces", "measures_of", "prove", "surface_named",
]
