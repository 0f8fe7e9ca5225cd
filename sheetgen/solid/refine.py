"""Corners of a mesh moved onto the exact surfaces. Part frame, millimetres.

Where a facet that stands for a curved surface is cut, the new corners lie on the facet's chord. Where the cut grazes the
surface, that is many times CHORD_ERROR from the true curve.
"""

from __future__ import annotations

import numpy as np

from sheetgen.geometry import Array, IntArray, Mask
from sheetgen.geometry.vectors import crosses, lengths
from sheetgen.solid.edges import Edges, facet_normals
from sheetgen.solid.table import SurfaceTable
from sheetgen.units import ALONG_RULING, CHORD_ERROR, EXACT, LEAST_SINE

FARTHEST = 20 * CHORD_ERROR
"""mm: a corner that would have to move farther stays (an exact curve that the facets miss by so much may run elsewhere)."""

TOO_FAR = 2.5 * CHORD_ERROR
"""mm: an edge whose middle is farther from its curve is halved. Elsewhere facets come nearer than that by themselves."""

STEPS = 6


def refined(
    vertices: Array, triangles: IntArray, owner: IntArray, table: SurfaceTable, edges: Edges
) -> tuple[Array, IntArray]:
    """Return the vertices (n, 3) with those on the curves and corners of round surfaces moved onto all their surfaces, and the
    triangles, of which some in one flat face are divided the other way.

    A corner at the end of a straight line of a cylinder or cone moves along it, so that outlines stay straight.
    """
    on = np.zeros((len(vertices), len(table.flat)), dtype=bool)
    for corner in triangles.T:
        on[corner, owner] = True
    vertex, surface = np.nonzero(on)
    off = np.abs(table.distances(surface, vertices.take(vertex, axis=0))) > EXACT
    wanted = np.zeros(len(vertices), dtype=bool)
    wanted[vertex[off]] = True
    wanted &= np.bincount(vertex, minlength=len(vertices)) > 1
    moving = np.flatnonzero(wanted)
    if not len(moving):
        return vertices, triangles
    place = np.cumsum(wanted) - 1
    mine = wanted[vertex]
    which = _rows(place[vertex[mine]], surface[mine], len(moving))
    lines = np.zeros((len(vertices), 3))
    for ends, along in _straight(vertices, table, edges):
        lines[ends] = along
    goal, good = _solved(vertices.take(moving, axis=0), which, lines.take(moving, axis=0), table)
    result = vertices.copy()
    result[moving[good]] = goal[good]
    return _unfolded(vertices, result, triangles, owner, table)


def bisected(
    vertices: Array, triangles: IntArray, owner: IntArray, normals: Array, table: SurfaceTable, edges: Edges
) -> tuple[Array, IntArray, IntArray, Array] | None:
    """The mesh (vertices, triangles, owner, normals) with edges of space curves halved where they stand too far from their
    curve; None if none does. Of a triangle's edges one is halved at most."""
    loose = np.array([a * len(table.flat) + b for (a, b), curve in edges.curves.items() if curve is None], dtype=np.int64)
    if not len(loose):
        return None
    one, other = edges.pair.T
    low, high = np.minimum(one, other), np.maximum(one, other)
    found = np.flatnonzero(edges.sharp & np.isin(low * len(table.flat) + high, loose))
    if not len(found):
        return None
    a, b = edges.ends.take(found, axis=0).T
    middle = (vertices.take(a, axis=0) + vertices.take(b, axis=0)) / 2
    goal, good = _solved(middle, edges.pair[found], np.zeros_like(middle), table)
    good &= lengths(goal - middle) > TOO_FAR
    found, goal = found[good], goal[good]
    alone = _first_of(edges.facets[found])
    found, goal = found[alone], goal[alone]
    if not len(found):
        return None
    number = len(vertices) + np.arange(len(found))
    more = []
    triangles = triangles.copy()
    for side in (0, 1):
        mine = edges.facets[found, side]
        on_edge = (triangles[mine][:, :, None] == edges.ends[found][:, None, :]).any(axis=2)
        at = np.argmin(on_edge, axis=1)                                        # the corner off the edge
        a, b, c = (triangles[mine, (at + k) % 3] for k in range(3))
        triangles[mine] = np.stack([a, b, number], axis=1)
        more.append(np.stack([a, number, c], axis=1))
    split = edges.facets[found].T.ravel()
    return (
        np.concatenate([vertices, goal]),
        np.concatenate([triangles, *more]),
        np.concatenate([owner, owner[split]]),
        np.concatenate([normals, normals[split]]),
    )


def _first_of(pairs: IntArray) -> IntArray:
    """Which of the pairs (k, 2) to take so that no member comes twice."""
    taken: set[int] = set()
    kept = []
    for k, pair in enumerate(pairs.tolist()):
        if taken.isdisjoint(pair):
            taken.update(pair)
            kept.append(k)
    return np.array(kept, dtype=np.int64)


def _rows(place: IntArray, surface: IntArray, count: int) -> IntArray:
    """The surfaces (count, most) of each corner; -1 where one has fewer. ``place`` (k,) in order."""
    first = np.searchsorted(place, np.arange(count))
    column = np.arange(len(place)) - first[place]
    rows = np.full((count, int(column.max()) + 1), -1)
    rows[place, column] = surface
    return rows


