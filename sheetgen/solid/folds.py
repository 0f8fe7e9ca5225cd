"""Facets of a flat face that lie folded over each other, and how that face is divided anew. Part frame, millimetres.

The operations seldom (two of a thousand variants of the bank) divide a face with holes into facets of which some lie upside
down over others, across a hole. Volume and edges are right, but a view would show the hole half closed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from sheetgen.geometry import Array, IntArray, Mask
from sheetgen.geometry.vectors import crosses, square_to
from sheetgen.solid.edges import Edges, facet_normals
from sheetgen.solid.surfaces import Plane, Surface
from sheetgen.units import SAME_POINT


def folded(normals: Array, surfaces: Sequence[Surface], edges: Edges) -> Mask:
    """Which edges (k,) part two facets of one flat face that look opposite ways; a sound solid has none."""
    one, other = edges.pair.T
    opposite = (one == other) & _flat(surfaces)[one]
    opposite[opposite] = _opposite(normals, edges.facets.compress(opposite, axis=0))
    return np.asarray(opposite)


def smoothed(
    vertices: Array, triangles: IntArray, owner: IntArray, surfaces: Sequence[Surface]
) -> tuple[Array, IntArray, IntArray]:
    """Return vertices (n, 3), triangles (m, 3) and their surfaces (m,), flat faces with facets folded over others divided anew.

    A face that cannot be divided soundly stays as it is: ``folded`` will tell.
    """
    facets = _side_by_side(triangles, len(vertices))
    facets = facets[(owner[facets[:, 0]] == owner[facets[:, 1]]) & _flat(surfaces)[owner[facets[:, 0]]]]
    folds = _opposite(facet_normals(vertices, triangles), facets)
    if not folds.any():
        return vertices, triangles, owner
    gone, more, todo = np.zeros(len(triangles), dtype=bool), [np.zeros((0, 3), dtype=np.int64)], set(facets[folds, 0].tolist())
    owners = [np.zeros(0, dtype=np.int64)]
    while todo:
        start = min(todo)
        face = _reached(facets, start)
        todo -= set(face)
        found = _divided(vertices, triangles[face])
        if found is not None:
            gone[face] = True
            more.append(found)
            owners.append(np.full(len(found), owner[start]))
    used, corners = np.unique(np.concatenate([triangles[~gone], *more]), return_inverse=True)   # what lay within a face goes
    return vertices[used], corners.reshape(-1, 3), np.concatenate([owner[~gone], *owners])


def _flat(surfaces: Sequence[Surface]) -> Mask:
    return np.array([isinstance(surface, Plane) for surface in surfaces])


def _opposite(normals: Array, facets: IntArray) -> Mask:
    one, other = (normals.take(facets[:, side], axis=0) for side in (0, 1))
    return np.asarray(np.einsum("ij,ij->i", one, other) < 0)


def _side_by_side(triangles: IntArray, count: int) -> IntArray:
    """Pairs (3 m, 2) of facets that share a side, each pair by either one."""
    a, b = triangles.ravel(), triangles[:, [1, 2, 0]].ravel()
    key, back = a * count + b, b * count + a
    order = np.argsort(key, kind="stable")
    beside = order[np.searchsorted(key[order], back).clip(0, len(key) - 1)]
    return np.asarray(np.stack([np.arange(len(key)), beside], axis=1)[key[beside] == back] // 3)


def _reached(facets: IntArray, start: int) -> list[int]:
    """All facets that can be reached from one by pairs of neighbours."""
    beside: dict[int, list[int]] = {}
    for f, g in facets.tolist():
        beside.setdefault(f, []).append(g)
    found, todo = {start}, [start]
    while todo:
        fresh = set(beside[todo.pop()]) - found
        found |= fresh
        todo += fresh
    return sorted(found)


def _divided(vertices: Array, triangles: IntArray) -> IntArray | None:
    """Triangles (k, 3), all looking the same way, within the rims of a flat face; None if none are found."""
    import shapely  # imported late: few solids need it

    rims = _rims(triangles)
    a, b, c = (vertices[triangles[:, k]] for k in range(3))
    normal = crosses(b - a, c - a).sum(axis=0) / 2
    area = math.hypot(*normal.tolist())
    if rims is None or area < SAME_POINT:
        return None
    flat = vertices @ np.stack(square_to(normal / area), axis=1)
    number = {tuple(flat[v].tolist()): v for rim in rims for v in rim.tolist()}
    outer, *holes = sorted(rims, key=lambda rim: -shapely.Polygon(flat[rim]).area)
    face = shapely.Polygon(flat[outer], [flat[rim] for rim in holes])
    if not face.is_valid:
        return None
    pieces = shapely.get_parts(shapely.constrained_delaunay_triangles(face))
    found = np.array([[number[x, y] for x, y in shapely.get_coordinates(piece)[:3].tolist()] for piece in pieces])
    a, b, c = (vertices[found[:, k]] for k in range(3))
    size = crosses(b - a, c - a) @ normal / area / 2
    found[size < 0] = found[size < 0][:, ::-1]
    sound = abs(np.abs(size).sum() - area) < SAME_POINT * math.sqrt(area) and np.abs(size).min() > 0
    return found.astype(np.int64) if sound else None


def _rims(triangles: IntArray) -> list[IntArray] | None:
    """The closed rims of some facets, as corner after corner; None if rims touch in a corner or a side."""
    sides = {(p, q) for a, b, c in triangles.tolist() for p, q in ((a, b), (b, c), (c, a))}
    if len(sides) < 3 * len(triangles):
        return None
    after: dict[int, int] = {}
    for p, q in sorted(sides):
        if (q, p) not in sides:
            if p in after:
                return None
            after[p] = q
    rims = []
    while after:
        first, here = after.popitem()
        rim = [first]
        while here != first:
            rim.append(here)
            here = after.pop(here)
        rims.append(np.array(rim))
    return rims
