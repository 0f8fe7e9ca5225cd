"""Match pictorials and views: a pictorial and four candidates for a view or all views of it, or four pictorials and four sets."""

from __future__ import annotations

from sheetgen.exercises.kind import Kind
from sheetgen.exercises.kinds.match.pages import answer_pages, hint_sheet, marking_sheet, question_pages
from sheetgen.exercises.kinds.match.task import served, task_of
from sheetgen.exercises.roles import Role

KIND = Kind(
    name="match",
    mark="C",
    about="tell which view, or which set of views, belongs to a pictorial",
    shared=task_of,
    scale=lambda task: task.scale_name,
    pages={
        Role.QUESTION: question_pages, Role.ANSWER: answer_pages, Role.MARKING: marking_sheet, Role.HINTS: hint_sheet},
    of_every=False,
    serves=served,
)
