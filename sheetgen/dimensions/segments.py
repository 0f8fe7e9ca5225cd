"""Segments on paper by the hundred: which cross, which run beside each other, which touch a box. Rows (n, 4): both ends, mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from sheetgen.projection.frames import COS30
from sheetgen.solid.surfaces import Array

Indices = npt.NDArray[np.int64]
Yes = npt.NDArray[np.bool_]
Pairs = tuple[Indices, Indices]

FINE = 40                # steps a mm in which places are first compared: a short whole number holds an A2 sheet of them
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


def distances(points: Array, segments: Array) -> Array:
    """mm (n,) from each of the points (n, 2) to the nearest of the segments (m, 4)."""
    start, way = segments[:, :2], segments[:, 2:] - segments[:, :2]
    away = points[:, None] - start
    share = np.clip((away * way).sum(axis=2) / np.maximum((way * way).sum(axis=1), 1e-30), 0.0, 1.0)
    off = away - share[:, :, None] * way
    return np.asarray(np.hypot(off[..., 0], off[..., 1]).min(axis=1))


@dataclass(frozen=True, eq=False)
class Neighbours:
    """Pairs of segments, of ``one`` (n, 4) and ``other`` (m, 4), that come near each other.

    ``i``, ``j`` (k,): which they are; ``length`` (k,): of the first; ``off`` (2, k) and ``along`` (2, k): how far the ends of the
    second lie to the left of the first's line, and on along it from its start.
    """

    i: Indices
    j: Indices
    length: Array
    off: Array
    along: Array

    def crossing(self) -> Yes:
        """Which (k,) cross inside the first; touching the first's end is no crossing."""
        (off_a, off_b), (along_a, along_b) = self.off, self.along
        across, run = off_a - off_b, along_b - along_a
        length = np.hypot(across, run)
        slanted = np.abs(across) > 1e-6 * length
        share = off_a / np.where(slanted, across, np.inf)
        at, edge = along_a + share * run, TOUCH / length
        return np.asarray(slanted & (at > TOUCH) & (at < self.length - TOUCH) & (share > -edge) & (share < 1 + edge))

    def beside(self, distance: float, least: float = 0.0, over: float = 1.0) -> Yes:
        """Which (k,) are parallel, from ``least`` to ``distance`` mm apart, and side by side over more than ``over`` mm."""
        (off_a, off_b), (along_a, along_b) = self.off, self.along
        apart = np.maximum(np.abs(off_a), np.abs(off_b))
        shared = np.minimum(np.maximum(along_a, along_b), self.length) - np.maximum(np.minimum(along_a, along_b), 0.0)
        parallel = np.abs(off_a - off_b) < 0.02 * np.abs(along_a - along_b)
        return np.asarray(parallel & (apart < distance) & (apart >= least) & (shared > over))


    def end_at(self, distance: float) -> Yes:
        """Which (k,) have an end of the second nearer than ``distance`` to the first."""
        near = (np.abs(self.off) < distance) & (self.along > -distance) & (self.along < self.length + distance)
        return np.asarray(near.any(axis=0))


def neighbours(one: Array, other: Array, distance: float | Array, apart: Pairs | None = None) -> Neighbours:
    """Pairs of segments (n, 4) and (m, 4) that may come as near as ``distance``, of all or of each of the first (n,); ``apart``:
    labels (n,), (m,), only of different labels."""
    i, j = near(one.reshape(-1, 2, 2), other.reshape(-1, 2, 2), distance, apart)
    px, py = one[i, 0], one[i, 1]
    rx, ry = one[i, 2] - px, one[i, 3] - py
    length = np.hypot(rx, ry)
    rx, ry = rx / length, ry / length
    ax, ay, bx, by = other[j, 0] - px, other[j, 1] - py, other[j, 2] - px, other[j, 3] - py
    off, along = np.array([rx * ay - ry * ax, rx * by - ry * bx]), np.array([ax * rx + ay * ry, bx * rx + by * ry])
    return Neighbours(i, j, length, off, along)


def near(one: Array, other: Array, distance: float | Array, apart: Pairs | None = None) -> Pairs:
    """Pairs (i, j) of shapes (n, k, 2) and (m, l, 2), by their corners, that no strip ``distance`` wide parts, along an axis of
    the sheet or of the isometric drawing: the rest need no thought. ``apart``: labels (n,), (m,), only of different labels.

    Compared in short whole numbers, rounded so that no pair is lost: the processor takes many of them at a time.
    """
    low_a, high_a = _reach(one, distance)
    low_b, high_b = _reach(other, 0.0)
    found = low_a[0][:, None] <= high_b[0]
    found &= high_a[0][:, None] >= low_b[0]
    found &= low_a[1][:, None] <= high_b[1]
    found &= high_a[1][:, None] >= low_b[1]
    i, j = np.divmod(np.flatnonzero(found), max(1, len(other)))
    keep = np.ones(len(i), dtype=bool) if apart is None else apart[0][i] != apart[1][j]
    for k in (2, 3):
        keep &= (low_a[k][i] <= high_b[k][j]) & (high_a[k][i] >= low_b[k][j])
    return i[keep], j[keep]


def _reach(shapes: Array, distance: float | Array) -> tuple[npt.NDArray[np.int16], npt.NDArray[np.int16]]:
    """Lowest and highest places (4, n) of shapes (n, k, 2), in steps of 1 / FINE mm, outwards: x, y, and the same square to the
    isometric drawing's slanted lines."""
    x, y = shapes.transpose(2, 1, 0)
    places = np.stack([x, y, y * COS30 - x / 2, y * COS30 + x / 2], axis=1)            # (k, 4, n)
    low, high = places.min(axis=0), places.max(axis=0)
    most = np.iinfo(np.int16).max
    return (
        np.clip(np.floor((low - distance) * FINE), -most, most).astype(np.int16),
        np.clip(np.ceil((high + distance) * FINE), -most, most).astype(np.int16),
    )


def in_line(one: Array, other: Array) -> Yes:
    """(n,) True where two segments (n, 4) lie in one line and share at most an end: links of a chain."""
    direction = one[:, 2:] - one[:, :2]
    length = np.hypot(direction[:, 0], direction[:, 1])
    unit = direction / length[:, None]
    start, stop = other[:, :2] - one[:, :2], other[:, 2:] - one[:, :2]
    off = np.abs(unit[:, 0] * start[:, 1] - unit[:, 1] * start[:, 0])
    a, b = (start * unit).sum(axis=1), (stop * unit).sum(axis=1)
    return np.asarray((off < 1e-6) & ((np.maximum(a, b) < 1e-6) | (np.minimum(a, b) > length - 1e-6)))


def touched(boxes: Array, segments: Array, apart: Pairs | None = None) -> Pairs:
    """Pairs (i, j) of boxes (n, 4, 2), rectangles or sheared ones, and segments (m, 4) that touch or lie in them; ``apart``:
    labels (n,) and (m,), only of different labels."""
    i, j = near(boxes, segments.reshape(-1, 2, 2), 0.0, apart)
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


def edges_of(boxes: Array) -> Array:
    """The four sides of each box (n, 4, 2) as segments (4 n, 4)."""
    return np.concatenate([boxes, np.roll(boxes, -1, axis=1)], axis=2).reshape(-1, 4)


def _cross(a: Array, b: Array) -> Array:
    return np.asarray(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])
