"""What helps those who draw the pictorial: three hints and a self-check, its construction, and lengths to be measured."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

import numpy as np

from sheetgen.exercises.construction.features import groups_of
from sheetgen.exercises.help import Help
from sheetgen.exercises.hints import Hints, ViewCheck, help_of, hint_pages
from sheetgen.exercises.hints import Length as Measured
from sheetgen.exercises.hints.looking import look
from sheetgen.exercises.kinds.pictorial.built import lines_by_group, stages_for
from sheetgen.exercises.kinds.pictorial.marked import sorted_lines
from sheetgen.exercises.kinds.pictorial.task import Task
from sheetgen.exercises.pieces import pieces_of
from sheetgen.exercises.roles import Particulars
from sheetgen.geometry import Array
from sheetgen.ink import Page
from sheetgen.measures.measures import number
from sheetgen.problem import Problem
from sheetgen.sheet import Settings
from sheetgen.sight import PlacedView
from sheetgen.templating.marking import SORTS

SIDE = {"left": "side", "right": "side"}


def hints_for(problem: Problem, settings: Settings, task: Task) -> Hints:
    """The hints: how to read the views and of what the part is made, how to begin, which lines are easily missed."""
    say, pieces, view = settings.wording.render, pieces_of(problem), task.figure.view
    wide, deep, high = (number(float(size)) for size in problem.solid.size)
    begin = (say("pictorial.begin", wide=wide, deep=deep, high=high, flank=task.flank), say("pictorial.then"))
    return Hints(
        (say("pictorial.think"), *look(problem, settings, task.drawing, pieces)), begin, tuple(_missed(problem, settings, task)),
        (_check(task),), tuple(lengths_for(view, settings)), task.drawing.layout.scale_name)


def _missed(problem: Problem, settings: Settings, task: Task) -> Iterator[str]:
    """How many lines lie where something is cut out, and what else is easily drawn wrong."""
    say, lines = settings.wording.render, sorted_lines(task.figure.view)
    cut = sum(group.pieces[0].cut for group in (groups_of(problem)[k] for k, _ in lines_by_group(problem, task)))
    if cut:
        yield say("pictorial.missed_inside", count=cut, all=len(lines))
    if any(line.sort == "sloping" for line in lines):
        yield say("pictorial.missed_slopes")
    if any(line.sort == "curves" for line in lines):
        yield say("pictorial.missed_curves")
    yield say("pictorial.missed_covered")


def _check(task: Task) -> ViewCheck:
    """The lines of the pictorial by sorts, and how wide and high it is."""
    view = task.figure.view
    lines, (low, high) = sorted_lines(view), view.view.extent
    wide, tall = (high - low).tolist()
    curves = sum(line.sort == "curves" for line in lines)
    counts = {**dict.fromkeys(SORTS, 0), "outlines": len(lines) - curves, "curves": curves,
              "centre": len(task.figure.centres)}
    return ViewCheck(view.view.name, counts, (wide, tall), (wide * view.scale, tall * view.scale))


def lengths_for(view: PlacedView, settings: Settings) -> Iterator[Measured]:
    """Five lengths that are printed nowhere, for only a drawing has them: across and up the whole of it, and the longer diagonals
    of the three faces of the box that show."""
    say, name = settings.wording.render, view.view.name
    low, high = view.view.extent
    for way, text in enumerate(("across", "up")):
        value = float(high[way] - low[way])
        yield Measured(name, say(f"pictorial.length_{text}"), value, value * view.scale, way, (float(low[way]), float(high[way])))
    for face in view.view.frame.shows:
        value = max(float(np.hypot(*(q - p))) for p, q in _diagonals(view, face))
        yield Measured(name, say(f"pictorial.length_{SIDE.get(face, face)}"), value, value * view.scale, None)


def _diagonals(view: PlacedView, face: str) -> Iterator[tuple[Array, Array]]:
    """The two diagonals of a face of the box in the view, from point to point (2,)."""
    size = view.view.solid.size
    axis, end = {"front": (1, 0.0), "top": (2, 1.0), "left": (0, 0.0), "right": (0, 1.0)}[face]
    one, other = (k for k in range(3) if k != axis)
    corners = {}
    for ends in product((0.0, 1.0), repeat=2):
        corner = np.zeros(3)
        corner[axis], corner[one], corner[other] = end * size[axis], ends[0] * size[one], ends[1] * size[other]
        corners[ends] = view.view.frame.flat(corner)
    yield corners[0.0, 0.0], corners[1.0, 1.0]
    yield corners[0.0, 1.0], corners[1.0, 0.0]


def hint_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Three hints and a self-check, on a page to be folded."""
    return hint_pages(problem, settings, hints_for(problem, settings, task), particulars)


def help_with(problem: Problem, settings: Settings, task: Task) -> Help:
    """What is asked, how the pictorial is built, the hints, and how a drawing of one's own is checked."""
    hints, stages = hints_for(problem, settings, task), stages_for(problem, settings, task)
    return help_of(settings, task.lines, hints, stages, task.drawing.layout)
