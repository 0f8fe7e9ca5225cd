"""The second hint in sentences: how to begin. Its numbers are sizes of the part, mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sheetgen.bank.features import Cone, Cylinder, Hole, Lug, Obround
from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.hints.landmarks import SIDES, Landmark, ViewAxes
from sheetgen.exercises.hints.lists import listed
from sheetgen.exercises.hints.record import Span, span_of
from sheetgen.exercises.hints.sentences import axis_of, several, view_words
from sheetgen.exercises.pieces import Piece
from sheetgen.measures.measures import number
from sheetgen.problem import Problem
from sheetgen.projection import Arc, LineKind
from sheetgen.sheet import Settings
from sheetgen.sight import PlacedView
from sheetgen.units import SAME_LEVEL

MOST_CENTRES = 2
"""Round pieces whose centres are told."""

MOST_POINTS = 2
"""Centres of one piece that a sentence can tell."""


@dataclass(frozen=True, slots=True)
class Fact:
    """Where something lies in a view, in words, and between which levels of the part the lengths told run."""

    words: str
    spans: tuple[Span, ...]


@dataclass(frozen=True, slots=True)
class Beginning:
    """The sentences, and the ``spans`` whose lengths they give away."""

    sentences: tuple[str, ...]
    spans: frozenset[Span]


Printed = frozenset[Span]
"""Between which levels of the part the lengths run that the question prints."""


def begin(
    problem: Problem, settings: Settings, drawing: Drawing, pieces: Sequence[Piece],
    landmarks: Sequence[Sequence[Landmark]], printed: Printed,
) -> Beginning:
    """How to begin, in the order of the work. Places are told from the edge from which the question's sizes tell them, if one of
    its sizes does, so that no more is given away than is printed; else from the nearer."""
    say, wording = settings.wording.render, settings.wording
    boxes = [say("hints.box", view=view_words(placed, settings), wide=number(float(wide)), high=number(float(high)))
             for placed in drawing.views for wide, high in [placed.view.extent[1] - placed.view.extent[0]]]
    said = [say("hints.boxes", what=listed(boxes, wording)), *_symmetry(problem, settings, drawing)]
    start, facts, told = _start(problem, settings, drawing, pieces, landmarks, printed)
    if facts:
        said.append(say("hints.start", view=view_words(drawing.views[start], settings),
                        what=listed([fact.words for fact in facts], wording)))
    for view, fact in _centres(problem, settings, drawing, pieces, told, printed):
        said.append(say("hints.axis", view=view_words(drawing.views[view], settings), what=fact.words))
        facts = [*facts, fact]
    below = drawing.layout.places["top"][1] < drawing.layout.places["front"][1]
    side = "short.sides" if settings.side == "both" else "short.side"
    said.append(say("hints.carry", front=say("short.front"), top=say("short.top"), side=say(side),
                    where="below" if below else "above"))
    if any(isinstance(line, Arc) for placed in drawing.views for line in placed.lines(LineKind.VISIBLE)):
        said.append(say("hints.line_in"))
    return Beginning(tuple(said), frozenset(span for fact in facts for span in fact.spans))


def _symmetry(problem: Problem, settings: Settings, drawing: Drawing) -> Iterator[str]:
    """Which views a centre line halves."""
    for axis in problem.symmetry:
        views = [view_words(placed, settings) for placed in drawing.views if "xyz".index(axis) in ViewAxes.of(placed).axes]
        yield settings.wording.render(f"hints.halves_{axis}", view=listed(views, settings.wording), several=several(len(views)))


def _start(
    problem: Problem, settings: Settings, drawing: Drawing, pieces: Sequence[Piece], landmarks: Sequence[Sequence[Landmark]],
    printed: Printed,
) -> tuple[int, list[Fact], list[int]]:
    """In which view to start, what is drawn there first, and the places of the pieces whose centres are told with it. A view
    with a rounded end starts from a centre, any other from the pieces that are added or, where more is told of it, from the piece
    that is cut out and whose outline shows there."""
    for view, (placed, marks) in enumerate(zip(drawing.views, landmarks, strict=True)):
        first = next((place for place in _round(problem, pieces) if pieces[place].axis == axis_of(placed)), None)
        if sum(mark.edge for mark in marks) < 4 and first is not None:
            return view, [_centre(first, pieces, placed, settings, printed)], [first]
    best = (0, 0, -1)                              # of a part without such a piece the front view, and all that it shows
    for view, (placed, marks) in enumerate(zip(drawing.views, landmarks, strict=True)):
        sides = [(mark.way, mark.piece) for mark in marks if mark.piece is not None and not mark.centre]
        best = min(best, (-len({way for way, place in sides if not pieces[place].cut}), view, -1))
        for place, piece in enumerate(pieces):
            known = {way for way, mine in sides if mine == place}
            if known and piece.axis == axis_of(placed):
                best = min(best, (-len(known), view + len(landmarks) * piece.cut, place))
    view, place = best[1] % len(landmarks), best[2]
    placed, marks = drawing.views[view], landmarks[view]
    if place >= 0 and pieces[place].noun == "round_slot":
        return view, [_centre(place, pieces, placed, settings, printed)], [place]
    mine = [mark for mark in marks if mark.piece is not None and not mark.centre
            and (place < 0 or pieces[mark.piece].axis == axis_of(placed))]
    mine.sort(key=lambda mark: (mark.piece != place, pieces[mark.piece or 0].cut))
    firsts = list({mark.way: mark for mark in reversed(mine)}.values())[::-1]
    return view, [fact for mark in firsts if (fact := _lies(mark, marks, settings, printed))], []


def _lies(mark: Landmark, marks: Sequence[Landmark], settings: Settings, printed: Printed) -> Fact | None:
    """How far a landmark lies from an edge of its view; None if neither is a straight line."""
    edges = [each for each in marks if each.edge and each.way == mark.way]
    if not edges:
        return None
    nearest = min(edges, key=lambda each: (
        span_of(mark.axis, mark.level, each.level) not in printed, round(abs(each.level - mark.level), 3), each.level))
    value = abs(nearest.level - mark.level)
    if value <= SAME_LEVEL:
        return None
    at = settings.wording.render("hints.from_edge", value=number(round(value, 1)), edge=nearest.words)
    return Fact(settings.wording.render("hints.lies", what=mark.words, at=at, several="no"),
                (span_of(mark.axis, mark.level, nearest.level),))


def _centres(
    problem: Problem, settings: Settings, drawing: Drawing, pieces: Sequence[Piece], told: Sequence[int],
    printed: Printed,
) -> Iterator[tuple[int, Fact]]:
    """Where the centres of the largest round pieces are that are not ``told`` yet, each in the view in which it is a circle."""
    for place in [each for each in _round(problem, pieces) if each not in told][:MOST_CENTRES - len(told)]:
        view = next(k for k, placed in enumerate(drawing.views) if axis_of(placed) == pieces[place].axis)
        yield view, _centre(place, pieces, drawing.views[view], settings, printed)


def _round(problem: Problem, pieces: Sequence[Piece]) -> list[int]:
    """The places of round pieces whose centres want telling, the largest first: one of those about the same axis, and none that
    the centre lines of the views cross in."""
    found: dict[tuple[object, ...], int] = {}
    sizes = problem.solid.size
    for place in sorted(range(len(pieces)), key=lambda each: (-_width(pieces[each]), each)):
        piece, points = pieces[place], points_of(pieces[place])
        if not points or len(points) > MOST_POINTS or piece.axis is None or not piece.known:
            continue
        axes = [axis for axis in range(3) if axis != piece.axis]
        middle = all("xyz"[axis] in problem.symmetry and abs(point[k] - sizes[axis] / 2) < SAME_LEVEL
                     for k, axis in enumerate(axes) for point in points)
        if not middle:
            found.setdefault((piece.axis, *sorted((round(a, 3), round(b, 3)) for a, b in points)), place)
    return list(found.values())


def points_of(piece: Piece) -> tuple[tuple[float, float], ...]:
    """The centres of a round piece along the two axes of the part that are square to its own; none of others."""
    feature = piece.feature
    if isinstance(feature, Hole | Cylinder) and piece.noun not in ("hollow", "bore"):
        return tuple(feature.at)
    if isinstance(feature, Cone) and piece.noun == "cone":
        return (feature.at,)
    if isinstance(feature, Lug) and piece.noun == "round_slot":
        return (feature.centre,)
    return feature.centres if isinstance(feature, Obround) and piece.noun == "round_slot" else ()


def _width(piece: Piece) -> float:
    feature = piece.feature
    return float(max(feature.diameters) if isinstance(feature, Cone) else
                 getattr(feature, "diameter", getattr(feature, "width", 0.0)))


def _centre(place: int, pieces: Sequence[Piece], placed: PlacedView, settings: Settings, printed: Printed) -> Fact:
    """Where the centre of a piece is, or both its centres are, in the view that shows it as a circle."""
    say, piece, points = settings.wording.render, pieces[place], points_of(pieces[place])
    axes, sizes = [axis for axis in range(3) if axis != piece.axis], placed.view.solid.size
    facts, spans = [], []
    for axis in ViewAxes.of(placed).axes:
        levels, size = sorted({round(point[axes.index(axis)], 6) for point in points}), float(sizes[axis])
        low, high = (span_of(axis, levels[0], edge) in printed for edge in (0.0, size))
        end = len(levels) == 1 and not low and (high or levels[0] > size / 2 + SAME_LEVEL)
        values = [number(round(size - level if end else level, 1)) for level in levels]
        edge = say(f"hints.edge_{SIDES[axis][end]}")
        facts.append(say("hints.from_edge", value=listed(values, settings.wording), edge=edge))
        spans += [span_of(axis, level, size if end else 0.0) for level in levels]
    many = len(points) > 1
    ends = "_of_end" if piece.noun == "round_slot" else "_point"
    what = say(f"hints.centre{'s' if many else ''}{ends}{'s' if many else ''}",
               what=piece.called(settings.wording, several=piece.count > 1))
    return Fact(say("hints.lies", what=what, at=listed(facts, settings.wording), several=several(len(points))), tuple(spans))
