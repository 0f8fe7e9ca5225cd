"""How the answer of the kind ``views`` is built: its stages, and all its projectors."""

from __future__ import annotations

from sheetgen.exercises.construction import construction_pages, projector_pages
from sheetgen.exercises.kinds.views.task import Task
from sheetgen.exercises.roles import Particulars
from sheetgen.ink import Page
from sheetgen.problem import Problem
from sheetgen.sheet import Settings


def construction_sheets(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """A page for each stage."""
    return construction_pages(problem, settings, task.drawing, particulars)


def projector_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """The answer with its projectors."""
    return projector_pages(problem, settings, task.drawing, particulars)
