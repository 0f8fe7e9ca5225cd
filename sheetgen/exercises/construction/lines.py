"""The lines of an answer, each with the features for whose sake it is drawn. View millimetres."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from sheetgen.exercises.construction.features import Group
from sheetgen.exercises.construction.record import AnswerLine
from sheetgen.exercises.drawing import Drawing
from sheetgen.geometry import Array, IntArray
from sheetgen.ink import Pen, Stroke
from sheetgen.projection import Free, LineKind, Shape, is_ellipse
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView
from sheetgen.solid import Plane, Solid, is_hollow
from sheetgen.solid.edges import Conic
from sheetgen.units import SAME_SQUARES

SAMPLES = np.array([0.08, 0.3, 0.5, 0.7, 0.92])
"""Shares of a line's length at which it is asked which edges run there."""

STEP = 0.01
"""Of a line's length: over so much of it its direction is taken."""

ON_LINE = 0.03
"""mm in the view: an edge no farther from a line runs along it; lines of curves stray by the error of their chords."""

ALONG = 0.08
"""Sine of the angle below which an edge runs along a line, and does not cross it: chords of the smallest arcs turn by less."""

NO_LENGTH = 1e-6
"""mm in the view: shorter is seen as a point."""


def answer_lines(drawing: Drawing, groups: Sequence[Group]) -> tuple[AnswerLine, ...]:
    """All lines of the views of an answer, view by view: visible, hidden, centre lines."""
    return tuple(line for placed in drawing.views for line in _of_view(placed, groups))


def _of_view(placed: PlacedView, groups: Sequence[Group]) -> Iterator[AnswerLine]:
    marks = [mark for mark in view_marks(placed) if isinstance(mark, Stroke)]
    by_pen = {pen: [mark for mark in marks if mark.pen is pen] for pen in (Pen.OUTLINE, Pen.HIDDEN, Pen.CENTRE)}
    of_surface = _group_of_surfaces(placed.view.solid, groups)
    for kind, pen in ((LineKind.VISIBLE, Pen.OUTLINE), (LineKind.HIDDEN, Pen.HIDDEN), (LineKind.CENTRE, Pen.CENTRE)):
        shapes = placed.lines(kind)
        none = [np.zeros(0, dtype=np.int64)] * len(shapes)
        along = none if kind is LineKind.CENTRE else _stretches_along(placed, shapes, kind)
        for shape, mark, mine in zip(shapes, by_pen[pen], along, strict=True):
            group = -1 if kind is LineKind.CENTRE else _group_of(placed, shape, mine, of_surface)
            yield AnswerLine(placed.view.name, kind, shape, mark, group, mine)


def _group_of(placed: PlacedView, shape: Shape, stretches: IntArray, of_surface: IntArray) -> int:
    """For the sake of which group a line is drawn, whose ``stretches`` (k,) of edges part two surfaces each: for the later of
    their two; of several along one straight line for the first, and of a curve for that of most."""
    if not len(stretches):
        return 0
    rims = _rim_of_hole(placed, stretches)
    if (rims >= 0).any():
        return int(of_surface[rims[rims >= 0]].min())
    later = of_surface[placed.sight.pair[stretches]].max(axis=1)
    return int(np.bincount(later).argmax()) if isinstance(shape, Free) or is_ellipse(shape) else int(later.min())


def _rim_of_hole(placed: PlacedView, stretches: IntArray) -> IntArray:
    """Of stretches of edges (k,) the hollow round surface of which each is a round rim, or -1: a hole's mouth is the hole's,
    whatever it opens in."""
    solid = placed.view.solid
    found = []
    for one, other in placed.sight.pair[stretches].tolist():
        curve = solid.edges.curves.get((min(one, other), max(one, other)))
        rounds = [k for k in {one, other} if not isinstance(solid.surfaces[k], Plane) and is_hollow(solid, k)]
        circle = isinstance(curve, Conic) and abs(float(curve.a @ curve.a - curve.b @ curve.b)) < SAME_SQUARES
        found.append(rounds[0] if circle and len(rounds) == 1 and one != other else -1)
    return np.array(found, dtype=np.int64)


def _group_of_surfaces(solid: Solid, groups: Sequence[Group]) -> IntArray:
    """Of each surface (s,) the first group that has made some of it."""
    place = {name: number for number, group in enumerate(groups) for name in group.names}
    return np.array([min((place[name] for name in names if name in place), default=0) for names in solid.features])


def _stretches_along(placed: PlacedView, shapes: Sequence[Shape], kind: LineKind) -> list[IntArray]:
    """Of each line the stretches of edges that run along it, seen or hidden as it is."""
    if not shapes:
        return []
    sight = placed.sight
    start, stop = (sight.view.frame.flat(points) for points in (sight.start, sight.stop))
    run = stop - start
    length = np.hypot(run[:, 0], run[:, 1])
    here = np.flatnonzero((length > NO_LENGTH) & (sight.stretches.seen == (kind is LineKind.VISIBLE)))
    points, ways = _sampled(shapes)
    unit = run[here] / length[here, None]
    near = np.asarray(_distances(points, start[here], run[here], length[here]) < ON_LINE)
    near &= np.abs(ways[:, :1] * unit[:, 1] - ways[:, 1:] * unit[:, 0]) < ALONG
    each = np.any(near.reshape(len(shapes), len(SAMPLES), -1), axis=1)
    return [here[each[k]] for k in range(len(shapes))]


def _sampled(shapes: Sequence[Shape]) -> tuple[Array, Array]:
    """Points (n, 2) of lines, so many of each in turn, and the unit directions (n, 2) in which they run there."""
    lines = np.array([shapely.LineString(shape.points()) for shape in shapes], dtype=object)

    def at(shift: float) -> Array:
        shares = np.clip(SAMPLES + shift, 0.0, 1.0)
        return shapely.get_coordinates(np.ravel(shapely.line_interpolate_point(lines[:, None], shares[None, :], normalized=True)))

    way = at(STEP) - at(-STEP)
    return at(0.0), way / np.hypot(way[:, 0], way[:, 1])[:, None]


def _distances(points: Array, start: Array, run: Array, length: Array) -> Array:
    """mm (n, k) from points (n, 2) to segments that begin at ``start`` (k, 2) and run ``run`` (k, 2)."""
    away = points[:, None] - start
    share = np.clip((away * run).sum(axis=2) / (length * length), 0.0, 1.0)
    off = away - share[:, :, None] * run
    return np.asarray(np.hypot(off[..., 0], off[..., 1]))
