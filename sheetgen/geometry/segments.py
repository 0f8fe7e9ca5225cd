"""Segments on paper by the hundred: which cross, which run beside each other, which touch a box. Rows (n, 4): both ends, mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from sheetgen.geometry.arrays import Array, IntArray, Mask
from sheetgen.geometry.vectors import COS30
from sheetgen.units import LINE_TOUCH, NO_SQUARE, NO_STEP, PARALLEL, SAME_PLACE

Pairs = tuple[IntArray, IntArray]

SHORT = int(np.iinfo(np.int16).max)
SLICE = 2 ** 17          # pairs of shapes that are compared at once
FINE = 40                # steps a mm in which places are first compared: a short whole number holds an A2 sheet of them


class Reach(NamedTuple):
    """Lowest and highest places (4, n) of shapes, in steps of 1 / FINE mm: x, y, and the same square to the isometric drawing's
    slanted lines."""

    low: npt.NDArray[np.int16]
    high: npt.NDArray[np.int16]

    def part(self, first: int, stop: int | None = None) -> Reach:
        """That of the shapes from ``first`` up to ``stop``."""
        return Reach(self.low[:, first:stop], self.high[:, first:stop])

    def and_of(self, other: Reach) -> Reach:
        """That of these shapes and others."""
        return Reach(np.hstack([self.low, other.low]), np.hstack([self.high, other.high]))


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
    x, y = segments[:, 0], segments[:, 1]
    dx, dy = segments[:, 2] - x, segments[:, 3] - y
    away_x, away_y = points[:, :1] - x, points[:, 1:] - y
    share = np.clip((away_x * dx + away_y * dy) / np.maximum(dx * dx + dy * dy, NO_SQUARE), 0.0, 1.0)
    off_x, off_y = away_x - share * dx, away_y - share * dy
    return np.asarray(np.sqrt((off_x * off_x + off_y * off_y).min(axis=1)))


@dataclass(frozen=True, eq=False)
class Neighbours:
    """Pairs of segments, of ``one`` (n, 4) and ``other`` (m, 4), that come near each other.

    ``i``, ``j`` (k,): which they are; ``length`` (k,): of the first; ``off``, ``along``, two (k,) each: how far the ends of the
    second lie to the left of the first's line, and on along it from its start. What is asked of the pairs is answered by their
    numbers, in order.
    """

    i: IntArray
    j: IntArray
    length: Array
    off: tuple[Array, Array]
    along: tuple[Array, Array]

    def crossing(self) -> IntArray:
        """Which cross inside the first; touching the first's end is no crossing."""
        (off_a, off_b), (along_a, along_b) = self.off, self.along
        # To either side of the line, or one end on it: the rest is asked of those only.
        some = np.flatnonzero((np.minimum(off_a, off_b) <= LINE_TOUCH) & (np.maximum(off_a, off_b) >= -LINE_TOUCH))
        off, onward = off_a.take(some), along_a.take(some)
        across, run = off - off_b.take(some), along_b.take(some) - onward
        length = np.sqrt(across * across + run * run)
        slanted = np.abs(across) > PARALLEL * length
        share = off / np.where(slanted, across, np.inf)
        at, edge = onward + share * run, LINE_TOUCH / length
        inside = slanted & (at > LINE_TOUCH) & (at < self.length.take(some) - LINE_TOUCH)
        return some[np.flatnonzero(inside & (share > -edge) & (share < 1 + edge))]

    @cached_property
    def _parallel(self) -> tuple[IntArray, Array, Array]:
        """Which are parallel, how far apart these are, and over how many mm side by side."""
        (off_a, off_b), (along_a, along_b) = self.off, self.along
        which = np.flatnonzero(np.abs(off_a - off_b) < 0.02 * np.abs(along_a - along_b))
        apart = self.apart(which)
        one, other = along_a.take(which), along_b.take(which)
        return which, apart, np.minimum(np.maximum(one, other), self.length.take(which)) - np.maximum(np.minimum(one, other), 0.0)

    def apart(self, which: IntArray) -> Array:
        """mm from the lines of the first to the farther ends of the second, of ``which`` (k,)."""
        off_a, off_b = self.off
        return np.maximum(np.abs(off_a.take(which)), np.abs(off_b.take(which)))

    def beside(self, distance: float, least: float = 0.0, over: float = 1.0) -> IntArray:
        """Which are parallel, from ``least`` to ``distance`` mm apart, and side by side over more than ``over`` mm."""
        which, apart, shared = self._parallel
        return which[(apart < distance) & (apart >= least) & (shared > over)]

    def end_at(self, distance: float, among: IntArray | None = None, margin: float | None = None) -> IntArray:
        """Which (``among`` some) have an end of the second nearer than ``distance`` to the first, and no nearer than ``margin``
        to its ends, if that is given."""
        among = np.arange(len(self.i)) if among is None else among
        inward = -distance if margin is None else margin
        most = self.length.take(among) - inward
        found = np.zeros(len(among), dtype=bool)
        for off, along in zip(self.off, self.along, strict=True):
            onward = along.take(among)
            found |= (np.abs(off.take(among)) < distance) & (onward > inward) & (onward < most)
        return among[found]

    def ends_on(self, distance: float) -> tuple[IntArray, IntArray]:
        """Which have the start, and which the end, of the first no farther than ``distance`` from the second."""
        (off_a, off_b), (along_a, along_b) = self.off, self.along
        some = np.flatnonzero((np.minimum(off_a, off_b) <= distance) & (np.maximum(off_a, off_b) >= -distance))
        off, onward = off_a.take(some), along_a.take(some)
        rise, run = off_b.take(some) - off, along_b.take(some) - onward
        square, found = rise * rise + run * run, list[IntArray]()
        for along in (onward, onward - self.length.take(some)):
            share = np.clip(-(off * rise + along * run) / square, 0.0, 1.0)
            aside, ahead = off + share * rise, along + share * run
            found.append(some[aside * aside + ahead * ahead <= distance * distance])
        return found[0], found[1]


