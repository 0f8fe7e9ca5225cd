"""What helps those who draw the third view: three hints and a self-check, its construction, and all projectors."""

from __future__ import annotations

from sheetgen.exercises.construction import construction_pages, projector_pages, shown, stages_of, thin_lines
from sheetgen.exercises.given.assumed import called
from sheetgen.exercises.help import Help
from sheetgen.exercises.hints import help_of, hint_pages
from sheetgen.exercises.hints.hints import view_check
from sheetgen.exercises.hints.landmarks import landmarks_of
from sheetgen.exercises.hints.lengths import lengths_of
from sheetgen.exercises.hints.looking import look
from sheetgen.exercises.hints.overlooked import overlooked
from sheetgen.exercises.hints.record import Hints
from sheetgen.exercises.kinds.third_view.marked import alone
from sheetgen.exercises.kinds.third_view.task import Task
from sheetgen.exercises.pieces import pieces_of
from sheetgen.exercises.roles import Particulars
from sheetgen.ink import Page
from sheetgen.measures.measures import number
from sheetgen.problem import Problem
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Settings


def hints_for(problem: Problem, settings: Settings, task: Task) -> Hints:
    """The hints of the third view. The pictorial is none that the student has: it tells which lines are not plain to see."""
    say, pieces, one = settings.wording.render, pieces_of(problem), alone(task)
    try:
        pictorial = problem.pictorial.view
    except RefusedError:
        pictorial = problem.view("isometric")
    landmarks = [landmarks_of(task.third, pieces, settings.wording)]
    first, second = (called(view, settings) for view in task.asked.given)
    wide, high = (number(float(size)) for size in task.third.view.extent[1] - task.third.view.extent[0])
    begin = (say("third.box", view=called(task.asked.view, settings), wide=wide, high=high),
             say("third.carry", first=first, second=second, turned="no" if task.asked.view == "front" else "yes"))
    return Hints(
        (say("third.think", first=first, second=second), *look(problem, settings, task.drawing, pieces)), begin,
        tuple(overlooked(settings, one, pictorial, pieces, landmarks)), (view_check(task.third),),
        lengths_of(problem, settings, one, landmarks), task.drawing.layout.scale_name)


def hint_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Three hints and a self-check, on a page to be folded."""
    return hint_pages(problem, settings, hints_for(problem, settings, task), particulars)


def construction_sheets(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """A page for each stage of the third view."""
    return construction_pages(problem, settings, task.drawing, particulars, task.asked.view)


def projector_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """The answer with the projectors of the third view."""
    return projector_pages(problem, settings, task.drawing, particulars, task.asked.view)


def help_with(problem: Problem, settings: Settings, task: Task) -> Help:
    """What is asked, how the third view is built, the hints, and how a drawing of one's own is checked."""
    given = task.drawing.marks_with(task.given)
    built = stages_of(problem, settings, task.drawing, task.asked.view)
    stages = shown(built, thin_lines(built, given, finished=False), given)
    return help_of(settings, task.lines, hints_for(problem, settings, task), stages, task.drawing.layout)
