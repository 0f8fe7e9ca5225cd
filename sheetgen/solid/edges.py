"""Edges of a mesh whose facets know their surface: which are drawn, which are smooth, and the exact curve of each."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array, IntArray, Mask
from sheetgen.geometry.vectors import cross, crosses, lengths, square_to, unit_cross
from sheetgen.solid.surfaces import Cone, Cylinder, Plane, Round, Surface, coaxial, parallel
from sheetgen.solid.table import SurfaceTable
from sheetgen.units import SAME_COSINE, SAME_DIRECTION, SAME_POINT, TANGENT


@dataclass(frozen=True, eq=False)
class Line:
    """A straight edge along ``direction`` (3,)."""

    direction: Array


@dataclass(frozen=True, eq=False)
class Conic:
    """A circle or ellipse: the points centre + a cos t + b sin t; each (3,)."""

    centre: Array
    a: Array
    b: Array


Curve = Line | Conic | None
"""None: a space curve, known by the points of its mesh edges only."""


@dataclass(frozen=True, eq=False)
class Edges:
    """All edges of the mesh, in a fixed order.

    ``ends`` (e, 2) vertex numbers; ``facets`` (e, 2) the two triangles that meet; ``pair`` (e, 2) their surfaces;
    ``sharp`` (e,) True where a line is drawn: two surfaces meet and not smoothly. ``tangent`` (e,) True where two surfaces
    meet smoothly, and ``tangent_normal`` (e, 3) their common unit normal there (0 elsewhere). ``curves`` by surface pair.
    """

    ends: IntArray
    facets: IntArray
    pair: IntArray
    sharp: Mask
    tangent: Mask
    tangent_normal: Array
    curves: dict[tuple[int, int], Curve]


def edges_of(vertices: Array, triangles: IntArray, owner: IntArray, table: SurfaceTable) -> Edges | None:
    """Find all edges, without their curves; ``owner`` (m,) is each triangle's surface. None if the mesh touches itself along an
    edge or at a point."""
    begin = triangles.T.ravel()
    end = np.concatenate([begin[len(triangles):], begin[:len(triangles)]])
    low, high = np.minimum(begin, end), np.maximum(begin, end)
    bits = len(begin).bit_length()                                    # the half-edge's own number, below its key: sorted as one
    key, half = np.divmod(np.sort(((low * len(vertices) + high) << bits) + np.arange(len(begin))), 1 << bits)
    one, other = half[::2], half[1::2]
    if len(half) % 2 or (key[::2] != key[1::2]).any() or (key[2::2] == key[:-2:2]).any() or _touches(vertices):
        return None
    ends, facets = np.empty((len(one), 2), dtype=np.int64), np.empty((len(one), 2), dtype=np.int64)
    ends[:, 0], ends[:, 1] = low[one], high[one]
    facets[:, 0], facets[:, 1] = one % len(triangles), other % len(triangles)
    pair = owner[facets]
    meets = np.flatnonzero(pair[:, 0] != pair[:, 1])
    smooth, normal = _smooth(
        vertices, triangles, ends.take(meets, axis=0), facets.take(meets, axis=0), pair.take(meets, axis=0), table)
    sharp, tangent = np.zeros(len(ends), dtype=bool), np.zeros(len(ends), dtype=bool)
    sharp[meets], tangent[meets] = ~smooth, smooth
    tangent_normal = np.zeros((len(ends), 3))
    tangent_normal[meets[smooth]] = normal.compress(smooth, axis=0)
    return Edges(ends, facets, pair, sharp, tangent, tangent_normal, {})


def curves_of(vertices: Array, edges: Edges, surfaces: Sequence[Surface]) -> dict[tuple[int, int], Curve]:
    """The curve of each pair of surfaces that meet sharply, in the order of their first edges."""
    ends, (one, other) = edges.ends.compress(edges.sharp, axis=0), edges.pair.compress(edges.sharp, axis=0).T
    low_one, high_one = np.minimum(one, other), np.maximum(one, other)
    key = low_one * len(surfaces) + high_one
    first_of = np.full(len(surfaces) ** 2, len(key))
    np.minimum.at(first_of, key, np.arange(len(key)))
    first = np.flatnonzero(first_of[key] == np.arange(len(key)))
    near = vertices.take(ends[first, 0], axis=0)
    return {
        (low, high): curve_of(surfaces[low], surfaces[high], point)
        for (low, high), point in zip(zip(low_one[first].tolist(), high_one[first].tolist(), strict=True), near, strict=True)
    }


def _touches(vertices: Array) -> bool:
    """True if two vertices share a place: the mesh is closed there only by doubling the point."""
    near = vertices.take(np.lexsort(np.round(vertices, 6).T), axis=0)
    return bool((lengths(np.diff(near, axis=0)) < SAME_POINT).any())


def _smooth(
    vertices: Array, triangles: IntArray, ends: IntArray, facets: IntArray, pair: IntArray, table: SurfaceTable
) -> tuple[Mask, Array]:
    """For each edge (k,): True where its two surfaces are tangent, so that no line is drawn; and one's unit normals (k, 3)."""
    middle = (vertices.take(ends[:, 0], axis=0) + vertices.take(ends[:, 1], axis=0)) / 2
    outward = [facet_normals(vertices, triangles.take(facets[:, side], axis=0)) for side in (0, 1)]
    one, other = (_turned_out(table.normals(pair[:, side], middle), outward[side]) for side in (0, 1))
    return (lengths(crosses(one, other)) < TANGENT) & (np.einsum("ij,ij->i", one, other) > 0), one


