"""Closed meshes whose facets know their surface: extruded outlines and turned stacks. Part frame, millimetres.

Every feature becomes one of these before the Boolean operations. Points of a circle stand at multiples of 45 degrees among
others, so that outlines in the principal and the isometric views are exact.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import manifold3d
import numpy as np

from sheetgen.bank.features import NORMAL_AXIS, PLANE_AXES, Point
from sheetgen.bank.features import Plane as DrawnPlane
from sheetgen.geometry import Array, IntArray
from sheetgen.geometry.vectors import crosses, square_to
from sheetgen.solid.surfaces import Cone, Cylinder, Plane, Surface
from sheetgen.units import CHORD_ERROR, NO_TURN, SAME_POINT

AXIS_INDEX = {"x": 0, "y": 1, "z": 2}
UNITS = np.eye(3)
RIGHT_HANDED = frozenset(plane for plane, (u, v) in PLANE_AXES.items() if u + v + NORMAL_AXIS[plane] in "xyzxy")
"""Planes whose axes, as they are drawn, make a right-handed frame with the normal axis."""
SIDE_NAMES = {"x": ("left", "right"), "y": ("front", "back"), "z": ("bottom", "top")}


@dataclass(frozen=True, eq=False)
class Primitive:
    """A closed mesh; facet i lies on ``surfaces[group[i]]``, which is called by all of ``names[group[i]]``."""

    vertices: Array                         # (n, 3)
    triangles: IntArray                     # (m, 3), anticlockwise from outside
    group: IntArray                         # (m,)
    surfaces: tuple[Surface, ...]
    names: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class OutlineSide:
    """One piece of an outline: it ends at ``end`` and makes the faces called ``names``; an arc has a centre and a sense."""

    end: Point
    names: tuple[str, ...] = ()
    centre: Point | None = None
    left: bool = True


def facet_count(radius: float) -> int:
    """How many facets a full circle of ``radius`` mm needs: a multiple of 8 that keeps CHORD_ERROR.

    >>> facet_count(10.0)
    112
    """
    return max(32, 8 * math.ceil(math.pi / math.acos(1 - CHORD_ERROR / radius) / 8))


def _is_simple(points: Array, following: Array) -> bool:
    """False if a closed outline (n, 2) crosses or touches itself; ``following``: for each corner the next.

    An outline that turns to one side at every corner, and once round in all, is convex.
    """
    sides = following - points
    after = np.concatenate([sides[1:], sides[:1]])
    turns = sides[:, 0] * after[:, 1] - sides[:, 1] * after[:, 0]
    if turns.min() > 0 or turns.max() < 0:
        onward = sides[:, 0] * after[:, 0] + sides[:, 1] * after[:, 1]
        if abs(np.arctan2(turns, onward).sum()) < 3 * math.pi:
            return True
    import shapely  # imported late: convex outlines do without, and are measured the sooner

    return bool(shapely.is_simple(shapely.linearrings(points)))


def extruded(
    plane: DrawnPlane, start: Point, sides: Sequence[OutlineSide], low: float, high: float,
    ends: tuple[tuple[str, ...], tuple[str, ...]],
) -> Primitive:
    """Extrude a closed outline, drawn in ``plane``, from ``low`` to ``high`` along the plane's normal axis.

    ``ends``: the names of the faces at ``low`` and at ``high``.
    Raises: ValueError if the outline crosses or touches itself, or is flat.
    """
    points, owner = _outline_points(start, sides)
    count = len(points)
    following = np.concatenate([points[1:], points[:1]])
    area = 0.5 * float(points[:, 0] @ following[:, 1] - following[:, 0] @ points[:, 1])
    if abs(area) < SAME_POINT:
        raise ValueError("the outline encloses no area")
    if not _is_simple(points, following):
        raise ValueError("its outline crosses or touches itself")
    if area < 0:
        points, owner = points[::-1], np.concatenate([owner[-2::-1], owner[-1:]])
    cap = np.asarray(manifold3d.triangulate([points]), dtype=np.int64)
    wall = _band(0, True, count, True, count)
    vertices = np.concatenate([_lift(points, plane, low), _lift(points, plane, high)])
    triangles = np.concatenate([wall, cap[:, ::-1], cap + count])
    group = np.concatenate([np.repeat(owner, 2), np.full(len(cap), len(sides)), np.full(len(cap), len(sides) + 1)])
    surfaces: list[Surface] = []
    before = start
    for side in sides:
        surfaces.append(_side_surface(before, side, plane))
        before = side.end
    normal = UNITS[AXIS_INDEX[NORMAL_AXIS[plane]]]
    surfaces += [Plane(normal, low), Plane(normal, high)]
    if plane not in RIGHT_HANDED:
        triangles = triangles[:, ::-1]
    return Primitive(vertices, triangles, group, tuple(surfaces), (*(s.names for s in sides), *ends))


def _outline_points(start: Point, sides: Sequence[OutlineSide]) -> tuple[Array, IntArray]:
    """Points (n, 2) of the closed outline and, for each, the index of the side that begins there."""
    points: list[tuple[float, float]] = []
    owner: list[int] = []
    before = start
    for k, side in enumerate(sides):
        points.append(before)
        owner.append(k)
        if side.centre is not None:
            for angle in _arc_angles(before, side):
                radius = math.dist(before, side.centre)
                points.append((side.centre[0] + radius * math.cos(angle), side.centre[1] + radius * math.sin(angle)))
                owner.append(k)
        before = side.end
    return np.array(points), np.array(owner, dtype=np.int64)


def _arc_angles(begin: Point, arc: OutlineSide) -> list[float]:
    """The angles strictly between an arc's ends at which it gets a point: multiples of the facet angle."""
    assert arc.centre is not None
    (cu, cv), radius = arc.centre, math.dist(begin, arc.centre)
    step = 2 * math.pi / facet_count(radius)
    a = math.atan2(begin[1] - cv, begin[0] - cu)
    b = math.atan2(arc.end[1] - cv, arc.end[0] - cu)
    if not arc.left:
        a, b = b, a
    if b <= a + NO_TURN:
        b += 2 * math.pi
    inner = [k * step for k in range(math.floor(a / step), math.ceil(b / step) + 1) if a + step / 50 < k * step < b - step / 50]
    return inner if arc.left else inner[::-1]


