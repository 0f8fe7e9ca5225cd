"""The lines of a view as marks: pens, true curves, and where dashes begin. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sheetgen.dimensions import PlacedView
from sheetgen.ink import Mark, Pen, Stroke, arc_curve
from sheetgen.projection import Arc, Shape, Straight
from sheetgen.solid.surfaces import Array


def view_marks(view: PlacedView, *, hidden: bool = True, centres: bool = True) -> list[Mark]:
    """Return the view's lines, hidden and centre lines under the visible ones."""
    marks: list[Mark] = []
    if centres:
        marks += [Stroke(points, Pen.CENTRE) for points in view.centres]
    if hidden:
        for shape in view.view.hidden_lines:
            first, last = (_goes_on(shape, end, view.view.visible_lines) for end in (0, -1))
            marks.append(_stroke(view, shape, Pen.HIDDEN, first, last))
    marks += [_stroke(view, shape, Pen.OUTLINE) for shape in view.view.visible_lines]
    return marks


def _stroke(view: PlacedView, shape: Shape, pen: Pen, gap_first: bool = False, gap_last: bool = False) -> Stroke:
    if isinstance(shape, Straight):
        return Stroke(shape.points() * view.scale + view.origin, pen, gap_first=gap_first, gap_last=gap_last)
    if isinstance(shape, Arc):
        centre = shape.centre * view.scale + view.origin
        curve = arc_curve(centre, shape.a * view.scale, shape.b * view.scale, shape.start, shape.stop)
        return Stroke(curve, pen, curved=True, closed=shape.closed, gap_first=gap_first, gap_last=gap_last)
    return Stroke(_smooth(shape.points() * view.scale + view.origin), pen, curved=True, gap_first=gap_first, gap_last=gap_last)


def _smooth(knots: Array) -> Array:
    """Béziers (3k + 1, 2) through knots (k + 1, 2): each handle a third of the way along the mean of the neighbours' chords."""
    slope = np.gradient(knots, axis=0)
    first, last = knots[:-1] + slope[:-1] / 3, knots[1:] - slope[1:] / 3
    body = np.stack([first, last, knots[1:]], axis=1).reshape(-1, 2)
    return np.concatenate([knots[:1], body])


def _goes_on(shape: Shape, end: int, visible: Sequence[Shape]) -> bool:
    """True if a hidden line continues a visible one at an end: the dashes begin with a gap there (US Navy manual p. 3-21)."""
    points = shape.points()
    tip, way = points[end], points[end] - points[1 if end == 0 else -2]
    way = way / np.linalg.norm(way)
    for other in visible:
        run = other.points()
        for tail, before in ((run[0], run[1]), (run[-1], run[-2])):
            onward = before - tail
            if np.linalg.norm(tail - tip) < 0.03 and float(onward @ way) > (1 - 1e-3) * float(np.linalg.norm(onward)):
                return True
    return False
