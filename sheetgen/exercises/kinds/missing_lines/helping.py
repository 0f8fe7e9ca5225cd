"""What helps those who look for missing lines: three hints and a self-check."""

from __future__ import annotations

from dataclasses import dataclass

from sheetgen.exercises.given.assumed import called
from sheetgen.exercises.help import Help
from sheetgen.exercises.hints import help_of, hint_pages
from sheetgen.exercises.hints.hints import view_check
from sheetgen.exercises.hints.landmarks import landmarks_of
from sheetgen.exercises.hints.lengths import lengths_of
from sheetgen.exercises.hints.places import place_of
from sheetgen.exercises.hints.record import Hints
from sheetgen.exercises.kinds.missing_lines.task import Task
from sheetgen.exercises.pieces import pieces_of
from sheetgen.exercises.roles import Particulars
from sheetgen.ink import Page
from sheetgen.problem import Problem
from sheetgen.projection import LineKind, Shape
from sheetgen.sheet import Settings


@dataclass(frozen=True, slots=True)
class _Told:
    """A line whose place is told: its ``shape``, and ``why`` as ``place_of`` asks."""

    shape: Shape
    why: str


def hints_for(problem: Problem, settings: Settings, task: Task) -> Hints:
    """The hints: how to look, where to begin, and where the shortest of the lines is."""
    say, drawing, lines = settings.wording.render, task.drawing, task.chosen.lines
    pieces = pieces_of(problem)
    landmarks = {view.view.name: landmarks_of(view, pieces, settings.wording) for view in drawing.views}
    first = max(drawing.views, key=lambda view: len(task.chosen.of(view.view.name)))
    short = min(lines, key=lambda line: (line.kind is not LineKind.HIDDEN, round(line.shape.length, 3)))
    home = next(view for view in drawing.views if view.view.name == short.view)
    told = _Told(short.shape, "hidden" if short.kind is LineKind.HIDDEN else "shortest")
    begin = (say("missing.begin", view=called(first.view.name, settings), count=len(task.chosen.of(first.view.name))),
             say("missing.carry"))
    return Hints(
        (say("missing.think"), say("missing.corners")), begin,
        (place_of([told], home, landmarks[short.view], settings),), tuple(map(view_check, drawing.views)),
        lengths_of(problem, settings, drawing, list(landmarks.values())), drawing.layout.scale_name)


def hint_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Three hints and a self-check, on a page to be folded."""
    return hint_pages(problem, settings, hints_for(problem, settings, task), particulars)


def help_with(problem: Problem, settings: Settings, task: Task) -> Help:
    """What is asked, the hints, and how a drawing of one's own is checked."""
    return help_of(settings, task.lines, hints_for(problem, settings, task), layout=task.drawing.layout)
