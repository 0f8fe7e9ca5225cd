"""Which parts of each edge a viewer sees: exact clipping of segments by the facets in front of them, all in arrays.

A point of a segment is hidden where it lies inside a front-facing facet's projection, rim included, and behind its plane.
The rim counts as inside so that an edge behind the joint of two facets is hidden; where the rim is an outline, a visible
line lies there anyway and takes precedence.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from sheetgen.projection.frames import Frame
from sheetgen.solid import Solid
from sheetgen.solid.primitives import IntArray
from sheetgen.solid.surfaces import Array
from sheetgen.units import SAME_POINT

FACING = 1e-9          # cosine: a facet less turned to the viewer than this is seen edge-on
RIM = 1e-7             # mm: nearer to a facet's rim than this is on the rim
BEHIND = 1e-6          # mm: a segment less far behind a facet lies on it


@dataclass(frozen=True, eq=False)
class Pieces:
    """Stretches of mesh edges in one view: ``edge`` (k,) index, ``start`` and ``stop`` (k,) from 0 to 1 along it, ``seen`` (k,)."""

    edge: IntArray
    start: Array
    stop: Array
    seen: npt.NDArray[np.bool_]


def facing_of(solid: Solid, frame: Frame) -> IntArray:
    """For each triangle (m,): 1 if it faces the viewer, -1 if it looks away, 0 if it is seen edge-on."""
    cosine = solid.normals @ frame.toward
    return np.where(cosine > FACING, 1, np.where(cosine < -FACING, -1, 0))


def drawn_edges(solid: Solid, frame: Frame, facing: IntArray) -> IntArray:
    """Indices of the edges that make lines in a view: sharp ones, and smooth ones where a surface turns away or edge-on.

    A smooth join of two surfaces is a line where their common tangent plane stands edge-on (common practice, no source;
    an independent kernel draws it too), even if both curve on to the same side.
    """
    f = facing[solid.edges.facets]
    turns = ~solid.edges.sharp & (f[:, 0] != f[:, 1])
    edge_on = solid.edges.tangent & (np.abs(solid.edges.tangent_normal @ frame.toward) < FACING)
    return np.flatnonzero(solid.edges.sharp | turns | edge_on)


def visible_pieces(solid: Solid, frame: Frame, flat: Array) -> Pieces:
    """Cut every drawn edge into seen and hidden stretches; ``flat`` (n, 2): the vertices in the view."""
    facing = facing_of(solid, frame)
    edge = drawn_edges(solid, frame, facing)
    ends = solid.edges.ends[edge]
    seen_from_end = np.linalg.norm(flat[ends[:, 0]] - flat[ends[:, 1]], axis=1) < SAME_POINT
    edge, ends = edge[~seen_from_end], ends[~seen_from_end]
    away = (facing[solid.edges.facets[edge]] < 0).all(axis=1)        # inside or behind the solid: hidden throughout
    test = np.flatnonzero(~away)
    front = np.flatnonzero(facing > 0)
    depth = solid.vertices @ frame.toward
    which, low, high = _covered(flat[ends[test]], depth[ends[test]], flat[solid.triangles[front]], depth[solid.triangles[front]])
    hidden_edge, hidden_low, hidden_high = _union(which, low, high)
    hidden_edge = test[hidden_edge]
    whole = np.flatnonzero(away)
    hidden_edge = np.concatenate([hidden_edge, whole])
    hidden_low = np.concatenate([hidden_low, np.zeros(len(whole))])
    hidden_high = np.concatenate([hidden_high, np.ones(len(whole))])
    return _with_gaps(edge, hidden_edge, hidden_low, hidden_high)


def seen_parts(solid: Solid, frame: Frame, segments: Array) -> list[Array]:
    """The seen stretches, (2, 2) in the view, of ``segments`` (k, 2, 3) that lie on the solid's faces."""
    facing = facing_of(solid, frame)
    front = solid.triangles[facing > 0]
    flat, depth = frame.flat(segments.reshape(-1, 3)).reshape(-1, 2, 2), segments @ frame.toward
    corners = frame.flat(solid.vertices[front].reshape(-1, 3)).reshape(-1, 3, 2)
    which, low, high = _union(*_covered(flat, depth, corners, solid.vertices[front] @ frame.toward))
    pieces = _with_gaps(np.arange(len(segments)), which, low, high)
    p, q = flat[pieces.edge, 0], flat[pieces.edge, 1]
    start, stop = p + pieces.start[:, None] * (q - p), p + pieces.stop[:, None] * (q - p)
    return [np.stack([a, b]) for a, b, seen in zip(start, stop, pieces.seen, strict=True) if seen]


