"""The answer sheet of the kind ``views``: these with their sizes, the spacing worked out, a small pictorial if there is room."""

from __future__ import annotations

import numpy as np

from sheetgen.exercises.beside import plain_beside, plain_marks, taken_by, text_beside
from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.page import page_of
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.ink import Mark, Page
from sheetgen.measures.measures import number
from sheetgen.problem import Problem
from sheetgen.refusals import Reason
from sheetgen.sheet import Settings
from sheetgen.sheet.free import Taken, outlines_of, rim_of
from sheetgen.sheet.layout import Layout

NOTE_HEIGHT = 2.5        # mm: notes and the arithmetic
LEAST_PICTORIAL = 38.0   # mm: a smaller one shows nothing
MOST_PICTORIAL = 90.0


def answer_pages(problem: Problem, settings: Settings, drawing: Drawing, particulars: Particulars) -> tuple[Page, ...]:
    """Draw the answer sheet.

    Raises: RefusedError if it has no room for the spacing arithmetic.
    """
    paper, taken = settings.paper, taken_by(drawing.marks, settings)
    # The arithmetic is part of the lesson, so it must fit.
    notes = text_beside(
        _arithmetic(problem, settings, drawing.layout), taken, (paper.x0, paper.y0),
        Reason("there is no room on the answer sheet for the spacing arithmetic"),
        heights=(NOTE_HEIGHT,), widths=(80.0, 62.0, 50.0), margins=(6.0, 3.0))
    # The pictorial keeps out of the views' boxes: nestled into the corner of an L it would seem to belong to it.
    taken = taken.with_more([*outlines_of(notes), *(rim_of(view.box) for view in drawing.views)])
    marks = [*drawing.marks, *notes, *_small_pictorial(problem, settings, taken)]
    return (page_of(problem, settings, Role.ANSWER, drawing.layout.scale_name, particulars, marks),)


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
    sight, paper = problem.pictorial, settings.paper
    low, high = sight.view.extent
    largest = float((high - low).max())
    scales = (float(extent) / largest for extent in np.arange(MOST_PICTORIAL, LEAST_PICTORIAL - 1, -8.0))
    found = plain_beside(sight, taken, (paper.x1, paper.y0 + 60.0), scales, 8.0)
    return [] if found is None else plain_marks(found)
