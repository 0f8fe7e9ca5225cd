"""A page of an exercise: its drawing and its words, with frame, title block and check bar."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sheetgen.exercises.cells import cells_of, places_of
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.ink import Mark, Page, dashed
from sheetgen.problem import Problem
from sheetgen.sheet import Settings
from sheetgen.sheet.furniture import bare_furniture, furniture


def page_of(
    problem: Problem, settings: Settings, role: Role, scale: str, particulars: Particulars, drawing: Sequence[Mark] = (),
    text: Sequence[Mark] = (),
) -> Page:
    """One page. ``scale``: what the title block says, on every sheet of an exercise the scale at which its answer is drawn;
    ``drawing``: views, sizes and what stands among them, which the centring marks keep clear of; ``text``: what stands apart.

    Raises: TemplateError for a title block that cannot hold what it should.
    """
    paper, values, places = settings.paper, cells_of(problem, settings, role, scale, particulars), places_of(settings, role)
    return Page(paper.width, paper.height, [*furniture(settings, values, drawing, places), *dashed(drawing), *text])


def two_sheets(particulars: Particulars) -> tuple[Particulars, Particulars]:
    """What is said on the two pages of a question: sheet 1 and 2 of 2. In a set the number of a sheet is that of its problem, and
    both have it."""
    if particulars.sheets > 1:
        return particulars, particulars
    return replace(particulars, sheets=2), replace(particulars, sheet=2, sheets=2)


def bare_page_of(settings: Settings, drawing: Sequence[Mark]) -> Page:
    """One page without a title block, for a drawing that needs its place."""
    paper = settings.paper
    return Page(paper.width, paper.height, [*bare_furniture(settings, drawing), *dashed(drawing)])
