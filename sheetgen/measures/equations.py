"""Equations a reader has: every printed measure, and what the drawing shows without a number.

An equation is a function of the unknowns that is 0 at the true shape; it returns its value and its gradient, both lengths
in mm (angles times TURN_LENGTH).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.vectors import UNITS, cross
from sheetgen.measures.drilled import DRILL_POINT, drill_points
from sheetgen.measures.ends import EndRef
from sheetgen.measures.equation import Equation, Valued
from sheetgen.measures.measures import Measure
from sheetgen.measures.symmetry import symmetry_equations
from sheetgen.measures.unknowns import TURN_LENGTH, Placed, Unknowns
from sheetgen.solid import Cone, Cylinder, Plane, Solid, parallel
from sheetgen.units import INDEPENDENT, SAME_DIRECTION, SAME_POINT


def printed_equations(unknowns: Unknowns, measures: Sequence[Measure]) -> list[Equation]:
    """The equations of the measures, with the values as printed."""
    return [replace(equation, measure=i) for i, measure in enumerate(measures) for equation in _printed(unknowns, measure)]


def printed_value(measure: Measure) -> float:
    """The number a reader takes from the printed figures: what is proved is what is printed, not what was meant."""
    return float(measure.figures)


def _printed(unknowns: Unknowns, measure: Measure) -> list[Equation]:
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


def _scaled(unknowns: Unknowns, k: int, what: str, factor: float, value: float) -> Equation:
    column, gradient = unknowns.columns[k, what], factor * unknowns.unit(k, what)
    return Equation(lambda at: (factor * float(at.x[column]) - value, gradient), linear=True)


def _rim(unknowns: Unknowns, k: int, plane: int, value: float) -> Equation:
    """The diameter of a cone's rim on a flat face."""
    cone = unknowns.solid.surfaces[k]
    assert isinstance(cone, Cone)
    slope, apex = unknowns.unit(k, "slope"), unknowns.unit(k, "apex")

    def function(at: Placed) -> Valued:
        normal, _, offset, d_offset = at.plane(plane)
        sense = float(np.sign(normal @ cone.direction))
        reach = offset * sense - float(apex @ at.x)
        ratio = float(slope @ at.x) / TURN_LENGTH
        return 2 * ratio * reach - value, 2 * (slope / TURN_LENGTH * reach + ratio * (d_offset * sense - apex))

    return Equation(function)


def level(at: Placed, end: EndRef, axis: int) -> Valued:
    """The coordinate of an end along an axis, and its gradient (count,)."""
    first = at.unknowns.solid.surfaces[end.surfaces[0]]
    if len(end.surfaces) == 1:
        if isinstance(first, Plane):
            _, _, offset, gradient = at.plane(end.surfaces[0])
            sense = float(np.sign(first.normal[axis]))
            return offset * sense, gradient * sense
        point, slopes = at.axis_point(end.surfaces[0])
        return float(point[axis]), slopes[axis]
    if isinstance(first, Cylinder):
        wall, cone = end.surfaces
        return _ring(at, wall, cone, axis)
    free = np.flatnonzero(np.isnan(end.point))
    point, slopes = meeting(at, end.surfaces, free=int(free[0]) if len(free) else None)
    return float(point[axis]), slopes[axis]


def _ring(at: Placed, wall: int, cone: int, axis: int) -> Valued:
    """The coordinate of the circle in which a drilled hole's wall runs into its point, and its gradient (count,)."""
    unknowns, surface = at.unknowns, at.unknowns.solid.surfaces[cone]
    assert isinstance(surface, Cone)
    apex, radius, slope = unknowns.unit(cone, "apex"), unknowns.unit(wall, "radius"), unknowns.unit(cone, "slope") / TURN_LENGTH
    sense = float(np.sign(surface.direction[axis]))
    wide, steep = float(radius @ at.x), float(slope @ at.x)
    return sense * (float(apex @ at.x) + wide / steep), sense * (apex + radius / steep - slope * wide / steep ** 2)


