"""The lines of a view as marks: pens, true curves, and where dashes begin. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sheetgen.geometry import Array
from sheetgen.ink import Mark, Pen, Stroke, arc_curve
from sheetgen.projection import Arc, LineKind, Shape, Straight
from sheetgen.sight import PlacedView

SAME_END = 0.03
"""mm in the view: ends nearer than this meet; lines are cut at chords of curves, not at the curves."""

SAME_WAY = 1e-3
"""One less the cosine: lines that run less apart than this go on in one another."""


def view_marks(view: PlacedView, *, hidden: bool = True, centres: bool = True) -> list[Mark]:
    """Return the view's lines, hidden and centre lines under the visible ones."""
    seen, marks = view.lines(LineKind.VISIBLE), list[Mark]()
    if centres:
        marks += [Stroke(points, Pen.CENTRE) for points in view.centres]
    if hidden:
        unseen = view.lines(LineKind.HIDDEN)
        gaps = _going_on(unseen, view.view.visible_lines)
        marks += [_stroke(view, shape, Pen.HIDDEN, first, last) for shape, (first, last) in zip(unseen, gaps, strict=True)]
    return marks + [_stroke(view, shape, Pen.OUTLINE) for shape in seen]


def _stroke(view: PlacedView, shape: Shape, pen: Pen, gap_first: bool = False, gap_last: bool = False) -> Stroke:
    """One line as a mark."""
    points = shape.points() * view.scale + view.origin
    if isinstance(shape, Straight):
        return Stroke(points, pen, gap_first=gap_first, gap_last=gap_last)
    if isinstance(shape, Arc):
        centre = shape.centre * view.scale + view.origin
        curve = arc_curve(centre, shape.a * view.scale, shape.b * view.scale, shape.start, shape.stop)
        return Stroke(curve, pen, curved=True, closed=shape.closed, gap_first=gap_first, gap_last=gap_last)
    return Stroke(_smooth(points), pen, curved=True, gap_first=gap_first, gap_last=gap_last)


def _smooth(knots: Array) -> Array:
    """Béziers (3k + 1, 2) through knots (k + 1, 2): each handle a third of the way along the mean of the neighbours' chords."""
    slope = np.gradient(knots, axis=0)
    first, last = knots[:-1] + slope[:-1] / 3, knots[1:] - slope[1:] / 3
    body = np.stack([first, last, knots[1:]], axis=1).reshape(-1, 2)
    return np.concatenate([knots[:1], body])


def _going_on(hidden: Sequence[Shape], visible: Sequence[Shape]) -> list[tuple[bool, bool]]:
    """For each hidden line, whether it continues a visible one at its first and its last end: the dashes begin with a gap there
    (US Navy manual p. 3-21)."""
    if not hidden or not visible:
        return [(False, False)] * len(hidden)
    tips, ways = _ends(hidden)
    tails, onward = _ends(visible)
    near = np.hypot(*(tips[:, None] - tails).transpose(2, 0, 1)) < SAME_END
    goes_on = (near & (ways @ onward.T < SAME_WAY - 1)).any(axis=1).reshape(-1, 2)
    return [(first, last) for first, last in goes_on.tolist()]


def _ends(shapes: Sequence[Shape]) -> tuple[Array, Array]:
    """The first and last points (2k, 2) of lines, in turn, and the unit directions (2k, 2) in which they run out there."""
    runs = [shape.points() for shape in shapes]
    points, stop = np.concatenate(runs), np.cumsum([len(run) for run in runs])
    first = np.concatenate([[0], stop[:-1]])
    tips = points[np.stack([first, stop - 1], axis=1).ravel()]
    ways = tips - points[np.stack([first + 1, stop - 2], axis=1).ravel()]
    return tips, ways / np.hypot(ways[:, 0], ways[:, 1])[:, None]
