"""What a page for practice helps with in the kind ``views``."""

from __future__ import annotations

from sheetgen.exercises.help import Help
from sheetgen.exercises.kinds.views.question import lines_of
from sheetgen.exercises.kinds.views.task import Task
from sheetgen.problem import Problem
from sheetgen.sheet import Settings


def help_with(problem: Problem, settings: Settings, task: Task) -> Help:
    """What is asked, and how the answer's views stand."""
    layout = task.drawing.layout
    lines = lines_of(problem, settings, layout, task.picture.scale_name)
    return Help(task=tuple(filter(None, lines)), layout=layout)
