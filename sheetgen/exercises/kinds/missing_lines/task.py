"""What the sheets of the kind ``missing-lines`` have in common: three views, the lines that are left out of them, the words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import product

from sheetgen.certainty import certainty
from sheetgen.exercises.beside import plain_beside, taken_by, text_beside
from sheetgen.exercises.drawing import Drawing, Dressing, drawing_of
from sheetgen.exercises.given.assumed import assumed, side_of
from sheetgen.exercises.kinds.missing_lines.chosen import KINDS, Chosen, choose_lines
from sheetgen.exercises.kinds.views.answer import scales_beside
from sheetgen.exercises.numbering import Numbered
from sheetgen.exercises.rings import Target, rings_on
from sheetgen.ink import Mark
from sheetgen.placing import marks_of
from sheetgen.problem import Problem
from sheetgen.projection import LineKind, Straight
from sheetgen.projection.linework import Linework
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import Taken, outlines_of
from sheetgen.sheet.paper import Box
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView, Sight

TEXT_HEIGHTS, TEXT_WIDTHS, MARGINS = (3.5, 2.5), (118.0, 100.0, 84.0, 70.0, 150.0, 58.0), (6.0, 3.0)
"""mm: lettering of the task, its width, what is kept free round it, as they are tried."""

CLEAR = 6.0
"""mm kept free round the pictorial."""


class Unmeasured(Dressing):
    """Views without sizes: lines are found from view to view."""

    def sized(self, view: str) -> bool:
        """No view has sizes."""
        return False


BAND, UNDER_VIEW = 6.0, 14.0
"""mm round the row and the column of the views, and under views with their names."""


@dataclass(frozen=True, eq=False)
class Task:
    """``drawing``: the whole views; ``chosen``: the lines left out; ``text`` and ``beside``: the words of the question, and the
    pictorial beside its views, if that was asked for; ``lines``: of the words."""

    drawing: Drawing
    chosen: Chosen
    lines: tuple[str, ...]
    text: tuple[Mark, ...]
    beside: tuple[Mark, ...]
    numbers: tuple[Mark, ...]

    @cached_property
    def asked(self) -> list[Mark]:
        """The views without the lines, with their names."""
        drawing = self.drawing
        centres = [line for view in drawing.views for line in view.centres]
        lines = [mark for view in drawing.views for mark in view_marks(less(view, self.chosen), centres=False)]
        return [*lines, *marks_of(drawing.chosen, centres, serving=False)]


def less(placed: PlacedView, chosen: Chosen) -> PlacedView:
    """A view on its sheet without the lines that are left out."""
    gone = {id(line.shape) for line in chosen.of(placed.view.name)}
    kept = [tuple(shape for shape in placed.lines(kind) if id(shape) not in gone) for kind in KINDS]
    return PlacedView(Sight(replace(placed.view, linework=Linework(*kept))), placed.scale, placed.origin)


def task_of(problem: Problem, settings: Settings) -> Task:
    """Views, lines and words.

    Raises: RefusedError if no lines can be left out so that it is certain which, or something has no room.
    """
    side = side_of(settings)
    drawing = drawing_of(problem, settings, ("front", "top", side), Unmeasured({}))
    chosen = choose_lines(problem, settings, drawing.views, side)
    lines = tuple(lines_of(problem, settings, chosen, drawing))
    text, beside = _beside(problem, settings, drawing, lines)
    return Task(drawing, chosen, lines, tuple(text), tuple(beside), _numbers(drawing, chosen, settings, beside))


def served(problem: Problem, settings: Settings) -> Task:
    """As ``task_of``; but of a part of which nothing can be proved that is found out first. Raises: RefusedError."""
    if not settings.pictorial:
        certainty(problem.solid, "missing-lines", limit=1, side=side_of(settings))
    return task_of(problem, settings)


def _beside(
    problem: Problem, settings: Settings, drawing: Drawing, lines: Sequence[str]
) -> tuple[Sequence[Mark], Sequence[Mark]]:
    """Words and pictorial, if that was asked for, where no view stands: the largest pictorial with which the words find room.

    Raises: RefusedError if there is none.
    """
    whole, towards = taken_by(drawing.marks, settings).with_boxes([view.box for view in drawing.views]), corner_of(drawing)
    corner = whole.with_boxes(_bands(drawing, settings))

    def words(there: Taken, *heights: float) -> list[Mark]:
        return text_beside(lines, there, towards, Reason("there is no room for the words beside the views"),
                           heights=heights, widths=TEXT_WIDTHS, margins=MARGINS)

    if not settings.pictorial:
        try:
            return words(corner, *TEXT_HEIGHTS), ()
        except RefusedError:
            return words(whole, *TEXT_HEIGHTS), ()
    sight = problem.pictorial
    for taken, height, scaled in product((corner, whole), TEXT_HEIGHTS, list(scales_beside(sight, settings))):
        picture = plain_beside(sight, settings, taken, towards, [scaled], CLEAR)
        try:
            if picture:
                return words(taken.with_more(outlines_of(picture)), height), picture
        except RefusedError:
            pass
        try:
            text = words(taken, height)
        except RefusedError:
            continue
        if picture := plain_beside(sight, settings, taken.with_more(outlines_of(text)), towards, [scaled], CLEAR):
            return text, picture
    raise RefusedError([Reason("there is no room for the pictorial beside the views")])


def _bands(drawing: Drawing, settings: Settings) -> list[Box]:
    """The row and the column of the sheet in which views stand: what is written between these seems to be of one of them."""
    paper, boxes = settings.paper, {view.view.name: view.box for view in drawing.views}
    (x0, _, x1, _), (_, y0, _, y1) = boxes["top"], boxes["front"]
    return [(x0 - BAND, paper.y0, x1 + BAND, paper.y1), (paper.x0, y0 - UNDER_VIEW, paper.x1, y1 + BAND)]


def corner_of(drawing: Drawing) -> tuple[float, float]:
    """The middle of the corner of the sheet in which no view stands."""
    boxes = {view.view.name: view.box for view in drawing.views}
    (x0, _, x1, _), (_, y0, _, y1) = next(box for name, box in boxes.items() if name in ("left", "right")), boxes["top"]
    return (x0 + x1) / 2, (y0 + y1) / 2


def lines_of(problem: Problem, settings: Settings, chosen: Chosen, drawing: Drawing) -> Iterator[str]:
    """How many lines are missing, where and of which kind, and what may be assumed."""
    say, scale_name = settings.wording.render, drawing.layout.scale_name
    scale = say("scale.full", scale=scale_name) if scale_name == "1:1" else say("scale.reduced", scale=scale_name)
    yield say("missing.given", scale=scale, projection=say(f"projection.{settings.projection}"))
    yield say("missing.task", count=len(chosen.lines))
    for view in drawing.views:
        counts = {kind: chosen.counts.get((view.view.name, kind), 0) for kind in KINDS}
        if view.view.name in chosen.whole:
            yield say("missing.whole", view=drawing.name(view.view.name, settings))
        elif any(counts.values()):
            yield say("missing.of_view", view=drawing.name(view.view.name, settings), visible=counts[LineKind.VISIBLE],
                      hidden=counts[LineKind.HIDDEN])
    if any(view.centre_lines for view in drawing.views):
        yield say("missing.centres")
    yield say("marking.line")
    if chosen.found:
        yield assumed(chosen.found.assuming, settings)
    if problem.symmetry:
        yield say(f"question.symmetry_{''.join(sorted(problem.symmetry))}")


def numbered_lines(drawing: Drawing, chosen: Chosen) -> dict[str, tuple[Numbered, ...]]:
    """The lines put back by views, numbered through all of them, each sort in turn."""
    found, number = dict[str, tuple[Numbered, ...]](), 0
    for view in drawing.views:
        sorts = [("hidden" if line.kind is LineKind.HIDDEN else "outlines" if isinstance(line.shape, Straight) else "curves",
                  line.shape) for line in chosen.of(view.view.name)]
        order = sorted(sorts, key=lambda one: ("outlines", "curves", "hidden").index(one[0]))
        found[view.view.name] = tuple(Numbered(number + k, sort, shape) for k, (sort, shape) in enumerate(order, 1))
        number += len(order)
    return found


def _numbers(drawing: Drawing, chosen: Chosen, settings: Settings, beside: Sequence[Mark]) -> tuple[Mark, ...]:
    """The numbers in rings that point at the lines that are put back, clear of what stands ``beside`` the views. Raises:
    RefusedError if one finds no place."""
    lines = numbered_lines(drawing, chosen)
    targets = [Target.of_line(line.shape.points() * view.scale + view.origin)
               for view in drawing.views for line in lines[view.view.name]]
    return rings_on([*drawing.marks, *beside], settings, targets)
