"""An independent exact kernel as referee: the same feature records, its own primitives, Booleans and hidden-line removal.

    reference = reference_solid(features)
    reference.volume, reference.bounds
    visible, hidden = reference.views("front")
    print(compare(ours, visible))

The harness shares no geometry with ``sheetgen``; ``test_kernel_itself.py`` holds it against solids worked by hand.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
from OCP.BRepGProp import BRepGProp
from OCP.gp import gp_Trsf, gp_Vec
from OCP.GProp import GProp_GProps
from OCP.TopoDS import TopoDS_Shape

from sheetgen.bank.features import Feature
from tests.outside.compare import Comparison, compare, compare_hidden
from tests.outside.kernel_features import Bounds, bounds_of, shape_of
from tests.outside.kernel_lines import Line, view_lines

__all__ = ["VIEWS", "Comparison", "Reference", "compare", "compare_hidden", "reference_solid"]

VIEWS = ("front", "top", "right", "left", "rear", "bottom", "isometric")


@dataclass(frozen=True, eq=False)
class Reference:
    """A solid of the independent kernel; the lowest, leftmost, foremost corner of its box is the origin."""

    shape: TopoDS_Shape

    @property
    def volume(self) -> float:
        """mm3, from the exact surfaces."""
        properties = GProp_GProps()
        BRepGProp.VolumeProperties_s(self.shape, properties)
        return properties.Mass()

    @property
    def bounds(self) -> Bounds:
        """Lowest and highest corner of its box, mm."""
        return bounds_of(self.shape)

    def views(self, name: str) -> tuple[list[Line], list[Line]]:
        """Visible and hidden lines of view ``name`` as polylines (k, 2), mm, u to the reader's right and v up."""
        return view_lines(self.shape, self.bounds[1], name)


def reference_solid(features: Sequence[Feature]) -> Reference:
    """Build ``features`` in order, and move the result so that its box begins at the origin."""
    shape = shape_of(features)
    move = gp_Trsf()
    move.SetTranslation(gp_Vec(*(-low for low in bounds_of(shape)[0])))
    return Reference(BRepBuilderAPI_Transform(shape, move, True).Shape())
