"""Equations a reader has: every printed measure, and what the drawing shows without a number.

An equation is a function of the unknowns that is 0 at the true shape; it returns its value and its gradient, both lengths
in mm (angles times TURN_LENGTH).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from sheetgen.geometry import Array
from sheetgen.measures.ends import EndRef
from sheetgen.measures.measures import Measure
from sheetgen.measures.symmetry import symmetry_equations
from sheetgen.measures.unknowns import TURN_LENGTH, Unknowns
from sheetgen.solid import Cone, Cylinder, Plane, Solid, parallel
from sheetgen.units import INDEPENDENT, SAME_DIRECTION, SAME_POINT

Valued = tuple[float, Array]
Function = Callable[[Array], Valued]


@dataclass(frozen=True, eq=False)
class Equation:
    """``function`` is 0 at the true shape. ``measure``: index of the measure it comes from, None if shown without a number."""

    function: Function
    measure: int | None = None


def printed_equations(unknowns: Unknowns, measures: Sequence[Measure]) -> list[Equation]:
    """The equations of the measures, with the values as printed."""
    return [Equation(function, i) for i, measure in enumerate(measures) for function in _printed(unknowns, measure)]


def printed_value(measure: Measure) -> float:
    """The number a reader takes from the printed figures: what is proved is what is printed, not what was meant."""
    return float(measure.figures)


def _printed(unknowns: Unknowns, measure: Measure) -> list[Function]:
    value = printed_value(measure)
    if measure.kind in ("span", "depth"):
        assert measure.axis is not None
        return [_difference(unknowns, measure.ends[0], measure.ends[1], measure.axis, value)]
    if measure.kind == "angle":
        if measure.rounds:
            slope = math.tan(math.radians(value / 2)) * TURN_LENGTH
            return [_scaled(unknowns, measure.rounds[0], "slope", 1.0, slope)]
        return [_angle_between(unknowns, measure, math.radians(min(value, 180 - value)))]
    factor = 2.0 if measure.kind == "diameter" else 1.0
    cones = [k for k in measure.rounds if (k, "radius") not in unknowns.columns]
    found = [_scaled(unknowns, k, "radius", factor, value) for k in measure.rounds if k not in cones]
    return found + [_rim(unknowns, k, measure.planes[0], value) for k in cones]


def _scaled(unknowns: Unknowns, k: int, what: str, factor: float, value: float) -> Function:
    column, gradient = unknowns.columns[k, what], factor * unknowns.unit(k, what)
    return lambda x: (factor * float(x[column]) - value, gradient)


def _rim(unknowns: Unknowns, k: int, plane: int, value: float) -> Function:
    """The diameter of a cone's rim on a flat face."""
    cone = unknowns.solid.surfaces[k]
    assert isinstance(cone, Cone)
    slope, apex = unknowns.unit(k, "slope"), unknowns.unit(k, "apex")

    def function(x: Array) -> Valued:
        normal, _, offset, d_offset = unknowns.plane(plane, x)
        sense = float(np.sign(normal @ cone.direction))
        reach = offset * sense - float(apex @ x)
        ratio = float(slope @ x) / TURN_LENGTH
        return 2 * ratio * reach - value, 2 * (slope / TURN_LENGTH * reach + ratio * (d_offset * sense - apex))

    return function


def level(unknowns: Unknowns, end: EndRef, axis: int, x: Array) -> Valued:
    """The coordinate of an end along an axis, and its gradient (count,)."""
    first = unknowns.solid.surfaces[end.surfaces[0]]
    if len(end.surfaces) == 1:
        if isinstance(first, Plane):
            _, _, offset, gradient = unknowns.plane(end.surfaces[0], x)
            sense = float(np.sign(first.normal[axis]))
            return offset * sense, gradient * sense
        point, slopes = unknowns.axis_point(end.surfaces[0], x)
        return float(point[axis]), slopes[axis]
    free = np.flatnonzero(np.isnan(end.point))
    point, slopes = meeting(unknowns, end.surfaces, x, free=int(free[0]) if len(free) else None)
    return float(point[axis]), slopes[axis]


