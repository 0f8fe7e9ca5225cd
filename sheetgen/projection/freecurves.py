"""Space curves seen askew: their stretches joined point by point, each curve drawn once. View millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from sheetgen.geometry import Array, IntArray, Mask
from sheetgen.projection.shapes import Free, Shape
from sheetgen.units import SAME_POINT, SLIVER

CROSSING = 0.2
"""mm: a shorter stretch of one curve along another is where they cross, at six degrees or more."""

SMOOTH = 0.001
"""mm: points of a drawn curve nearer than this to the line between their neighbours are left out: under a hundredth of a
narrow line, and with thousands of points the rounding of places on paper would blur the length of a dashed curve."""


@dataclass(frozen=True, eq=False)
class FlatStretches:
    """Stretches in the view: from ``start`` to ``stop`` (k, 2)."""

    start: Array
    stop: Array
    seen: Mask

    def some(self, which: IntArray) -> FlatStretches:
        """Those numbered ``which``."""
        return FlatStretches(self.start.take(which, axis=0), self.stop.take(which, axis=0), self.seen.take(which))


def free_lines(every: FlatStretches, groups: Sequence[IntArray]) -> tuple[list[Shape], list[Shape]]:
    """Stretches of space curves, linked end to end; hidden ones less what lies under visible ones."""
    if not groups:
        return [], []
    some = every.some(np.concatenate(groups))
    seen, unseen = (_linked(some.some(np.flatnonzero(which))) for which in (some.seen, ~some.seen))
    seen = _once(seen, [])
    unseen = _once(unseen, seen)
    return _drawn(seen), _drawn(unseen)


def _drawn(lines: Sequence[shapely.LineString]) -> list[Shape]:
    """Lines as shapes, with no more points than show."""
    return [Free(shapely.get_coordinates(shapely.simplify(line, SMOOTH))) for line in lines]


def _once(lines: list[shapely.LineString], before: Sequence[shapely.LineString]) -> list[shapely.LineString]:
    """Lines less their stretches along lines ``before`` and along longer ones of their own."""
    done, kept = list(before), []
    for line in sorted(lines, key=lambda line: -round(line.length, 6)):
        knots = np.asarray(shapely.points(line.coords))
        over = [other for other in done if shapely.dwithin(knots, other, SLIVER / 2).sum() > min(2, len(knots) - 1)]
        parts = _uncovered(line, shapely.buffer(shapely.union_all(over), SLIVER / 2)) if over else [line]
        done += parts
        kept += parts
    return kept


def _uncovered(line: shapely.LineString, cover: shapely.Geometry) -> list[shapely.LineString]:
    """What is left of a line outside ``cover``; where it only crosses it, it goes on."""
    across = [part for part in shapely.get_parts(shapely.intersection(line, cover)) if part.length < CROSSING]
    left = shapely.get_parts(shapely.difference(line, cover))
    joined = shapely.line_merge(shapely.multilinestrings([*left, *across]))
    return [part for part in shapely.get_parts(joined) if part.length > CROSSING]


def _snapped(points: Array) -> Array:
    """Points (..., 2) with coordinates that differ by less than SAME_POINT made equal."""
    result = np.empty_like(points)
    for k in (0, 1):
        values = points[..., k].ravel()
        order = np.argsort(values, kind="stable")
        begins = np.flatnonzero(np.diff(values[order], prepend=-np.inf) > SAME_POINT)
        sizes = np.diff(begins, append=len(values))
        values[order] = np.repeat(values[order][begins], sizes)
        result[..., k] = values.reshape(points.shape[:-1])
    return result


def _linked(some: FlatStretches) -> list[shapely.LineString]:
    kept = np.hypot(*(some.stop - some.start).T) > SAME_POINT
    ends = _snapped(np.stack([some.start[kept], some.stop[kept]], axis=1))
    if not len(ends):
        return []
    (ax, ay), (bx, by) = ends.transpose(1, 2, 0)
    back = (ax > bx) | ((ax == bx) & (ay > by))
    ends[back] = ends[back, ::-1]
    unique = np.unique(ends.reshape(-1, 4), axis=0).reshape(-1, 2, 2)
    merged = shapely.line_merge(shapely.multilinestrings(np.asarray(shapely.linestrings(unique))))
    return [part for part in shapely.get_parts(merged) if part.length > SLIVER]
