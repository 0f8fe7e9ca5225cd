"""What the lines of the views tell: how much each view adds to the others."""

from __future__ import annotations

from collections import defaultdict

import numpy as np

from sheetgen.projection import Shape, Straight, View
from sheetgen.units import SAME_POINT


def adds(view: View) -> int:
    """How many lines of a view tell what no other view tells.

    A straight line along one of the view's axes that runs right across the view, seen or hidden, tells a level only, which
    another view shows too. A line that stops short, slopes or bends tells which depth goes with which height (or width), and
    that only this view shows. So a plain rectangle, and one that is merely ruled across, adds nothing: 0.
    """
    shapes: tuple[Shape, ...] = (*view.visible_lines, *view.hidden_lines)
    points = np.concatenate([shape.points() for shape in shapes])
    extent = np.ptp(points, axis=0)
    rows: dict[tuple[int, float], list[Straight]] = defaultdict(list)
    count = 0
    for shape in shapes:
        way = _axis_of(shape)
        if way is None or not isinstance(shape, Straight):
            count += 1
        else:
            rows[way, round(float(shape.p[1 - way]), 3)].append(shape)
    for (way, _), lines in rows.items():
        if sum(line.length for line in lines) < extent[way] - 0.1:
            count += len(lines)
    return count


def _axis_of(shape: Shape) -> int | None:
    """0 or 1 if a line runs along the view's u or v."""
    if not isinstance(shape, Straight):
        return None
    along = np.abs(shape.q - shape.p)
    return int(np.argmax(along)) if along.min() < SAME_POINT else None
