"""How far marks reach on paper, for tests that say where ink may stand. Sheet millimetres, y up."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from sheetgen.geometry import Array
from sheetgen.ink import Mark, Stroke, Text, flattened, text_box, width_of


def bounds(marks: Iterable[Mark]) -> tuple[float, float, float, float]:
    """Return (left, bottom, right, top) in mm of all ink: line widths and the boxes of lettering count."""
    boxes = [(points.min(axis=0) - half, points.max(axis=0) + half) for points, half in map(_reach, marks)]
    low = np.min([box[0] for box in boxes], axis=0)
    high = np.max([box[1] for box in boxes], axis=0)
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])


def _reach(mark: Mark) -> tuple[Array, float]:
    """Return points (n, 2) of a mark and how far its ink reaches beyond them, mm."""
    if isinstance(mark, Text):
        return text_box(mark), 0.0
    if isinstance(mark, Stroke):
        return flattened(mark), width_of(mark.pen) / 2
    return mark.points, 0.0
