"""Feature records turned into the solids of an independent kernel, by its own boxes, cylinders, cones, prisms and Booleans.

Nothing here is shared with ``sheetgen``: the records of ``sheetgen.bank.features`` are read as plain numbers, and their
docstrings are the contract. Millimetres, part frame; degrees for angles.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from OCP.Bnd import Bnd_Box
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse
from OCP.BRepBndLib import BRepBndLib
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
from OCP.BRepLib import BRepLib
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakeCone, BRepPrimAPI_MakeCylinder, BRepPrimAPI_MakePrism
from OCP.GC import GC_MakeArcOfCircle
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt, gp_Vec
from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain
from OCP.TopoDS import TopoDS, TopoDS_Shape

from sheetgen.bank import features as f

FAR = 1000.0
"""mm: where an open end is put, well outside any part that fits a sheet."""

SMOOTH = 1e-4
"""Radians between the normals of two faces below which their join is tangent and bears no line."""

AXES = "xyz"
UV = {"front": (0, 2, 1), "top": (0, 1, 2), "right": (1, 2, 0)}
"""Plane -> places of u, v and of the normal in (x, y, z), as the records' docstring has them."""

NORMAL_PLANE = {"x": "right", "y": "front", "z": "top"}
MOUTHS = {"left": ("x", -1), "right": ("x", 1), "front": ("y", -1), "back": ("y", 1), "bottom": ("z", -1), "top": ("z", 1)}
"""Mouth -> axis, and the sign of the outward direction there."""

TOWARD = {"left": (-1.0, 0.0), "right": (1.0, 0.0), "up": (0.0, 1.0), "down": (0.0, -1.0)}
Place = tuple[float, float]
Bounds = tuple[tuple[float, float, float], tuple[float, float, float]]


def place(plane: str, u: float, v: float, w: float) -> gp_Pnt:
    """The point (u, v) of ``plane``, at ``w`` along its normal axis."""
    xyz = [0.0, 0.0, 0.0]
    for value, index in zip((u, v, w), UV[plane], strict=True):
        xyz[index] = value
    return gp_Pnt(*xyz)


def ends(span: f.Span) -> tuple[float, float]:
    """A span with its open ends put far outside."""
    low, high = span
    return (-FAR if low is None else low, FAR if high is None else high)


def bounds_of(shape: TopoDS_Shape) -> Bounds:
    """Lowest and highest corner of the box round ``shape``, exact (no triangulation, no tolerance added)."""
    box = Bnd_Box()
    BRepBndLib.AddOptimal_s(shape, box, False, False)
    box.SetGap(0.0)
    low, high = box.CornerMin(), box.CornerMax()
    return (low.X(), low.Y(), low.Z()), (high.X(), high.Y(), high.Z())


def box(low: Sequence[float], high: Sequence[float]) -> TopoDS_Shape:
    return BRepPrimAPI_MakeBox(gp_Pnt(*low), gp_Pnt(*high)).Shape()


def frustum(axis: str, at: Place, start: float, stop: float, radii: tuple[float, float]) -> TopoDS_Shape:
    """A cylinder, cone or frustum along ``axis`` from coordinate ``start`` (first radius) to ``stop`` (second radius)."""
    direction = [0.0, 0.0, 0.0]
    direction[AXES.index(axis)] = math.copysign(1.0, stop - start)
    frame = gp_Ax2(place(NORMAL_PLANE[axis], *at, start), gp_Dir(*direction))
    if radii[0] == radii[1]:
        return BRepPrimAPI_MakeCylinder(frame, radii[0], abs(stop - start)).Shape()
    return BRepPrimAPI_MakeCone(frame, *radii, abs(stop - start)).Shape()


Step = tuple[Place, Place | None]
"""A piece of an outline: where it ends, and for an arc a point on its way."""


def prism(plane: str, start: Place, steps: Sequence[Step], span: f.Span) -> TopoDS_Shape:
    """The closed outline from ``start`` through ``steps``, extruded over ``span`` along the plane's normal."""
    low, high = ends(span)
    wire, here = BRepBuilderAPI_MakeWire(), start
    for end, via in steps:
        a, b = place(plane, *here, low), place(plane, *end, low)
        curve = (a, b) if via is None else (GC_MakeArcOfCircle(a, place(plane, *via, low), b).Value(),)
        wire.Add(BRepBuilderAPI_MakeEdge(*curve).Edge())
        here = end
    sweep = [0.0, 0.0, 0.0]
    sweep[UV[plane][2]] = high - low
    solid = TopoDS.Solid(BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(wire.Wire(), True).Face(), gp_Vec(*sweep)).Shape())
    BRepLib.OrientClosedSolid_s(solid)   # the outline may run either way round
    return solid