def neighbours(
    one: Array, other: Array, distance: float | Array, apart: Pairs | None = None, reach: Reach | None = None
) -> Neighbours:
    """Pairs of segments (n, 4) and (m, 4) that may come as near as ``distance``, of all or of each of the first (n,); ``apart``:
    labels (n,), (m,), only of different labels; ``reach``: of the second, if it is known."""
    i, j = near(one.reshape(-1, 2, 2), other.reshape(-1, 2, 2), distance, apart, reach)
    lines = np.empty((5, len(one)))
    start, run = one[:, :2].T, one[:, 2:].T - one[:, :2].T
    lines[:2], lines[4] = start, np.hypot(run[0], run[1])
    np.divide(run, lines[4], out=lines[2:4])
    px, py, rx, ry, length = lines.take(i, axis=1)
    ax, ay, bx, by = other.T.take(j, axis=1)
    ax -= px
    ay -= py
    bx -= px
    by -= py
    off, along = (rx * ay - ry * ax, rx * by - ry * bx), (ax * rx + ay * ry, bx * rx + by * ry)
    return Neighbours(i, j, length, off, along)


def near(
    one: Array, other: Array, distance: float | Array, apart: Pairs | None = None, reach: Reach | None = None
) -> Pairs:
    """Pairs (i, j) of shapes (n, k, 2) and (m, l, 2), by their corners, that no strip ``distance`` wide parts, along an axis of
    the sheet or of the isometric drawing: the rest need no thought. ``apart``: labels (n,), (m,), short whole numbers, only of
    different labels; ``reach``: of the second, if it is known.

    Compared in short whole numbers, rounded so that no pair is lost: the processor takes many of them at a time.
    """
    mine, theirs = reach_of(one, distance), reach or reach_of(other, 0.0)
    if len(one) > len(other):                                     # the longer one in rows: long runs suit the processor
        j, i = _boxes_met(theirs, mine, None if apart is None else apart[::-1])
    else:
        i, j = _boxes_met(mine, theirs, apart)
    keep = mine.low[2].take(i) <= theirs.high[2].take(j)
    keep &= mine.high[2].take(i) >= theirs.low[2].take(j)
    keep &= mine.low[3].take(i) <= theirs.high[3].take(j)
    keep &= mine.high[3].take(i) >= theirs.low[3].take(j)
    kept = np.flatnonzero(keep)
    i, j = i.take(kept), j.take(kept)
    if len(one) > len(other):
        order = np.argsort(i.astype(np.int32) if len(one) > SHORT else i.astype(np.int16), kind="stable")
        i, j = i.take(order), j.take(order)
    return i, j


