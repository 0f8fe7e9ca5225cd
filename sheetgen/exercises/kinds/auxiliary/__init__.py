"""Of two dimensioned views, draw the true shape of an inclined face, or the whole auxiliary view square to it."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.exercises.kind import Kind
from sheetgen.exercises.kinds.auxiliary.built import construction_sheets, projector_sheet
from sheetgen.exercises.kinds.auxiliary.helping import help_with, hint_sheet
from sheetgen.exercises.kinds.auxiliary.marked import marking_sheet, overlays
from sheetgen.exercises.kinds.auxiliary.pages import answer_pages, key, question_pages
from sheetgen.exercises.kinds.auxiliary.task import served, task_of
from sheetgen.exercises.roles import Role
from sheetgen.sheet import Settings

HARDER, OF_WHOLE = 1.0, 1.5
"""What it adds to the index of difficulty that a view stands aslant; what more that all of the part is drawn there (common
practice, no source)."""

OPTIONS = {1: False, 2: True}
"""Whether the whole part is asked for, by what codes have of it."""


def _told(settings: Settings, option: int) -> Settings | None:
    """The settings that a code's option stands for."""
    return replace(settings, whole=OPTIONS[option]) if option in OPTIONS else None


KIND = Kind(
    name="auxiliary",
    mark="X",
    about="from two views with their sizes, draw the true shape of an inclined face, or the whole view square to it",
    shared=task_of,
    scale=lambda task: task.drawing.layout.scale_name,
    pages={
        Role.QUESTION: question_pages, Role.ANSWER: answer_pages, Role.MARKING: marking_sheet, Role.OVERLAY: overlays,
        Role.HINTS: hint_sheet, Role.CONSTRUCTION: construction_sheets, Role.PROJECTORS: projector_sheet},
    answer=key,
    read=lambda task: (task.read,),
    help=help_with,
    of_every=False,
    serves=served,
    adds=lambda settings: HARDER + (OF_WHOLE if settings.whole else 0.0),
    option=lambda task: task.option,
    told=_told,
)
