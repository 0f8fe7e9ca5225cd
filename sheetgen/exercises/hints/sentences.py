"""The first two hints, in sentences: what to look for, and how to begin. Their numbers are sizes of the part, mm."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from sheetgen.bank.features import Cylinder, Hole
from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.hints.extents import inclined, oblique
from sheetgen.exercises.hints.landmarks import Landmark, ViewAxes
from sheetgen.exercises.hints.nouns import FACES, HOLES
from sheetgen.exercises.hints.pieces import Piece, counted, listed
from sheetgen.exercises.missed import smooth_joins
from sheetgen.measures.measures import number
from sheetgen.problem import Problem
from sheetgen.projection import Arc, Free, LineKind, is_ellipse
from sheetgen.sheet import Settings
from sheetgen.sight import PlacedView
from sheetgen.units import SAME_LEVEL

MOST_SHAPES, MOST_AXES = 3, 2
"""Pieces of which one view's outline is told, and round ones whose centres are."""


def axis_of(placed: PlacedView) -> int:
    """Along which axis of the part, 0, 1 or 2, a view looks."""
    return 3 - sum(ViewAxes.of(placed).axes)


def view_words(placed: PlacedView, settings: Settings) -> str:
    """A view within a sentence: the front view."""
    alone = placed.view.name in ("left", "right") and settings.side != "both"
    return settings.wording.render("short.side" if alone else f"short.{placed.view.name}")


def several(count: int) -> str:
    """As the wording's texts are told it."""
    return "yes" if count > 1 else "no"


def look(problem: Problem, settings: Settings, drawing: Drawing, pieces: Sequence[Piece]) -> Iterator[str]:
    """What to look for, the most needed first."""
    say = settings.wording.render
    wide, deep, high = (number(float(size)) for size in problem.solid.size)
    yield say("hints.over_all", width=wide, depth=deep, height=high)
    yield from _made_of(settings, pieces)
    yield from _shapes(settings, drawing, pieces)
    yield from _slopes(problem, settings, drawing)
    yield from _curves(settings, drawing)
    if any(piece.noun in HOLES for piece in pieces):
        yield say("hints.holes", several=several(sum(piece.count for piece in pieces if piece.noun in HOLES)))
    if any(smooth_joins(placed.view, placed.scale) for placed in drawing.views):
        yield say("hints.joins")
    yield from _hidden(settings, drawing)


def _made_of(settings: Settings, pieces: Sequence[Piece]) -> Iterator[str]:
    """What the part is built up of, and what is cut out of it."""
    say, wording = settings.wording.render, settings.wording
    added = [piece for piece in pieces if not piece.cut]
    cut = [piece for piece in pieces if piece.cut and piece.noun not in FACES]
    faces = [piece for piece in pieces if piece.noun in FACES]
    names = counted(added, wording)
    if sum(piece.count for piece in added) == 1:
        yield say("hints.one_piece", what=names[0])
    elif names:
        yield say("hints.built_up", what=listed(names, wording))
    for key, some in (("hints.cut_out", cut), ("hints.cut_on", faces)):
        if some:
            yield say(key, what=listed(counted(some, wording), wording), several=several(sum(piece.count for piece in some)))


def _shapes(settings: Settings, drawing: Drawing, pieces: Sequence[Piece]) -> Iterator[str]:
    """In which view the outlines of pieces show."""
    for placed in drawing.views:
        if placed.view.name == "right" and any(other.view.name == "left" for other in drawing.views):
            continue
        mine = [piece for piece in pieces if piece.axis == axis_of(placed) and piece.known and piece.noun not in (*FACES, *HOLES)]
        named = _named(mine, pieces, settings)[:MOST_SHAPES]
        if named:
            yield settings.wording.render("hints.outline", view=view_words(placed, settings),
                                          what=listed(named, settings.wording))


def _named(mine: Sequence[Piece], pieces: Sequence[Piece], settings: Settings) -> list[str]:
    """Some of the pieces in a row; all of one noun together."""
    say, names = settings.wording.render, dict[str, None]()
    for piece in mine:
        alike = [each for each in pieces if each.noun == piece.noun]
        together = len(alike) > 1 and all(any(each is one for one in mine) for each in alike)
        name = (say("hints.the", what=say(f"pieces.{piece.noun}", form="several")) if together
                else piece.called(settings.wording, several=piece.count > 1))
        names.setdefault(name)
    return list(names)


def _slopes(problem: Problem, settings: Settings, drawing: Drawing) -> Iterator[str]:
    """In which view sloping faces are seen edge on, and that no view shows oblique ones so."""
    say, told = settings.wording.render, Counter(inclined(problem.solid).values())
    for placed in drawing.views:
        if count := told.pop(axis_of(placed), 0):
            key = "hints.askew" if axis_of(placed) == 2 else "hints.edge_on"
            yield say(key, view=view_words(placed, settings), several=several(count))
    if count := len(oblique(problem.solid)):
        yield say("hints.oblique", several=several(count))


def _curves(settings: Settings, drawing: Drawing) -> Iterator[str]:
    """Which views have curves that no compass draws."""
    shapes = {placed: [*placed.lines(LineKind.VISIBLE), *placed.lines(LineKind.HIDDEN)] for placed in drawing.views}
    for key, fits in (("hints.plotted", lambda shape: isinstance(shape, Free)), ("hints.ellipse", is_ellipse)):
        views = [view_words(placed, settings) for placed, lines in shapes.items() if any(map(fits, lines))]
        if views:
            yield settings.wording.render(key, view=listed(views, settings.wording), several=several(len(views)))


