"""Segments on paper by the hundred: which cross, which run beside each other, which touch a box. Rows (n, 4): both ends, mm."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from sheetgen.solid.surfaces import Array

Indices = npt.NDArray[np.int64]
Yes = npt.NDArray[np.bool_]
Pairs = tuple[Indices, Indices]

FINE = 50                # steps a mm in which boxes are first compared: a short whole number holds an A2 sheet of them
TOUCH = 1e-3             # mm: nearer to a line's end than this is at its end


def segments_of(polylines: Sequence[Array]) -> Array:
    """Segments (n, 4) of polylines: x and y of both ends."""
    if not polylines:
        return np.zeros((0, 4))
    points = np.concatenate(polylines)
    joint = np.ones(len(points) - 1, dtype=bool)
    joint[np.cumsum([len(line) for line in polylines])[:-1] - 1] = False
    return np.hstack([points[:-1], points[1:]])[joint]


def lengths_of(segments: Array) -> Array:
    """mm (n,) of segments (n, 4)."""
    return np.asarray(np.hypot(segments[:, 2] - segments[:, 0], segments[:, 3] - segments[:, 1]))


def near(one: Array, other: Array, distance: float) -> Pairs:
    """Pairs (i, j) of segments (n, 4) and (m, 4) whose boxes come as near as ``distance``: the rest need no thought.

    Compared in short whole numbers, rounded so that no pair is lost: the processor takes many of them at a time.
    """
    low_a, high_a = _grown(one, distance)
    low_b, high_b = _grown(other, 0.0)
    found = low_a[0][:, None] <= high_b[0]
    found &= high_a[0][:, None] >= low_b[0]
    found &= low_a[1][:, None] <= high_b[1]
    found &= high_a[1][:, None] >= low_b[1]
    i, j = np.divmod(np.flatnonzero(found), max(1, len(other)))
    return i, j


def _grown(segments: Array, distance: float) -> tuple[npt.NDArray[np.int16], npt.NDArray[np.int16]]:
    """Lowest and highest x and y (2, n) of segments in steps of 1 / FINE mm, outwards."""
    low, high = np.minimum(segments[:, :2], segments[:, 2:]), np.maximum(segments[:, :2], segments[:, 2:])
    most = np.iinfo(np.int16).max
    return (
        np.clip(np.floor((low.T - distance) * FINE), -most, most).astype(np.int16),
        np.clip(np.ceil((high.T + distance) * FINE), -most, most).astype(np.int16),
    )


def crossings(one: Array, other: Array) -> Pairs:
    """Pairs (i, j) of segments (n, 4) and (m, 4) that cross inside the first; touching the first's end is no crossing."""
    i, j = near(one, other, TOUCH)
    (px, py), (qx, qy) = one[i, :2].T, other[j, :2].T
    rx, ry, sx, sy = one[i, 2] - px, one[i, 3] - py, other[j, 2] - qx, other[j, 3] - qy
    length_r, length_s = np.hypot(rx, ry), np.hypot(sx, sy)
    det = rx * sy - ry * sx
    slanted = np.abs(det) > 1e-6 * length_r * length_s
    det = np.where(slanted, det, np.inf)
    wx, wy = qx - px, qy - py
    t, u = (wx * sy - wy * sx) / det, (wx * ry - wy * rx) / det
    edge_r, edge_s = TOUCH / length_r, TOUCH / length_s
    hit = slanted & (t > edge_r) & (t < 1 - edge_r) & (u > -edge_s) & (u < 1 + edge_s)
    return i[hit], j[hit]


def besides(one: Array, other: Array, distance: float, least: float = 0.0, over: float = 1.0) -> Pairs:
    """Pairs (i, j) of parallel segments, from ``least`` to ``distance`` mm apart, and side by side over more than ``over`` mm."""
    i, j = near(one, other, distance)
    px, py = one[i, :2].T
    rx, ry = one[i, 2] - px, one[i, 3] - py
    length = np.hypot(rx, ry)
    rx, ry = rx / length, ry / length
    ax, ay, bx, by = (other[j] - np.stack([px, py, px, py], axis=1)).T
    off_a, off_b = rx * ay - ry * ax, rx * by - ry * bx
    along_a, along_b = ax * rx + ay * ry, bx * rx + by * ry
    shared = np.minimum(np.maximum(along_a, along_b), length) - np.maximum(np.minimum(along_a, along_b), 0.0)
    parallel = np.abs(off_a - off_b) < 0.02 * np.abs(along_a - along_b)
    apart = np.maximum(np.abs(off_a), np.abs(off_b))
    hit = parallel & (apart < distance) & (apart >= least) & (shared > over)
    return i[hit], j[hit]


def in_line(one: Array, other: Array) -> Yes:
    """(n,) True where two segments (n, 4) lie in one line and share at most an end: links of a chain."""
    direction = one[:, 2:] - one[:, :2]
    length = np.hypot(direction[:, 0], direction[:, 1])
    unit = direction / length[:, None]
    start, stop = other[:, :2] - one[:, :2], other[:, 2:] - one[:, :2]
    off = np.abs(unit[:, 0] * start[:, 1] - unit[:, 1] * start[:, 0])
    a, b = (start * unit).sum(axis=1), (stop * unit).sum(axis=1)
    return np.asarray((off < 1e-6) & ((np.maximum(a, b) < 1e-6) | (np.minimum(a, b) > length - 1e-6)))


def touched(boxes: Array, segments: Array) -> Pairs:
    """Pairs (i, j) of boxes (n, 4, 2), rectangles or sheared ones, and segments (m, 4) that touch or lie in them."""
    i, j = near(np.concatenate([boxes.min(axis=1), boxes.max(axis=1)], axis=1), segments, 0.0)
    corner, run, rise = boxes[i, 0], boxes[i, 1] - boxes[i, 0], boxes[i, 3] - boxes[i, 0]
    start, way = segments[j, :2] - corner, segments[j, 2:] - segments[j, :2]
    det = _cross(run, rise)
    # In the box's own axes it is the unit square, and the segment is clipped to 0 … 1 in both.
    low, high = np.zeros(len(i)), np.ones(len(i))
    for at, step in ((_cross(start, rise) / det, _cross(way, rise) / det), (_cross(run, start) / det, _cross(run, way) / det)):
        level = np.abs(step) < 1e-12
        slope = np.where(level, 1.0, step)
        one, other = -at / slope, (1.0 - at) / slope
        aside = level & ((at < 0.0) | (at > 1.0))
        low = np.where(level, np.where(aside, 2.0, low), np.maximum(low, np.minimum(one, other)))
        high = np.where(level, high, np.minimum(high, np.maximum(one, other)))
    hit = low <= high
    return i[hit], j[hit]


def overlapping(boxes: Array) -> Pairs:
    """Pairs (i, j) of boxes (n, 4, 2) of which the second's outline touches, or lies in, the first."""
    i, edge = touched(boxes, edges_of(boxes))
    return i, edge // 4


def edges_of(boxes: Array) -> Array:
    """The four sides of each box (n, 4, 2) as segments (4 n, 4)."""
    return np.concatenate([boxes, np.roll(boxes, -1, axis=1)], axis=2).reshape(-1, 4)


def _cross(a: Array, b: Array) -> Array:
    return np.asarray(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])
