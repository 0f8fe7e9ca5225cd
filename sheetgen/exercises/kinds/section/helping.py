"""What helps those who draw the views of the kind ``section``."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.exercises.construction import thin_lines
from sheetgen.exercises.help import Help, Length
from sheetgen.exercises.help import Stage as Shown
from sheetgen.exercises.hints import hint_pages, hints_of
from sheetgen.exercises.hints.record import Hints
from sheetgen.exercises.kinds.section.built import section_stages
from sheetgen.exercises.kinds.section.task import SectionTask, lines_of
from sheetgen.exercises.roles import Particulars
from sheetgen.ink import Page, dashed
from sheetgen.problem import Problem
from sheetgen.sheet import Settings


def hint_sheet(problem: Problem, settings: Settings, task: SectionTask, particulars: Particulars) -> tuple[Page, ...]:
    """Three hints and a self-check, on a page to be folded; the first tells how to think of a section."""
    return hint_pages(problem, settings, _hints_for(problem, settings, task), particulars)


def help_with(problem: Problem, settings: Settings, task: SectionTask) -> Help:
    """What is asked, how its answer is built, the hints, and how a drawing of one's own is checked."""
    drawing, say = task.drawing, settings.wording.render
    lines = lines_of(problem, settings, task.cut, drawing.layout, task.picture.scale_name)
    built = section_stages(problem, settings, task)
    stages = tuple(Shown(tuple(dashed(stage.new)), stage.heading, stage.sentences, tuple(thin))
                   for stage, thin in zip(built, thin_lines(built), strict=True))
    hints = _hints_for(problem, settings, task)
    lengths = tuple(Length(say("pack.length", view=say(f"views.{length.view}"), what=length.words), length.paper)
                    for length in hints.lengths)
    return Help(tuple(filter(None, lines)), stages, (hints.look, hints.begin, hints.missed), lengths, drawing.layout)


def _hints_for(problem: Problem, settings: Settings, task: SectionTask) -> Hints:
    hints = hints_of(problem, settings, task.drawing, task.picture.view.view)
    return replace(hints, look=(settings.wording.render("section.think", letter=task.cut.letter), *hints.look))
