"""What helps those who draw an auxiliary view: three hints and a self-check, on paper and on a page for practice."""

from __future__ import annotations

import math

from sheetgen.exercises.construction import shown
from sheetgen.exercises.given.assumed import called
from sheetgen.exercises.help import Help
from sheetgen.exercises.hints import help_of, hint_pages
from sheetgen.exercises.hints.hints import view_check
from sheetgen.exercises.hints.record import Hints, Length
from sheetgen.exercises.kinds.auxiliary.built import steps_of, thin_of
from sheetgen.exercises.kinds.auxiliary.dressing import AUXILIARY
from sheetgen.exercises.kinds.auxiliary.task import Task
from sheetgen.exercises.roles import Particulars
from sheetgen.ink import Page
from sheetgen.problem import Problem
from sheetgen.sheet import Settings


def hints_for(problem: Problem, settings: Settings, task: Task) -> Hints:
    """The hints: what an auxiliary view is, how to begin, what is often done wrong."""
    say, turned = settings.wording.render, task.folded.turned
    first, second = (called(view, settings) for view in task.asked.views)
    of = "whole" if task.asked.whole else "partial"
    look = (say("auxiliary.think", first=first), say("auxiliary.think_second", first=first, second=second))
    begin = (say(f"auxiliary.project_{of}", first=first), say("auxiliary.distances", second=second))
    missed = (say("auxiliary.nearest", second=second), say("auxiliary.square"))
    return Hints(look, begin, missed, (view_check(turned.placed),), lengths_of(settings, task), task.drawing.layout.scale_name,
                 "auxiliary.missed")


def lengths_of(settings: Settings, task: Task) -> tuple[Length, ...]:
    """What can be measured, as the wording's ``auxiliary.measure_`` calls it: how long and how wide the view is, and its
    distances from the reference line."""
    turned = task.folded.turned
    low, high, near, far = turned.box()
    long, wide = high - low, far - near
    values = {"along": long, "across": wide, "diagonal": math.hypot(long, wide), "nearest": near, "farthest": far}
    return tuple(Length(AUXILIARY, settings.wording.render(f"auxiliary.measure_{name}"), value / turned.scale, value, None)
                 for name, value in values.items())


def hint_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Three hints and a self-check, on a page to be folded."""
    return hint_pages(problem, settings, hints_for(problem, settings, task), particulars)


def help_with(problem: Problem, settings: Settings, task: Task) -> Help:
    """What is asked, how it is built, the hints, and how a drawing of one's own is checked."""
    steps = steps_of(problem, settings, task)
    return help_of(settings, task.lines, hints_for(problem, settings, task),
                   shown(steps, thin_of(task, steps), task.drawing.marks))
