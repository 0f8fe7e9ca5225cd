"""The shadow of a part on the sheet: which points of the paper it covers. Sheet millimetres."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array, IntArray
from sheetgen.geometry.arrays import Mask
from sheetgen.projection import View
from sheetgen.projection.hidden import facing_of

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
        found = (column >= 0.0) & (column < columns) & (row >= 0.0) & (row < rows)
        found[found] = self.covered[row[found].astype(np.int64), column[found].astype(np.int64)]
        return np.asarray(found)


def shadow_of(view: View, scale: float, origin: Array) -> Shadow:
    """The shadow of the part drawn at ``scale`` with the view's (0, 0) at ``origin`` (2,) on the sheet.

    Its rim, where facets that face the reader meet others, goes round each covered point once or more. A margin of one cell all
    round is not covered.
    """
    ends = view.flat[_rim(view)] * scale + origin                      # (k, 2, 2)
    corner = ends.min(axis=(0, 1)) - CELL
    columns, rows = (np.ceil((ends.max(axis=(0, 1)) - corner) / CELL).astype(np.int64) + 1).tolist()
    cells = (ends - corner) / CELL - 0.5                               # the middle of a cell is at a whole number
    low, high = (np.ceil(part).astype(np.int64) for part in (cells[:, :, 1].min(axis=1), cells[:, :, 1].max(axis=1)))
    of = np.repeat(np.arange(len(cells)), high - low)
    row = np.arange(len(of)) - np.repeat(np.cumsum(high - low) - high, high - low)
    (x, y), step = cells[of, 0].T, cells[of, 1] - cells[of, 0]
    column = np.ceil(x + (row - y) / step[:, 1] * step[:, 0]).astype(np.int64)
    turns = np.bincount(row * columns + column, weights=-np.sign(step[:, 1]), minlength=rows * columns)
    # Few lines pass a place: the sums are small whole numbers.
    return Shadow(corner, np.cumsum(turns.astype(np.int16).reshape(rows, columns), axis=1, dtype=np.int16) > 0)


def _rim(view: View) -> IntArray:
    """Vertex numbers (k, 2) of the edges round the facets that face the reader, these to the left."""
    edges, triangles = view.solid.edges, view.solid.triangles
    front = facing_of(view.solid, view.frame)[edges.facets] > 0
    which = np.flatnonzero(front[:, 0] != front[:, 1])
    ends = edges.ends[which]
    facets = triangles[edges.facets[which, np.where(front[which, 0], 0, 1)]]
    onward = ((facets == ends[:, :1]) & (np.roll(facets, -1, axis=1) == ends[:, 1:])).any(axis=1)
    return np.where(onward[:, None], ends, ends[:, ::-1])
