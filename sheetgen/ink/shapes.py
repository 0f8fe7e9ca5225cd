"""Whole marks: arrowheads, moving, and how far marks reach. Sheet millimetres, y up."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from sheetgen.geometry import Array
from sheetgen.ink.curves import flattened
from sheetgen.ink.lettering import text_box
from sheetgen.ink.marks import Fill, Mark, Stroke, Text, Vector
from sheetgen.ink.pens import width_of

ARROW_ANGLE = math.radians(15)
"""Included angle of an arrowhead: closed, filled, 15 degrees (ISO 129-1:2018 Annex A allows 15 to 30, from memory)."""


def arrowhead(tip: Vector, direction: Vector, length: float = 3.0) -> Fill:
    """Return a filled arrowhead ``length`` mm long whose tip (mm) points along ``direction`` (any length but 0).

    >>> head = arrowhead((10, 0), (1, 0)).points
    >>> head[0].tolist(), (head[1] - head[2]).round(3).tolist()
    ([10.0, 0.0], [0.0, 0.79])
    """
    point, along = np.array(tip, float), np.array(direction, float)
    along = along / math.hypot(along[0], along[1])
    back = point - length * along
    side = length * math.tan(ARROW_ANGLE / 2) * np.array([-along[1], along[0]])
    return Fill(np.array([point, back + side, back - side]))


def moved(marks: Iterable[Mark], dx: float, dy: float) -> list[Mark]:
    """Return ``marks`` moved by (``dx``, ``dy``) mm."""
    return [_moved(mark, dx, dy) for mark in marks]


def _moved(mark: Mark, dx: float, dy: float) -> Mark:
    if isinstance(mark, Text):
        return replace(mark, at=(mark.at[0] + dx, mark.at[1] + dy))
    return replace(mark, points=mark.points + np.array([dx, dy]))


def bounds(marks: Iterable[Mark]) -> tuple[float, float, float, float]:
    """Return (left, bottom, right, top) in mm of all ink: line widths and the boxes of lettering count.

    Raises: ValueError without marks.
    """
    boxes = [(points.min(axis=0) - half, points.max(axis=0) + half) for points, half in map(_reach, marks)]
    if not boxes:
        raise ValueError("no marks have no bounds")
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
