"""Question and answer of the kind ``auxiliary``: two views with all sizes and room for the auxiliary view, and that view with
its projectors, the distances carried over, its sizes, and what the letters mean."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import product

from sheetgen.exercises.construction.thin import clear_of_lines, clear_of_texts
from sheetgen.exercises.drawing import drawing_reduced
from sheetgen.exercises.given.assumed import called
from sheetgen.exercises.key import HALF, PLACED, reduced
from sheetgen.exercises.kinds.auxiliary.sized import Ink, true_sizes
from sheetgen.exercises.kinds.auxiliary.task import Task
from sheetgen.exercises.page import page_of
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.geometry import Array
from sheetgen.ink import Mark, Page, Pen, Stroke, Text
from sheetgen.problem import Problem
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import boxes_of
from sheetgen.sheet.textblock import block_of

FARTHER = (0.0, 8.0, 18.0, 30.0)
"""mm by which the reference line of a key's drawing stands farther from the part, as they are tried."""


def question_pages(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Draw the question sheet."""
    marks = [*task.drawing.marks, *task.picture, *task.text]
    return (page_of(problem, settings, Role.QUESTION, task.drawing.layout.scale_name, particulars, marks),)


def answer_pages(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Draw the answer sheet."""
    marks = [*answer_marks(settings, task), *task.picture, *_told(settings, task)]
    return (page_of(problem, settings, Role.ANSWER, task.drawing.layout.scale_name, particulars, marks),)


def answer_marks(settings: Settings, task: Task, *, bare: bool = False) -> list[Mark]:
    """The two views, the auxiliary view, and how it was found; ``bare``: without projectors."""
    drawing, folded = task.drawing, task.folded
    mine = [*folded.turned.marks(), folded.name]
    there = [*drawing.marks, *folded.distances(drawing.marks), *mine]
    found = findings(settings, task, there)
    if bare:
        return [*there, *found]
    return [*projectors(folded.carried.projectors, [*there, *found]), *there, *found]


def findings(settings: Settings, task: Task, there: Sequence[Mark]) -> list[Mark]:
    """The sizes of a true shape, clear of what is ``there``."""
    carried = task.folded.carried
    return [] if carried.whole else true_sizes(carried, settings, Ink(tuple(there)))


def _told(settings: Settings, task: Task) -> list[Mark]:
    """What the letters of distances mean, where the question has its words."""
    if not task.folded.equal:
        return []
    boxes, height = boxes_of(task.text), next(mark.height for mark in task.text if isinstance(mark, Text))
    (left, _), (right, top) = boxes[:, :2].min(axis=0).tolist(), boxes[:, 2:].max(axis=0).tolist()
    words = settings.wording.render("auxiliary.equal", second=called(task.asked.beside, settings))
    return block_of([words], right - left, height).marks(left, top)


def projectors(lines: Sequence[Array], there: Sequence[Mark]) -> list[Stroke]:
    """Projectors as thin lines, clear of lines along which they run, and of figures."""
    thin = [Stroke(line, Pen.CONSTRUCTION) for line in lines]
    return clear_of_texts(clear_of_lines(thin, there), there)


def key(problem: Problem, settings: Settings, task: Task) -> Page:
    """The answer for the answer key, half as large with figures that can be read (``key.py``), the reference line as far from the
    part as these need."""
    asked = task.asked
    for side, farther in product(dict.fromkeys((asked.side, -asked.side, 0.0)), FARTHER):
        there = replace(asked, side=side, clear=asked.clear + farther)
        try:
            drawing = drawing_reduced(task.sized, settings, replace(task.drawing, dressing=there), PLACED)
        except RefusedError:
            continue
        return reduced(answer_marks(settings, replace(task, drawing=drawing, asked=there)), HALF / PLACED)
    return reduced(answer_marks(settings, task), HALF)
