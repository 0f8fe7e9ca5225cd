"""Each feature as primitives: what is added, or taken away. Open ends reach past the solid made so far."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from sheetgen.bank.features import (
    NORMAL_AXIS,
    PLANE_AXES,
    Axis,
    Block,
    Cone,
    Corner,
    Cylinder,
    Dovetail,
    Feature,
    Hole,
    Lug,
    Obround,
    Plane,
    Point,
    Profile,
    Rib,
    Slant,
    Span,
    Vee,
)
from sheetgen.solid.oblique import half_space
from sheetgen.solid.primitives import AXIS_INDEX, SIDE_NAMES, Primitive, Side, extruded, turned
from sheetgen.solid.surfaces import Array

BEYOND = 10.0
"""mm that an open cut reaches past the solid: any length will do that is no tolerance."""

TOWARD = {"left": (-1, 0), "right": (1, 0), "down": (0, -1), "up": (0, 1)}
MOUTH: dict[str, tuple[Axis, int]] = {
    "left": ("x", -1), "right": ("x", 1), "front": ("y", -1), "back": ("y", 1), "bottom": ("z", -1), "top": ("z", 1)
}


@dataclass(frozen=True, eq=False)
class Shape:
    """A primitive to be added, or cut away."""

    cut: bool
    body: Primitive


def shapes_of(feature: Feature, extent: Array) -> list[Shape]:
    """Return the primitives of ``feature``; ``extent`` (2, 3) mm: lowest and highest corner of the solid so far.

    Raises: ValueError with a teacher's reason if the feature has no such shape (an empty span, a radius of 0, ...).
    """
    return _MAKERS[type(feature)](feature, extent)


def _range(span: Span, axis: Axis, extent: Array) -> tuple[float, float]:
    k = AXIS_INDEX[axis]
    low = extent[0, k] - BEYOND if span[0] is None else span[0]
    high = extent[1, k] + BEYOND if span[1] is None else span[1]
    if not high > low:
        raise ValueError(f"its {axis} range runs from {low:g} to {high:g}; the second number must be the larger")
    return float(low), float(high)


def _named(feature: Any, *sides: str) -> tuple[str, ...]:
    return tuple(f"{feature.name}.{side}" for side in sides)


def _ends(feature: Any, axis: Axis) -> tuple[tuple[str, ...], tuple[str, ...]]:
    low, high = SIDE_NAMES[axis]
    return _named(feature, low), _named(feature, high)


def _far(extent: Array) -> float:
    """mm: longer than any line through the solid, for cuts that are open in their plane."""
    return float(np.abs(extent).max() + np.linalg.norm(extent[1] - extent[0])) + BEYOND


def _polygon(feature: Any, points: list[Point], names: list[tuple[str, ...]], extent: Array, cut: bool) -> list[Shape]:
    """An extruded polygon; ``names[i]`` belongs to the side that ends at ``points[i]`` (the first side starts at the last)."""
    axis = NORMAL_AXIS[feature.plane]
    low, high = _range(feature.along, axis, extent)
    sides = [Side(point, name) for point, name in zip(points, names, strict=True)]
    return [Shape(cut, extruded(feature.plane, points[-1], sides, low, high, _ends(feature, axis)))]


def _block(f: Block, extent: Array) -> list[Shape]:
    (x0, x1), (y0, y1), (z0, z1) = _range(f.x, "x", extent), _range(f.y, "y", extent), _range(f.z, "z", extent)
    sides = [
        Side((x1, z0), _named(f, "bottom")),
        Side((x1, z1), _named(f, "right")),
        Side((x0, z1), _named(f, "top")),
        Side((x0, z0), _named(f, "left")),
    ]
    return [Shape(f.cut, extruded("front", (x0, z0), sides, y0, y1, _ends(f, "y")))]


def _profile(f: Profile, extent: Array) -> list[Shape]:
    before, sides = f.start, []
    for piece in f.pieces:
        names = _named(f, piece.side, f"{piece.side}.axis", f"{piece.side}.wall") if piece.side else ()
        if piece.centre is not None:
            a, b = math.dist(before, piece.centre), math.dist(piece.end, piece.centre)
            if abs(a - b) > 1e-6 or a <= 0:
                raise ValueError(
                    f"its arc to [{piece.end[0]:g}, {piece.end[1]:g}] starts {a:g} mm from the centre and ends {b:g} mm from it; "
                    "both must be the radius"
                )
        sides.append(Side(piece.end, names, piece.centre, piece.turn != "right"))
        before = piece.end
    if math.dist(before, f.start) > 1e-6:
        raise ValueError(f"its outline ends at [{before[0]:g}, {before[1]:g}], not where it started")
    axis = NORMAL_AXIS[f.plane]
    low, high = _range(f.along, axis, extent)
    return [Shape(f.cut, extruded(f.plane, f.start, sides, low, high, _ends(f, axis)))]


def _axis_frame(axis: Axis, sign: int, at: Point, level: float) -> tuple[Array, Array]:
    """Origin (3,) and direction (3,) of an axis through ``at`` at ``level``, pointing along ``sign``."""
    k = AXIS_INDEX[axis]
    origin = np.zeros(3)
    origin[[i for i in range(3) if i != k]] = at
    origin[k] = level
    return origin, np.eye(3)[k] * sign


def _each(f: Any) -> list[tuple[Point, Callable[..., tuple[str, ...]]]]:
    """Every position of a feature with a function that names its sides there."""
    if len(f.at) == 1:
        return [(f.at[0], lambda *sides: _named(f, *sides))]
    return [
        (at, lambda *sides, k=k: (*_named(f, *(f"{k}.{side}" for side in sides)), *((f.name,) if k == 1 and "wall" in sides else ())))
        for k, at in enumerate(f.at, 1)
    ]


def _hole(f: Hole, extent: Array) -> list[Shape]:
    axis, sign = MOUTH[f.mouth]
    k = AXIS_INDEX[axis]
    outermost = extent[1 if sign > 0 else 0, k]
    level = outermost if f.level is None else f.level
    start = 0.0 if f.level is not None else -BEYOND        # distance along the drilling direction, from the level
    end = f.depth if f.depth is not None else abs(outermost - level) + float(extent[1, k] - extent[0, k]) + BEYOND
    radius = f.diameter / 2
    if radius <= 0 or end <= 0:
        raise ValueError(f"its diameter is {f.diameter:g} and its depth {end:g}; both must be above 0")
    shapes = []
    for at, named in _each(f):
        origin, direction = _axis_frame(axis, -sign, at, float(level))
        rings, names = _hole_rings(f, start, float(end), named)
        shapes.append(Shape(True, turned(origin, direction, rings, names)))
    return shapes


def _hole_rings(
    f: Hole, start: float, end: float, named: Callable[..., tuple[str, ...]]
) -> tuple[list[tuple[float, float]], list[tuple[str, ...]]]:
    """Rings from the mouth inward (counterbore or countersink, wall, floor or drill point) and the sides' names."""
    radius = f.diameter / 2
    rings: list[tuple[float, float]] = []
    names: list[tuple[str, ...]] = [()]
    if f.counterbore is not None:
        diameter, depth = f.counterbore
        if diameter <= f.diameter or depth >= end:
            raise ValueError(f"its counterbore, {diameter:g} by {depth:g} deep, must be wider than the hole and less deep")
        rings += [(start, diameter / 2), (depth, diameter / 2), (depth, radius)]
        names += [named("counterbore"), named("shoulder")]
    elif f.countersink is not None:
        diameter, angle = f.countersink
        depth = (diameter - f.diameter) / 2 / math.tan(math.radians(angle / 2))
        if diameter <= f.diameter or depth >= end:
            raise ValueError(f"its countersink, {diameter:g} at {angle:g} degrees, must be wider than the hole and less deep")
        if start < 0:
            rings, names = [(start, diameter / 2)], [(), ()]
        rings += [(0.0, diameter / 2), (depth, radius)]
        names += [named("countersink")]
    else:
        rings += [(start, radius)]
    rings += [(end, radius)]
    names += [named("wall", "axis")]
    if f.point_angle is not None and f.depth is not None:
        rings += [(end + radius / math.tan(math.radians(f.point_angle / 2)), 0.0)]
        names += [named("point")]
    flat = f.depth is not None and f.point_angle is None
    names += [named("floor") if flat else ()]
    return rings, names


