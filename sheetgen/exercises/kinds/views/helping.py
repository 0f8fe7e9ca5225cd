"""What helps those who draw the views of the kind ``views``."""

from __future__ import annotations

from sheetgen.exercises.hints import hint_pages, hints_of
from sheetgen.exercises.kinds.views.task import Task
from sheetgen.exercises.roles import Particulars
from sheetgen.ink import Page
from sheetgen.problem import Problem
from sheetgen.sheet import Settings


def hint_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Three hints and a self-check, on a page to be folded."""
    hints = hints_of(problem, settings, task.drawing, task.picture.view.view)
    return hint_pages(problem, settings, hints, particulars)
