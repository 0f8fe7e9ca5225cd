"""The shadow of a part on the sheet: which points of the paper it covers. Sheet millimetres."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array, IntArray
from sheetgen.geometry.arrays import Mask
from sheetgen.projection import View

CELL = 0.5
"""mm: width of the cells that are covered or not. Nothing hangs on a shadow but what a long line over it costs."""


@dataclass(frozen=True, eq=False)
class Shadow:
    """``covered`` (rows, columns): True for cells whose middle is covered; the first begins at ``corner`` (2,)."""

    corner: Array
    covered: Mask

    def over(self, points: Array) -> Mask:
        """Which of the points (…, 2) lie in the shadow."""
        return self.at(points[..., 0], points[..., 1])

    def at(self, x: Array, y: Array) -> Mask:
        """Which of the places ``x``, ``y`` (…) lie in the shadow."""
        rows, columns = self.covered.shape
        column, row = (x - self.corner[0]) / CELL, (y - self.corner[1]) / CELL
        # What lies outside, and what is no number, is looked up in the margin, which is not covered.
        column, row = (np.fmin(np.fmax(part, 0.0), most - 1).astype(np.int64) for part, most in ((column, columns), (row, rows)))
        return np.asarray(self.covered.ravel()[row * columns + column])


def shadow_of(view: View, scale: float, origin: Array) -> Shadow:
    """The shadow of the part drawn at ``scale`` with the view's (0, 0) at ``origin`` (2,) on the sheet.

    Its rim, where facets that face the reader meet others, goes round each covered point once or more. A margin of one cell all
    round is not covered.
    """
    points, (begin, end) = view.flat.T * scale + origin[:, None], _rim(view)
    x, y = points[:, begin]
    corner = np.array([x.min(), y.min()]) - CELL
    columns, rows = (np.ceil((np.array([x.max(), y.max()]) - corner) / CELL).astype(np.int64) + 1).tolist()
    points = (points - corner[:, None]) / CELL - 0.5                   # the middle of a cell is at a whole number
    level = np.ceil(points[1]).astype(np.int64)
    (x, y), start, stop = points[:, begin], level[begin], level[end]
    across, up = points[:, end] - (x, y)
    low, count = np.minimum(start, stop), np.abs(stop - start)
    of = np.repeat(np.arange(len(x)), count)
    row = np.arange(len(of)) - np.repeat(np.cumsum(count) - count - low, count)
    column = np.ceil(x.take(of) + (row - y.take(of)) / up.take(of) * across.take(of)).astype(np.int64)
    # The cells in one sequence, row after row: as the rim is closed, each row ends as it began. From each crossing to the next
    # all are alike.
    place = row * columns + column
    order = np.argsort(place)
    place, turns = place.take(order), np.where(up > 0, -1, 1).take(of).take(order)
    # Crossings of one place have nothing between them: their order does not matter.
    inside = np.concatenate([[False], np.cumsum(turns) > 0])
    length = np.diff(place, prepend=0, append=rows * columns)
    return Shadow(corner, np.repeat(inside, length).reshape(rows, columns))


def _rim(view: View) -> tuple[IntArray, IntArray]:
    """Where, by vertex numbers (k,), the edges begin and end that go round the facets that face the reader, these to the left."""
    edges, triangles = view.solid.edges, view.solid.triangles
    one, other = (view.facing > 0)[edges.facets].T
    which = np.flatnonzero(one != other)
    begin, end = edges.ends[which].T
    a, b, c = triangles[np.where(one[which], *edges.facets[which].T)].T
    onward = ((a == begin) & (b == end)) | ((b == begin) & (c == end)) | ((c == begin) & (a == end))
    return np.where(onward, begin, end), np.where(onward, end, begin)
