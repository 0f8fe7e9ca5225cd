"""What helps those who draw the views of the kind ``section``."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.exercises.construction import shown, thin_lines
from sheetgen.exercises.help import Help
from sheetgen.exercises.hints import help_of, hint_pages, hints_of
from sheetgen.exercises.hints.record import Hints
from sheetgen.exercises.kinds.section.built import section_stages
from sheetgen.exercises.kinds.section.task import SectionTask, lines_of
from sheetgen.exercises.roles import Particulars
from sheetgen.ink import Page
from sheetgen.problem import Problem
from sheetgen.sheet import Settings


def hint_sheet(problem: Problem, settings: Settings, task: SectionTask, particulars: Particulars) -> tuple[Page, ...]:
    """Three hints and a self-check, on a page to be folded; the first tells how to think of a section."""
    return hint_pages(problem, settings, _hints_for(problem, settings, task), particulars)


def help_with(problem: Problem, settings: Settings, task: SectionTask) -> Help:
    """What is asked, how its answer is built, the hints, and how a drawing of one's own is checked."""
    layout = task.drawing.layout
    lines = lines_of(problem, settings, task.cut, layout, task.picture.scale_name)
    built = section_stages(problem, settings, task)
    return help_of(settings, lines, _hints_for(problem, settings, task), shown(built, thin_lines(built)), layout)


def _hints_for(problem: Problem, settings: Settings, task: SectionTask) -> Hints:
    hints = hints_of(problem, settings, task.drawing, task.picture.view.view)
    return replace(hints, look=(settings.wording.render("section.think", letter=task.cut.letter), *hints.look))