def _cylinder(f: Cylinder, extent: Array) -> list[Shape]:
    low, high = _range(f.along, f.axis, extent)
    if f.diameter <= 0:
        raise ValueError(f"its diameter is {f.diameter:g}; it must be above 0")
    ends, shapes = SIDE_NAMES[f.axis], []
    for at, named in _each(f):
        origin, direction = _axis_frame(f.axis, 1, at, 0.0)
        rings = [(low, f.diameter / 2), (high, f.diameter / 2)]
        shapes.append(Shape(f.cut, turned(origin, direction, rings, [named(ends[0]), named("wall", "axis"), named(ends[1])])))
    return shapes


def _cone(f: Cone, extent: Array) -> list[Shape]:
    low, high = _range(f.along, f.axis, extent)
    if min(f.diameters) < 0 or f.diameters[0] == f.diameters[1]:
        raise ValueError(f"its diameters are {f.diameters[0]:g} and {f.diameters[1]:g}; they must differ and not be below 0")
    origin, direction = _axis_frame(f.axis, 1, f.at, 0.0)
    ends = _ends(f, f.axis)
    rings = [(low, f.diameters[0] / 2), (high, f.diameters[1] / 2)]
    return [Shape(f.cut, turned(origin, direction, rings, [ends[0], _named(f, "wall", "axis"), ends[1]]))]


