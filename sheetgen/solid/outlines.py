"""Features extruded from an outline as primitives, and the oblique cut of a corner. Part frame, millimetres."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from sheetgen.bank.features import (
    NORMAL_AXIS,
    PLANE_AXES,
    Block,
    Corner,
    Dovetail,
    Lug,
    Obround,
    Plane,
    Point,
    Profile,
    Rib,
    Slant,
    Vee,
)
from sheetgen.geometry import Array
from sheetgen.solid.oblique import half_space
from sheetgen.solid.primitives import AXIS_INDEX, SIDE_NAMES, OutlineSide, extruded
from sheetgen.solid.spans import BEYOND, Operand, end_names, far, named, range_of
from sheetgen.units import SAME_POINT

TOWARD = {"left": (-1, 0), "right": (1, 0), "down": (0, -1), "up": (0, 1)}


def _polygon(feature: Any, points: list[Point], names: list[tuple[str, ...]], extent: Array, cut: bool) -> list[Operand]:
    """An extruded polygon; ``names[i]`` belongs to the side that ends at ``points[i]`` (the first side starts at the last)."""
    axis = NORMAL_AXIS[feature.plane]
    low, high = range_of(feature.along, axis, extent)
    sides = [OutlineSide(point, name) for point, name in zip(points, names, strict=True)]
    return [Operand(cut, extruded(feature.plane, points[-1], sides, low, high, end_names(feature, axis)))]


def block(f: Block, extent: Array) -> list[Operand]:
    """Return the primitives of a block."""
    (x0, x1), (y0, y1), (z0, z1) = range_of(f.x, "x", extent), range_of(f.y, "y", extent), range_of(f.z, "z", extent)
    sides = [
        OutlineSide((x1, z0), named(f, "bottom")),
        OutlineSide((x1, z1), named(f, "right")),
        OutlineSide((x0, z1), named(f, "top")),
        OutlineSide((x0, z0), named(f, "left")),
    ]
    return [Operand(f.cut, extruded("front", (x0, z0), sides, y0, y1, end_names(f, "y")))]


def profile(f: Profile, extent: Array) -> list[Operand]:
    """Return the primitives of an extruded outline."""
    before, sides = f.start, []
    for piece in f.pieces:
        names = named(f, piece.side, f"{piece.side}.axis", f"{piece.side}.wall") if piece.side else ()
        if piece.centre is not None:
            a, b = math.dist(before, piece.centre), math.dist(piece.end, piece.centre)
            if abs(a - b) > SAME_POINT or a <= 0:
                raise ValueError(
                    f"its arc to [{piece.end[0]:g}, {piece.end[1]:g}] starts {a:g} mm from the centre and ends {b:g} mm from it; "
                    "both must be the radius"
                )
        sides.append(OutlineSide(piece.end, names, piece.centre, piece.turn != "right"))
        before = piece.end
    if math.dist(before, f.start) > SAME_POINT:
        raise ValueError(f"its outline ends at [{before[0]:g}, {before[1]:g}], not where it started")
    axis = NORMAL_AXIS[f.plane]
    low, high = range_of(f.along, axis, extent)
    return [Operand(f.cut, extruded(f.plane, f.start, sides, low, high, end_names(f, axis)))]


def _side_of(plane: Plane, u: int, v: int) -> str:
    """The trade's name of the side of a drawn plane that lies towards (u, v), one of them 0."""
    axis = PLANE_AXES[plane][0 if u else 1]
    return SIDE_NAMES[axis][1 if u + v > 0 else 0]


def lug(f: Lug, extent: Array) -> list[Operand]:
    """Return the primitives of a lug, or of a slot with a round end."""
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
    low, high = range_of(f.along, axis, extent)
    sides = [
        OutlineSide(left, named(f, "round", "axis", "wall"), f.centre, left=True),
        OutlineSide((left[0] + back[0], left[1] + back[1]), named(f, _side_of(f.plane, -dv, du))),
        OutlineSide((right[0] + back[0], right[1] + back[1]), named(f, "floor")),
        OutlineSide(right, named(f, _side_of(f.plane, dv, -du))),
    ]
    return [Operand(f.cut, extruded(f.plane, right, sides, low, high, end_names(f, axis)))]


