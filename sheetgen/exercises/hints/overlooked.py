"""The third hint: a line that is easily missed, where it is, what it is, and why it is missed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.bank.features import Hole
from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.hints.landmarks import Landmark, ViewAxes, side_of
from sheetgen.exercises.hints.places import level_of, place_of
from sheetgen.exercises.hints.sentences import view_words
from sheetgen.exercises.missed import WHY, easily_missed, edges_under, smooth_joins
from sheetgen.exercises.numbering import Numbered, numbered, of_sort
from sheetgen.exercises.pieces import Piece
from sheetgen.projection import Shape, Straight, View
from sheetgen.sheet import Settings
from sheetgen.sight import PlacedView
from sheetgen.solid import Cylinder, Plane, Solid, turns_right_round
from sheetgen.units import SAME_DIRECTION, SAME_LEVEL

OTHER, ROUND, SIDE_OF_HOLE = range(3)
"""Which lines are named before which: those of round ends after others, and the sides of holes last, because the first hint tells
of them and everybody looks for these."""

HIDDEN, SHORTEST, LIMIT = "hidden", "shortest", "limit"
"""Why a line is named that is none of those easily missed: the part has no other; it is no edge, but where a round face turns
away."""


@dataclass(frozen=True, slots=True)
class _What:
    """What a line is: ``key`` of the sentence, ``hints.is_``, and the ``words`` in it, of whose side, end or edge it is;
    ``rank``: OTHER, ROUND or SIDE_OF_HOLE; ``limit``: no edge, but where a round face turns away."""

    key: str
    words: str
    rank: int = OTHER
    limit: bool = False


@dataclass(frozen=True, eq=False)
class _Line:
    """A line that may be named: ``why`` it is missed, ``what`` it is, None if words would not tell."""

    view: int
    shape: Shape
    why: str
    what: _What | None

    @property
    def rank(self) -> int:
        """OTHER, ROUND or SIDE_OF_HOLE."""
        return self.what.rank if self.what else OTHER

    @property
    def order(self) -> tuple[object, ...]:
        """By which lines are preferred: the lesser the better."""
        reasons = (*WHY, HIDDEN, LIMIT, SHORTEST)
        return (self.rank, not self.what, reasons.index(self.why), not isinstance(self.shape, Straight),
                round(self.shape.length, 3), self.view)


def overlooked(
    settings: Settings, drawing: Drawing, pictorial: View, pieces: Sequence[Piece], landmarks: Sequence[Sequence[Landmark]]
) -> Iterator[str]:
    """The sentences about a line that is easily missed; of one without hidden lines, about the line that is drawn where there
    is none, or else the shortest of all."""
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
    mates = [line, *(other for other in found if other is not line and other.view == line.view and _mate(line, other))]
    yield place_of(mates, drawing.views[line.view], landmarks[line.view], settings)
    which = "it" if len(mates) == 1 else "they" if all(mate.what == line.what for mate in mates) else "one"
    if line.what:
        yield say(f"hints.is_{line.what.key}", what=line.what.words, which=which)
    yield say(f"hints.why_{line.why}", several="yes" if which == "they" else "no")


def _mate(line: _Line, other: _Line) -> bool:
    """Whether a line must be named together with another: it goes on in one row with it, or has its length and its kind, so that
    who is told of the one would look at the other."""
    if not (isinstance(line.shape, Straight) and isinstance(other.shape, Straight)):
        return False
    way, alike = level_of(line.shape), abs(line.shape.length - other.shape.length) < SAME_LEVEL
    if way != level_of(other.shape):
        return False
    in_row = way is not None and abs(float(line.shape.p[way] - other.shape.p[way])) < SAME_LEVEL
    return in_row or (alike and line.rank == other.rank == SIDE_OF_HOLE and line.what == other.what) or (alike and way is None)


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
        what, why = _what(placed, line.shape, surfaces, pieces, settings), reasons.get(line.number, else_)
        yield _Line(view, line.shape, LIMIT if what and what.limit and why == HIDDEN else why, what)


def _owners(surfaces: Sequence[int], pieces: Sequence[Piece]) -> list[int]:
    """The pieces that have any of some surfaces: those that are cut before those that are added, and of these the last first, for
    it is the last cut that makes an edge."""
    mine = [place for place, piece in enumerate(pieces) if not set(surfaces).isdisjoint(piece.surfaces)]
    return sorted(mine, key=lambda place: (not pieces[place].cut, -place))


def _what(
    placed: PlacedView, shape: Shape, surfaces: Sequence[int], pieces: Sequence[Piece], settings: Settings
) -> _What | None:
    """What a line is, a side seen edge on, the outline of something round or an edge; None if words would not tell."""
    solid, say, view_axes = placed.view.solid, settings.wording.render, ViewAxes.of(placed)
    way = level_of(shape) if isinstance(shape, Straight) else None
    sides = {k: side for k in surfaces if (side := side_of(solid, k, pieces, settings.wording))}
    for k, (words, _) in sides.items():
        surface = solid.surfaces[k]
        assert isinstance(surface, Plane) and surface.axis is not None
        if way is not None and surface.axis == view_axes.axes[way]:
            at = view_axes.at(way, float(surface.level))
            if abs(at - float(shape.points()[0][way])) < SAME_LEVEL:
                return _What("side", words)
    turned = [k for k in surfaces if _turns_away(placed, shape, k)]
    for place in _owners(turned or surfaces, pieces):
        piece = pieces[place]
        if not piece.known:
            continue
        what = piece.called(settings.wording, several=piece.count > 1)
        if sum(other.noun == piece.noun and not set(surfaces).isdisjoint(other.surfaces) for other in pieces) > 1:
            what = say("pieces.the", what=say(f"pieces.{piece.noun}", form="several"))
        if turned:
            return _outline(placed, turned[0], piece, what, settings)
        rank = SIDE_OF_HOLE if isinstance(piece.feature, Hole) else OTHER
        if fold := _fold(solid, surfaces, piece):
            return _What("fold", say(f"hints.side_{fold}", what=what), rank=rank)
        end = next((words for words, side in sides.values() if side == place), "")
        return _What("edge", end or what, rank=rank)
    return None


def _fold(solid: Solid, surfaces: Sequence[int], piece: Piece) -> str:
    """Which side of a piece a line is in which two of its sloping faces meet, as the wording's ``hints.side_`` calls it."""
    faces = [k for k in surfaces if k in piece.surfaces]
    planes = [surface for surface in (solid.surfaces[k] for k in faces) if isinstance(surface, Plane)]
    if len(faces) != 2 or len(planes) != 2 or any(min(abs(float(plane.normal[2])), 1 - abs(float(plane.normal[2])))
                                                  < SAME_DIRECTION for plane in planes):
        return ""
    ups = [float(solid.normals[solid.owner == k, 2].mean()) > 0 for k in faces]
    if ups[0] != ups[1]:
        return ""
    return "lowest" if ups[0] and piece.cut else "top"


def _outline(
    placed: PlacedView, k: int, piece: Piece, what: str, settings: Settings
) -> _What:
    """The line in which a round face, the surface of number ``k``, turns away: of a face that turns right round a side, of any
    other the end of a slot, or its limit."""
    solid, say = placed.view.solid, settings.wording.render
    if turns_right_round(solid, k):
        return _What("turning", what, SIDE_OF_HOLE, limit=True)
    words = say("hints.end_round" if piece.noun == "round_slot" else "hints.limit", what=what)
    return _What("outline", words, rank=ROUND, limit=True)


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
