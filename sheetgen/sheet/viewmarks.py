"""The lines of a view as marks: pens, true curves, and where dashes begin. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from sheetgen.geometry import Array
from sheetgen.ink import Mark, Pen, Stroke, arc_curve
from sheetgen.projection import Arc, Shape, Straight
from sheetgen.sight import PlacedView

SAME_END = 0.03
"""mm in the view: ends nearer than this meet; lines are cut at chords of curves, not at the curves."""

GLIMPSE = 2.0
"""mm on paper: a shorter piece of a curve tells nobody what curve it is of."""

IN_THE_INK = 0.25
"""mm on paper: half an outline's width; what lies nearer to its middle is in its ink."""

SAME_WAY = 1e-3
"""One less the cosine: lines that run less apart than this go on in one another."""


def view_marks(view: PlacedView, *, hidden: bool = True, centres: bool = True) -> list[Mark]:
    """Return the view's lines, hidden and centre lines under the visible ones."""
    marks: list[Mark] = []
    if centres:
        marks += [Stroke(points, Pen.CENTRE) for points in view.centres]
    if hidden:
        gaps = _going_on(view.view.hidden_lines, view.view.visible_lines)
        for shape, points, (first, last) in zip(view.view.hidden_lines, view.hidden, gaps, strict=True):
            marks.append(_stroke(view, shape, points, Pen.HIDDEN, first, last))
    shapes = view.view.visible_lines
    return marks + [_stroke(view, shapes[k], view.visible[k], Pen.OUTLINE) for k in _clear_of_ink(view)]


def _clear_of_ink(view: PlacedView) -> list[int]:
    """The numbers of the visible lines, but for glimpses of a curve wholly in the ink of other lines, such as a bore's far rim
    just behind that of its counterbore. Drawn, they would only make a blot there."""
    shapes = view.view.visible_lines
    doubtful = [k for k, shape in enumerate(shapes) if not isinstance(shape, Straight) and shape.length * view.scale < GLIMPSE]
    lines = {k: shapely.LineString(shape.points()) for k, shape in enumerate(shapes)} if doubtful else {}
    for k in doubtful:
        mine = lines.pop(k)
        others = shapely.multilinestrings(list(lines.values()))
        if float(shapely.distance(others, shapely.points(shapely.get_coordinates(mine))).max()) * view.scale >= IN_THE_INK:
            lines[k] = mine
    return [k for k in range(len(shapes)) if not doubtful or k in lines]


def _stroke(
    view: PlacedView, shape: Shape, points: Array, pen: Pen, gap_first: bool = False, gap_last: bool = False
) -> Stroke:
    """One line as a mark; ``points``: its polyline on the sheet."""
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
