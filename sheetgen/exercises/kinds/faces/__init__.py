"""Find the faces of a pictorial in the views: letters there, numbers here, and a table to be filled in."""

from __future__ import annotations

from sheetgen.exercises.kind import Kind
from sheetgen.exercises.kinds.faces.pages import answer_pages, hint_sheet, marking_sheet, question_pages
from sheetgen.exercises.kinds.faces.task import served, task_of
from sheetgen.exercises.roles import Role

KIND = Kind(
    name="faces",
    mark="F",
    about="find the faces of a pictorial in its views, by letters and numbers",
    shared=task_of,
    scale=lambda task: task.scale_name,
    pages={Role.QUESTION: question_pages, Role.ANSWER: answer_pages, Role.MARKING: marking_sheet, Role.HINTS: hint_sheet},
    of_every=False,
    serves=served,
)
