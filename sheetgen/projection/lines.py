"""The lines of a view as a draughtsman draws and a marker counts them: the one place that tells which there are.

A line is the longest straight run, arc of one circle or ellipse, or curve between two surfaces, of one kind in one view;
crossings and T-junctions do not split it, and an edge that is partly hidden makes two, one of each kind.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import StrEnum

import shapely

from sheetgen.projection.shapes import Arc, Shape, Straight
from sheetgen.projection.view import View
from sheetgen.units import PARALLEL, SAME_SQUARES

GLIMPSE = 2.0
"""mm on paper: a shorter piece of a curve tells nobody what curve it is of."""

IN_THE_INK = 0.25
"""mm on paper: half an outline's width; what lies nearer to its middle is in its ink."""

SAME_LINE = 0.05
"""mm: a hidden line that begins this near the end of a visible one in its own direction is the same line, partly hidden."""


class LineKind(StrEnum):
    """What a line tells of the part."""

    VISIBLE = "visible"
    HIDDEN = "hidden"
    CENTRE = "centre"


def lines_of(view: View, kind: LineKind, scale: float = 1.0) -> tuple[Shape, ...]:
    """The lines of one kind of a view, in its own axes, mm, drawn at ``scale`` (paper mm per part mm), in a fixed order: those
    that a sheet shows, whoever draws or counts them."""
    if kind is LineKind.HIDDEN:
        return view.hidden_lines
    if kind is LineKind.CENTRE:
        return view.centre_lines if scale == 1.0 else view.centre_lines_at(scale)
    return _clear_of_ink(view.visible_lines, scale)


def partly_hidden(view: View) -> tuple[Straight, ...]:
    """The straight hidden lines of a view that go on where visible ones cease."""
    seen, unseen = ([line for line in lines_of(view, kind) if isinstance(line, Straight)]
                    for kind in (LineKind.VISIBLE, LineKind.HIDDEN))
    return tuple(line for line in unseen if any(_goes_on(line, other) for other in seen))


def is_ellipse(shape: Shape) -> bool:
    """True for a line that is part of an ellipse and not of a circle."""
    return isinstance(shape, Arc) and abs(float(shape.a @ shape.a - shape.b @ shape.b)) > SAME_SQUARES


def _goes_on(line: Straight, other: Straight) -> bool:
    one, two = (line.q - line.p) / line.length, (other.q - other.p) / other.length
    apart = min(math.dist(a, b) for a in (line.p, line.q) for b in (other.p, other.q))
    return apart < SAME_LINE and abs(float(one[0] * two[1] - one[1] * two[0])) < PARALLEL


def _clear_of_ink(shapes: Sequence[Shape], scale: float) -> tuple[Shape, ...]:
    """The visible lines, but for glimpses of a curve wholly in the ink of other lines, such as a bore's far rim just behind that
    of its counterbore. Drawn, they would only make a blot there."""
    doubtful = [k for k, shape in enumerate(shapes) if not isinstance(shape, Straight) and shape.length * scale < GLIMPSE]
    if not doubtful:
        return tuple(shapes)
    lines = {k: shapely.LineString(shape.points()) for k, shape in enumerate(shapes)}
    for k in doubtful:
        mine = lines.pop(k)
        others = shapely.multilinestrings(list(lines.values()))
        if float(shapely.distance(others, shapely.points(shapely.get_coordinates(mine))).max()) * scale >= IN_THE_INK:
            lines[k] = mine
    return tuple(shapes[k] for k in sorted(lines))
