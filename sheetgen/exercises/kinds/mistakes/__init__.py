"""Find what is wrong with a drawing: the part is given with its sizes, and its views with so many mistakes."""

from __future__ import annotations

from sheetgen.exercises.kind import Kind
from sheetgen.exercises.kinds.mistakes.pages import answer_pages, hint_sheet, marking_sheet, question_pages
from sheetgen.exercises.kinds.mistakes.task import task_of
from sheetgen.exercises.roles import Role

KIND = Kind(
    name="mistakes",
    mark="E",
    about="find and correct the mistakes in a drawing of the part shown",
    shared=task_of,
    scale=lambda task: task.drawing.layout.scale_name,
    pages={Role.QUESTION: question_pages, Role.ANSWER: answer_pages, Role.MARKING: marking_sheet, Role.HINTS: hint_sheet},
    read=lambda task: (task.picture.read, task.made.base.read, task.drawing.read),
    of_every=False,
)