def _side_surface(begin: Point, side: OutlineSide, plane: DrawnPlane) -> Surface:
    if side.centre is not None:
        return Cylinder(_lifted(*side.centre, plane), UNITS[AXIS_INDEX[NORMAL_AXIS[plane]]], math.dist(begin, side.centre))
    u, v = side.end[0] - begin[0], side.end[1] - begin[1]
    length = math.hypot(u, v)
    if length < SAME_POINT:
        raise ValueError("the outline has a side of no length")
    # + 0.0 turns a minus zero into zero, so that planes square to an axis have exact normals
    normal = _lifted(v / length + 0.0, -u / length + 0.0, plane)
    return Plane(normal, float(normal @ _lifted(*begin, plane)))


def _lifted(u: float, v: float, plane: DrawnPlane) -> Array:
    """A point or vector of a drawn plane as (3,), at level 0."""
    place = [0.0, 0.0, 0.0]
    for axis, value in zip(PLANE_AXES[plane], (u, v), strict=True):
        place[AXIS_INDEX[axis]] = value
    return np.array(place)


def _lift(points: Array, plane: DrawnPlane, level: float) -> Array:
    """Points (n, 2) of a drawn plane as (n, 3) in the part frame."""
    u, v = (AXIS_INDEX[axis] for axis in PLANE_AXES[plane])
    lifted = np.full((len(points), 3), float(level))
    lifted[:, u], lifted[:, v] = points[:, 0], points[:, 1]
    return lifted


