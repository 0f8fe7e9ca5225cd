"""How an auxiliary view is built: projectors square to the face's edge, distances stepped off from the reference line, the
points joined, curves through points; a page for each step, and the answer with all its projectors."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from sheetgen.exercises.construction import Part, Stage, earlier, ticks
from sheetgen.exercises.construction.texts import placed_texts
from sheetgen.exercises.construction.thin import clear_of_lines, clear_of_texts
from sheetgen.exercises.given.assumed import called
from sheetgen.exercises.kinds.auxiliary.dressing import AUXILIARY
from sheetgen.exercises.kinds.auxiliary.pages import answer_marks, findings
from sheetgen.exercises.kinds.auxiliary.task import Task
from sheetgen.exercises.page import page_of
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.geometry import Array
from sheetgen.geometry.arrays import IntArray
from sheetgen.ink import Mark, Page, Pen, Stroke
from sheetgen.problem import Problem
from sheetgen.projection import Free, LineKind, Shape, is_ellipse
from sheetgen.sheet import Settings
from sheetgen.sheet.viewmarks import view_marks

ON = 0.01
"""mm of the part: a corner no farther from a line lies on it; those of curves stray by less."""

POINTS = 7
"""Of a curve, at most, that are carried over."""

FAR = 1e6
"""mm: where corners are put that are none of a face alone."""

LEVEL = 3
"""Digits of a millimetre by which projectors are told apart."""


@dataclass(frozen=True, eq=False)
class Built:
    """What an auxiliary view is built of: corners of the part, by number, at the ends of its straight lines and circles, and
    on its curves."""

    task: Task

    @cached_property
    def lines(self) -> tuple[list[Shape], list[Shape]]:
        """Its visible lines: those that are drawn with ruler and compass, and those that go through points."""
        seen = self.task.folded.turned.placed.lines(LineKind.VISIBLE)
        curves: list[Shape] = [shape for shape in seen if isinstance(shape, Free) or is_ellipse(shape)]
        return [shape for shape in seen if not (isinstance(shape, Free) or is_ellipse(shape))], curves

    @cached_property
    def corners(self) -> IntArray:
        """Those at the ends of lines."""
        found = [k for shape in self.lines[0] for end in (shape.first, shape.last) for k in self._near(end[None])]
        return np.unique(np.array(found, dtype=np.int64))

    @cached_property
    def on_curves(self) -> IntArray:
        """Those on curves, evenly spread."""
        found: list[int] = []
        for shape in self.lines[1]:
            line = shapely.LineString(shape.points())
            on = np.flatnonzero(shapely.distance(line, shapely.points(self._flat)) < ON)
            on = on[np.argsort(shapely.line_locate_point(line, shapely.points(self._flat[on])), kind="stable")]
            spread = np.linspace(0, len(on) - 1, min(POINTS, len(on))).round().astype(int)
            found += on[np.unique(spread)].tolist()
        return np.unique(np.array(found, dtype=np.int64))

    def places(self, which: IntArray) -> Array:
        """Where corners lie in the auxiliary view, on the sheet (n, 2)."""
        return self.task.folded.turned.paper(self.task.asked.view.flat[which])

    def projectors(self, which: IntArray, *, finished: bool = False) -> list[Stroke]:
        """A thin line for each level of corners, from where it is nearest in the view beside to its farthest point; ``finished``:
        no farther than to where lines of the view lead on."""
        carried, turned, view = self.task.folded.carried, self.task.folded.turned, self.task.asked.view
        starts = turned.home.paper(view.solid.vertices[which])
        found: dict[float, list[int]] = {}
        for k, level in enumerate((starts @ turned.along).tolist()):
            found.setdefault(round(level, LEVEL), []).append(k)
        lines = list[Stroke]()
        for _, some in sorted(found.items()):
            start = max(starts[some], key=lambda p: round(float(p @ turned.away), LEVEL))
            flat = view.flat[which[some]]
            reach = carried.reach(flat) if finished else float(turned.from_line(turned.paper(flat)).max())
            lines.append(Stroke(carried.projector(start, reach), Pen.CONSTRUCTION))
        return lines

    def _near(self, points: Array) -> list[int]:
        away = np.abs(self._flat[:, None] - points).max(axis=2)
        return np.flatnonzero((away < ON).any(axis=1)).tolist()

    @cached_property
    def _flat(self) -> Array:
        """The part's corners in the view; of a face alone those that do not lie on it are out of reach."""
        view = self.task.asked.view
        if self.task.asked.whole:
            return view.flat
        off = np.abs(view.solid.vertices @ view.frame.toward - self.task.asked.face.level) > ON
        return np.where(off[:, None], FAR, view.flat)


def steps_of(problem: Problem, settings: Settings, task: Task) -> tuple[Stage, ...]:
    """The steps, each with what is new."""
    return tuple(_numbered(list(_steps(settings, task)), settings))


