"""Lines and sizes of a drawing in words, so that whoever reads them finds the one that is meant. Sizes of the part, mm."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sheetgen.exercises.hints.landmarks import Landmark, ViewAxes
from sheetgen.exercises.hints.places import from_box, level_of, point_of, where_of
from sheetgen.exercises.pieces import Piece
from sheetgen.geometry import Array
from sheetgen.measures import Measure
from sheetgen.measures.measures import SIGNS, number
from sheetgen.projection import Arc, LineKind, Shape, Straight
from sheetgen.sheet import Settings
from sheetgen.sight import PlacedView
from sheetgen.units import SAME_LEVEL

ANY = "any"
"""A line of whose kind nothing is said, because what is told is that its kind is wrong."""


def line_words(
    shape: Shape, drawn: LineKind | str, placed: PlacedView, marks: Sequence[Landmark], settings: Settings
) -> str:
    """Which line of a view is meant: its kind, how it runs, how long it is, how far from which edge. ``marks``: of the view.
    Where another line runs at the same level, where it starts is told too."""
    say = settings.wording.render
    length = "" if drawn == LineKind.CENTRE else number(round(shape.length, 1))
    if not isinstance(shape, Straight):
        return say("said.round", drawn=str(drawn), size=_round_size(shape), at=point_of(_middle(shape), placed, settings))
    way = level_of(shape)
    if way is None:
        one, other = (point_of(end, placed, settings) for end in (shape.p, shape.q))
        return say("said.slant", drawn=str(drawn), length=length, one=one, other=other)
    level = float(shape.p[way])
    at = where_of([level], way, marks, settings) or from_box(level, way, placed, settings)
    if drawn != LineKind.CENTRE and _others_at(shape, way, placed):
        at = say("said.starting", at=at, start=from_box(_nearer_end(shape, 1 - way, placed), 1 - way, placed, settings))
    return say("said.straight", drawn=str(drawn), run="horizontal" if way else "vertical", length=length, at=at)


def _others_at(shape: Straight, way: int, placed: PlacedView) -> bool:
    """Whether another line of the view runs at the level of one."""
    lines = [line for kind in (LineKind.VISIBLE, LineKind.HIDDEN) for line in placed.lines(kind) if isinstance(line, Straight)]
    return any(level_of(line) == way and abs(float(line.p[way] - shape.p[way])) < SAME_LEVEL
               and not np.allclose(line.points(), shape.points(), atol=SAME_LEVEL) for line in lines)


def _nearer_end(shape: Straight, way: int, placed: PlacedView) -> float:
    """Across (0) or up (1) the view, the end of a line that is nearer to an edge of the view's box."""
    low, high = (float(corner[way]) for corner in placed.view.extent)
    return min((float(shape.p[way]), float(shape.q[way])), key=lambda end: (round(min(end - low, high - end), 3), end))


def _round_size(shape: Shape) -> str:
    """The diameter of a circle, the radius of an arc; empty of any other curve."""
    if not isinstance(shape, Arc):
        return ""
    a, b = float(np.hypot(*shape.a)), float(np.hypot(*shape.b))
    if abs(a - b) > SAME_LEVEL:
        return ""
    return SIGNS["diameter"].format(number(2 * a)) if shape.closed else SIGNS["radius"].format(number(a))


def _middle(shape: Shape) -> Array:
    """The centre of an arc, or what lies half way along another curve."""
    points = shape.points()
    return shape.centre if isinstance(shape, Arc) else points[len(points) // 2]


def size_words(
    measure: Measure, size: str, placed: PlacedView, marks: Sequence[Landmark], pieces: Sequence[Piece], settings: Settings
) -> str:
    """A size and what it is of: from what to what of the view that it stands on, or of which piece; the size alone where words
    would not tell, and of what is called by its size."""
    say = settings.wording.render
    what = _span_words(measure, placed, marks, settings)
    if not what:
        mine = [piece for piece in pieces
                if piece.known and not piece.size and piece.feature.name == measure.side.feature]
        what = say("said.of", what=mine[0].called(settings.wording, several=mine[0].count > 1)) if mine else ""
    return say("said.size", size=size, what=what) if what else size


def _span_words(measure: Measure, placed: PlacedView, marks: Sequence[Landmark], settings: Settings) -> str:
    """From what to what a length of a view runs; empty if an end is at nothing that has a name."""
    view_axes, say = ViewAxes.of(placed), settings.wording.render
    if measure.axis is None or len(measure.ends) != 2 or measure.axis not in view_axes.axes:
        return ""
    way = view_axes.axes.index(measure.axis)
    levels = [view_axes.at(way, float(end.point[measure.axis])) for end in measure.ends]
    ends = [next((mark for mark in marks if mark.way == way and abs(mark.at - level) < SAME_LEVEL), None) for level in levels]
    one, other = ends
    if one is None or other is None:
        return ""
    first, last = (other, one) if other.edge and not one.edge else (one, other)
    return say("hints.length", start=first.words, end=last.words)
