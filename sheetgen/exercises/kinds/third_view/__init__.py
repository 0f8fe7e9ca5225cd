"""Of two dimensioned views, draw the third: asked only where exactly one fits, or where each that fits is right."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.exercises.key import key_page
from sheetgen.exercises.kind import Kind
from sheetgen.exercises.kinds.third_view.helping import construction_sheets, help_with, hint_sheet, projector_sheet
from sheetgen.exercises.kinds.third_view.marked import marking_sheet, overlays
from sheetgen.exercises.kinds.third_view.pages import answer_pages, question_pages
from sheetgen.exercises.kinds.third_view.task import served, task_of
from sheetgen.exercises.roles import Role
from sheetgen.sheet import MISSING, Settings

HARDER, OF_ANY = 1.5, 0.5
"""What it adds to the index of difficulty that a part is read from two views; what it takes off that one of several answers is
enough (common practice, no source)."""


def _told(settings: Settings, option: int) -> Settings | None:
    """The settings that a code's option stands for, as ``Task.option`` makes it."""
    if not 1 <= option <= 2 * len(MISSING):
        return None
    view, several = divmod(option - 1, 2)
    return replace(settings, missing=MISSING[view], any_answer=bool(several))


KIND = Kind(
    name="third-view",
    mark="T",
    about="from two views with their sizes, draw the third",
    shared=task_of,
    scale=lambda task: task.drawing.layout.scale_name,
    pages={
        Role.QUESTION: question_pages, Role.ANSWER: answer_pages, Role.MARKING: marking_sheet, Role.OVERLAY: overlays,
        Role.HINTS: hint_sheet, Role.CONSTRUCTION: construction_sheets, Role.PROJECTORS: projector_sheet},
    answer=lambda problem, settings, task: key_page(problem, settings, task.drawing),
    read=lambda task: (task.drawing.read,),
    help=help_with,
    of_every=False,
    serves=served,
    adds=lambda settings: HARDER - (OF_ANY if settings.any_answer else 0.0),
    option=lambda task: task.option,
    told=_told,
)