def meeting(at: Placed, planes: Sequence[int], free: int | None = None) -> tuple[Array, Array]:
    """Where three planes meet, (3,) and gradient (3, count); with two planes, the point of their edge at 0 along ``free``."""
    rows, levels, d_rows, d_levels = [], [], [], []
    for k in planes:
        normal, d_normal, offset, d_offset = at.plane(k)
        rows.append(normal)
        levels.append(offset)
        d_rows.append(d_normal)
        d_levels.append(d_offset)
    if free is not None and len(planes) == 2:
        rows.append(UNITS[free])
        levels.append(0.0)
        d_rows.append(np.zeros((3, len(at.x))))
        d_levels.append(np.zeros(len(at.x)))
    inverse = np.linalg.inv(np.array(rows))
    point, change = inverse @ np.array(levels), np.array(d_levels)
    if not at.unknowns.still(*planes):
        change -= np.einsum("i,kin->kn", point, np.array(d_rows))
    return point, inverse @ change


def _difference(unknowns: Unknowns, a: EndRef, b: EndRef, axis: int, value: float) -> Equation:
    sense = float(np.sign(b.point[axis] - a.point[axis]))

    def function(at: Placed) -> Valued:
        (one, d_one), (other, d_other) = level(at, a, axis), level(at, b, axis)
        return sense * (other - one) - value, sense * (d_other - d_one)

    drilled = any(isinstance(unknowns.solid.surfaces[k], Cone) for end in (a, b) if len(end.surfaces) > 1 for k in end.surfaces)
    return Equation(function, linear=not drilled and unknowns.still(*a.surfaces, *b.surfaces))


def _angle_between(unknowns: Unknowns, measure: Measure, value: float) -> Equation:
    a, b = measure.planes
    axis = UNITS[measure.axis or 0]
    one, other = (unknowns.solid.surfaces[k] for k in (a, b))
    assert isinstance(one, Plane) and isinstance(other, Plane)
    sense = float(np.sign(one.normal @ other.normal)) or 1.0
    turned = float(np.sign(np.array(cross(one.normal, other.normal * sense)) @ axis))

    def function(at: Placed) -> Valued:
        (n, dn, _, _), (m, dm, _, _) = at.plane(a), at.plane(b)
        m, dm = m * sense * turned, dm * sense * turned
        sine, cosine = float(np.array(cross(n, m)) @ axis), float(n @ m) * turned
        d_sine = np.array(cross(m, axis)) @ dn + np.array(cross(axis, n)) @ dm
        d_cosine = (m @ dn + n @ dm) * turned
        return (math.atan2(sine, cosine) - value) * TURN_LENGTH, (cosine * d_sine - sine * d_cosine) * TURN_LENGTH

    return Equation(function)


def shown_equations(unknowns: Unknowns, symmetry: tuple[str, ...] = ()) -> list[Equation]:
    """What the drawing shows without a number: planes that meet in one corner, tangencies, arcs that end square to a face, and
    symmetry along the axes for which it has a centre line; and what a general note says of all drill points."""
    solid = unknowns.solid
    found = [*_corners(unknowns), *_touchings(unknowns, solid), *_drilled(unknowns)]
    for letter in symmetry:
        found += symmetry_equations(unknowns, "xyz".index(letter))
    return found


def _drilled(unknowns: Unknowns) -> list[Equation]:
    """The angle of each drill's point, which one note tells."""
    slope = math.tan(math.radians(DRILL_POINT / 2)) * TURN_LENGTH
    return [_scaled(unknowns, k, "slope", 1.0, slope) for k in drill_points(unknowns.solid)]


def _corners(unknowns: Unknowns) -> list[Equation]:
    """Each plane beyond three through one corner, and each round surface through a corner of three planes."""
    solid = unknowns.solid
    equations: list[Equation] = []
    for around in _corner_surfaces(solid):
        planes = [k for k in sorted(around) if isinstance(solid.surfaces[k], Plane)]
        base = next((trio for trio in combinations(planes, 3) if _independent(solid, trio)), None)
        if base is None:
            continue
        for k in sorted(around - set(base)):
            surface = solid.surfaces[k]
            if isinstance(surface, Plane):
                equations.append(_plane_through(unknowns, base, k))
            elif isinstance(surface, Cylinder):
                equations.append(_cylinder_through(unknowns, base, k))
    return equations


def _corner_surfaces(solid: Solid) -> list[frozenset[int]]:
    """The surfaces of each corner in which four or more meet, once each; in the order of the mesh's vertices."""
    crowded = solid.meeting[solid.meeting.sum(axis=1) > 3]
    return list(dict.fromkeys(frozenset(np.flatnonzero(around).tolist()) for around in crowded))