def polygon(plane: str, corners: Sequence[Place], span: f.Span) -> TopoDS_Shape:
    """A prism over a polygon."""
    return prism(plane, corners[0], [(c, None) for c in (*corners[1:], corners[0])], span)


def _block(it: f.Block) -> list[TopoDS_Shape]:
    return [box(*zip(*(ends(span) for span in (it.x, it.y, it.z)), strict=True))]


def _arc_steps(here: Place, piece: f.Piece) -> list[Step]:
    """An arc as two arcs of half the sweep (so that a full turn is possible), each with a point on its way."""
    cu, cv = piece.centre
    radius = math.hypot(here[0] - cu, here[1] - cv)
    first = math.atan2(here[1] - cv, here[0] - cu)
    last = math.atan2(piece.end[1] - cv, piece.end[0] - cu)
    way = 1.0 if piece.turn == "left" else -1.0
    sweep = way * (way * (last - first) % math.tau or math.tau)
    quarter, half, more = ((cu + radius * math.cos(first + k * sweep), cv + radius * math.sin(first + k * sweep))
                           for k in (0.25, 0.5, 0.75))
    return [(half, quarter), (piece.end, more)]


def _profile(it: f.Profile) -> list[TopoDS_Shape]:
    steps: list[Step] = []
    here = it.start
    for piece in it.pieces:
        steps += [(piece.end, None)] if piece.centre is None else _arc_steps(here, piece)
        here = piece.end
    return [prism(it.plane, it.start, steps, it.along)]


def _hole(it: f.Hole, solid: TopoDS_Shape) -> list[TopoDS_Shape]:
    """Tools of a hole: drill (flat or pointed), counterbore, countersink, at each place."""
    axis, sign = MOUTHS[it.mouth]
    face = bounds_of(solid)[sign > 0][AXES.index(axis)] if it.level is None else it.level
    start = sign * FAR if it.level is None else it.level
    tools = []
    for at in it.at:
        r = it.diameter / 2
        floor = -sign * FAR if it.depth is None else face - sign * it.depth
        tools.append(frustum(axis, at, start, floor, (r, r)))
        if it.point_angle is not None:
            tools.append(frustum(axis, at, floor, floor - sign * r / math.tan(math.radians(it.point_angle) / 2), (r, 0.0)))
        if it.counterbore is not None:
            wide, deep = it.counterbore
            tools.append(frustum(axis, at, face, face - sign * deep, (wide / 2, wide / 2)))
        if it.countersink is not None:
            wide, angle = it.countersink
            deep = (wide / 2 - r) / math.tan(math.radians(angle) / 2)
            tools.append(frustum(axis, at, face, face - sign * deep, (wide / 2, r)))
    return tools


def _cylinder(it: f.Cylinder) -> list[TopoDS_Shape]:
    low, high = ends(it.along)
    return [frustum(it.axis, at, low, high, (it.diameter / 2, it.diameter / 2)) for at in it.at]


def _cone(it: f.Cone) -> list[TopoDS_Shape]:
    low, high = ends(it.along)
    return [frustum(it.axis, it.at, low, high, (it.diameters[0] / 2, it.diameters[1] / 2))]


def _frame(toward: str, origin: Place) -> Callable[[float, float], Place]:
    """A function from (forward, sideways) to plane coordinates: forward runs ``toward`` from ``origin``."""
    (fu, fv), (ou, ov) = TOWARD[toward], origin
    return lambda ahead, aside: (ou + fu * ahead - fv * aside, ov + fv * ahead + fu * aside)


def _lug(it: f.Lug) -> list[TopoDS_Shape]:
    to, r = _frame(it.toward, it.centre), it.width / 2
    along_u, sign = it.toward in ("left", "right"), sum(TOWARD[it.toward])
    back = -FAR if it.foot is None else sign * (it.foot - it.centre[0 if along_u else 1])
    outline: list[Step] = [(to(0, r), to(r, 0)), (to(back, r), None), (to(back, -r), None), (to(0, -r), None)]
    if back == 0:
        outline = [outline[0], (to(0, -r), None)]
    return [prism(it.plane, to(0, -r), outline, it.along)]


