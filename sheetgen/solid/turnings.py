"""Turned features as primitives: holes, cylinders and cones. Part frame, millimetres."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np

from sheetgen.bank.features import Axis, Cone, Cylinder, Hole, Point
from sheetgen.geometry import Array
from sheetgen.solid.primitives import AXIS_INDEX, SIDE_NAMES, turned
from sheetgen.solid.spans import BEYOND, Operand, end_names, named, range_of

MOUTH: dict[str, tuple[Axis, int]] = {
    "left": ("x", -1), "right": ("x", 1), "front": ("y", -1), "back": ("y", 1), "bottom": ("z", -1), "top": ("z", 1)
}

Namer = Callable[..., tuple[str, ...]]


def _axis_frame(axis: Axis, sign: int, at: Point, level: float) -> tuple[Array, Array]:
    """Origin (3,) and direction (3,) of an axis through ``at`` at ``level``, pointing along ``sign``."""
    k = AXIS_INDEX[axis]
    origin = np.zeros(3)
    origin[[i for i in range(3) if i != k]] = at
    origin[k] = level
    return origin, np.eye(3)[k] * sign


def _each(f: Any) -> list[tuple[Point, Namer]]:
    """Every position of a feature with a function that names its sides there."""
    if len(f.at) == 1:
        return [(f.at[0], lambda *sides: named(f, *sides))]
    return [(at, _numbered(f, k)) for k, at in enumerate(f.at, 1)]


def _numbered(f: Any, k: int) -> Namer:
    """Names of the sides of the ``k``-th of several; the first one's wall goes by the feature's own name too."""

    def name(*sides: str) -> tuple[str, ...]:
        own = (f.name,) if k == 1 and "wall" in sides else ()
        return (*named(f, *(f"{k}.{side}" for side in sides)), *own)

    return name


def hole(f: Hole, extent: Array) -> list[Operand]:
    """Return the primitives of a hole, one for each position."""
    axis, sign = MOUTH[f.mouth]
    k = AXIS_INDEX[axis]
    outermost = extent[1 if sign > 0 else 0, k]
    level = outermost if f.level is None else f.level
    start = 0.0 if f.level is not None else -BEYOND        # distance along the drilling direction, from the level
    end = f.depth if f.depth is not None else abs(outermost - level) + float(extent[1, k] - extent[0, k]) + BEYOND
    radius = f.diameter / 2
    if radius <= 0 or end <= 0:
        raise ValueError(f"its diameter is {f.diameter:g} and its depth {end:g}; both must be above 0")
    operands = []
    for at, side in _each(f):
        origin, direction = _axis_frame(axis, -sign, at, float(level))
        rings, names = _hole_rings(f, start, float(end), side)
        operands.append(Operand(True, turned(origin, direction, rings, names)))
    return operands


def _hole_rings(
    f: Hole, start: float, end: float, side: Namer
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
        names += [side("counterbore"), side("shoulder")]
    elif f.countersink is not None:
        diameter, angle = f.countersink
        depth = (diameter - f.diameter) / 2 / math.tan(math.radians(angle / 2))
        if diameter <= f.diameter or depth >= end:
            raise ValueError(f"its countersink, {diameter:g} at {angle:g} degrees, must be wider than the hole and less deep")
        if start < 0:
            rings, names = [(start, diameter / 2)], [(), ()]
        rings += [(0.0, diameter / 2), (depth, radius)]
        names += [side("countersink")]
    else:
        rings += [(start, radius)]
    rings += [(end, radius)]
    names += [side("wall", "axis")]
    if f.point_angle is not None and f.depth is not None:
        rings += [(end + radius / math.tan(math.radians(f.point_angle / 2)), 0.0)]
        names += [side("point")]
    flat = f.depth is not None and f.point_angle is None
    names += [side("floor") if flat else ()]
    return rings, names


def cylinder(f: Cylinder, extent: Array) -> list[Operand]:
    """Return the primitives of a cylinder, one for each position."""
    low, high = range_of(f.along, f.axis, extent)
    if f.diameter <= 0:
        raise ValueError(f"its diameter is {f.diameter:g}; it must be above 0")
    ends, operands = SIDE_NAMES[f.axis], []
    for at, side in _each(f):
        origin, direction = _axis_frame(f.axis, 1, at, 0.0)
        rings = [(low, f.diameter / 2), (high, f.diameter / 2)]
        operands.append(Operand(f.cut, turned(origin, direction, rings, [side(ends[0]), side("wall", "axis"), side(ends[1])])))
    return operands


def cone(f: Cone, extent: Array) -> list[Operand]:
    """Return the primitives of a cone."""
    low, high = range_of(f.along, f.axis, extent)
    if min(f.diameters) < 0 or f.diameters[0] == f.diameters[1]:
        raise ValueError(f"its diameters are {f.diameters[0]:g} and {f.diameters[1]:g}; they must differ and not be below 0")
    origin, direction = _axis_frame(f.axis, 1, f.at, 0.0)
    ends = end_names(f, f.axis)
    rings = [(low, f.diameters[0] / 2), (high, f.diameters[1] / 2)]
    return [Operand(f.cut, turned(origin, direction, rings, [ends[0], named(f, "wall", "axis"), ends[1]]))]
