"""What helps those who draw the views of the kind ``views``, on paper and on a page for practice."""

from __future__ import annotations

from sheetgen.exercises.construction import shown, stages_of, thin_lines
from sheetgen.exercises.help import Help
from sheetgen.exercises.hints import help_of, hint_pages, hints_of
from sheetgen.exercises.kinds.views.question import lines_of
from sheetgen.exercises.kinds.views.task import Task
from sheetgen.exercises.roles import Particulars
from sheetgen.ink import Page
from sheetgen.problem import Problem
from sheetgen.sheet import Settings


def hint_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Three hints and a self-check, on a page to be folded."""
    hints = hints_of(problem, settings, task.drawing, task.picture.view.view)
    return hint_pages(problem, settings, hints, particulars)


def help_with(problem: Problem, settings: Settings, task: Task) -> Help:
    """What is asked, how its answer is built, the hints, and how a drawing of one's own is checked."""
    drawing = task.drawing
    lines = lines_of(problem, settings, drawing.layout, task.picture.scale_name)
    built = stages_of(problem, settings, drawing)
    hints = hints_of(problem, settings, drawing, task.picture.view.view)
    return help_of(settings, lines, hints, shown(built, thin_lines(built)), drawing.layout)
