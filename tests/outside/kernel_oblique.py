"""Oblique pictorials by the independent kernel: the front view of its own solid, sheared by the formula of the textbooks.

Seen at a slant, a point of depth y stands k y cos 45 to the side and k y sin 45 up, k = 1 in the cavalier and 1/2 in the cabinet
(ISO 5456-3:1996 clause 5, from memory). So the oblique drawing of a solid is the front view of that in which each of its points
is moved so far; the kernel shears its surfaces and sorts their lines as those of any other solid. On sheared round surfaces it
calls a rim seen now and then that a wall of its hole covers; ``covered`` tells by rays through the kernel's own solid, which is
not sheared.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from OCP.BRepBuilderAPI import BRepBuilderAPI_GTransform
from OCP.gp import gp_Dir, gp_GTrsf, gp_Lin, gp_Mat, gp_Pnt, gp_XYZ
from OCP.IntCurvesFace import IntCurvesFace_ShapeIntersector
from OCP.TopoDS import TopoDS_Shape

from tests.outside.kernel import Reference
from tests.outside.kernel_lines import OUTLINE, SHARP, Line, hidden_line_removal, polylines

SHORTENED = {"cavalier": 1.0, "cabinet": 0.5}
BEFORE = 0.05
"""mm before a point from where on whatever a ray meets covers it."""


@dataclass(frozen=True, eq=False)
class Oblique:
    """``seen``, ``unseen``: its lines (k, 3) in the sheared solid, whose x and z are those of the drawing; ``toward`` (3,): the
    reader, in the solid as it is."""

    shape: TopoDS_Shape
    shear: Line
    toward: Line
    seen: list[Line]
    unseen: list[Line]

    @property
    def visible(self) -> list[Line]:
        """On the drawing (k, 2)."""
        return [line[:, [0, 2]] for line in self.seen]

    @property
    def hidden(self) -> list[Line]:
        """On the drawing (k, 2)."""
        return [line[:, [0, 2]] for line in self.unseen]

    def covered(self, point: tuple[float, float]) -> bool:
        """Whether something stands before the seen line that is drawn through a point."""
        near = [(shapely.LineString(line[:, [0, 2]]).distance(shapely.Point(point)), k) for k, line in enumerate(self.seen)]
        line = self.seen[min(near)[1]]
        steps = np.hypot(*np.diff(line[:, [0, 2]], axis=0).T)
        at = np.concatenate([[0.0], np.cumsum(steps)])
        where = shapely.LineString(line[:, [0, 2]]).project(shapely.Point(point))
        place = np.linalg.solve(self.shear, [np.interp(where, at, line[:, k]) for k in range(3)])
        caster = IntCurvesFace_ShapeIntersector()
        caster.Load(self.shape, 1e-6)
        caster.Perform(gp_Lin(gp_Pnt(*place.tolist()), gp_Dir(*self.toward.tolist())), BEFORE, 1e4)
        return caster.NbPnt() > 0


def oblique(reference: Reference, name: str, *, right: bool) -> Oblique:
    """The oblique drawing that shows the front and the ``right`` or the left side."""
    up = SHORTENED[name] * math.sqrt(0.5)
    across = up if right else -up
    rows = np.array([(1, across, 0), (0, 1, 0), (0, up, 1)])
    sheared = BRepBuilderAPI_GTransform(reference.shape, gp_GTrsf(gp_Mat(*rows.ravel().tolist()), gp_XYZ(0, 0, 0)), True).Shape()
    found = hidden_line_removal(sheared, "front")
    seen, unseen = ([line for kind in (SHARP, OUTLINE)
                     for line in polylines(found.CompoundOfEdges(kind, sort, True), np.eye(3), np.zeros(3))
                     if np.ptp(line[:, [0, 2]], axis=0).max() > 1e-6] for sort in (True, False))
    return Oblique(reference.shape, rows, np.array([across, -1.0, up]), seen, unseen)
