"""Facets joined two and two to convex quadrilaterals: half as many things to look behind. Part frame, millimetres."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array, IntArray
from sheetgen.geometry.vectors import crosses, lengths
from sheetgen.solid.edges import Edges
from sheetgen.units import EXACT


@dataclass(frozen=True, eq=False)
class Panes:
    """``corners`` (p, 4): vertex numbers, anticlockwise from outside, a triangle's last one twice; ``facet`` (p,): one of its."""

    corners: IntArray
    facet: IntArray


def panes_of(vertices: Array, triangles: IntArray, normals: Array, edges: Edges) -> Panes:
    """Join facets of one plane over their longest common edges where the two make a convex pane."""
    one, other, quads = _pairs(vertices, triangles, normals, edges)
    single = [True] * len(triangles)
    found: list[int] = []
    for k, (a, b) in enumerate(zip(one.tolist(), other.tolist(), strict=True)):
        if single[a] and single[b]:
            single[a] = single[b] = False
            found.append(k)
    taken, alone = np.array(found, dtype=np.int64), np.flatnonzero(single)
    rest = triangles.take(alone, axis=0)[:, (0, 1, 2, 2)]
    return Panes(np.concatenate([quads.take(taken, axis=0), rest]), np.concatenate([one[taken], alone]))


def _pairs(vertices: Array, triangles: IntArray, normals: Array, edges: Edges) -> tuple[IntArray, IntArray, IntArray]:
    """Pairs of facets that make a convex pane, and its corners (k, 4); those with the longest common edge first."""
    inner = np.flatnonzero(edges.pair[:, 0] == edges.pair[:, 1])
    one, other = edges.facets.take(inner, axis=0).T
    n, o = triangles.take(one, axis=0).T, triangles.take(other, axis=0).T
    # the corner of the first facet that is off the common edge, then the edge's ends as the first facet runs through them
    both = edges.ends[inner, 0] + edges.ends[inner, 1]
    tip, far = n[0] + n[1] + n[2] - both, o[0] + o[1] + o[2] - both
    a = np.where(n[0] == tip, n[1], np.where(n[1] == tip, n[2], n[0]))
    b = both - a
    p, q, r, s = (vertices.take(corner, axis=0) for corner in (tip, a, far, b))
    normal = normals.take(one, axis=0)
    fits = np.einsum("ij,ij->i", normal, normals.take(other, axis=0)) > 0
    for corner in (p, r, s):
        fits &= np.abs(np.einsum("ij,ij->i", corner - q, normal)) < EXACT
    for before, here, after in ((p, q, r), (r, s, p)):
        fits &= np.einsum("ij,ij->i", crosses(here - before, after - here), normal) > 0
    fits = np.flatnonzero(fits)
    fits = fits[np.argsort(-lengths((q - s).take(fits, axis=0)), kind="stable")]
    return one[fits], other[fits], np.stack([tip[fits], a[fits], far[fits], b[fits]], axis=1)