def turned(origin: Array, direction: Array, rings: Sequence[tuple[float, float]], names: Sequence[tuple[str, ...]]) -> Primitive:
    """A stack turned about the line through ``origin`` (3,) along ``direction`` (3,) unit.

    ``rings``: (distance along the direction, radius) from one end to the other; two with one radius make a cylinder, two at
    one distance a flat ring, else a cone; a first or last radius of 0 is a point. ``names``: of the first end, then between
    rings, then of the last end: one more than there are rings.
    """
    count = facet_count(max(radius for _, radius in rings))
    across, upward = square_to(direction)
    cos, sin = _round(count)
    circle = cos * across + sin * upward
    vertices: list[Array] = []
    triangles: list[IntArray] = []
    group: list[IntArray] = []
    first: list[int] = []
    for distance, radius in rings:
        first.append(sum(len(ring) for ring in vertices))
        vertices.append(origin + distance * direction + (radius * circle if radius > 0 else np.zeros((1, 3))))
    for k in range(len(rings) - 1):
        band = _band(first[k], rings[k][1] > 0, first[k + 1], rings[k + 1][1] > 0, count)
        triangles.append(band)
        group.append(np.full(len(band), k + 1))
    disc = _disc(count)
    for end, place, cap in ((0, 0, disc[:, ::-1]), (len(rings) - 1, len(rings), disc)):
        if rings[end][1] > 0:
            triangles.append(cap + first[end])
            group.append(np.full(len(cap), place))
    surfaces = [_band_surface(origin, direction, a, b) for a, b in pairwise(rings)]
    lows = [Plane(direction, float(direction @ origin) + rings[end][0]) for end in (0, -1)]
    joined = np.concatenate(vertices)
    return Primitive(
        joined, _outward(joined, np.concatenate(triangles)), np.concatenate(group), (lows[0], *surfaces, lows[1]), tuple(names)
    )


@lru_cache(maxsize=64)
def _round(count: int) -> tuple[Array, Array]:
    """Cosines and sines (count, 1), read-only, of the angles of a regular polygon's corners."""
    angle = 2 * np.pi * np.arange(count) / count
    cos, sin = np.cos(angle)[:, None], np.sin(angle)[:, None]
    cos.flags.writeable = sin.flags.writeable = False
    return cos, sin


@lru_cache(maxsize=64)
def _disc(count: int) -> IntArray:
    """Triangles (count - 2, 3), read-only, of a regular polygon: its ears cut off, again and again.

    A fan would have long slivers, which meet far more facets of another solid than round triangles do.
    """
    left = np.arange(count)
    found = []
    while len(left) > 2:
        even = len(left) // 2 * 2
        ears = np.stack([left[0:even:2], left[1:even:2], np.append(left[2:even:2], left[even % len(left)])], axis=1)
        found.append(ears[ears[:, 0] != ears[:, 2]])
        left = left[::2]
    disc = np.concatenate(found)
    disc.flags.writeable = False
    return disc


@lru_cache(maxsize=256)
def _band(low: int, low_ring: bool, high: int, high_ring: bool, count: int) -> IntArray:
    """Triangles (k, 3), read-only, between two rings of ``count`` corners, numbered from ``low`` and ``high``, or a ring and a
    point."""
    here, there = np.arange(count), (np.arange(count) + 1) % count
    if not low_ring:
        band = np.stack([np.full(count, low), high + there, high + here], axis=1)
    elif not high_ring:
        band = np.stack([low + here, low + there, np.full(count, high)], axis=1)
    else:
        band = np.stack([low + here, low + there, high + there, low + here, high + there, high + here], axis=1).reshape(-1, 3)
    band.flags.writeable = False
    return band


def _band_surface(origin: Array, direction: Array, a: tuple[float, float], b: tuple[float, float]) -> Surface:
    (za, ra), (zb, rb) = a, b
    if za == zb:
        return Plane(direction, float(direction @ origin) + za)
    if ra == rb:
        return Cylinder(origin, direction, ra)
    slope = (rb - ra) / (zb - za)
    apex = origin + (za - ra / slope) * direction
    return Cone(apex, direction * math.copysign(1.0, slope), abs(slope))


def _outward(vertices: Array, triangles: IntArray) -> IntArray:
    """The triangles, all turned over if the mesh was inside out."""
    a, b, c = (vertices.take(triangles[:, k], axis=0) for k in range(3))
    inside_out = float(np.einsum("ij,ij->", a, crosses(b, c))) < 0
    return triangles[:, ::-1] if inside_out else triangles
