"""Which parts of each edge a viewer sees: exact clipping of segments by the facets in front of them, all in arrays.

A point of a segment is hidden where it lies inside a front-facing facet's projection, rim included, and behind its plane.
The rim counts as inside so that an edge behind the joint of two facets is hidden; where the rim is an outline, a visible
line lies there anyway and takes precedence.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sheetgen.geometry import Array, IntArray, Mask
from sheetgen.geometry.intervals import joined_by
from sheetgen.projection.covers import Covers, covered
from sheetgen.projection.frames import Frame
from sheetgen.solid import Solid
from sheetgen.units import AT_END, EDGE_ON, SAME_POINT, SAME_SHARE


@dataclass(frozen=True, eq=False)
class Stretches:
    """Stretches (k,) of mesh edges in one view: ``edge`` the edge's index, ``start`` and ``stop`` from 0 to 1 along it."""

    edge: IntArray
    start: Array
    stop: Array
    seen: Mask

    @cached_property
    def whole(self) -> Mask:
        """True (k, 2) where a stretch begins, and where it stops, at its edge's end."""
        return np.stack([self.start < AT_END, self.stop > 1 - AT_END], axis=1)


def facing_of(solid: Solid, frame: Frame) -> IntArray:
    """For each triangle (m,): 1 if it faces the viewer, -1 if it looks away, 0 if it is seen edge-on."""
    cosine = solid.normals @ frame.toward
    return (cosine > EDGE_ON).astype(np.int64) - (cosine < -EDGE_ON)


def drawn_edges(solid: Solid, frame: Frame, facing: IntArray) -> IntArray:
    """IntArray of the edges that make lines in a view: sharp ones, and smooth ones where a surface turns away or edge-on.

    A smooth join of two surfaces is a line where their common tangent plane stands edge-on (common practice, no source;
    an independent kernel draws it too), even if both curve on to the same side.
    """
    one, other = facing.take(solid.edges.facets.T)
    drawn = solid.edges.sharp | (one != other)
    drawn |= solid.edges.tangent & (np.abs(solid.edges.tangent_normal @ frame.toward) < EDGE_ON)
    return np.flatnonzero(drawn)


def stretches_in(solid: Solid, frame: Frame, points: Array, facing: IntArray, covers: Covers) -> Stretches:
    """Cut every drawn edge into seen and hidden stretches; ``points`` (n, 3): the vertices as (u, v, depth); ``facing`` (m,): how
    the facets face; ``covers``: what hides."""
    edge = drawn_edges(solid, frame, facing)
    ends = solid.edges.ends.take(edge, axis=0)
    start, stop = points.take(ends.T, axis=0)
    along, up, _ = (stop - start).T
    lies_across = np.flatnonzero(along * along + up * up >= SAME_POINT**2)     # not seen from its end
    edge, ends = edge.take(lies_across), ends.take(lies_across, axis=0)
    beside = facing.take(solid.edges.facets.take(edge, axis=0))
    one, other = beside.T
    away = (np.maximum(one, other) <= 0) & (np.minimum(one, other) < 0)      # behind the solid, or in line with it: hidden
    test, whole = np.flatnonzero(~away), np.flatnonzero(away)
    moved = _moved(solid, edge.take(test), beside.take(test, axis=0))
    which, low, high = _hidden(points.take(ends.take(test, axis=0), axis=0), moved, covers)
    return _with_gaps(
        edge,
        np.concatenate([test[which], whole]),
        np.concatenate([low, np.zeros(len(whole))]),
        np.concatenate([high, np.ones(len(whole))]),
    )


def _moved(solid: Solid, edge: IntArray, beside: IntArray) -> IntArray:
    """The surfaces (k, 2) of the edges whose ends were moved onto them: limbs, and curves other than circles; else -1.

    ``beside`` (k, 2): how the facets to either side face; one that looks away is no part of its surface's seen side.
    """
    return np.where(solid.bent_edges[edge, None] & (beside >= 0), solid.edges.pair.take(edge, axis=0), -1)


def seen_parts(frame: Frame, covers: Covers, segments: Array) -> Array:
    """The seen stretches (n, 2, 2) in the view of ``segments`` (k, 2, 3) that lie on the solid's faces."""
    ends = placed(segments.reshape(-1, 3), frame).reshape(-1, 2, 3)
    stretches = _with_gaps(np.arange(len(segments)), *hidden_stretches(frame, covers, segments))
    p, q = ends[stretches.edge, 0, :2], ends[stretches.edge, 1, :2]
    start, stop = p + stretches.start[:, None] * (q - p), p + stretches.stop[:, None] * (q - p)
    return np.stack([start, stop], axis=1)[stretches.seen]


def hidden_stretches(frame: Frame, covers: Covers, segments: Array) -> tuple[IntArray, Array, Array]:
    """The stretches of ``segments`` (k, 2, 3), lines anywhere in space, that ``covers`` hide: which segment, from where to
    where along it (0 to 1)."""
    ends = placed(segments.reshape(-1, 3), frame).reshape(-1, 2, 3)
    return _hidden(ends, np.full((len(ends), 2), -1), covers)


def placed(points: Array, frame: Frame) -> Array:
    """Points (n, 3) of the part as (u, v, depth)."""
    result = np.empty((len(points), 3))
    result[:, :2], result[:, 2] = frame.flat(points), points @ frame.toward
    return result


def _hidden(segments: Array, pair: IntArray, covers: Covers) -> tuple[IntArray, Array, Array]:
    """The hidden stretches of ``segments`` (k, 2, 3), joined: segment index, from where to where (0 to 1). ``pair`` as in
    ``covered``."""
    return joined_by(*covered(segments, pair, covers), gap=SAME_SHARE)


def _with_gaps(edge: IntArray, hidden: IntArray, low: Array, high: Array) -> Stretches:
    """Hidden stretches and the seen ones before, between and after them. ``hidden``: index into ``edge``; those of one edge are
    apart, and in order along it."""
    order = np.argsort(hidden, kind="stable")
    hidden, low, high = hidden[order], low[order], high[order]
    # Each edge has one seen stretch more than hidden ones; in order of the edges, this is the one before each hidden one.
    before = np.arange(len(hidden)) + hidden
    start, stop = np.zeros(len(edge) + len(hidden)), np.ones(len(edge) + len(hidden))
    start[before + 1], stop[before] = high, low
    owner = np.repeat(np.arange(len(edge)), np.bincount(hidden, minlength=len(edge)) + 1)
    keep = stop > start
    return Stretches(
        edge[np.concatenate([owner[keep], hidden])],
        np.concatenate([start[keep], low]),
        np.concatenate([stop[keep], high]),
        np.concatenate([np.ones(int(keep.sum()), dtype=bool), np.zeros(len(hidden), dtype=bool)]),
    )
