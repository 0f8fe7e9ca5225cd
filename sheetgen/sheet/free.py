"""Finding room on a sheet for a block of text or a small picture, clear of everything already there. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from sheetgen.ink import Fill, Mark, Stroke, Text, flattened, text_box
from sheetgen.sheet.paper import Box

STEP = 4.0
"""mm: the grid on which places are tried."""


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


def free_place(
    width: float, height: float, area: Box, taken: Sequence[shapely.Geometry], towards: tuple[float, float], margin: float = 6.0
) -> tuple[float, float] | None:
    """The lower left corner of a free box nearest to having its middle at ``towards``; None if there is no room."""
    x0, y0, x1, y1 = area
    xs = np.arange(x0 + margin, x1 - margin - width + 1e-9, STEP)
    ys = np.arange(y0 + margin, y1 - margin - height + 1e-9, STEP)
    if not len(xs) or not len(ys):
        return None
    x, y = (grid.ravel() for grid in np.meshgrid(xs, ys))
    boxes = shapely.box(x - margin, y - margin, x + width + margin, y + height + margin)
    hit = np.zeros(len(boxes), dtype=bool)
    if taken:
        hit[np.unique(shapely.STRtree(boxes).query(np.array(taken, dtype=object), predicate="intersects")[1])] = True
    if hit.all():
        return None
    away = np.hypot(x + width / 2 - towards[0], y + height / 2 - towards[1])
    best = int(np.lexsort((x, y, np.round(np.where(hit, np.inf, away), 6)))[0])
    return float(x[best]), float(y[best])