def _hidden(settings: Settings, drawing: Drawing) -> Iterator[str]:
    """Where most of the hidden lines are."""
    counts = [len(placed.lines(LineKind.HIDDEN)) for placed in drawing.views]
    if not any(counts):
        yield settings.wording.render("hints.none_hidden")
    elif counts.count(max(counts)) == 1:
        view = view_words(drawing.views[counts.index(max(counts))], settings)
        key = "hints.only_hidden" if max(counts) == sum(counts) else "hints.most_hidden"
        yield settings.wording.render(key, view=view, several=several(max(counts)))


def begin(
    problem: Problem, settings: Settings, drawing: Drawing, pieces: Sequence[Piece], landmarks: Sequence[Sequence[Landmark]]
) -> Iterator[str]:
    """How to begin, in the order of the work."""
    say, wording = settings.wording.render, settings.wording
    boxes = [say("hints.box", view=view_words(placed, settings), wide=number(float(wide)), high=number(float(high)))
             for placed in drawing.views for wide, high in [placed.view.extent[1] - placed.view.extent[0]]]
    yield say("hints.boxes", what=listed(boxes, wording))
    yield from _symmetry(problem, settings, drawing)
    yield from _axes(settings, drawing, pieces, landmarks)
    yield from _first_shape(settings, drawing, pieces, landmarks)
    below = drawing.layout.places["top"][1] < drawing.layout.places["front"][1]
    side = "short.sides" if settings.side == "both" else "short.side"
    yield say("hints.carry", front=say("short.front"), top=say("short.top"), side=say(side),
              where="below" if below else "above")
    if any(isinstance(line, Arc) for placed in drawing.views for line in placed.lines(LineKind.VISIBLE)):
        yield say("hints.line_in")


def _symmetry(problem: Problem, settings: Settings, drawing: Drawing) -> Iterator[str]:
    """Which views a centre line halves."""
    for axis in problem.symmetry:
        views = [view_words(placed, settings) for placed in drawing.views if "xyz".index(axis) in ViewAxes.of(placed).axes]
        yield settings.wording.render(f"hints.halves_{axis}", view=listed(views, settings.wording), several=several(len(views)))


def _axes(
    settings: Settings, drawing: Drawing, pieces: Sequence[Piece], landmarks: Sequence[Sequence[Landmark]]
) -> Iterator[str]:
    """Where the centres of the largest round pieces are, in the views in which they are circles."""
    round_ones = [place for place, piece in enumerate(pieces)
                  if piece.known and isinstance(piece.feature, Hole | Cylinder) and piece.noun not in ("hollow", "bore")]
    told = 0
    for place in sorted(round_ones, key=lambda each: (-_diameter(pieces[each]), each)):
        for placed, marks in zip(drawing.views, landmarks, strict=True):
            mine = {mark.way: mark for mark in marks if mark.centre and mark.piece == place}
            if pieces[place].axis != axis_of(placed) or len(mine) < 2 or pieces[place].count > 1 or told == MOST_AXES:
                continue
            facts = [fact for way in (0, 1) if (fact := _from_edge(mine[way], marks, settings))]
            if facts:
                told += 1
                yield settings.wording.render(
                    "hints.axis", what=pieces[place].called(settings.wording), view=view_words(placed, settings),
                    at=listed(facts, settings.wording))
            break


def _diameter(piece: Piece) -> float:
    return float(getattr(piece.feature, "diameter", 0.0))


def _from_edge(mark: Landmark, marks: Sequence[Landmark], settings: Settings) -> str:
    """How far a landmark lies from the nearer edge of its view; empty if neither is a straight line."""
    edges = [each for each in marks if each.edge and each.way == mark.way]
    if not edges:
        return ""
    nearest = min(edges, key=lambda each: (round(abs(each.level - mark.level), 3), each.level))
    value = abs(nearest.level - mark.level)
    return settings.wording.render("hints.from_edge", value=number(value), edge=nearest.words) if value > SAME_LEVEL else ""


def _first_shape(
    settings: Settings, drawing: Drawing, pieces: Sequence[Piece], landmarks: Sequence[Sequence[Landmark]]
) -> Iterator[str]:
    """In which view to start, and with which piece: that whose outline shows there and of which most is told."""
    best = (0, 0, -1)
    for view, (placed, marks) in enumerate(zip(drawing.views, landmarks, strict=True)):
        for place, piece in enumerate(pieces):
            known = {mark.way for mark in marks if mark.piece == place and not mark.centre}
            if known and piece.axis == axis_of(placed):
                best = min(best, (-len(known), view, place))
    _, view, place = best                          # of a part without such a piece the front view, and all that it shows
    placed, marks = drawing.views[view], landmarks[view]
    mine = [mark for mark in marks if mark.piece is not None and not mark.centre
            and (place < 0 or pieces[mark.piece].axis == axis_of(placed))]
    mine.sort(key=lambda mark: mark.piece != place)
    firsts = list({mark.way: mark for mark in reversed(mine)}.values())[::-1]
    facts = [settings.wording.render("hints.lies", what=mark.words, at=at)
             for mark in firsts if (at := _from_edge(mark, marks, settings))]
    if facts:
        row = listed(facts, settings.wording)
        yield settings.wording.render("hints.start", view=view_words(placed, settings), what=row)
