"""The answer sheet: front, top and side view with their sizes, the spacing worked out, a small pictorial where there is room."""

from __future__ import annotations

import numpy as np

from sheetgen.exercises.cells import cells_of
from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.ink import Mark, Page, dashed
from sheetgen.measures.measures import number
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import Taken, outlines_of, rim_of, taken_of
from sheetgen.sheet.furniture import furniture
from sheetgen.sheet.layout import Layout
from sheetgen.sheet.textblock import block_of
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView

NOTE_HEIGHT = 2.5        # mm: notes and the arithmetic
LEAST_PICTORIAL = 38.0   # mm: a smaller one shows nothing
MOST_PICTORIAL = 90.0


def answer_pages(problem: Problem, settings: Settings, drawing: Drawing, particulars: Particulars) -> tuple[Page, ...]:
    """Draw the answer sheet.

    Raises: RefusedError if it has no room for the spacing arithmetic.
    """
    paper = settings.paper
    block = titleblock_box(settings.block, paper)
    taken = taken_of(paper.frame, block, outlines_of(drawing.marks))
    notes = _notes(problem, settings, drawing.layout, taken)
    # It keeps out of the views' boxes: nestled into the corner of an L it would seem to belong to it.
    taken = taken.with_more([*outlines_of(notes), *(rim_of(view.box) for view in drawing.views)])
    marks = [*drawing.marks, *notes, *_small_pictorial(problem, settings, taken)]
    values = cells_of(problem, settings, Role.ANSWER, drawing.layout.scale_name, particulars)
    return (Page(paper.width, paper.height, [*furniture(settings, values, marks), *dashed(marks)]),)


def _notes(problem: Problem, settings: Settings, layout: Layout, taken: Taken) -> list[Mark]:
    """The spacing arithmetic, where there is room; it is part of the lesson, so it must fit."""
    paper, lines = settings.paper, _arithmetic(problem, settings, layout)
    for column in (80.0, 62.0, 50.0):
        text = block_of(lines, column, NOTE_HEIGHT)
        for margin in (6.0, 3.0):
            place = taken.free_place(text.width, text.breadth, (paper.x0, paper.y0), margin)
            if place is not None:
                return text.marks(place[0], place[1] + text.breadth)
    raise RefusedError([Reason("there is no room on the answer sheet for the spacing arithmetic")])


def _arithmetic(problem: Problem, settings: Settings, layout: Layout) -> list[str]:
    """How the views were spaced, line by line."""
    paper, say = settings.paper, settings.wording.render
    length, breadth = number(paper.x1 - paper.x0), number(paper.y1 - paper.y0)
    width, depth, height = (number(float(v)) for v in problem.solid.size)
    scaled = "" if layout.scale_name == "1:1" else "_scaled"
    wide, deep, high = (number(float(v)) for v in layout.drawn)
    beside = len(layout.across.sizes) - 1
    across = f"{wide} - {deep}" if beside == 1 else f"{wide} - {beside} x {deep}"
    upward = f"up{'_kept' if layout.up.kept else scaled}"
    return [
        say("spacing.heading"),
        say("spacing.space", length=length, breadth=breadth),
        say("spacing.sizes", width=width, depth=depth, height=height),
        say(f"spacing.across{scaled}", length=length, sizes=across, gaps=layout.across.gaps, gap=number(layout.across.gap),
            scale=layout.scale_name),
        say(f"spacing.{upward}", breadth=breadth, kept=number(layout.up.kept), sizes=f"{high} - {deep}", gaps=layout.up.gaps,
            gap=number(layout.up.gap), scale=layout.scale_name),
    ]


def _small_pictorial(problem: Problem, settings: Settings, taken: Taken) -> list[Mark]:
    """A small isometric for reference, the largest that finds room; none if it would be too small to show anything."""
    paper = settings.paper
    sight = problem.pictorial
    points = np.concatenate(sight.view.visible)
    low, high = points.min(axis=0), points.max(axis=0)
    size = high - low
    largest = float(size.max())
    for extent in np.arange(MOST_PICTORIAL, LEAST_PICTORIAL - 1, -8.0):
        scale = extent / largest
        place = taken.free_place(float(size[0]) * scale, float(size[1]) * scale, (paper.x1, paper.y0 + 60.0), 8.0)
        if place is not None:
            return view_marks(PlacedView(sight, float(scale), np.array(place) - low * scale), hidden=False, centres=False)
    return []
