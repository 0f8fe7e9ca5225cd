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
    column = np.ceil(x[of] + (row - y[of]) / up[of] * across[of]).astype(np.int64)
    turns = np.bincount(row * columns + column, weights=-np.sign(up)[of], minlength=rows * columns)
    # Few lines pass a place: the sums are small whole numbers.
    return Shadow(corner, np.cumsum(turns.astype(np.int16).reshape(rows, columns), axis=1, dtype=np.int16) > 0)


def _rim(view: View) -> tuple[IntArray, IntArray]:
    """Where, by vertex numbers (k,), the edges begin and end that go round the facets that face the reader, these to the left."""
    edges, triangles = view.solid.edges, view.solid.triangles
    one, other = (view.facing > 0)[edges.facets].T
    which = np.flatnonzero(one != other)
    begin, end = edges.ends[which].T
    a, b, c = triangles[np.where(one[which], *edges.facets[which].T)].T
    onward = ((a == begin) & (b == end)) | ((b == begin) & (c == end)) | ((c == begin) & (a == end))
    return np.where(onward, begin, end), np.where(onward, end, begin)
