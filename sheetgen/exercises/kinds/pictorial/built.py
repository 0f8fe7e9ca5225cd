"""How the pictorial is built: its box, piece by piece what is set off along the axes, then curves, and what is left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from sheetgen.exercises.construction import earlier, shown
from sheetgen.exercises.construction.features import Group, groups_of
from sheetgen.exercises.construction.lines import answer_lines
from sheetgen.exercises.construction.record import AnswerLine
from sheetgen.exercises.construction.texts import placed_texts
from sheetgen.exercises.help import Stage
from sheetgen.exercises.kinds.pictorial.circles import circles_of, is_round
from sheetgen.exercises.kinds.pictorial.figure import Figure, box_round
from sheetgen.exercises.kinds.pictorial.marked import alone
from sheetgen.exercises.kinds.pictorial.pages import finished
from sheetgen.exercises.kinds.pictorial.task import Task, rhombi_of
from sheetgen.exercises.kinds.pictorial.thin import clear_of_ink
from sheetgen.exercises.page import page_of
from sheetgen.exercises.pieces import Piece, own
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.exercises.surfaces import limits
from sheetgen.geometry import Array
from sheetgen.ink import Mark, Page, Stroke
from sheetgen.measures.measures import number
from sheetgen.problem import Problem
from sheetgen.projection import Straight
from sheetgen.sheet import Settings
from sheetgen.units import SAME_POINT

MOST_TOLD = 4
"""Pieces of a stage of which it is told how far they reach."""


@dataclass(frozen=True, eq=False)
class Step:
    """What a stage adds: ``new`` in the answer's pens, and ``thin`` lines; and what it says. ``own``: thin lines that are shown
    with it alone."""

    heading: str
    sentences: tuple[str, ...]
    new: tuple[Mark, ...]
    thin: tuple[Stroke, ...] = ()
    own: tuple[Stroke, ...] = ()


def lines_by_group(problem: Problem, task: Task) -> Iterator[tuple[int, AnswerLine]]:
    """The lines of the pictorial, each with the number of the group of pieces for whose sake it is drawn."""
    for line in answer_lines(alone(task), groups_of(problem)):
        yield max(line.group, 0), line


def steps_of(problem: Problem, settings: Settings, task: Task) -> tuple[Step, ...]:
    """The stages in their order."""
    say = settings.wording.render
    steps = list(_steps(problem, settings, task))
    return tuple(replace(step, heading=say("construction.heading", step=k, steps=len(steps), what=step.heading))
                 for k, step in enumerate(steps, 1))


def _steps(problem: Problem, settings: Settings, task: Task) -> Iterator[Step]:
    """The stages, each with what it is of as its heading."""
    say, figure = settings.wording.render, task.figure
    lines = list(lines_by_group(problem, task))
    yield Step(say("pictorial.stage_box"), tuple(_of_box(problem, settings, task)), (), tuple(figure.box))
    for k, group in enumerate(groups_of(problem)):
        mine = tuple(line.mark for of, line in lines if of == k and isinstance(line.shape, Straight))
        if mine:
            boxes = tuple(stroke for _, low, high in _boxes(problem, group) for stroke in box_round(figure.view, low, high))
            yield Step(group.called(settings.wording), tuple(_of_group(problem, settings, group)), mine, own=boxes)
    curves = tuple(line.mark for _, line in lines if not isinstance(line.shape, Straight))
    if curves:
        yield Step(say("pictorial.stage_curves"), tuple(_of_curves(settings, figure)), curves, tuple(figure.rhombi))
    last = say("pictorial.build_last", arrow=say("letters.arrow_front"), centred="yes" if figure.centres else "no")
    yield Step(say("pictorial.stage_last"), (last,), (*figure.centres, *figure.arrow))


def _of_box(problem: Problem, settings: Settings, task: Task) -> Iterator[str]:
    say, scale_name = settings.wording.render, task.drawing.layout.scale_name
    wide, deep, high = (number(float(size)) for size in problem.solid.size)
    yield say("pictorial.begin", wide=wide, deep=deep, high=high, flank=task.flank)
    yield say(f"pictorial.along_{task.figure.view.view.name}")
    if scale_name != "1:1":
        yield say("construction.to_scale", scale=scale_name)


def _boxes(problem: Problem, group: Group) -> Iterator[tuple[Piece, Array, Array]]:
    """Of its pieces that do not fill the whole box those of which it is told how far they reach: the lowest and the highest
    corner (3,) of what is left of them."""
    for piece in [piece for piece in group.pieces if piece.count == 1][:MOST_TOLD]:
        low, high = limits(problem.solid, own(problem.solid, piece))
        if (low > SAME_POINT).any() or (high < problem.solid.size - SAME_POINT).any():
            yield piece, low, high


def _of_group(problem: Problem, settings: Settings, group: Group) -> Iterator[str]:
    """How far each of its pieces reaches along the axes."""
    say, told = settings.wording.render, list(_boxes(problem, group))
    for piece, low, high in told:
        wide, deep, tall = (say("pictorial.span", start=number(round(float(a), 1)), end=number(round(float(b), 1)))
                            for a, b in zip(low, high, strict=True))
        yield say("pictorial.build_piece", what=piece.called(settings.wording, first=True), wide=wide, deep=deep, high=tall)
    yield say("pictorial.build_edges" if told else "pictorial.build_whole")


def _of_curves(settings: Settings, figure: Figure) -> Iterator[str]:
    say = settings.wording.render
    round_ones = any(is_round(figure.view, circle) for circle in circles_of(figure.view))
    if figure.rhombi or not round_ones:
        yield say("pictorial.build_circles", rhombi=rhombi_of(figure))
        if not figure.view.view.frame.oblique:
            yield say("pictorial.build_four_centres")
            yield say("pictorial.build_two_centres")
    if round_ones:
        yield say("pictorial.build_round")


def construction_sheets(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """A page for each stage: new lines with the answer's pens, those before in the narrower ones, thin lines 0.13; the last has
    the answer's pens throughout."""
    steps = steps_of(problem, settings, task)
    drawings = [*([*_thin(steps, k), *_so_far(steps, k)] for k in range(len(steps) - 1)), task.figure.marks]
    texts, lists = placed_texts(steps, drawings, settings)
    page = partial(page_of, problem, settings, Role.CONSTRUCTION, task.drawing.layout.scale_name, particulars)
    return (*(page(marks) for marks in lists), *(page([*marks, *text]) for marks, text in zip(drawings, texts, strict=True)))


def projector_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """The pictorial with the thin lines of all its stages, those too that are else shown with one alone."""
    thin = [stroke for step in steps_of(problem, settings, task) for stroke in (*step.thin, *step.own)]
    drawn = [*clear_of_ink(thin, task.figure.bare), *task.figure.bare]
    marks = finished(settings, task, drawn, "thin_pieces")
    return (page_of(problem, settings, Role.PROJECTORS, task.drawing.layout.scale_name, particulars, marks),)


def stages_for(problem: Problem, settings: Settings, task: Task) -> tuple[Stage, ...]:
    """The stages for a page of practice, each with what it adds."""
    steps = steps_of(problem, settings, task)
    return shown(steps, [_thin(steps, k) for k in range(len(steps))])


def _so_far(steps: Sequence[Step], k: int) -> list[Mark]:
    """The lines of a stage, and of those before it in the narrower pens."""
    return [*earlier(mark for step in steps[:k] for mark in step.new), *steps[k].new]


def _thin(steps: Sequence[Step], k: int) -> list[Stroke]:
    """The thin lines that are shown with a stage: all so far and its own, clear of its lines."""
    return clear_of_ink([*(stroke for step in steps[:k + 1] for stroke in step.thin), *steps[k].own], _so_far(steps, k))