def meeting(unknowns: Unknowns, planes: Sequence[int], x: Array, free: int | None = None) -> tuple[Array, Array]:
    """Where three planes meet, (3,) and gradient (3, count); with two planes, the point of their edge at 0 along ``free``."""
    rows, levels, d_rows, d_levels = [], [], [], []
    for k in planes:
        normal, d_normal, offset, d_offset = unknowns.plane(k, x)
        rows.append(normal)
        levels.append(offset)
        d_rows.append(d_normal)
        d_levels.append(d_offset)
    if free is not None and len(planes) == 2:
        rows.append(np.eye(3)[free])
        levels.append(0.0)
        d_rows.append(np.zeros((3, unknowns.count)))
        d_levels.append(np.zeros(unknowns.count))
    inverse = np.linalg.inv(np.array(rows))
    point = inverse @ np.array(levels)
    change = np.array(d_levels) - np.einsum("i,kin->kn", point, np.array(d_rows))
    return point, inverse @ change


def _difference(unknowns: Unknowns, a: EndRef, b: EndRef, axis: int, value: float) -> Function:
    sense = float(np.sign(b.point[axis] - a.point[axis]))

    def function(x: Array) -> Valued:
        (one, d_one), (other, d_other) = level(unknowns, a, axis, x), level(unknowns, b, axis, x)
        return sense * (other - one) - value, sense * (d_other - d_one)

    return function


def _angle_between(unknowns: Unknowns, measure: Measure, value: float) -> Function:
    a, b = measure.planes
    axis = np.eye(3)[measure.axis or 0]
    one, other = (unknowns.solid.surfaces[k] for k in (a, b))
    assert isinstance(one, Plane) and isinstance(other, Plane)
    sense = float(np.sign(one.normal @ other.normal)) or 1.0
    turned = float(np.sign(np.cross(one.normal, other.normal * sense) @ axis))

    def function(x: Array) -> Valued:
        (n, dn, _, _), (m, dm, _, _) = unknowns.plane(a, x), unknowns.plane(b, x)
        m, dm = m * sense * turned, dm * sense * turned
        sine, cosine = float(np.cross(n, m) @ axis), float(n @ m) * turned
        d_sine = np.cross(m, axis) @ dn + np.cross(axis, n) @ dm
        d_cosine = (m @ dn + n @ dm) * turned
        return (math.atan2(sine, cosine) - value) * TURN_LENGTH, (cosine * d_sine - sine * d_cosine) * TURN_LENGTH

    return function


def shown_equations(unknowns: Unknowns, symmetry: tuple[str, ...] = ()) -> list[Equation]:
    """What the drawing shows without a number: planes that meet in one corner, tangencies, arcs that end square to a face,
    and symmetry along the axes for which it has a centre line."""
    solid = unknowns.solid
    found = [*_corners(unknowns), *_touchings(unknowns, solid)]
    for letter in symmetry:
        found += symmetry_equations(unknowns, "xyz".index(letter))
    return [Equation(function) for function in found]


def _corners(unknowns: Unknowns) -> list[Function]:
    """Each plane beyond three through one corner, and each round surface through a corner of three planes."""
    solid = unknowns.solid
    functions, done = [], set()
    for around in _corner_surfaces(solid):
        if around in done:
            continue
        done.add(around)
        planes = [k for k in sorted(around) if isinstance(solid.surfaces[k], Plane)]
        base = next((trio for trio in combinations(planes, 3) if _independent(solid, trio)), None)
        if base is None:
            continue
        for k in sorted(around - set(base)):
            surface = solid.surfaces[k]
            if isinstance(surface, Plane):
                functions.append(_plane_through(unknowns, base, k))
            elif isinstance(surface, Cylinder):
                functions.append(_cylinder_through(unknowns, base, k))
    return functions


def _corner_surfaces(solid: Solid) -> list[frozenset[int]]:
    """For each corner with four or more surfaces, which they are; in the order of the mesh's vertices."""
    around: dict[int, set[int]] = {}
    sharp = solid.edges.sharp
    for ends, pair in zip(solid.edges.ends[sharp].tolist(), solid.edges.pair[sharp].tolist(), strict=True):
        for vertex in ends:
            around.setdefault(vertex, set()).update(pair)
    return [frozenset(group) for _, group in sorted(around.items()) if len(group) > 3]


