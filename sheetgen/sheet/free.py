"""Finding room on a sheet for a block of text or a small picture, clear of everything already there. Sheet millimetres.

The drawing space is divided into small squares; those with ink are marked, and sums over the squares tell at once whether a
box is free.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from sheetgen.ink import Fill, Mark, Stroke, Text, flattened, text_box
from sheetgen.sheet.paper import Box

CELL = 1.0
"""mm: side of the squares, and the step at which places are tried."""


def shapes_of(marks: Sequence[Mark]) -> list[shapely.Geometry]:
    """The ink of marks as geometry: lines, areas, text boxes."""
    result: list[shapely.Geometry] = []
    for mark in marks:
        if isinstance(mark, Stroke):
            result.append(shapely.LineString(flattened(mark, 0.1)))
        elif isinstance(mark, Fill):
            result.append(shapely.Polygon(mark.points))
        elif isinstance(mark, Text):
            result.append(shapely.Polygon(text_box(mark, 0.5)))
    return result


class Taken:
    """Which parts of ``area`` have ink, or belong to ``block`` (the title block)."""

    def __init__(self, area: Box, shapes: Sequence[shapely.Geometry], block: Box) -> None:
        self.area = area
        columns, rows = (int(np.ceil((area[k + 2] - area[k]) / CELL)) for k in (0, 1))
        inked = np.zeros((columns, rows), dtype=np.int64)
        if shapes:
            points = shapely.get_coordinates(shapely.segmentize(np.array(shapes, dtype=object), CELL / 2))
            i, j = ((points - np.array(area[:2])) // CELL).astype(np.int64).T
            inside = (i >= 0) & (i < columns) & (j >= 0) & (j < rows)
            inked[i[inside], j[inside]] = 1
        low = ((np.array(block[:2]) - area[:2]) // CELL).astype(int).clip(0)
        high = np.ceil((np.array(block[2:]) - area[:2]) / CELL).astype(int)
        inked[low[0]:high[0], low[1]:high[1]] = 1
        self._sums = np.zeros((columns + 1, rows + 1), dtype=np.int64)
        self._sums[1:, 1:] = inked.cumsum(axis=0).cumsum(axis=1)

    def free_place(self, width: float, height: float, towards: tuple[float, float], margin: float) -> tuple[float, float] | None:
        """The lower left corner of a free box nearest to having its middle at ``towards``; None if there is no room.

        ``margin``: mm kept clear all round.
        """
        columns, rows = (int(np.ceil((side + 2 * margin) / CELL)) + 1 for side in (width, height))
        s = self._sums
        if columns >= s.shape[0] or rows >= s.shape[1]:
            return None
        count = s[columns:, rows:] - s[:-columns, rows:] - s[columns:, :-rows] + s[:-columns, :-rows]
        i, j = np.nonzero(count == 0)
        if not len(i):
            return None
        x, y = self.area[0] + i * CELL + margin, self.area[1] + j * CELL + margin
        away = np.hypot(x + width / 2 - towards[0], y + height / 2 - towards[1])
        best = int(np.lexsort((x, y, np.round(away, 6)))[0])
        return float(x[best]), float(y[best])