def _straight(vertices: Array, table: SurfaceTable, edges: Edges) -> list[tuple[IntArray, Array]]:
    """The smooth edges of round surfaces that run along a straight line of theirs: (ends, unit directions), by either end."""
    found = np.flatnonzero(~edges.sharp)
    owner = edges.pair.take(found, axis=0).T.ravel()
    found = np.tile(found, 2)
    bent = ~table.flat[owner]
    found, owner = found[bent], owner[bent]
    a, b = edges.ends.take(found, axis=0).T
    begin, end = vertices.take(a, axis=0), vertices.take(b, axis=0)
    run = end - begin
    run = run / lengths(run)[:, None]
    way = np.where(table.cone[owner, None], (begin + end) / 2 - table.foot.take(owner, axis=0), table.axis.take(owner, axis=0))
    straight = lengths(crosses(run, way)) < ALONG_RULING * lengths(way)
    straight &= np.abs(table.distances(owner, begin)) < EXACT        # else it runs within a facet
    along = run.compress(straight, axis=0)
    return [(tip[straight], along) for tip in (a, b)]


def _solved(start: Array, which: IntArray, lines: Array, table: SurfaceTable) -> tuple[Array, Mask]:
    """Newton's method from ``start`` (k, 3) onto the surfaces ``which`` (k, most), within ``lines`` (k, 3) where not zero; and
    where it came to rest near by (k,)."""
    points, bound = start, np.zeros(len(start), dtype=bool)
    for step in range(STEPS):
        gap, normal = _off(points, which, table)
        if np.abs(gap).max() < EXACT / 100:
            break
        climb = np.einsum("kmi,ki->km", normal, lines)
        if step == 0:
            bound = (np.abs(climb) > ALONG_RULING).sum(axis=1) == 1            # else the line meets two more surfaces: a corner
        slope = np.einsum("km,km->k", climb, climb)
        along = np.einsum("km,km->k", climb, gap) / np.where(slope > 0, slope, 1.0)
        points = points - np.where(bound[:, None], along[:, None] * lines, _shortest(normal, gap, which))
    gap, _ = _off(points, which, table)
    return points, (np.abs(gap).max(axis=1) < EXACT) & (lengths(points - start) < FARTHEST)


def _off(points: Array, which: IntArray, table: SurfaceTable) -> tuple[Array, Array]:
    """How far (k, most) points (k, 3) lie off their surfaces, and the surfaces' normals (k, most, 3); 0 where there is none."""
    real, every = which >= 0, np.repeat(points, which.shape[1], axis=0)
    numbers = np.where(real, which, 0).ravel()
    gap = table.distances(numbers, every).reshape(real.shape) * real
    return gap, table.normals(numbers, every).reshape(*real.shape, 3) * real[..., None]


def _shortest(normal: Array, gap: Array, which: IntArray) -> Array:
    """The shortest moves (k, 3) that climb by ``gap`` (k, most) along the normals (k, most, 3)."""
    moves = np.zeros((len(gap), 3))
    two = (which >= 0).sum(axis=1) == 2
    (a, b), (f, g) = normal[two, :2].transpose(1, 0, 2), gap[two, :2].T
    cosine = np.einsum("ij,ij->i", a, b)
    square = np.maximum(1 - cosine * cosine, LEAST_SINE * LEAST_SINE)
    moves[two] = ((f - cosine * g) / square)[:, None] * a + ((g - cosine * f) / square)[:, None] * b
    rest = ~two
    if rest.any():
        moves[rest] = np.einsum("kim,km->ki", np.linalg.pinv(normal[rest], rcond=LEAST_SINE), gap[rest])
    return moves


def _unfolded(
    before: Array, after: Array, triangles: IntArray, owner: IntArray, table: SurfaceTable
) -> tuple[Array, IntArray]:
    """The moved vertices and the triangles, none of which is turned over by a move. Of two in a flat face of which one is, the
    square that they make is divided by its other diagonal; where that does not help, the vertices of the facet stay."""
    outward = facet_normals(before, triangles)
    x, y, z = (before != after).T
    a, b, c = (x | y | z)[triangles.T]
    touched = np.flatnonzero(a | b | c)
    while True:
        over = np.einsum("ij,ij->i", facet_normals(after, triangles[touched]), outward[touched]) <= 0
        turned = touched[over]
        if not len(turned):
            return after, triangles
        divided = next(filter(None, (_divided(int(facet), after, triangles, owner, outward, table) for facet in turned)), None)
        if divided:
            one, other, (first, second) = divided
            triangles = triangles.copy()
            triangles[one], triangles[other], outward[one] = first, second, outward[other]
            touched = np.union1d(touched, [one, other])
            continue
        back = np.unique(triangles[turned])
        after[back] = before[back]


def _divided(
    facet: int, vertices: Array, triangles: IntArray, owner: IntArray, outward: Array, table: SurfaceTable
) -> tuple[int, int, IntArray] | None:
    """A facet that is turned over, the neighbour of its flat face at its longest edge, and the two that stand in their place;
    None if one of those would be turned over too."""
    if not table.flat[owner[facet]]:
        return None
    corners = triangles[facet]
    longest = int(np.argmax(lengths(vertices[np.roll(corners, -1)] - vertices[corners])))
    begin, end, tip = np.roll(corners, -longest).tolist()
    beside = np.flatnonzero((owner == owner[facet]) & (triangles == begin).any(axis=1) & (triangles == end).any(axis=1))
    beside = beside[beside != facet]
    if len(beside) != 1:
        return None
    other = int(beside[0])
    [far] = [corner for corner in triangles[other].tolist() if corner not in (begin, end)]
    pair = np.array([(begin, far, tip), (far, end, tip)])
    upright = np.einsum("ij,j->i", facet_normals(vertices, pair), outward[other]) > 0
    return (facet, other, pair) if upright.all() else None
