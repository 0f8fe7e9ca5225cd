"""The third hint: the line that is most often missed, where it is, what it is, and why it is missed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.bank.features import Hole
from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.hints.landmarks import Landmark, ViewAxes, side_of
from sheetgen.exercises.hints.pieces import Piece
from sheetgen.exercises.hints.sentences import view_words
from sheetgen.exercises.missed import WHY, easily_missed, edges_under, smooth_joins
from sheetgen.exercises.numbering import Numbered, numbered, of_sort
from sheetgen.measures.measures import number
from sheetgen.projection import Shape, Straight, View
from sheetgen.sheet import Settings
from sheetgen.sight import PlacedView
from sheetgen.solid import Cylinder, Plane
from sheetgen.units import SAME_LEVEL

HIDDEN, SHORTEST = "hidden", "shortest"
"""Why a line is named that is none of those easily missed: the part has no other."""


@dataclass(frozen=True, eq=False)
class _Line:
    """A line that may be named: ``why`` it is missed, ``what`` it is, "" if words would not tell; ``round``: it belongs to a
    hole, of which everybody knows that it has hidden lines."""

    view: int
    shape: Shape
    why: str
    what: str
    round: bool

    @property
    def order(self) -> tuple[object, ...]:
        """By which lines are preferred: the lesser the better."""
        reasons = (*WHY, HIDDEN, SHORTEST)
        return (self.round, not self.what, reasons.index(self.why), not isinstance(self.shape, Straight),
                round(self.shape.length, 3), self.view)


def overlooked(
    settings: Settings, drawing: Drawing, pictorial: View, pieces: Sequence[Piece], landmarks: Sequence[Sequence[Landmark]]
) -> Iterator[str]:
    """The sentences about the line that is most often missed; of a part without hidden lines, about the line that is drawn where
    there is none, or else the shortest of all."""
    say = settings.wording.render
    found = [line for view in range(len(drawing.views)) for line in _hidden(view, drawing, pictorial, pieces, settings)]
    if not found:
        joined = [placed for placed in drawing.views if smooth_joins(placed.view, placed.scale)]
        if joined:
            yield say("hints.too_much", view=view_words(joined[0], settings))
            yield say("hints.joins")
            return
        found = [line for view in range(len(drawing.views)) for line in _seen(view, drawing, pieces, settings)]
    line = min(found, key=lambda each: each.order)
    yield _told(line, drawing.views[line.view], landmarks[line.view], settings)
    if line.what:
        yield line.what
    yield say(f"hints.why_{line.why}")


def _told(line: _Line, placed: PlacedView, marks: Sequence[Landmark], settings: Settings) -> str:
    """Where a line is, and how it runs."""
    say, view = settings.wording.render, view_words(placed, settings)
    seen = "yes" if line.why == SHORTEST else "no"
    if not isinstance(line.shape, Straight):
        return say("hints.missed_curve", view=view, seen=seen)
    way = level_of(line.shape)
    run = "slanting" if way is None else "vertical" if way == 0 else "horizontal"
    at = _where(line.shape, way, marks, settings)
    key = "hints.missed_at" if at else "hints.missed_line"
    return say(key, view=view, run=run, seen=seen, length=number(round(line.shape.length, 1)), at=at)


def level_of(line: Straight) -> int | None:
    """The way of the view, across (0) or up (1), along which all of a line lies at one level; None if it slants."""
    return next((way for way in (0, 1) if abs(float(line.p[way] - line.q[way])) < SAME_LEVEL), None)


def _where(line: Straight, way: int | None, marks: Sequence[Landmark], settings: Settings) -> str:
    """How far a line lies from the nearer edge of its view, or from a centre line if no edge is straight; empty if it slants, or
    there is nothing to measure from."""
    known = [mark for mark in marks if mark.way == way]
    marks_near = [mark for mark in known if mark.edge] or [mark for mark in known if mark.centre]
    if way is None or not marks_near:
        return ""
    at = float(line.p[way])
    nearest = min(marks_near, key=lambda mark: (round(abs(mark.at - at), 3), mark.at))
    value = abs(nearest.at - at)
    return settings.wording.render("hints.from_edge", value=number(value), edge=nearest.words) if value > SAME_LEVEL else ""


def _hidden(
    view: int, drawing: Drawing, pictorial: View, pieces: Sequence[Piece], settings: Settings
) -> Iterator[_Line]:
    """The hidden lines of a view."""
    placed = drawing.views[view]
    lines = of_sort(numbered(placed), "hidden")
    if not lines:
        return
    reasons = {k: why for why, numbers in easily_missed(placed.view, pictorial, lines, placed.scale).items() for k in numbers}
    yield from _lines(view, placed, lines, reasons, HIDDEN, pieces, settings)


def _seen(view: int, drawing: Drawing, pieces: Sequence[Piece], settings: Settings) -> Iterator[_Line]:
    """The straight visible lines of a view that are no edges of it."""
    placed = drawing.views[view]
    yield from _lines(view, placed, of_sort(numbered(placed), "outlines"), {}, SHORTEST, pieces, settings)


def _lines(
    view: int, placed: PlacedView, lines: Sequence[Numbered], reasons: dict[int, str], else_: str, pieces: Sequence[Piece],
    settings: Settings,
) -> Iterator[_Line]:
    solid = placed.view.solid
    for line, edges in zip(lines, edges_under(placed.view, [line.shape for line in lines], seen=else_ == SHORTEST), strict=True):
        surfaces = sorted({int(k) for edge in edges for k in solid.edges.pair[edge]})
        what, piece = _what(placed, line.shape, surfaces, pieces, settings)
        of_hole = piece is not None and isinstance(piece.feature, Hole)
        yield _Line(view, line.shape, reasons.get(line.number, else_), what, of_hole)


def _owners(surfaces: Sequence[int], pieces: Sequence[Piece]) -> list[int]:
    """The pieces that have any of some surfaces: those that are cut before those that are added, and of these the last first, for
    it is the last cut that makes an edge."""
    mine = [place for place, piece in enumerate(pieces) if not set(surfaces).isdisjoint(piece.surfaces)]
    return sorted(mine, key=lambda place: (not pieces[place].cut, -place))


def _what(
    placed: PlacedView, shape: Shape, surfaces: Sequence[int], pieces: Sequence[Piece], settings: Settings
) -> tuple[str, Piece | None]:
    """What a line is, a side seen edge on, the outline of something round or an edge, and of which piece; empty if words would
    not tell."""
    solid, say, view_axes = placed.view.solid, settings.wording.render, ViewAxes.of(placed)
    way = level_of(shape) if isinstance(shape, Straight) else None
    for k in surfaces:
        surface = solid.surfaces[k]
        if way is not None and isinstance(surface, Plane) and surface.axis == view_axes.axes[way]:
            at = view_axes.at(way, float(surface.level))
            side = side_of(solid, k, pieces, settings.wording)
            if side and abs(at - float(shape.points()[0][way])) < SAME_LEVEL:
                return say("hints.is_side", what=side[0]), pieces[side[1]]
    turned = [k for k in surfaces if _turns_away(placed, shape, k)]
    for place in _owners(turned or surfaces, pieces):
        piece = pieces[place]
        if piece.known:
            what = piece.called(settings.wording, several=piece.count > 1)
            what = say("hints.one_of", what=what) if piece.count > 1 else what
            return say("hints.is_outline" if turned else "hints.is_edge", what=what), piece
    return "", None


def _turns_away(placed: PlacedView, shape: Shape, k: int) -> bool:
    """Whether a line is the outline of a cylinder that runs along it, the surface of number ``k``."""
    surface = placed.view.solid.surfaces[k]
    if not isinstance(shape, Straight) or not isinstance(surface, Cylinder):
        return False
    along = (shape.q - shape.p) / shape.length
    flat, point = (placed.view.frame.flat_vectors(vector) for vector in (surface.direction, surface.point))
    away = shape.p - (point - placed.view.frame.origin)
    off = abs(float(away[0] * along[1] - away[1] * along[0]))
    return abs(abs(float(np.dot(flat, along))) - 1) < SAME_LEVEL and abs(off - surface.radius) < SAME_LEVEL
