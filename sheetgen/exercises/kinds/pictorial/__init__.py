"""Of three dimensioned views, draw the pictorial, isometric or oblique: asked only where one part alone fits the views."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.exercises.key import reduced
from sheetgen.exercises.kind import Kind
from sheetgen.exercises.kinds.pictorial.built import construction_sheets, projector_sheet
from sheetgen.exercises.kinds.pictorial.helping import help_with, hint_sheet
from sheetgen.exercises.kinds.pictorial.marked import marking_sheet, overlays
from sheetgen.exercises.kinds.pictorial.pages import answer_pages, blank_pages, question_pages
from sheetgen.exercises.kinds.pictorial.task import served, task_of
from sheetgen.exercises.roles import Role
from sheetgen.sheet import DRAWN, Settings

HARDER, OBLIQUE, ON_GRID = 0.5, -0.3, -0.2
"""What it adds to the index of difficulty that a part is read from three views and drawn in one; what an oblique pictorial, whose
front stands as in the front view, and a grid add to that (common practice, no source)."""


def _told(settings: Settings, option: int) -> Settings | None:
    """The settings that a code's option stands for, as ``Task.option`` makes it."""
    if not 0 <= option < 2 * len(DRAWN):
        return None
    drawn, grid = divmod(option, 2)
    return replace(settings, drawn=DRAWN[drawn], grid=bool(grid))


KIND = Kind(
    name="pictorial",
    mark="P",
    about="from three views with their sizes, draw the pictorial",
    shared=task_of,
    scale=lambda task: task.drawing.layout.scale_name,
    pages={
        Role.QUESTION: question_pages, Role.ANSWER: answer_pages, Role.BLANK: blank_pages, Role.MARKING: marking_sheet,
        Role.OVERLAY: overlays, Role.HINTS: hint_sheet, Role.CONSTRUCTION: construction_sheets, Role.PROJECTORS: projector_sheet},
    answer=lambda problem, settings, task: reduced([*task.figure.centres, *task.figure.lines], 0.5),
    read=lambda task: (task.drawing.read,),
    help=help_with,
    of_every=False,
    serves=served,
    adds=lambda settings: HARDER + (OBLIQUE if settings.drawn != "isometric" else 0.0) + (ON_GRID if settings.grid else 0.0),
    option=lambda task: 2 * DRAWN.index(task.figure.view.view.name) + task.on_grid,
    told=_told,
)