def _side_of(plane: Plane, u: int, v: int) -> str:
    """The trade's name of the side of a drawn plane that lies towards (u, v), one of them 0."""
    axis = PLANE_AXES[plane][0 if u else 1]
    return SIDE_NAMES[axis][1 if u + v > 0 else 0]


def _lug(f: Lug, extent: Array) -> list[Shape]:
    (cu, cv), r, (du, dv) = f.centre, f.width / 2, TOWARD[f.toward]
    foot = f.foot
    if foot is None:
        k = AXIS_INDEX[PLANE_AXES[f.plane][0 if du else 1]]
        foot = extent[0, k] - BEYOND if du + dv > 0 else extent[1, k] + BEYOND
    length = (cu - foot) * du + (cv - foot) * dv         # of the flats
    if r <= 0 or length <= 0:
        raise ValueError(f"its width is {f.width:g} and its foot is {length:g} mm behind its centre; both must be above 0")
    side = (-dv * r, du * r)                             # to the left of the direction it points in
    left, right = (cu + side[0], cv + side[1]), (cu - side[0], cv - side[1])
    back = (-du * length, -dv * length)
    axis = NORMAL_AXIS[f.plane]
    low, high = _range(f.along, axis, extent)
    sides = [
        Side(left, _named(f, "round", "axis", "wall"), f.centre, left=True),
        Side((left[0] + back[0], left[1] + back[1]), _named(f, _side_of(f.plane, -dv, du))),
        Side((right[0] + back[0], right[1] + back[1]), _named(f, "floor")),
        Side(right, _named(f, _side_of(f.plane, dv, -du))),
    ]
    return [Shape(f.cut, extruded(f.plane, right, sides, low, high, _ends(f, axis)))]


def _obround(f: Obround, extent: Array) -> list[Shape]:
    (au, av), (bu, bv) = sorted(f.centres)
    r = f.width / 2
    level = av == bv
    if r <= 0 or (au == bu) == level:
        raise ValueError("its centres must differ along one axis only and its width must be above 0")
    du, dv = (1, 0) if level else (0, 1)                 # from a to b
    off = (-dv * r, du * r)
    axis = NORMAL_AXIS[f.plane]
    low, high = _range(f.along, axis, extent)
    sides = [
        Side((bu - off[0], bv - off[1]), _named(f, _side_of(f.plane, dv, -du))),
        Side((bu + off[0], bv + off[1]), _named(f, "2.round", "2.axis", "2.wall"), (bu, bv), left=True),
        Side((au + off[0], av + off[1]), _named(f, _side_of(f.plane, -dv, du))),
        Side((au - off[0], av - off[1]), _named(f, "1.round", "1.axis", "1.wall"), (au, av), left=True),
    ]
    return [Shape(f.cut, extruded(f.plane, (au - off[0], av - off[1]), sides, low, high, _ends(f, axis)))]


