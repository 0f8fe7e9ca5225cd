"""What helps those who draw the views of the kind ``views``, on paper and on a page for practice."""

from __future__ import annotations

from sheetgen.exercises.construction import stages_of, thin_lines
from sheetgen.exercises.help import Help, Length, Stage
from sheetgen.exercises.hints import hint_pages, hints_of
from sheetgen.exercises.kinds.views.question import lines_of
from sheetgen.exercises.kinds.views.task import Task
from sheetgen.exercises.roles import Particulars
from sheetgen.ink import Page, dashed
from sheetgen.problem import Problem
from sheetgen.sheet import Settings


def hint_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Three hints and a self-check, on a page to be folded."""
    hints = hints_of(problem, settings, task.drawing, task.picture.view.view)
    return hint_pages(problem, settings, hints, particulars)


def help_with(problem: Problem, settings: Settings, task: Task) -> Help:
    """What is asked, how its answer is built, the hints, and how a drawing of one's own is checked."""
    drawing, say = task.drawing, settings.wording.render
    lines = lines_of(problem, settings, drawing.layout, task.picture.scale_name)
    built = stages_of(problem, settings, drawing)
    stages = tuple(Stage(tuple(dashed(stage.new)), stage.heading, stage.sentences, tuple(thin))
                   for stage, thin in zip(built, thin_lines(built), strict=True))
    hints = hints_of(problem, settings, drawing, task.picture.view.view)
    lengths = tuple(Length(say("pack.length", view=say(f"views.{length.view}"), what=length.words), length.paper)
                    for length in hints.lengths)
    return Help(tuple(filter(None, lines)), stages, (hints.look, hints.begin, hints.missed), lengths, drawing.layout)