def obround(f: Obround, extent: Array) -> list[Operand]:
    """Return the primitives of a bar or slot with two round ends."""
    (au, av), (bu, bv) = sorted(f.centres)
    r = f.width / 2
    level = av == bv
    if r <= 0 or (au == bu) == level:
        raise ValueError("its centres must differ along one axis only and its width must be above 0")
    du, dv = (1, 0) if level else (0, 1)                 # from a to b
    off = (-dv * r, du * r)
    axis = NORMAL_AXIS[f.plane]
    low, high = range_of(f.along, axis, extent)
    sides = [
        OutlineSide((bu - off[0], bv - off[1]), named(f, _side_of(f.plane, dv, -du))),
        OutlineSide((bu + off[0], bv + off[1]), named(f, "2.round", "2.axis", "2.wall"), (bu, bv), left=True),
        OutlineSide((au + off[0], av + off[1]), named(f, _side_of(f.plane, -dv, du))),
        OutlineSide((au - off[0], av - off[1]), named(f, "1.round", "1.axis", "1.wall"), (au, av), left=True),
    ]
    return [Operand(f.cut, extruded(f.plane, (au - off[0], av - off[1]), sides, low, high, end_names(f, axis)))]


def rib(f: Rib, extent: Array) -> list[Operand]:
    """Return the primitives of a rib."""
    (u, v), (du, dv) = f.corner, f.legs
    if du == 0 or dv == 0:
        raise ValueError("one of its legs has no length")
    return _polygon(f, [(u + du, v), (u, v + dv), (u, v)], [(), named(f, "slope"), ()], extent, cut=False)


def vee(f: Vee, extent: Array) -> list[Operand]:
    """Return the primitives of a vee."""
    if not 0 < f.angle < 180:
        raise ValueError(f"its angle is {f.angle:g} degrees; it must lie between 0 and 180")
    (u, v), (du, dv) = f.tip, TOWARD[f.toward]
    deep = far(extent)
    wide = deep * math.tan(math.radians(f.angle / 2))
    left = (u + du * deep - dv * wide, v + dv * deep + du * wide)
    right = (u + du * deep + dv * wide, v + dv * deep - du * wide)
    names = [(), named(f, _side_of(f.plane, -dv, du)), named(f, _side_of(f.plane, dv, -du))]
    return _polygon(f, [left, (u, v), right], [names[0], names[1], names[2]], extent, cut=True)


def slant(f: Slant, extent: Array) -> list[Operand]:
    """Return the primitives of a slanting cut."""
    (au, av), (bu, bv) = f.line
    length = math.dist(*f.line)
    if length == 0 or (f.remove in ("above", "below") and au == bu) or (f.remove in ("left", "right") and av == bv):
        raise ValueError(f"no side of its line lies {f.remove}; the two points do not fit")
    du, dv = (bu - au) / length, (bv - av) / length
    nu, nv = -dv, du                                     # square to the line; turned towards what goes
    wanted = {"above": nv, "below": -nv, "left": -nu, "right": nu}[f.remove]
    if wanted < 0:
        nu, nv = -nu, -nv
    long = far(extent)
    a, b = (au - du * long, av - dv * long), (bu + du * long, bv + dv * long)
    points = [b, (b[0] + nu * long, b[1] + nv * long), (a[0] + nu * long, a[1] + nv * long), a]
    return _polygon(f, points, [named(f, "face"), (), (), ()], extent, cut=True)


def dovetail(f: Dovetail, extent: Array) -> list[Operand]:
    """Return the primitives of a dovetail groove or tongue."""
    (u, v), (du, dv) = f.centre, TOWARD[f.toward]
    wide, sense = f.width / 2, 1 if f.cut else -1    # a groove's mouth lies ahead of its floor, a tongue's foot behind its crest
    narrow = wide - f.height / math.tan(math.radians(f.angle))
    if not (0 < f.angle < 90 and narrow > 0 and f.height > 0):
        raise ValueError(f"{f.width:g} wide, {f.height:g} high at {f.angle:g} degrees leaves no neck; widen it or make it lower")
    mu, mv = u + du * f.height * sense, v + dv * f.height * sense
    points = [(u - dv * wide, v + du * wide), (mu - dv * narrow, mv + du * narrow)]
    points += [(mu + dv * narrow, mv - du * narrow), (u + dv * wide, v - du * wide)]
    names = [named(f, "floor"), named(f, _side_of(f.plane, -dv, du)), (), named(f, _side_of(f.plane, dv, -du))]
    return _polygon(f, points, names, extent, f.cut)


def corner_cut(f: Corner, extent: Array) -> list[Operand]:
    """Return the primitives of an oblique cut across a corner."""
    through, corner = np.array(f.through, dtype=float), np.array(f.corner, dtype=float)
    return [Operand(True, half_space(through, corner, far(extent), named(f, "face")))]
