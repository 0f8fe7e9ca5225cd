"""Marks as compact text that is as short as can be: for pictures on a page, where nobody would miss what is left out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import groupby

import numpy as np
import shapely

from sheetgen.ink import Array, Mark, Pen, Stroke, packed

EASED = 0.004
"""mm: a curve that is told by fewer points runs no farther from where it ran; with the rounding of ``packed`` that is within a
hundredth of a millimetre."""

FEWER = (16, 8, 4, 2)
"""Of the knots of a curve one in so many is tried, until one way does."""

FEWEST = 3
"""Knots that are left at least."""

PER_PIECE = 8
"""Points at which a piece of a curve is looked at."""


def shortened(marks: Iterable[Mark]) -> str:
    """Marks as text: curves with no more knots than they need, and thin lines, of which the order is no matter, each after one
    that ends near its beginning."""
    found: list[Mark] = []
    for thin, run in groupby(map(_eased, marks), _thin):
        these = list(run)
        found += _in_a_row([mark for mark in these if isinstance(mark, Stroke)]) if thin else these
    return packed(found)


def _thin(mark: Mark) -> bool:
    return isinstance(mark, Stroke) and mark.pen is Pen.CONSTRUCTION and len(mark.points) == 2


def _in_a_row(strokes: Sequence[Stroke]) -> Iterator[Stroke]:
    """Strokes (of two points), each beginning with that end which is nearest to where the one before ends."""
    ends = np.array([stroke.points for stroke in strokes])                         # (n, 2 ends, 2)
    left, at = np.ones(len(strokes), dtype=bool), np.zeros(2)
    for _ in strokes:
        far = np.where(left[:, None], np.abs(ends - at).sum(axis=2), np.inf)
        row, end = divmod(int(far.argmin()), 2)
        left[row], at = False, ends[row, 1 - end]
        yield replace(strokes[row], points=ends[row, ::-1] if end else ends[row])


def _eased(mark: Mark) -> Mark:
    """A curve with fewer knots, where it runs as it did."""
    if not isinstance(mark, Stroke) or not mark.curved or mark.closed:
        return mark
    line = shapely.LineString(_run(mark.points))
    for each in FEWER:
        points = _with_each(mark.points[::3], each)
        if len(points) and shapely.hausdorff_distance(line, shapely.LineString(_run(points))) < EASED:
            return replace(mark, points=points)
    return mark


def _with_each(knots: Array, each: int) -> Array:
    """Béziers (3k + 1, 2) through one in so many of the knots (n, 2), with the slopes that all of them tell; none of too few."""
    count = (len(knots) - 1) // each + 1
    if count < FEWEST:
        return np.zeros((0, 2))
    kept = np.linspace(0, len(knots) - 1, count).round().astype(int)
    slope, run = np.gradient(knots, axis=0, edge_order=2)[kept], np.diff(kept)[:, None]
    first, last = knots[kept[:-1]] + slope[:-1] * run / 3, knots[kept[1:]] - slope[1:] * run / 3
    body = np.stack([first, last, knots[kept[1:]]], axis=1).reshape(-1, 2)
    return np.concatenate([knots[:1], body])


def _run(points: Array) -> Array:
    """Points (n, 2) along a run of Béziers (3k + 1, 2)."""
    t = np.linspace(0.0, 1.0, PER_PIECE, endpoint=False)[:, None, None]
    p, q, r, s = (points[k::3][:len(points) // 3] for k in range(4))
    body = (1 - t) ** 3 * p + 3 * (1 - t) ** 2 * t * q + 3 * (1 - t) * t**2 * r + t**3 * s
    return np.concatenate([body.transpose(1, 0, 2).reshape(-1, 2), points[-1:]])
