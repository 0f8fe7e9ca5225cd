"""Finding room on a sheet for a block of text or a small picture, clear of everything already there. Sheet millimetres.

The drawing space is divided into small squares; those with ink are marked, and sums over the squares tell at once whether a
box is free.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
import shapely

from sheetgen.geometry import Array
from sheetgen.ink import Fill, Mark, Stroke, Text, flattened, text_box
from sheetgen.sheet.paper import Box

CELL = 1.0
"""mm: side of the squares, and the step at which places are tried."""


def shapes_of(marks: Sequence[Mark]) -> list[shapely.Geometry]:
    """The ink of marks as geometry: lines, areas, text boxes."""
    lines = [flattened(mark, 0.1) for mark in marks if isinstance(mark, Stroke)]
    areas = [mark.points for mark in marks if isinstance(mark, Fill)]
    areas += [text_box(mark, 0.5) for mark in marks if isinstance(mark, Text)]
    return [*_made(shapely.linestrings, lines), *(shapely.Polygon(ring) for ring in _made(shapely.linearrings, areas))]


def boxes_of(marks: Sequence[Mark]) -> list[Box]:
    """The box (x0, y0, x1, y1) round the ink of each mark."""
    outlines = [text_box(mark, 0.5) if isinstance(mark, Text) else mark.points for mark in marks]
    return [(x0, y0, x1, y1) for (x0, y0), (x1, y1) in ((p.min(axis=0).tolist(), p.max(axis=0).tolist()) for p in outlines)]


def _made(maker: Callable[..., Any], outlines: Sequence[Array]) -> Sequence[Any]:
    """Geometries made of outlines (n, 2), all at one go."""
    if not outlines:
        return []
    sizes = [len(outline) for outline in outlines]
    made: Sequence[Any] = maker(np.concatenate(outlines), indices=np.repeat(np.arange(len(outlines)), sizes))
    return made


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