def _independent(solid: Solid, trio: tuple[int, ...]) -> bool:
    a, b, c = (plane.normal for k in trio if isinstance(plane := solid.surfaces[k], Plane))
    return abs(float(np.array(cross(a, b)) @ c)) > INDEPENDENT


def _plane_through(unknowns: Unknowns, base: tuple[int, ...], k: int) -> Equation:
    def function(at: Placed) -> Valued:
        point, d_point = meeting(at, base)
        normal, d_normal, offset, d_offset = at.plane(k)
        return float(normal @ point) - offset, normal @ d_point + point @ d_normal - d_offset

    return Equation(function, linear=unknowns.still(*base, k))


def _cylinder_through(unknowns: Unknowns, base: tuple[int, ...], k: int) -> Equation:
    cylinder = unknowns.solid.surfaces[k]
    assert isinstance(cylinder, Cylinder)
    across = np.eye(3) - np.outer(cylinder.direction, cylinder.direction)
    radius = unknowns.unit(k, "radius")

    def function(at: Placed) -> Valued:
        (point, d_point), (centre, d_centre) = meeting(at, base), at.axis_point(k)
        arm = across @ (point - centre)
        length = math.hypot(*arm.tolist())
        return length - float(radius @ at.x), arm / length @ (d_point - d_centre) - radius

    return Equation(function)


def _touchings(unknowns: Unknowns, solid: Solid) -> list[Equation]:
    """Tangent pairs, and planes that a cylinder meets at right angles, so that its axis lies in them."""
    equations: list[Equation] = []
    smooth = ~solid.edges.sharp & (solid.edges.pair[:, 0] != solid.edges.pair[:, 1])
    tangent = {tuple(sorted(pair)) for pair in solid.edges.pair[smooth].tolist()}
    for a, b in sorted(tangent | set(solid.edges.curves)):
        one, other = solid.surfaces[a], solid.surfaces[b]
        if isinstance(other, Plane):
            a, b, one, other = b, a, other, one
        if isinstance(one, Plane) and isinstance(other, Cylinder):
            distance = float(one.normal @ other.point) - one.offset
            if (min(a, b), max(a, b)) in tangent:
                equations.append(_axis_from_plane(unknowns, a, b, float(np.sign(distance))))
            elif abs(float(one.normal @ other.direction)) < SAME_DIRECTION and abs(distance) < SAME_POINT:
                equations.append(_axis_from_plane(unknowns, a, b, 0.0))
            continue
        both = isinstance(one, Cylinder) and isinstance(other, Cylinder) and parallel(one.direction, other.direction)
        if both and (a, b) in tangent:
            equations.append(_axes_apart(unknowns, a, b))
    return equations


def _axis_from_plane(unknowns: Unknowns, plane: int, turned: int, radii: float) -> Equation:
    """The axis lies ``radii`` (1, -1 or 0) radii from the plane."""
    radius = unknowns.unit(turned, "radius") * radii

    def function(at: Placed) -> Valued:
        (normal, d_normal, offset, d_offset), (point, d_point) = at.plane(plane), at.axis_point(turned)
        return float(normal @ point) - offset - float(radius @ at.x), normal @ d_point + point @ d_normal - d_offset - radius

    return Equation(function, linear=unknowns.still(plane))


def _axes_apart(unknowns: Unknowns, a: int, b: int) -> Equation:
    """The axes of two tangent cylinders lie the sum, or the difference, of their radii apart."""
    one, other = unknowns.solid.surfaces[a], unknowns.solid.surfaces[b]
    assert isinstance(one, Cylinder) and isinstance(other, Cylinder)
    apart = math.hypot(*cross(other.point - one.point, one.direction))
    signs = next(s for s in ((1, 1), (1, -1), (-1, 1)) if abs(s[0] * one.radius + s[1] * other.radius - apart) < SAME_POINT)
    radii = signs[0] * unknowns.unit(a, "radius") + signs[1] * unknowns.unit(b, "radius")
    across = np.eye(3) - np.outer(one.direction, one.direction)

    def function(at: Placed) -> Valued:
        (p, dp), (q, dq) = at.axis_point(a), at.axis_point(b)
        arm = across @ (q - p)
        length = math.hypot(*arm.tolist())
        return length - float(radii @ at.x), arm / length @ (dq - dp) - radii

    return Equation(function)