def _rib(f: Rib, extent: Array) -> list[Shape]:
    (u, v), (du, dv) = f.corner, f.legs
    if du == 0 or dv == 0:
        raise ValueError("one of its legs has no length")
    return _polygon(f, [(u + du, v), (u, v + dv), (u, v)], [(), _named(f, "slope"), ()], extent, cut=False)


def _vee(f: Vee, extent: Array) -> list[Shape]:
    if not 0 < f.angle < 180:
        raise ValueError(f"its angle is {f.angle:g} degrees; it must lie between 0 and 180")
    (u, v), (du, dv) = f.tip, TOWARD[f.toward]
    deep = _far(extent)
    wide = deep * math.tan(math.radians(f.angle / 2))
    left = (u + du * deep - dv * wide, v + dv * deep + du * wide)
    right = (u + du * deep + dv * wide, v + dv * deep - du * wide)
    names = [(), _named(f, _side_of(f.plane, -dv, du)), _named(f, _side_of(f.plane, dv, -du))]
    return _polygon(f, [left, (u, v), right], [names[0], names[1], names[2]], extent, cut=True)


def _slant(f: Slant, extent: Array) -> list[Shape]:
    (au, av), (bu, bv) = f.line
    length = math.dist(*f.line)
    if length == 0 or (f.remove in ("above", "below") and au == bu) or (f.remove in ("left", "right") and av == bv):
        raise ValueError(f"no side of its line lies {f.remove}; the two points do not fit")
    du, dv = (bu - au) / length, (bv - av) / length
    nu, nv = -dv, du                                     # square to the line; turned towards what goes
    wanted = {"above": nv, "below": -nv, "left": -nu, "right": nu}[f.remove]
    if wanted < 0:
        nu, nv = -nu, -nv
    far = _far(extent)
    a, b = (au - du * far, av - dv * far), (bu + du * far, bv + dv * far)
    points = [b, (b[0] + nu * far, b[1] + nv * far), (a[0] + nu * far, a[1] + nv * far), a]
    return _polygon(f, points, [_named(f, "face"), (), (), ()], extent, cut=True)


def _dovetail(f: Dovetail, extent: Array) -> list[Shape]:
    (u, v), (du, dv) = f.centre, TOWARD[f.toward]
    wide, sense = f.width / 2, 1 if f.cut else -1        # a groove's mouth lies ahead of its floor, a tongue's foot behind its crest
    narrow = wide - f.height / math.tan(math.radians(f.angle))
    if not (0 < f.angle < 90 and narrow > 0 and f.height > 0):
        raise ValueError(f"{f.width:g} wide, {f.height:g} high at {f.angle:g} degrees leaves no neck; widen it or make it lower")
    mu, mv = u + du * f.height * sense, v + dv * f.height * sense
    points = [(u - dv * wide, v + du * wide), (mu - dv * narrow, mv + du * narrow)]
    points += [(mu + dv * narrow, mv - du * narrow), (u + dv * wide, v - du * wide)]
    names = [_named(f, "floor"), _named(f, _side_of(f.plane, -dv, du)), (), _named(f, _side_of(f.plane, dv, -du))]
    return _polygon(f, points, names, extent, f.cut)


def _corner(f: Corner, extent: Array) -> list[Shape]:
    return [Shape(True, half_space(np.array(f.through, dtype=float), np.array(f.corner, dtype=float), _far(extent), _named(f, "face")))]


_MAKERS: dict[type, Callable[[Any, Array], list[Shape]]] = {
    Block: _block, Profile: _profile, Hole: _hole, Cylinder: _cylinder, Cone: _cone, Lug: _lug, Obround: _obround,
    Rib: _rib, Vee: _vee, Slant: _slant, Dovetail: _dovetail, Corner: _corner,
}
