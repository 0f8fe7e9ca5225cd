"""Walls of no thickness: two faces of a solid, turned away from each other, that touch. Part frame, millimetres.

Such a mesh is closed and sound; the part could not be made, and its views show two lines as one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array, IntArray, Mask
from sheetgen.geometry.vectors import crosses, lengths
from sheetgen.solid.edges import Edges
from sheetgen.solid.surfaces import Cylinder, Plane, Surface
from sheetgen.units import AGAINST, CHORD_ERROR, SAME_COSINE, SAME_DIRECTION, SAME_POINT

STEPS = 16
"""Into how many parts a line of contact is divided to see where both faces reach it."""


@dataclass(frozen=True, eq=False)
class Facets:
    """The facets of a solid: ``corners`` (m, 3 corners, 3); ``low`` and ``high`` (m, 3) of their boxes; ``normals`` (m, 3)."""

    corners: Array
    low: Array
    high: Array
    normals: Array
    owner: IntArray

    def near(self, surface: int, points: Array) -> Mask:
        """Which of ``points`` (k, 3) lie in the box of a facet of a surface."""
        if not len(points):
            return np.zeros(0, dtype=bool)
        low, high = points.min(axis=0) - SAME_POINT, points.max(axis=0) + SAME_POINT
        facets = np.flatnonzero((self.owner == surface) & (self.low <= high).all(axis=1) & (self.high >= low).all(axis=1))
        inside = np.ones((len(points), len(facets)), dtype=bool)
        for k in range(3):
            inside &= self.low[facets, k] - SAME_POINT <= points[:, k, None]
            inside &= self.high[facets, k] + SAME_POINT >= points[:, k, None]
        return np.asarray(inside.any(axis=1))

    def outward(self, surface: int, points: Array, near: float) -> Array:
        """The normal (k, 3) of the facet of a surface that is nearest to each of ``points`` (k, 3); 0 where none is ``near``."""
        low, high = points.min(axis=0) - near, points.max(axis=0) + near
        facets = np.flatnonzero((self.owner == surface) & (self.low <= high).all(axis=1) & (self.high >= low).all(axis=1))
        if not len(facets):
            return np.zeros((len(points), 3))
        distance = _distances(points, self.corners[facets])
        best = distance.argmin(axis=1)
        close = distance[np.arange(len(points)), best] < near
        return np.asarray(self.normals[facets[best]] * close[:, None])


def touching(
    vertices: Array, triangles: IntArray, normals: Array, owner: IntArray, surfaces: Sequence[Surface], edges: Edges
) -> tuple[int, int] | None:
    """Return two surfaces with a wall of no thickness between them, or None.

    Found are a cylinder that touches a plane or a parallel cylinder along a line, corners and edges that lie in a flat face of
    which they are no part, and facets of one flat face that lie back to back: of the last that face twice.
    """
    corners = vertices.take(triangles, axis=0)
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    low, high = np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)
    facets = Facets(corners, low, high, normals, owner)
    beside = np.zeros((len(surfaces), len(surfaces)), dtype=bool)
    beside[edges.pair[:, 0], edges.pair[:, 1]] = True
    left = np.bincount(owner, minlength=len(surfaces)).tolist()              # of a part that was cut not all surfaces are
    for i, j, foot in _tangencies(surfaces):
        if left[i] and left[j] and not (beside[i, j] or beside[j, i]):
            line = _line(facets, i, surfaces[i], foot)
            one, other = (facets.outward(k, line, 2 * CHORD_ERROR) for k in (j, i))
            if (np.einsum("ij,ij->i", one, other) < -AGAINST).any():
                return i, j
    return _back_to_back(facets, surfaces) or _in_a_face(vertices, triangles, facets, surfaces, edges)


def _back_to_back(facets: Facets, surfaces: Sequence[Surface]) -> tuple[int, int] | None:
    """A flat face, twice, of which facets that look one way lie on others that look the other way: a skin, such as the operations
    may leave over a hole whose mouth lies in a plane that another cut has met a hair's breadth off."""
    for k, surface in enumerate(surfaces):
        if isinstance(surface, Plane):
            mine = np.flatnonzero(facets.owner == k)
            along = facets.normals[mine] @ surface.normal > 0
            if along.any() and not along.all():
                one, other = facets.corners[mine[along]], facets.corners[mine[~along]]
                if any((_distances(few.mean(axis=1), many) < SAME_POINT).any() for few, many in ((one, other), (other, one))):
                    return k, k
    return None


def _tangencies(surfaces: Sequence[Surface]) -> Iterator[tuple[int, int, Array]]:
    """Pairs of a cylinder and what touches it along a line, with a point (3,) of that line."""
    rounds = [(k, s) for k, s in enumerate(surfaces) if isinstance(s, Cylinder)]
    flats = [(k, s) for k, s in enumerate(surfaces) if isinstance(s, Plane)]
    normal, offset = np.array([s.normal for _, s in flats]).reshape(-1, 3), np.array([s.offset for _, s in flats])
    for n, (k, one) in enumerate(rounds):
        away = offset - normal @ one.point
        touches = (np.abs(np.abs(away) - one.radius) < SAME_POINT) & (np.abs(normal @ one.direction) < SAME_DIRECTION)
        for i in np.flatnonzero(touches).tolist():
            yield k, flats[i][0], one.point + away[i] * normal[i]
        for j, other in rounds[n + 1:]:
            foot = _touching_point(one, other)
            if foot is not None:
                yield k, j, foot


