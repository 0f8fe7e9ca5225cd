"""From features to the exact solid: tagged surfaces and the edges where they meet."""

from sheetgen.solid.axes import AxisGroup
from sheetgen.solid.build import SolidError, build
from sheetgen.solid.edges import Conic, Curve, Edges, Line
from sheetgen.solid.faces import Faces, faces_of
from sheetgen.solid.far_ends import FarEnd, IntoBore, IntoHollow, Through, far_ends
from sheetgen.solid.hollows import is_drill_point, is_hollow, is_open, rows_of, turns_right_round
from sheetgen.solid.solid import Solid
from sheetgen.solid.surfaces import Cone, Cylinder, Plane, Surface, coaxial, parallel
from sheetgen.solid.trim import Stretch, Trimmed, trimmed

__all__ = [
    "AxisGroup", "Cone", "Conic", "Curve", "Cylinder", "Edges", "Faces", "FarEnd", "IntoBore", "IntoHollow", "Line", "Plane",
    "Solid", "SolidError", "Stretch", "Surface", "Through", "Trimmed", "build", "coaxial", "faces_of", "far_ends",
    "is_drill_point", "is_hollow", "is_open", "parallel", "rows_of", "trimmed", "turns_right_round",
]
