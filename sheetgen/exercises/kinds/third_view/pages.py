"""Question and answer of the kind ``third-view``: two views with their sizes and room for the third, and all three."""

from __future__ import annotations

from collections.abc import Sequence

from sheetgen.exercises.beside import taken_by, text_beside
from sheetgen.exercises.kinds.third_view.task import Task
from sheetgen.exercises.kinds.views.answer import small_pictorial
from sheetgen.exercises.page import page_of
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.ink import Mark, Page
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import Taken

TEXT_HEIGHTS = (3.5, 2.5)
"""mm, of the lettering of the task and of what the answer says, the lower where the higher has no room."""

TEXT_WIDTHS = (118.0, 100.0, 84.0, 70.0, 150.0, 58.0)
"""mm: of the text, as they are tried."""


def question_pages(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Draw the question sheet. Raises: RefusedError if the text has no room."""
    marks = task.drawing.marks_with(task.given)
    text = words_beside(settings, task, marks, task.lines)
    return (page_of(problem, settings, Role.QUESTION, task.drawing.layout.scale_name, particulars, [*marks, *text]),)


def answer_pages(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Draw the answer sheet: what the question has, with the third view, and a small pictorial if there is room."""
    drawing, count, marks = task.drawing, task.asked.found.count, list(task.drawing.marks)
    if count > 1:
        said = [settings.wording.render("third.one_of", count=count)]
        marks += words_beside(settings, task, marks, said)
    taken = taken_by(marks, settings).with_boxes([view.box for view in drawing.views])
    return (page_of(problem, settings, Role.ANSWER, drawing.layout.scale_name, particulars,
                    [*marks, *_reference(problem, settings, taken)]),)


def _reference(problem: Problem, settings: Settings, taken: Taken) -> list[Mark]:
    """A small pictorial; none of a part that no pictorial shows."""
    try:
        sight = problem.pictorial
    except RefusedError:
        return []
    return small_pictorial(sight, settings, taken)


def words_beside(settings: Settings, task: Task, marks: Sequence[Mark], lines: Sequence[str]) -> list[Mark]:
    """Words as near as can be to the corner of the sheet that no view stands in. Raises: RefusedError if they have no room."""
    drawing = task.drawing
    taken = taken_by(marks, settings).with_boxes([view.box for view in drawing.views])
    boxes = {view.view.name: view.box for view in drawing.views}
    (x0, _, x1, _), (_, y0, _, y1) = next(box for name, box in boxes.items() if name in ("left", "right")), boxes["top"]
    return text_beside(lines, taken, ((x0 + x1) / 2, (y0 + y1) / 2), Reason("there is no room for the words beside the views"),
                       heights=TEXT_HEIGHTS, widths=TEXT_WIDTHS, margins=(6.0, 3.0))