def _touching_point(one: Cylinder, other: Cylinder) -> Array | None:
    """A point (3,) of the line along which two parallel cylinders touch; None if they do not."""
    if abs(abs(float(one.direction @ other.direction)) - 1) > SAME_COSINE:
        return None
    arm = other.point - one.point
    arm = arm - (arm @ one.direction) * one.direction
    apart = float(np.sqrt(arm @ arm))
    inside = abs(apart - abs(one.radius - other.radius)) < SAME_POINT
    if apart < SAME_POINT or not (inside or abs(apart - one.radius - other.radius) < SAME_POINT):
        return None
    sense = -1.0 if inside and one.radius < other.radius else 1.0
    return np.asarray(one.point + sense * one.radius * arm / apart)


def _line(facets: Facets, surface: int, one: Surface, foot: Array) -> Array:
    """Points (STEPS + 1, 3) of the line through ``foot`` along a cylinder's axis, as far as its facets reach."""
    assert isinstance(one, Cylinder)
    along = ((facets.corners[facets.owner == surface] - foot) @ one.direction).ravel()
    return np.asarray(foot + np.linspace(along.min(), along.max(), STEPS + 1)[:, None] * one.direction)


def _distances(points: Array, corners: Array) -> Array:
    """How far (k, m) ``points`` (k, 3) are from triangles (m, 3 corners, 3)."""
    side = corners[:, [1, 2, 0]] - corners
    arm = points[:, None, None] - corners
    t = np.einsum("kmci,mci->kmc", arm, side) / np.maximum(np.einsum("mci,mci->mc", side, side), SAME_POINT**2)
    rim = np.sqrt(((arm - t.clip(0, 1)[..., None] * side) ** 2).sum(axis=3)).min(axis=2)
    normal = crosses(side[:, 0], side[:, 1])
    normal = normal / np.maximum(lengths(normal), SAME_POINT**2)[:, None]
    inward = np.stack([crosses(normal, side[:, c]) for c in range(3)], axis=1)
    inside = (np.einsum("kmci,mci->kmc", arm, inward) >= 0).all(axis=2)
    return np.asarray(np.where(inside, np.abs(np.einsum("kmi,mi->km", arm[:, :, 0], normal)), rim))


def _in_a_face(
    vertices: Array, triangles: IntArray, facets: Facets, surfaces: Sequence[Surface], edges: Edges
) -> tuple[int, int] | None:
    """A surface with a corner, or an edge, in a flat face of which it is no part, and that face."""
    sharp = np.flatnonzero(edges.sharp)
    (one, other), pair = edges.ends.take(sharp, axis=0).T, edges.pair.take(sharp, axis=0)
    part = np.zeros((len(vertices), len(surfaces)), dtype=bool)
    for corner in triangles.T:
        part[corner, facets.owner] = True
    flat = [(face, surface) for face, surface in enumerate(surfaces) if isinstance(surface, Plane)]
    normal, offset = np.array([s.normal for _, s in flat]).reshape(-1, 3), np.array([s.offset for _, s in flat])
    level = np.abs(normal @ vertices.T - offset[:, None]) < SAME_POINT                                   # (faces, n)
    faces = np.array([face for face, _ in flat], dtype=np.int64)
    alien = level & ~part.T[faces]
    beside = level.take(one, axis=1) & level.take(other, axis=1) & (pair[:, 0] != faces[:, None]) & (pair[:, 1] != faces[:, None])
    for k in np.flatnonzero(alien.any(axis=1) | beside.any(axis=1)).tolist():
        face, corners, within = int(faces[k]), np.flatnonzero(alien[k]), np.flatnonzero(beside[k])
        for v in corners[facets.near(face, vertices[corners])].tolist():
            found = _against(facets, vertices[v], face, np.flatnonzero((triangles == v).any(axis=1)))
            if found is not None:
                return found
        middle = (vertices[one[within]] + vertices[other[within]]) / 2
        for e in np.flatnonzero(facets.near(face, middle)).tolist():
            found = _against(facets, middle[e], face, edges.facets[sharp[within[e]]])
            if found is not None:
                return found
    return None


def _against(facets: Facets, point: Array, face: int, beside: IntArray) -> tuple[int, int] | None:
    """A surface of the facets ``beside`` a point, and ``face``, if the point lies in that face and they all look against it."""
    cosine = facets.normals[beside] @ facets.outward(face, point[None], SAME_POINT)[0]
    if cosine.min() < -AGAINST and cosine.max() < AGAINST:
        return int(facets.owner[beside[int(np.argmin(cosine))]]), face
    return None
