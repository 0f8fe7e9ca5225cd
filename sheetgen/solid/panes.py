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
    single = np.ones(len(triangles), dtype=bool)
    taken: list[int] = []
    for k, (a, b) in enumerate(zip(one.tolist(), other.tolist(), strict=True)):
        if single[a] and single[b]:
            single[a] = single[b] = False
            taken.append(k)
    alone = np.flatnonzero(single)
    return Panes(np.concatenate([quads[taken], triangles[alone][:, [0, 1, 2, 2]]]), np.concatenate([one[taken], alone]))


def _pairs(vertices: Array, triangles: IntArray, normals: Array, edges: Edges) -> tuple[IntArray, IntArray, IntArray]:
    """Pairs of facets that make a convex pane, and its corners (k, 4); those with the longest common edge first."""
    inner = np.flatnonzero(edges.pair[:, 0] == edges.pair[:, 1])
    one, other = edges.facets[inner].T
    near = triangles[one]
    # the corner of the first facet that is off the common edge, then the edge's ends as the first facet runs through them
    both = edges.ends[inner].sum(axis=1)
    tip, far = near.sum(axis=1) - both, triangles[other].sum(axis=1) - both
    a = np.where(near[:, 0] == tip, near[:, 1], np.where(near[:, 1] == tip, near[:, 2], near[:, 0]))
    b = both - a
    p, q, r, s = (vertices[corner] for corner in (tip, a, far, b))
    normal = normals[one]
    fits = np.einsum("ij,ij->i", normal, normals[other]) > 0
    for corner in (p, r, s):
        fits &= np.abs(np.einsum("ij,ij->i", corner - q, normal)) < EXACT
    for before, here, after in ((p, q, r), (r, s, p)):
        fits &= np.einsum("ij,ij->i", crosses(here - before, after - here), normal) > 0
    fits = np.flatnonzero(fits)
    fits = fits[np.argsort(-lengths(q - s)[fits], kind="stable")]
    return one[fits], other[fits], np.stack([tip, a, far, b], axis=1)[fits]