def _boxes_met(one: Reach, other: Reach, apart: Pairs | None) -> Pairs:
    """Pairs (i, j) of shapes whose boxes on the sheet meet, worked off in slices that stay in the processor's cache."""
    (left, under), (right, above) = one.low[:2], one.high[:2]
    labels = None if apart is None else [label.astype(np.int16) for label in apart]
    rows, columns = len(left), other.low.shape[1]
    step = max(1, min(rows, SLICE // max(1, columns)))
    met, also = np.empty((step, columns), dtype=bool), np.empty((step, columns), dtype=bool)
    found = []
    for first in range(0, rows, step):
        part = slice(first, first + step)
        if first + step > rows:
            met, also = met[:rows - first], also[:rows - first]
        np.less_equal(left[part, None], other.high[0], out=met)
        np.greater_equal(right[part, None], other.low[0], out=also)
        np.logical_and(met, also, out=met)
        np.less_equal(under[part, None], other.high[1], out=also)
        np.logical_and(met, also, out=met)
        np.greater_equal(above[part, None], other.low[1], out=also)
        np.logical_and(met, also, out=met)
        if labels is not None:
            np.not_equal(labels[0][part, None], labels[1], out=also)
            np.logical_and(met, also, out=met)
        found.append(np.flatnonzero(met) + first * columns)
    flat = found[0] if len(found) == 1 else np.concatenate([np.zeros(0, dtype=np.int64), *found])
    i = flat // max(1, columns)
    return i, flat - i * columns


def reach_of(shapes: Array, distance: float | Array) -> Reach:
    """How far shapes (n, k, 2) reach, and ``distance`` mm more, outwards to whole steps."""
    x, y = shapes[..., 0].T, shapes[..., 1].T
    places = np.empty((len(x), 4, len(shapes)))
    up, aside = y * COS30, x / 2
    places[:, 0], places[:, 1] = x, y
    np.subtract(up, aside, out=places[:, 2])
    np.add(up, aside, out=places[:, 3])
    # Corner by corner: a shape has few, and there are many shapes.
    low, high = places[0], places[0]
    for corner in places[1:]:
        low, high = np.minimum(low, corner), np.maximum(high, corner)
    low, high = low - distance, high + distance
    low *= FINE
    high *= FINE
    return Reach(_steps(np.floor(low, out=low)), _steps(np.ceil(high, out=high)))


def _steps(places: Array) -> npt.NDArray[np.int16]:
    np.maximum(places, -SHORT, out=places)
    return np.minimum(places, SHORT, out=places).astype(np.int16)


def in_line(one: Array, other: Array) -> Mask:
    """(n,) True where two segments (n, 4) lie in one line and share at most an end: links of a chain."""
    x, y = one[:, 0], one[:, 1]
    length = lengths_of(one)
    across, up = (one[:, 2] - x) / length, (one[:, 3] - y) / length
    ax, ay, bx, by = other[:, 0] - x, other[:, 1] - y, other[:, 2] - x, other[:, 3] - y
    off = np.abs(across * ay - up * ax)
    a, b = ax * across + ay * up, bx * across + by * up
    return np.asarray((off < SAME_PLACE) & ((np.maximum(a, b) < SAME_PLACE) | (np.minimum(a, b) > length - SAME_PLACE)))


def touched(boxes: Array, segments: Array, apart: Pairs | None = None, reach: Reach | None = None) -> Pairs:
    """Pairs (i, j) of boxes (n, 4, 2), rectangles or sheared ones, and segments (m, 4) that touch or lie in them; ``apart``:
    labels (n,) and (m,), only of different labels; ``reach``: of the segments, if it is known."""
    i, j = near(boxes, segments.reshape(-1, 2, 2), 0.0, apart, reach)
    hit = touching(boxes.take(i, axis=0), segments.take(j, axis=0))
    return i[hit], j[hit]


def touching(boxes: Array, segments: Array) -> IntArray:
    """Which of so many boxes (n, 4, 2), rectangles or sheared ones, and segments (n, 4) touch, each box and its segment."""
    n = len(boxes)
    x, y, run_x, run_y, _, _, rise_x, rise_y = np.ascontiguousarray(boxes.reshape(n, 8).T)
    ax, ay, bx, by = np.ascontiguousarray(segments.T)
    run_x, run_y, rise_x, rise_y = run_x - x, run_y - y, rise_x - x, rise_y - y
    way_x, way_y, ax, ay = bx - ax, by - ay, ax - x, ay - y
    det = run_x * rise_y - run_y * rise_x
    along = (ax * rise_y - ay * rise_x) / det, (way_x * rise_y - way_y * rise_x) / det
    up = (run_x * ay - run_y * ax) / det, (run_x * way_y - run_y * way_x) / det
    # In the box's own axes it is the unit square, and the segment is clipped to 0 … 1 in both.
    low, high = np.zeros(n), np.ones(n)
    for at, step in (along, up):
        level = np.abs(step) < NO_STEP
        slope = np.where(level, 1.0, step)
        one, other = -at / slope, (1.0 - at) / slope
        aside = level & ((at < 0.0) | (at > 1.0))
        low = np.where(level, np.where(aside, 2.0, low), np.maximum(low, np.minimum(one, other)))
        high = np.where(level, high, np.minimum(high, np.maximum(one, other)))
    return np.flatnonzero(low <= high)


def edges_of(boxes: Array) -> Array:
    """The four sides of each box (n, 4, 2) as segments (4 n, 4)."""
    return np.concatenate([boxes, np.roll(boxes, -1, axis=1)], axis=2).reshape(-1, 4)