def _turned_out(exact: Array, outward: Array) -> Array:
    """Normals (k, 3) turned to the side to which ``outward`` (k, 3) looks."""
    return np.asarray(exact * np.sign(np.einsum("ij,ij->i", exact, outward))[:, None])


def facet_normals(vertices: Array, triangles: IntArray) -> Array:
    """Outward unit normals (m, 3) of the triangles (zero for one without area)."""
    a, b, c = (vertices.take(triangles[:, k], axis=0) for k in range(3))
    normal = crosses(b - a, c - a)
    length = lengths(normal)
    return np.asarray(normal / np.where(length > 0, length, 1.0)[:, None])


def curve_of(one: Surface, other: Surface, near: Array) -> Curve:
    """The exact curve in which two surfaces meet, at the point ``near`` (3,) of it."""
    if isinstance(one, Plane) and isinstance(other, Plane):
        return Line(unit_cross(one.normal, other.normal))
    if isinstance(other, Plane):
        one, other = other, one
    if isinstance(one, Plane):
        assert not isinstance(other, Plane)
        return _plane_and_round(one, other, near)
    assert not isinstance(other, Plane)
    if coaxial(one, other):
        axial = float((near - one.point) @ one.direction)
        return _circle(one, one.point + axial * one.direction)
    if isinstance(one, Cylinder) and isinstance(other, Cylinder) and parallel(one.direction, other.direction):
        return Line(one.direction)
    return None


def _plane_and_round(plane: Plane, turned: Round, near: Array) -> Curve:
    tilt = float(plane.normal @ turned.direction)
    if abs(abs(tilt) - 1) < SAME_COSINE:
        axial = float((near - turned.point) @ turned.direction)
        return _circle(turned, turned.point + axial * turned.direction)
    if isinstance(turned, Cone):
        through_apex = abs(float(plane.normal @ turned.point) - plane.offset) < SAME_POINT
        along = near - turned.point
        reach = math.hypot(*along.tolist())
        return Line(along / reach) if through_apex and reach > SAME_POINT else None      # the apex itself tells no direction
    if abs(tilt) < SAME_DIRECTION:
        return Line(turned.direction)
    across = turned.radius * unit_cross(turned.direction, plane.normal)
    upward = np.array(cross(across, turned.direction))
    centre = turned.point + (plane.offset - float(plane.normal @ turned.point)) / tilt * turned.direction
    slide = -float(plane.normal @ upward) / tilt
    return Conic(centre, across, upward + slide * turned.direction)


def _circle(turned: Round, centre: Array) -> Conic:
    """The circle about ``centre`` on the axis: of a cylinder with its own radius, of a cone with that at the distance."""
    if isinstance(turned, Cylinder):
        radius = turned.radius
    else:
        radius = abs(float((centre - turned.point) @ turned.direction)) * turned.slope
    across, upward = square_to(turned.direction)
    return Conic(centre, radius * across, radius * upward)