def _independent(solid: Solid, trio: tuple[int, ...]) -> bool:
    normals = [plane.normal for k in trio if isinstance(plane := solid.surfaces[k], Plane)]
    return abs(float(np.linalg.det(np.array(normals)))) > INDEPENDENT


def _plane_through(unknowns: Unknowns, base: tuple[int, ...], k: int) -> Function:
    def function(x: Array) -> Valued:
        point, d_point = meeting(unknowns, base, x)
        normal, d_normal, offset, d_offset = unknowns.plane(k, x)
        return float(normal @ point) - offset, normal @ d_point + point @ d_normal - d_offset

    return function


def _cylinder_through(unknowns: Unknowns, base: tuple[int, ...], k: int) -> Function:
    cylinder = unknowns.solid.surfaces[k]
    assert isinstance(cylinder, Cylinder)
    across = np.eye(3) - np.outer(cylinder.direction, cylinder.direction)
    radius = unknowns.unit(k, "radius")

    def function(x: Array) -> Valued:
        (point, d_point), (centre, d_centre) = meeting(unknowns, base, x), unknowns.axis_point(k, x)
        arm = across @ (point - centre)
        length = float(np.linalg.norm(arm))
        return length - float(radius @ x), arm / length @ (d_point - d_centre) - radius

    return function


def _touchings(unknowns: Unknowns, solid: Solid) -> list[Function]:
    """Tangent pairs, and planes that a cylinder meets at right angles, so that its axis lies in them."""
    functions: list[Function] = []
    smooth = ~solid.edges.sharp & (solid.edges.pair[:, 0] != solid.edges.pair[:, 1])
    tangent = {tuple(sorted(pair)) for pair in solid.edges.pair[smooth].tolist()}
    for a, b in sorted(tangent | set(solid.edges.curves)):
        one, other = solid.surfaces[a], solid.surfaces[b]
        if isinstance(other, Plane):
            a, b, one, other = b, a, other, one
        if isinstance(one, Plane) and isinstance(other, Cylinder):
            distance = float(one.normal @ other.point) - one.offset
            if (min(a, b), max(a, b)) in tangent:
                functions.append(_axis_from_plane(unknowns, a, b, float(np.sign(distance))))
            elif abs(float(one.normal @ other.direction)) < SAME_DIRECTION and abs(distance) < SAME_POINT:
                functions.append(_axis_from_plane(unknowns, a, b, 0.0))
            continue
        both = isinstance(one, Cylinder) and isinstance(other, Cylinder) and parallel(one.direction, other.direction)
        if both and (a, b) in tangent:
            functions.append(_axes_apart(unknowns, a, b))
    return functions


def _axis_from_plane(unknowns: Unknowns, plane: int, turned: int, radii: float) -> Function:
    """The axis lies ``radii`` (1, -1 or 0) radii from the plane."""
    radius = unknowns.unit(turned, "radius") * radii

    def function(x: Array) -> Valued:
        (normal, d_normal, offset, d_offset), (point, d_point) = unknowns.plane(plane, x), unknowns.axis_point(turned, x)
        return float(normal @ point) - offset - float(radius @ x), normal @ d_point + point @ d_normal - d_offset - radius

    return function


def _axes_apart(unknowns: Unknowns, a: int, b: int) -> Function:
    """The axes of two tangent cylinders lie the sum, or the difference, of their radii apart."""
    one, other = unknowns.solid.surfaces[a], unknowns.solid.surfaces[b]
    assert isinstance(one, Cylinder) and isinstance(other, Cylinder)
    apart = float(np.linalg.norm(np.cross(other.point - one.point, one.direction)))
    signs = next(s for s in ((1, 1), (1, -1), (-1, 1)) if abs(s[0] * one.radius + s[1] * other.radius - apart) < SAME_POINT)
    radii = signs[0] * unknowns.unit(a, "radius") + signs[1] * unknowns.unit(b, "radius")
    across = np.eye(3) - np.outer(one.direction, one.direction)

    def function(x: Array) -> Valued:
        (p, dp), (q, dq) = unknowns.axis_point(a, x), unknowns.axis_point(b, x)
        arm = across @ (q - p)
        length = float(np.linalg.norm(arm))
        return length - float(radii @ x), arm / length @ (dq - dp) - radii

    return function
