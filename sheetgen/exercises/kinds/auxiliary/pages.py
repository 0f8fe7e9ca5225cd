"""Question and answer of the kind ``auxiliary``: two views with all sizes and room for the auxiliary view, and that view with
its projectors, the distances carried over, and its sizes."""

from __future__ import annotations

from collections.abc import Sequence

from sheetgen.exercises.construction.thin import clear_of_lines, clear_of_texts
from sheetgen.exercises.key import HALF, reduced
from sheetgen.exercises.kinds.auxiliary.sized import Ink, distances, true_sizes
from sheetgen.exercises.kinds.auxiliary.task import Task
from sheetgen.exercises.page import page_of
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.geometry import Array
from sheetgen.ink import Mark, Page, Pen, Stroke
from sheetgen.problem import Problem
from sheetgen.sheet import Settings


def question_pages(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Draw the question sheet."""
    marks = [*task.drawing.marks, *task.picture, *task.text]
    return (page_of(problem, settings, Role.QUESTION, task.drawing.layout.scale_name, particulars, marks),)


def answer_pages(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Draw the answer sheet."""
    marks = [*answer_marks(settings, task), *task.picture]
    return (page_of(problem, settings, Role.ANSWER, task.drawing.layout.scale_name, particulars, marks),)


def answer_marks(settings: Settings, task: Task, *, bare: bool = False) -> list[Mark]:
    """The two views, the auxiliary view, and how it was found; ``bare``: without projectors."""
    drawing, folded = task.drawing, task.folded
    mine = [*folded.turned.marks(), folded.name]
    there = [*drawing.marks, *mine]
    found = findings(settings, task, there)
    if bare:
        return [*there, *found]
    return [*projectors(folded.carried.projectors, [*there, *found]), *there, *found]


def findings(settings: Settings, task: Task, there: Sequence[Mark]) -> list[Mark]:
    """The distances that are equal, and the sizes of a true shape, clear of what is ``there``."""
    carried, beside = task.folded.carried, next(view for view in task.drawing.views if view.view.name == task.asked.beside)
    ink = Ink(tuple(there))
    sizes = [] if carried.whole else true_sizes(carried, settings, ink)
    return [*sizes, *distances(carried, task.folded.between, beside, settings, ink.with_more(sizes))]


def projectors(lines: Sequence[Array], there: Sequence[Mark]) -> list[Stroke]:
    """Projectors as thin lines, clear of lines along which they run, and of figures."""
    thin = [Stroke(line, Pen.CONSTRUCTION) for line in lines]
    return clear_of_texts(clear_of_lines(thin, there), there)


def key(problem: Problem, settings: Settings, task: Task) -> Page:
    """The answer for the answer key, half as large."""
    return reduced(answer_marks(settings, task), HALF)
