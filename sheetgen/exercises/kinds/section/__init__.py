"""From a dimensioned pictorial, draw the views, one of them in section: full, half, or along a plane that turns."""

from __future__ import annotations

from sheetgen.exercises.key import key_page
from sheetgen.exercises.kind import Kind
from sheetgen.exercises.kinds.section.built import construction_sheets, projector_sheet
from sheetgen.exercises.kinds.section.helping import help_with, hint_sheet
from sheetgen.exercises.kinds.section.task import task_of
from sheetgen.exercises.kinds.views.answer import answer_pages
from sheetgen.exercises.kinds.views.marked import marking_sheet, overlays
from sheetgen.exercises.kinds.views.question import question_pages
from sheetgen.exercises.roles import Role

KIND = Kind(
    name="section",
    mark="S",
    about="from a pictorial with its sizes, draw the views, one of them in section",
    shared=task_of,
    scale=lambda task: task.drawing.layout.scale_name,
    pages={
        Role.QUESTION: question_pages, Role.ANSWER: answer_pages, Role.MARKING: marking_sheet, Role.OVERLAY: overlays,
        Role.HINTS: hint_sheet, Role.CONSTRUCTION: construction_sheets, Role.PROJECTORS: projector_sheet},
    answer=lambda problem, settings, task: key_page(problem, settings, task.drawing),
    by_parts=True,
    read=lambda task: (task.picture.read, task.drawing.read),
    help=help_with,
)
