"""What helps those who draw the views of the kind ``section``."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.exercises.hints import hint_pages, hints_of
from sheetgen.exercises.kinds.section.task import SectionTask
from sheetgen.exercises.roles import Particulars
from sheetgen.ink import Page
from sheetgen.problem import Problem
from sheetgen.sheet import Settings


def hint_sheet(problem: Problem, settings: Settings, task: SectionTask, particulars: Particulars) -> tuple[Page, ...]:
    """Three hints and a self-check, on a page to be folded; the first tells how to think of a section."""
    hints = hints_of(problem, settings, task.drawing, task.picture.view.view)
    think = settings.wording.render("section.think", letter=task.cut.letter)
    return hint_pages(problem, settings, replace(hints, look=(think, *hints.look)), particulars)
