"""The stages of a construction: what each introduces, in ink and in words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from sheetgen.exercises.construction.board import Board
from sheetgen.exercises.construction.features import groups_of
from sheetgen.exercises.construction.lines import answer_lines
from sheetgen.exercises.construction.order import Step, steps_of
from sheetgen.exercises.construction.record import AnswerLine, Dressed, Part, Projector, Stage
from sheetgen.exercises.construction.thin import ticks
from sheetgen.exercises.construction.words import Words
from sheetgen.exercises.drawing import Drawing
from sheetgen.geometry import Array
from sheetgen.ink import Mark, Pen, Stroke
from sheetgen.problem import Problem
from sheetgen.projection import LineKind
from sheetgen.sheet import Settings
from sheetgen.units import SAME_LINE


def stages_of(
    problem: Problem, settings: Settings, drawing: Drawing, asked: str = "", dressed: Sequence[Dressed] = ()
) -> tuple[Stage, ...]:
    """The stages in which the answer that ``drawing`` is of is built, or the one view ``asked``, the others being given;
    ``dressed``: what its dressing draws, in stages of their own. It never refuses."""
    groups, board = groups_of(problem), Board(drawing)
    lines = answer_lines(drawing, groups)
    steps = steps_of(board, lines, groups, asked, dressed)
    words = Words(problem, settings, drawing, board, groups, [line for line in lines if not asked or line.view == asked], asked)
    return tuple(
        _stage(step, words.heading(step, number, len(steps)), words.sentences(step, steps[:number - 1]), drawing, board, lines,
               asked)
        for number, step in enumerate(steps, 1))


def _stage(
    step: Step, heading: str, sentences: Sequence[str], drawing: Drawing, board: Board, lines: Sequence[AnswerLine], asked: str
) -> Stage:
    rings = [ring for curve in step.curves for ring in curve.rings]
    found = [*(places for curve in step.curves for places in curve.places.values()), *(ring.places for ring in rings)]
    points = _once([place for places in found for place in places])
    new: list[Mark] = [line.mark for line in step.lines]
    if step.dressed:
        new = [*step.dressed.marks]
    if step.part is Part.SIZES:
        new = _sizes(drawing, lines)
    thin = [*_boxes(step, board, [asked] if asked else board.views), *_mitres(step, board), *paths(step.projectors),
            *(ring.arc for ring in rings), *ticks(points)]
    return Stage(step.part, step.view, heading, tuple(sentences), step.lines, step.projectors, step.again, points, tuple(new),
                 tuple(thin))


def _sizes(drawing: Drawing, lines: Sequence[AnswerLine]) -> list[Mark]:
    """The marks of the answer that are none of its lines nor of its dressing: sizes and names, and centre lines drawn on for a
    size."""
    centres = [line.mark.points for line in lines if line.kind is LineKind.CENTRE]

    def drawn_before(mark: Mark) -> bool:
        if not isinstance(mark, Stroke) or mark.pen not in (Pen.OUTLINE, Pen.HIDDEN, Pen.CENTRE):
            return False
        return mark.pen is not Pen.CENTRE or any(_same(mark.points, points) for points in centres)

    return [mark for mark in drawing.marks[len(drawing.dressed):] if not drawn_before(mark)]


def _same(one: Array, other: Array) -> bool:
    return one.shape == other.shape and min(
        float(np.abs(one - other).max()), float(np.abs(one - other[::-1]).max())) < SAME_LINE


def _boxes(step: Step, board: Board, views: Iterable[str]) -> list[Stroke]:
    if step.part is not Part.BOXES:
        return []
    return [Stroke(board.paper(view, np.vstack([board.box(view), board.box(view)[:1]])), Pen.CONSTRUCTION, closed=True)
            for view in views]


def _mitres(step: Step, board: Board) -> list[Stroke]:
    return [Stroke(mitre.ends, Pen.CONSTRUCTION) for mitre in board.mitres.values()] if step.part is Part.MITRE else []


def paths(projectors: Iterable[Projector]) -> list[Stroke]:
    """Projectors as thin lines."""
    return [Stroke(np.stack(pair), Pen.CONSTRUCTION) for projector in projectors
            for pair in zip(projector.path[:-1], projector.path[1:], strict=True) if np.abs(pair[0] - pair[1]).max() > SAME_LINE]


def _once(points: Sequence[Array]) -> Array:
    """Points (n, 2), those of one place once."""
    kept: dict[tuple[float, float], Array] = {}
    for point in points:
        kept.setdefault((round(float(point[0]), 1), round(float(point[1]), 1)), point)
    return np.array(list(kept.values())).reshape(-1, 2)
