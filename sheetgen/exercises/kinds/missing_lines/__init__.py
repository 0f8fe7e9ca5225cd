"""Of three views lines have been left out, and their number is told: put them back. Asked only where one set of lines fits."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.exercises.key import reduced
from sheetgen.exercises.kind import Kind
from sheetgen.exercises.kinds.missing_lines.helping import help_with, hint_sheet
from sheetgen.exercises.kinds.missing_lines.pages import answer_pages, marking_sheet, overlays, question_pages
from sheetgen.exercises.kinds.missing_lines.task import served, task_of
from sheetgen.exercises.roles import Role

HARDER, WITH_PICTORIAL = 1.0, 0.3
"""What it adds to the index of difficulty that a part is read from incomplete views, and with its pictorial beside them (common
practice, no source)."""

KIND = Kind(
    name="missing-lines",
    mark="L",
    about="put back the lines that are missing from three views",
    shared=task_of,
    scale=lambda task: task.drawing.layout.scale_name,
    pages={
        Role.QUESTION: question_pages, Role.ANSWER: answer_pages, Role.MARKING: marking_sheet, Role.OVERLAY: overlays,
        Role.HINTS: hint_sheet},
    answer=lambda problem, settings, task: reduced([*task.drawing.marks, *task.numbers], 0.5),
    help=help_with,
    of_every=False,
    serves=served,
    adds=lambda settings: WITH_PICTORIAL if settings.pictorial else HARDER,
    option=lambda task: int(bool(task.beside)),
    told=lambda settings, option: replace(settings, pictorial=bool(option)) if option in (0, 1) else None,
)
