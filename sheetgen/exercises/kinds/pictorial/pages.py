"""Question, answer and drawing sheet of the kind ``pictorial``: the views with their sizes, the pictorial, a grid."""

from __future__ import annotations

from collections.abc import Sequence

from sheetgen.exercises.beside import taken_by, text_beside
from sheetgen.exercises.kinds.pictorial.detail import details
from sheetgen.exercises.kinds.pictorial.figure import TITLE
from sheetgen.exercises.kinds.pictorial.grid import grid_marks
from sheetgen.exercises.kinds.pictorial.task import Task, told_of
from sheetgen.exercises.page import page_of, two_sheets
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.ink import Mark, Page
from sheetgen.problem import Problem
from sheetgen.refusals import Reason
from sheetgen.sheet import Settings
from sheetgen.sheet.free import outlines_of

HEIGHTS = (3.5, 2.5)
"""mm, of the lettering of the task and of what the answer says, the lower where the higher has no room."""

WIDTHS = (118.0, 100.0, 84.0, 70.0, 150.0, 58.0)
"""mm: of the text, as they are tried."""

ROUND_TITLE, ROUND_TEXT, ROUND_ARROW = (4.0, 2.0), (6.0, 3.0), 5.0
"""mm kept free round the title, and round texts, as they are tried; and round the arrow of sight besides, which no words should
seem to belong to."""


def question_pages(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """The views with their sizes and what is asked; and with a grid, the sheet that has it. Raises: RefusedError if the text has
    no room."""
    drawing, scale = task.drawing, task.drawing.layout.scale_name
    boxes = {view.view.name: view.box for view in drawing.views}
    taken = taken_by(drawing.marks, settings).with_boxes(list(boxes.values()))
    (x0, _, x1, _), (_, y0, _, y1) = next(box for name, box in boxes.items() if name in ("left", "right")), boxes["top"]
    none = Reason("there is no room for the words beside the views")
    text = text_beside(task.lines, taken, ((x0 + x1) / 2, (y0 + y1) / 2), none, heights=HEIGHTS, widths=WIDTHS,
                       margins=ROUND_TEXT)
    first, second = two_sheets(particulars) if task.on_grid else (particulars, None)
    given = page_of(problem, settings, Role.QUESTION, scale, first, [*drawing.marks, *text])
    return (given, _sheet(problem, settings, task, second, Role.QUESTION)) if second else (given,)


def answer_pages(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """The pictorial with box and rhombi. Raises: RefusedError if the words have no room."""
    marks = finished(settings, task, task.figure.marks, "thin")
    return (page_of(problem, settings, Role.ANSWER, task.drawing.layout.scale_name, particulars, marks),)


def blank_pages(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """The sheet to draw on, with a grid if that was asked for."""
    return (_sheet(problem, settings, task, particulars, Role.BLANK),)


def finished(settings: Settings, task: Task, drawn: Sequence[Mark], thin: str) -> list[Mark]:
    """The pictorial as ``drawn``, with its title and what is to be said of it, of its thin lines what the wording's text ``thin``
    says; beside it, where there is room, how ellipses are drawn from four centres. Raises: RefusedError if the words have no
    room."""
    marks = [*drawn, *_words(settings, task, thin)]
    taken = taken_by(marks, settings).with_boxes([task.figure.view.box])
    return [*marks, *details(task.figure.view, settings, taken)]


def _words(settings: Settings, task: Task, thin: str) -> list[Mark]:
    """The title of the pictorial, and how it is drawn. Raises: RefusedError if they have no room."""
    figure, paper = task.figure, settings.paper
    x0, y0, x1, y1 = figure.arrow_box
    arrow = x0 - ROUND_ARROW, y0, x1 + ROUND_ARROW, y1 + ROUND_ARROW
    taken, wanted = taken_by(figure.marks, settings).with_boxes([figure.view.box, arrow]), figure.title(settings)
    title = text_beside([wanted.text], taken, (wanted.at[0], wanted.at[1] + TITLE / 2), NO_ROOM,
                        heights=(TITLE,), widths=WIDTHS, margins=ROUND_TITLE)
    taken = taken.with_more(outlines_of(title))
    return [*title, *text_beside(told_of(settings, figure, thin), taken, (paper.x0, paper.y0), NO_ROOM,
                                 heights=HEIGHTS, widths=(118.0, 90.0, 70.0, 50.0), margins=ROUND_TEXT)]


NO_ROOM = Reason("there is no room for the words beside the pictorial")


def _sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars, role: Role) -> Page:
    grid = grid_marks(task.figure.view, settings) if task.on_grid else []
    return page_of(problem, settings, role, task.drawing.layout.scale_name, particulars, grid)

