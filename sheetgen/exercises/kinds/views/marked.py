"""What the marker of the kind ``views`` has: the scheme with the lines numbered, and the views on film."""

from __future__ import annotations

from sheetgen.exercises.kinds.views.task import Task
from sheetgen.exercises.marking.overlay import overlay_pages
from sheetgen.exercises.marking.pages import marking_pages
from sheetgen.exercises.roles import Particulars
from sheetgen.ink import Page
from sheetgen.problem import Problem
from sheetgen.sheet import Settings


def marking_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """The scheme of the answer. Raises: MarkingError if it has no room."""
    return marking_pages(problem, settings, task.drawing, task.picture.view.view, particulars)


def overlays(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Each view of the answer on film."""
    return overlay_pages(problem, settings, task.drawing, particulars)
