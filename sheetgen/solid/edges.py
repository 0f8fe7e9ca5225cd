"""Edges of a mesh whose facets know their surface: which are drawn, which are smooth, and the exact curve of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from sheetgen.solid.primitives import IntArray
from sheetgen.solid.surfaces import Array, Cone, Cylinder, Plane, Round, Surface, coaxial, parallel
from sheetgen.units import SAME_DIRECTION, SAME_POINT, TANGENT


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
    sharp: npt.NDArray[np.bool_]
    tangent: npt.NDArray[np.bool_]
    tangent_normal: Array
    curves: dict[tuple[int, int], Curve]


def edges_of(vertices: Array, triangles: IntArray, owner: IntArray, surfaces: Sequence[Surface]) -> Edges | None:
    """Find all edges; ``owner`` (m,) is each triangle's surface. None if the mesh touches itself along an edge or at a point."""
    half = np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
    facet = np.tile(np.arange(len(triangles)), 3)
    key = half.min(axis=1) * len(vertices) + half.max(axis=1)
    order = np.argsort(key, kind="stable")
    if len(order) % 2 or (np.diff(key[order].reshape(-1, 2), axis=1) != 0).any() or _touches(vertices):
        return None
    order = order.reshape(-1, 2)
    ends, facets = np.sort(half[order[:, 0]], axis=1), facet[order]
    pair = owner[facets]
    sharp = pair[:, 0] != pair[:, 1]
    meets = sharp.copy()
    smooth, normal = _smooth(vertices, triangles, ends[meets], facets[meets], pair[meets], surfaces)
    sharp[meets] = ~smooth
    tangent = meets & ~sharp
    tangent_normal = np.zeros((len(ends), 3))
    tangent_normal[tangent] = normal[smooth]
    curves: dict[tuple[int, int], Curve] = {}
    for e in np.flatnonzero(sharp):
        low, high = sorted(pair[e].tolist())
        if (low, high) not in curves:
            curves[low, high] = curve_of(surfaces[low], surfaces[high], vertices[ends[e, 0]])
    return Edges(ends, facets, pair, sharp, tangent, tangent_normal, curves)


def _touches(vertices: Array) -> bool:
    """True if two vertices share a place: the mesh is closed there only by doubling the point."""
    near = vertices[np.lexsort(np.round(vertices, 6).T)]
    return bool((np.linalg.norm(np.diff(near, axis=0), axis=1) < SAME_POINT).any())


def _smooth(
    vertices: Array, triangles: IntArray, ends: IntArray, facets: IntArray, pair: IntArray, surfaces: Sequence[Surface]
) -> tuple[npt.NDArray[np.bool_], Array]:
    """For each edge (k,): True where its two surfaces are tangent, so that no line is drawn; and one's unit normals (k, 3)."""
    middle = vertices[ends].mean(axis=1)
    flat = facet_normals(vertices, triangles)
    normal = np.empty((2, len(ends), 3))
    for side in (0, 1):
        for s in np.unique(pair[:, side]):
            which = pair[:, side] == s
            exact = surfaces[s].normals(middle[which])
            sense = np.sign(np.einsum("ij,ij->i", exact, flat[facets[which, side]]))
            normal[side, which] = exact * sense[:, None]
    sine = np.linalg.norm(np.cross(normal[0], normal[1]), axis=1)
    return (sine < TANGENT) & (np.einsum("ij,ij->i", normal[0], normal[1]) > 0), normal[0]


def facet_normals(vertices: Array, triangles: IntArray) -> Array:
    """Outward unit normals (m, 3) of the triangles (zero for one without area)."""
    a, b, c = (vertices[triangles[:, k]] for k in range(3))
    normal = np.cross(b - a, c - a)
    length = np.linalg.norm(normal, axis=1, keepdims=True)
    return np.asarray(np.divide(normal, length, out=np.zeros_like(normal), where=length > 0))


def curve_of(one: Surface, other: Surface, near: Array) -> Curve:
    """The exact curve in which two surfaces meet, at the point ``near`` (3,) of it."""
    if isinstance(one, Plane) and isinstance(other, Plane):
        direction = np.cross(one.normal, other.normal)
        return Line(direction / np.linalg.norm(direction))
    if isinstance(other, Plane):
        one, other = other, one
    if isinstance(one, Plane):
        assert not isinstance(other, Plane)
        return _plane_and_round(one, other, near)
    assert not isinstance(other, Plane)
    if coaxial(one, other):
        axial = float((near - one.point) @ one.direction)
        return _circle(one, one.point + axial * one.direction, near)
    if isinstance(one, Cylinder) and isinstance(other, Cylinder) and parallel(one.direction, other.direction):
        return Line(one.direction)
    return None


def _plane_and_round(plane: Plane, turned: Round, near: Array) -> Curve:
    tilt = float(plane.normal @ turned.direction)
    if abs(abs(tilt) - 1) < SAME_DIRECTION:
        axial = float((near - turned.point) @ turned.direction)
        return _circle(turned, turned.point + axial * turned.direction, near)
    if isinstance(turned, Cone):
        through_apex = abs(float(plane.normal @ turned.point) - plane.offset) < SAME_POINT
        return Line((near - turned.point) / np.linalg.norm(near - turned.point)) if through_apex else None
    if abs(tilt) < SAME_DIRECTION:
        return Line(turned.direction)
    across = np.cross(turned.direction, plane.normal)
    across = turned.radius * across / np.linalg.norm(across)
    upward = np.cross(across, turned.direction)
    centre = turned.point + (plane.offset - float(plane.normal @ turned.point)) / tilt * turned.direction
    slide = -float(plane.normal @ upward) / tilt
    return Conic(centre, across, upward + slide * turned.direction)


def _circle(turned: Round, centre: Array, near: Array) -> Conic:
    """The circle about ``centre``; of a cylinder with its own radius, of a cone with that of the point ``near``."""
    if isinstance(turned, Cylinder):
        radius = turned.radius
    else:
        radius = abs(float((centre - turned.point) @ turned.direction)) * turned.slope
    spare = np.eye(3)[int(np.argmin(np.abs(turned.direction)))]
    across = np.cross(spare, turned.direction)
    across = across / np.linalg.norm(across)
    return Conic(centre, radius * across, radius * np.cross(turned.direction, across))
