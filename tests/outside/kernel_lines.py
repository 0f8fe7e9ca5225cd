"""A kernel solid's linework by the kernel's own exact hidden-line removal, in the view coordinates of the trade.

The part stands in 0..W, 0..D, 0..H. u runs to the reader's right, v up, mm; the isometric at full scale along the axes.

What was found out about the kernel's hidden lines. Each edge and outline of the bodies of ``bodies.py`` was also sorted by
casting rays through the kernel's solid, and the kernel was right throughout; but know that
- every edge comes once for each of its faces, so lines come doubled; hidden lines under visible ones come too;
- asked for flat lines, it gives any curve that is not a line, circle or ellipse (two cylinders' meeting) as 15 points, far
  off the curve: so the edges are asked for in space and projected here;
- a tangent join is known as smooth only after ``BRepLib.EncodeRegularity``: without it every join is a sharp line;
- the outline along a flat seen edge-on (the width of a round-ended lug from above) is there, from the flat's other edges;
- where a bore crosses a bore or a shaft and is seen end-on, one view can take seconds. The result is still right;
- on made-up bodies outside ``bodies.py`` it was wrong, by rays, in 4 of about 2300 views: where an oblique plane or a dovetail
  cuts a rounded edge it called a straight or round rim hidden that is seen, or the other way round;
- where a bore just touches a face (no wall left) or the point of a groove touches one, it draws the line of contact.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepLib import BRepLib
from OCP.GCPnts import GCPnts_QuasiUniformDeflection
from OCP.GeomAbs import GeomAbs_Line
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
from OCP.HLRAlgo import HLRAlgo_Projector
from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape, HLRBRep_TypeOfResultingEdge
from OCP.TopAbs import TopAbs_EDGE
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Shape

Line = NDArray[np.float64]

FINE = 0.002
"""mm: greatest distance of a polyline from the curve it stands for."""

FRAMES = {   # view: (toward the viewer, to the reader's right)
    "front": ((0, -1, 0), (1, 0, 0)), "rear": ((0, 1, 0), (-1, 0, 0)),
    "right": ((1, 0, 0), (0, 1, 0)), "left": ((-1, 0, 0), (0, -1, 0)),
    "top": ((0, 0, 1), (1, 0, 0)), "bottom": ((0, 0, -1), (1, 0, 0)),
    "isometric": ((1, -1, 1), (1, 1, 0)), "isometric from the left": ((-1, -1, 1), (1, -1, 0)),
}


def axes_of(view: str, size: tuple[float, float, float]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Rows u, v (2, 3) and offset (2,): view coordinates of part points (n, 3) are ``points @ rows.T + offset``.

    ``size``: width, depth, height of the part, mm.
    """
    toward, right = (np.array(a, dtype=float) / math.hypot(*a) for a in FRAMES[view])
    rows = np.array([right, np.cross(toward, right)])
    if view.startswith("isometric"):
        return rows * math.sqrt(1.5), np.zeros(2)
    return rows, -np.minimum(rows @ np.array(size), 0.0)   # a reversed axis counts from the far side


def polylines(compound: TopoDS_Shape | None, rows: Line, offset: Line) -> list[Line]:
    """Every edge of ``compound`` as points (k, 2) in the view."""
    found: list[Line] = []
    if compound is None or compound.IsNull():
        return found
    BRepLib.BuildCurves3d_s(compound)
    walk = TopExp_Explorer(compound, TopAbs_EDGE)
    while walk.More():
        points = points_of(BRepAdaptor_Curve(TopoDS.Edge(walk.Current())))
        found.append(points @ rows.T + offset)
        walk.Next()
    return found


def points_of(curve: BRepAdaptor_Curve) -> Line:
    """A curve as points (k, 3), its ends included."""
    low, high = curve.FirstParameter(), curve.LastParameter()
    if curve.GetType() == GeomAbs_Line:
        points = [curve.Value(low), curve.Value(high)]
    else:
        walk = GCPnts_QuasiUniformDeflection(curve, FINE, low, high)
        points = [walk.Value(i + 1) for i in range(walk.NbPoints())]
    return np.array([(p.X(), p.Y(), p.Z()) for p in points])


SHARP = HLRBRep_TypeOfResultingEdge.HLRBRep_Sharp
OUTLINE = HLRBRep_TypeOfResultingEdge.HLRBRep_OutLine
SMOOTH = HLRBRep_TypeOfResultingEdge.HLRBRep_Rg1Line


def hidden_line_removal(shape: TopoDS_Shape, view: str) -> HLRBRep_HLRToShape:
    """Let the kernel sort the lines of ``shape``, seen from ``view``, into visible and hidden."""
    return sorted_along(shape, *FRAMES[view])


def sorted_along(shape: TopoDS_Shape, toward: Sequence[float], right: Sequence[float]) -> HLRBRep_HLRToShape:
    """The same for any direction ``toward`` the viewer, with what is to his ``right``."""
    frame = gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(*map(float, toward)), gp_Dir(*map(float, right)))
    algo = HLRBRep_Algo()
    algo.Add(shape, 0)
    algo.Projector(HLRAlgo_Projector(frame))
    algo.Update()
    algo.Hide()
    return HLRBRep_HLRToShape(algo)


def view_lines(shape: TopoDS_Shape, size: tuple[float, float, float], view: str) -> tuple[list[Line], list[Line]]:
    """Visible and hidden lines: sharp edges and outlines, not the smooth joins, which the trade leaves undrawn."""
    rows, offset = axes_of(view, size)
    return _both(hidden_line_removal(shape, view), rows, offset)


def lines_along(shape: TopoDS_Shape, toward: Sequence[float], right: Sequence[float]) -> tuple[list[Line], list[Line]]:
    """Visible and hidden lines seen from any direction, both vectors unit and square to each other; u, v as they make them."""
    rows = np.array([right, np.cross(toward, right)])
    return _both(sorted_along(shape, toward, right), rows, np.zeros(2))


def _both(sorted_lines: HLRBRep_HLRToShape, rows: Line, offset: Line) -> tuple[list[Line], list[Line]]:
    return tuple(
        [line for kind in (SHARP, OUTLINE)
         for line in polylines(sorted_lines.CompoundOfEdges(kind, seen, True), rows, offset)
         if np.ptp(line, axis=0).max() > 1e-6]   # an edge seen end-on is a point
        for seen in (True, False))