def _obround(it: f.Obround) -> list[TopoDS_Shape]:
    (au, av), (bu, bv) = it.centres
    toward = ("right" if bu > au else "left") if abs(bu - au) > abs(bv - av) else ("up" if bv > av else "down")
    to, r, length = _frame(toward, it.centres[0]), it.width / 2, math.hypot(bu - au, bv - av)
    outline: list[Step] = [(to(length, -r), None), (to(length, r), to(length + r, 0)), (to(0, r), None), (to(0, -r), to(-r, 0))]
    return [prism(it.plane, to(0, -r), outline, it.along)]


def _rib(it: f.Rib) -> list[TopoDS_Shape]:
    (u, v), (du, dv) = it.corner, it.legs
    return [polygon(it.plane, [(u, v), (u + du, v), (u, v + dv)], it.along)]


def _vee(it: f.Vee) -> list[TopoDS_Shape]:
    to, half = _frame(it.toward, it.tip), FAR * math.tan(math.radians(it.angle) / 2)
    return [polygon(it.plane, [(to(0, 0)), to(FAR, -half), to(FAR, half)], it.along)]


def _slant(it: f.Slant) -> list[TopoDS_Shape]:
    (au, av), (bu, bv) = it.line
    length = math.hypot(bu - au, bv - av)
    du, dv = FAR * (bu - au) / length, FAR * (bv - av) / length
    nu, nv = -dv, du
    ru, rv = {"above": (0, 1), "below": (0, -1), "left": (-1, 0), "right": (1, 0)}[it.remove]
    side = 1.0 if nu * ru + nv * rv > 0 else -1.0
    low, high = (au - du, av - dv), (au + du, av + dv)
    return [polygon(it.plane, [low, high, (high[0] + side * nu, high[1] + side * nv), (low[0] + side * nu, low[1] + side * nv)],
                    it.along)]


def _dovetail(it: f.Dovetail) -> list[TopoDS_Shape]:
    to, wide = _frame(it.toward, it.centre), it.width / 2
    narrow = wide - it.height / math.tan(math.radians(it.angle))
    there = it.height if it.cut else -it.height   # a groove opens toward, a tongue stands on its foot behind the crest
    return [polygon(it.plane, [to(0, -wide), to(there, -narrow), to(there, narrow), to(0, wide)], it.along)]


def _corner(it: f.Corner) -> list[TopoDS_Shape]:
    a, b, c = (gp_Pnt(*p) for p in it.through)
    normal = gp_Vec(a, b).Crossed(gp_Vec(a, c))
    if normal.Dot(gp_Vec(*map(float, it.corner))) < 0:
        normal.Reverse()
    frame = gp_Ax2(a, gp_Dir(normal))
    back = gp_Vec(frame.XDirection()).Multiplied(-FAR).Added(gp_Vec(frame.YDirection()).Multiplied(-FAR))
    frame.Translate(back)
    return [BRepPrimAPI_MakeBox(frame, 2 * FAR, 2 * FAR, FAR).Shape()]


TOOLS: dict[type, Callable[..., list[TopoDS_Shape]]] = {
    f.Block: _block, f.Profile: _profile, f.Cylinder: _cylinder, f.Cone: _cone, f.Lug: _lug, f.Obround: _obround,
    f.Rib: _rib, f.Vee: _vee, f.Slant: _slant, f.Dovetail: _dovetail, f.Corner: _corner}
ALWAYS_CUT = (f.Hole, f.Vee, f.Slant, f.Corner)


def shape_of(features: Sequence[f.Feature]) -> TopoDS_Shape:
    """The features in order: what is added is fused, what is cut is cut from everything so far."""
    solid: TopoDS_Shape | None = None
    for it in features:
        tools = _hole(it, solid) if isinstance(it, f.Hole) else TOOLS[type(it)](it)
        cut = isinstance(it, ALWAYS_CUT) or (not isinstance(it, f.Rib) and it.cut)
        for tool in tools:
            solid = tool if solid is None else (BRepAlgoAPI_Cut if cut else BRepAlgoAPI_Fuse)(solid, tool).Shape()
    return unified(solid)


def unified(shape: TopoDS_Shape) -> TopoDS_Shape:
    """One face where coplanar or coaxial equal faces meet, one edge where collinear edges do; tangent joins known as smooth."""
    upgrade = ShapeUpgrade_UnifySameDomain(shape, True, True, False)
    upgrade.Build()
    whole = upgrade.Shape()
    BRepLib.EncodeRegularity_s(whole, SMOOTH)
    return whole
