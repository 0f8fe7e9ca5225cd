"""Curves that no compass draws, from points: each point stands in three views, and its projectors tie them together."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
import shapely

from sheetgen.exercises.construction.board import DEPTH, SIDES, Board
from sheetgen.exercises.construction.cones import ON_DRAWN, Ring, ring_of, upright_cone
from sheetgen.exercises.construction.record import AnswerLine, Projector
from sheetgen.geometry import Array
from sheetgen.projection import Arc, LineKind
from sheetgen.sight import PlacedView
from sheetgen.units import SAME_LEVEL

SPACING = 11.0
"""mm on paper, about, from one point of a curve to the next."""

FEWEST, MOST = 3, 7
"""Points of a curve, its ends among them."""

TURN = math.pi / 6
"""Of an ellipse the points stand at multiples of this: those at which the circle that it is of is shared out in twelve."""

ON_CURVE = 0.03
"""mm in the view: as of lines."""

APART = 3.5
"""mm on paper: points nearer than this would blot."""


@dataclass(frozen=True, eq=False)
class Plotted:
    """A curve and its ``points`` (n, 3) in the part, in order; ``places``: by view, where they stand on the sheet (n, 2);
    ``projectors`` tie these together, ``again`` those drawn before; ``views``: those from which the points come; ``rings``: of
    points of a cone between the curve's ends, how their heights are found."""

    line: AnswerLine
    points: Array
    places: dict[str, Array]
    projectors: tuple[Projector, ...]
    again: tuple[Projector, ...]
    views: tuple[str, ...]
    rings: tuple[Ring, ...] = ()


Ink = Mapping[str, shapely.Geometry]


def plotted(board: Board, curves: Sequence[AnswerLine], drawn: Sequence[AnswerLine]) -> list[Plotted]:
    """All curves with their points; ``drawn``: the lines that the views have beside them."""
    ink = {name: shapely.multilinestrings([
        shapely.LineString(board.paper(name, line.shape.points())) for line in (*drawn, *curves) if line.view == name])
        for name in board.views}
    return [_plotted(board, curve, ink) for curve in curves]


def _plotted(board: Board, curve: AnswerLine, ink: Ink) -> Plotted:
    points = _points_of(board, curve)
    views = _views_for(board, curve.view)
    places = {name: board.views[name].paper(points) for name in views}
    on = {name: np.asarray(shapely.distance(ink[name], shapely.points(at)) < ON_DRAWN) for name, at in places.items()}
    found, again = list[Projector](), list[Projector]()
    for k, point in enumerate(points):
        for one, other in combinations([name for name in views if on[name][k]], 2):
            source, target = (other, one) if one == curve.view else (one, other)
            made = _projector(board, source, target, point, places[source][k], places[target][k])
            kept = board.kept(made)
            (found if kept is made else again).append(kept)
    rings = _rings(board, curve, points, ink["front"])
    found += [kept for ring in rings for each in ring.projectors if (kept := board.kept(each)) is each]
    whence = tuple(name for name in views if name != curve.view and on[name].any())
    return Plotted(curve, points, places, tuple(found), tuple(dict.fromkeys(again)), whence, rings)


def _rings(board: Board, curve: AnswerLine, points: Array, front: shapely.Geometry) -> tuple[Ring, ...]:
    """Of the points of a curve on an upright cone the circles they lie on; not of its ends, whose circles are drawn already."""
    cone = upright_cone(board, curve)
    if cone is None:
        return ()
    return tuple(ring for point in points[2:] if (ring := ring_of(board, cone, point, front)) is not None)


def _views_for(board: Board, view: str) -> list[str]:
    """The view of a curve and two others that fix its points."""
    side = view if view in SIDES else next(side for side in SIDES if side in board.views)
    return ["front", "top", side]


def _projector(board: Board, source: str, target: str, point: Array, start: Array, stop: Array) -> Projector:
    axis = 0 if {source, target} == {"front", "top"} else DEPTH if "top" in (source, target) else 2
    level = float(point[axis])
    return Projector(axis, level, source, target, board.path(source, target, axis, level, start, stop), point=True)


def _points_of(board: Board, curve: AnswerLine) -> Array:
    """Points (n, 3) of the part along a curve: both ends, its outermost points, and others evenly between."""
    placed = board.views[curve.view]
    line = shapely.LineString(curve.shape.points())
    every = _corners_along(placed, curve, line)
    at = np.asarray(shapely.line_locate_point(line, shapely.points(placed.view.frame.flat(every))))
    chosen = [int(np.argmin(np.abs(at - place))) for place in _asked(curve, line, placed.scale)]
    kept: list[int] = []
    for k in chosen:
        away = placed.view.frame.flat_vectors(every[kept] - every[k]) * placed.scale
        if not kept or float(np.hypot(away[:, 0], away[:, 1]).min()) > APART:
            kept.append(k)
    return np.asarray(every[kept])


def _corners_along(placed: PlacedView, curve: AnswerLine, line: shapely.LineString) -> Array:
    """The ends (n, 3), in the part, of all pieces of edges between the same surfaces that lie on a curve of a view."""
    sight = placed.sight
    pairs = {tuple(sorted(pair)) for pair in sight.pair[curve.stretches].tolist()}
    same = np.array([tuple(sorted(pair)) in pairs for pair in sight.pair.tolist()])
    mine = np.flatnonzero(same & (sight.stretches.seen == (curve.kind is LineKind.VISIBLE)))
    every = np.concatenate([sight.start[mine], sight.stop[mine]])
    near = np.asarray(shapely.distance(line, shapely.points(placed.view.frame.flat(every))) < ON_CURVE)
    return np.asarray(every[near])


def _asked(curve: AnswerLine, line: shapely.LineString, scale: float) -> Iterator[float]:
    """Where along a curve points are wanted, mm from its beginning."""
    arc = curve.shape
    if isinstance(arc, Arc):
        yield from (0.0, line.length) if not arc.closed else ()
        turns = [k * TURN for k in range(math.ceil(arc.start / TURN), math.floor(arc.stop / TURN) + 1)]
        for turn in sorted(turns, key=lambda turn: round(turn / TURN) % 3):           # those on the axes first
            yield float(line.project(shapely.Point(arc.at(turn))))
        return
    count = int(np.clip(round(line.length * scale / SPACING) + 1, FEWEST, MOST))
    shares = np.linspace(0.0, line.length, count)
    knots = shapely.get_coordinates(line)
    inner = []
    for across in (0, 1):
        for k in (int(knots[:, across].argmin()), int(knots[:, across].argmax())):
            if 0 < k < len(knots) - 1 and min(abs(knots[k, across] - knots[end, across]) for end in (0, -1)) > SAME_LEVEL:
                inner.append(float(shapely.line_locate_point(line, shapely.Point(knots[k]))))
    yield from (shares[0], shares[-1])
    yield from inner
    yield from shares[1:-1]
