"""The hints of a problem, worked out of the part and its drawing."""

from __future__ import annotations

from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.hints.beginning import begin
from sheetgen.exercises.hints.landmarks import landmarks_of
from sheetgen.exercises.hints.lengths import lengths_of, printed_spans
from sheetgen.exercises.hints.looking import look
from sheetgen.exercises.hints.overlooked import overlooked
from sheetgen.exercises.hints.record import Hints, ViewCheck
from sheetgen.exercises.numbering import numbered, of_sort
from sheetgen.exercises.pieces import pieces_of
from sheetgen.problem import Problem
from sheetgen.projection import View
from sheetgen.sheet import Settings
from sheetgen.sight import PlacedView
from sheetgen.templating.marking import SORTS


def hints_of(problem: Problem, settings: Settings, drawing: Drawing, pictorial: View) -> Hints:
    """The hints of a problem whose answer ``drawing`` is of; ``pictorial``: that of its question."""
    pieces = pieces_of(problem)
    landmarks = [landmarks_of(placed, pieces, settings.wording) for placed in drawing.views]
    printed = printed_spans(problem)
    beginning = begin(problem, settings, drawing, pieces, landmarks, printed)
    return Hints(
        tuple(look(problem, settings, drawing, pieces)),
        beginning.sentences,
        tuple(overlooked(settings, drawing, pictorial, pieces, landmarks)),
        tuple(map(view_check, drawing.views)),
        lengths_of(problem, settings, drawing, landmarks, beginning.spans),
        drawing.layout.scale_name,
    )


def view_check(placed: PlacedView) -> ViewCheck:
    """What can be counted and measured of a view: its lines are those that a marker counts."""
    lines, (low, high) = numbered(placed), placed.view.extent
    wide, tall = (high - low).tolist()
    return ViewCheck(placed.view.name, {sort: len(of_sort(lines, sort)) for sort in SORTS}, (wide, tall),
                     (wide * placed.scale, tall * placed.scale))