def _numbered(steps: Sequence[tuple[Part, str, list[str], list[Mark], list[Stroke]]], settings: Settings) -> Iterator[Stage]:
    say = settings.wording.render
    for number, (part, name, sentences, new, thin) in enumerate(steps, 1):
        heading = say("construction.heading", step=number, steps=len(steps), what=say(f"auxiliary.step_{name}"))
        yield Stage(part, AUXILIARY, heading, tuple(sentences), (), (), (), np.zeros((0, 2)), tuple(new), tuple(thin))


def _steps(settings: Settings, task: Task) -> Iterator[tuple[Part, str, list[str], list[Mark], list[Stroke]]]:
    say, built, folded, whole = settings.wording.render, Built(task), task.folded, task.asked.whole
    first, second = (called(view, settings) for view in task.asked.views)
    of = "whole" if whole else "partial"
    (plain, curves), equal = built.lines, folded.distances(task.drawing.marks)
    yield (Part.VIEW, "project", [say(f"auxiliary.project_{of}", first=first)], [], built.projectors(built.corners))
    yield (Part.VIEW, "distances", [say("auxiliary.distances", second=second), say("auxiliary.nearest", second=second)],
           [] if curves else equal, _ticks(built.places(built.corners)))
    turned = folded.turned
    drawn = {kind: turned.turn(_strokes(task, kind)) for kind in (Pen.OUTLINE, Pen.HIDDEN, Pen.CENTRE)}
    order = turned.placed.lines(LineKind.VISIBLE)
    by_shape = dict(zip(map(id, order), drawn[Pen.OUTLINE], strict=True))
    if plain:
        yield (Part.VIEW, "join", [say(f"auxiliary.join_{of}")], [by_shape[id(shape)] for shape in plain], [])
    if curves:
        more = np.setdiff1d(built.on_curves, built.corners)
        yield (Part.CURVES, "curves", [say("auxiliary.curves", first=first, second=second)],
               [*equal, *(by_shape[id(shape)] for shape in curves)],
               [*built.projectors(more), *_ticks(built.places(more))])
    if drawn[Pen.HIDDEN]:
        yield Part.HIDDEN, "hidden", [say("auxiliary.behind")], drawn[Pen.HIDDEN], []
    there = [*task.drawing.marks, *equal, *turned.marks(), folded.name]
    rest: list[Mark] = [*drawn[Pen.CENTRE], folded.name, *findings(settings, task, there)]
    yield Part.SIZES, "finish", [say(f"auxiliary.finish_{of}")], rest, []


def _strokes(task: Task, pen: Pen) -> list[Mark]:
    """The lines of the view that are drawn with one pen, in its own order."""
    return [mark for mark in view_marks(task.folded.turned.placed) if isinstance(mark, Stroke) and mark.pen is pen]


def _ticks(points: Array) -> list[Stroke]:
    """A cross at each point, those of one place once."""
    return ticks(points[np.unique(points.round(1), axis=0, return_index=True)[1]] if len(points) else points)


def construction_sheets(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """A page for each step: what is new in the answer's pens, what was there in the next narrower ones, all thin lines so
    far."""
    steps = steps_of(problem, settings, task)
    drawings = [[*thin, *earlier(_before(task, steps, number)), *steps[number].new]
                for number, thin in enumerate(thin_of(task, steps))]
    texts, apart = placed_texts(steps, drawings, settings)
    scale = task.drawing.layout.scale_name
    return tuple(page_of(problem, settings, Role.CONSTRUCTION, scale, particulars, marks)
                 for marks in (*apart, *([*marks, *text] for marks, text in zip(drawings, texts, strict=True))))


def thin_of(task: Task, steps: Sequence[Stage]) -> list[list[Stroke]]:
    """The thin lines that are shown with each step: its own and those before, clear of its lines and of figures."""
    found = list[list[Stroke]]()
    for number in range(len(steps)):
        thin = [stroke for step in steps[:number + 1] for stroke in step.construction]
        there = [*_before(task, steps, number), *steps[number].new]
        found.append(clear_of_texts(clear_of_lines(thin, there), there))
    return found


def projector_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """The answer with the projectors of all its points."""
    built, there = Built(task), answer_marks(settings, task, bare=True)
    thin = built.projectors(np.union1d(built.corners, built.on_curves), finished=True)
    marks = [*clear_of_texts(clear_of_lines(thin, there), there), *there]
    return (page_of(problem, settings, Role.PROJECTORS, task.drawing.layout.scale_name, particulars, marks),)


def _before(task: Task, steps: Sequence[Stage], number: int) -> list[Mark]:
    return [*task.drawing.marks, *(mark for step in steps[:number] for mark in step.new)]
