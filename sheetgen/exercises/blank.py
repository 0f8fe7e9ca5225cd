"""The blank sheet, on which the answer is drawn: frame, check bar, and the title block with the scale."""

from __future__ import annotations

from sheetgen.exercises.cells import cells_of
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.ink import Page
from sheetgen.problem import Problem
from sheetgen.sheet import Settings
from sheetgen.sheet.furniture import furniture


def blank_pages(problem: Problem, settings: Settings, scale: str, particulars: Particulars) -> tuple[Page, ...]:
    """One page; ``scale``: at which the answer is to be drawn, as the title block says it."""
    paper, values = settings.paper, cells_of(problem, settings, Role.BLANK, scale, particulars)
    return (Page(paper.width, paper.height, furniture(settings, values, ())),)