def _covered(segments: Array, segment_depth: Array, corners: Array, corner_depth: Array) -> tuple[IntArray, Array, Array]:
    """For each pair of a segment (k, 2, 2) and a facet (m, 3, 2) that hides part of it: segment index, from where to where."""
    s, t = _near_pairs(segments, segment_depth, corners, corner_depth)
    p, q = segments[s, 0], segments[s, 1]
    low, high = np.zeros(len(s)), np.ones(len(s))
    facet = corners[t]
    for k in range(3):
        a, b = facet[:, k], facet[:, (k + 1) % 3]
        along = b - a
        length = np.hypot(along[:, 0], along[:, 1])
        at_p = (along[:, 0] * (p[:, 1] - a[:, 1]) - along[:, 1] * (p[:, 0] - a[:, 0])) / length
        at_q = (along[:, 0] * (q[:, 1] - a[:, 1]) - along[:, 1] * (q[:, 0] - a[:, 0])) / length
        _clip(low, high, at_p + RIM, at_q + RIM)
    height_p, height_q = _plane_depth(facet, corner_depth[t], p), _plane_depth(facet, corner_depth[t], q)
    _clip(low, high, height_p - segment_depth[s, 0] - BEHIND, height_q - segment_depth[s, 1] - BEHIND)
    keep = high > low
    return s[keep], low[keep], high[keep]


def _clip(low: Array, high: Array, at_start: Array, at_end: Array) -> None:
    """Narrow [low, high] in place to where a linear function, given at 0 and 1, is not negative."""
    change = at_end - at_start
    with np.errstate(divide="ignore", invalid="ignore"):
        root = -at_start / change
    np.copyto(low, np.maximum(low, root), where=(change > 0) & (at_start < 0))
    np.copyto(high, np.minimum(high, root), where=(change < 0) & (at_end < 0))
    np.copyto(high, -1.0, where=(at_start < 0) & (at_end < 0))


def _plane_depth(corners: Array, depth: Array, points: Array) -> Array:
    """Depth (k,) towards the viewer of the triangles' planes above ``points`` (k, 2)."""
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    u, v, w = b - a, c - a, points - a
    det = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    s = (w[:, 0] * v[:, 1] - w[:, 1] * v[:, 0]) / det
    t = (u[:, 0] * w[:, 1] - u[:, 1] * w[:, 0]) / det
    return np.asarray(depth[:, 0] + s * (depth[:, 1] - depth[:, 0]) + t * (depth[:, 2] - depth[:, 0]))


def _near_pairs(segments: Array, segment_depth: Array, corners: Array, corner_depth: Array) -> tuple[IntArray, IntArray]:
    """Pairs (segment, facet) whose boxes meet and of which the facet may lie in front."""
    lo, hi = segments.min(axis=1) - RIM, segments.max(axis=1) + RIM
    tlo, thi = corners.min(axis=1), corners.max(axis=1)
    nearest, behind = corner_depth.max(axis=1), segment_depth.min(axis=1) + BEHIND
    found = []
    rows = max(1, 32768 // max(1, len(corners)))             # slices that stay in the processor's cache
    for first in range(0, len(segments), rows):
        part = slice(first, first + rows)
        near = (nearest > behind[part, None]) & (thi[:, 0] >= lo[part, :1]) & (tlo[:, 0] <= hi[part, :1])
        near &= (thi[:, 1] >= lo[part, 1:]) & (tlo[:, 1] <= hi[part, 1:])
        s, t = np.nonzero(near)
        found.append((s + first, t))
    if not found:
        return np.zeros(0, dtype=np.int64), np.zeros(0, dtype=np.int64)
    return np.concatenate([s for s, _ in found]), np.concatenate([t for _, t in found])


def _union(which: IntArray, low: Array, high: Array) -> tuple[IntArray, Array, Array]:
    """Join overlapping intervals of the same segment."""
    order = np.lexsort((low, which))
    which, low, high = which[order], low[order], high[order]
    # Shifting each segment's intervals to a stretch of its own lets one running maximum serve them all.
    reach = np.maximum.accumulate(high + 4.0 * which) if len(which) else high
    begins = np.ones(len(which), dtype=bool)
    begins[1:] = low[1:] + 4.0 * which[1:] > reach[:-1] + 1e-9
    first = np.flatnonzero(begins)
    last = np.append(first[1:], len(which)) - 1 if len(first) else first
    return which[first], low[first], (reach[last] - 4.0 * which[first]) if len(first) else high[first]


def _with_gaps(edge: IntArray, hidden: IntArray, low: Array, high: Array) -> Pieces:
    """Hidden stretches and, between them, the seen ones. ``hidden``: index into ``edge``."""
    order = np.lexsort((low, hidden))
    hidden, low, high = hidden[order], low[order], high[order]
    every = np.arange(len(edge))
    # Seen stretches begin at 0 or where a hidden one stops, and end where the next hidden one begins or at 1.
    begin_of = np.concatenate([every, hidden])
    begin = np.concatenate([np.zeros(len(edge)), high])
    end_of = np.concatenate([hidden, every])
    end = np.concatenate([low, np.ones(len(edge))])
    a, b = np.lexsort((begin, begin_of)), np.lexsort((end, end_of))
    owner, start, stop = begin_of[a], begin[a], end[b]
    keep = stop > start
    return Pieces(
        edge[np.concatenate([owner[keep], hidden])],
        np.concatenate([start[keep], low]),
        np.concatenate([stop[keep], high]),
        np.concatenate([np.ones(int(keep.sum()), dtype=bool), np.zeros(len(hidden), dtype=bool)]),
    )
