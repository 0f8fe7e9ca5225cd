"""The answer sheet: front, top and side view with their sizes, the spacing worked out, a small pictorial where there is room."""

from __future__ import annotations

import numpy as np
import shapely

from sheetgen.exercises.cells import cells_of
from sheetgen.exercises.drawing import drawing_of
from sheetgen.ink import Mark, Page, dashed
from sheetgen.measures.measures import number
from sheetgen.problem import Problem, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import Taken, shapes_of
from sheetgen.sheet.furniture import furniture
from sheetgen.sheet.layout import Layout
from sheetgen.sheet.paper import Box
from sheetgen.sheet.textblock import block_of
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView

NOTE_HEIGHT = 2.5        # mm: notes and the arithmetic
LEAST_PICTORIAL = 38.0   # mm: a smaller one shows nothing
MOST_PICTORIAL = 90.0


def answer_page(problem: Problem, settings: Settings, sheet: int = 1, sheets: int = 1) -> Page:
    """Draw the answer sheet.

    Raises: RefusedError if the sizes cannot be placed; NoRoomError if the views fit at no scale.
    """
    paper = settings.paper
    block = titleblock_box(settings.block, paper)
    drawing = drawing_of(problem, settings)
    marks = drawing.marks + _notes(problem, settings, drawing.layout, block, drawing.marks)
    marks = marks + _small_pictorial(problem, settings, block, marks, drawing.views)
    values = cells_of(problem, settings, "answer", drawing.layout.scale_name, sheet, sheets)
    return Page(paper.width, paper.height, dashed([*furniture(settings, values, marks), *marks]))


def _notes(problem: Problem, settings: Settings, layout: Layout, block: Box, marks: list[Mark]) -> list[Mark]:
    """General note and the spacing arithmetic, where there is room; the arithmetic is part of the lesson, so it must fit."""
    paper, say = settings.paper, settings.wording.render
    length, breadth = number(paper.x1 - paper.x0), number(paper.y1 - paper.y0)
    w, d, h = (number(float(v)) for v in layout.drawn)
    width, depth, height = (number(float(v)) for v in problem.solid.size)
    across, up = (number(gap) for gap in layout.gaps)
    scaled = "" if layout.scale_name == "1:1" else "_scaled"
    lines = [
        say("spacing.heading"),
        say("spacing.space", length=length, breadth=breadth),
        say("spacing.sizes", width=width, depth=depth, height=height),
        say(f"spacing.across{scaled}", length=length, width=w, depth=d, gap=across, scale=layout.scale_name),
    ]
    if layout.kept:
        lines.append(say("spacing.up_kept", breadth=breadth, kept=number(layout.kept), height=h, depth=d, gap=up))
    else:
        lines.append(say(f"spacing.up{scaled}", breadth=breadth, height=h, depth=d, gap=up, scale=layout.scale_name))
    taken = Taken(paper.frame, shapes_of(marks), block)
    for column in (80.0, 62.0, 50.0):
        text = block_of(lines, column, NOTE_HEIGHT)
        for margin in (6.0, 3.0):
            place = taken.free_place(text.width, text.breadth, (paper.x0, paper.y0), margin)
            if place is not None:
                return text.marks(place[0], place[1] + text.breadth)
    raise RefusedError("there is no room on the answer sheet for the spacing arithmetic")


def _small_pictorial(
    problem: Problem, settings: Settings, block: Box, marks: list[Mark], views: tuple[PlacedView, ...]
) -> list[Mark]:
    """A small isometric for reference, the largest that finds room; none if it would be too small to show anything.

    It keeps out of the views' boxes: nestled into the corner of an L it would seem to belong to it.
    """
    paper = settings.paper
    sight = problem.pictorials[0]
    points = np.concatenate(sight.view.visible)
    low, high = points.min(axis=0), points.max(axis=0)
    size = high - low
    taken = Taken(paper.frame, [*shapes_of(marks), *(shapely.box(*view.box) for view in views)], block)
    largest = float(size.max())
    for extent in np.arange(MOST_PICTORIAL, LEAST_PICTORIAL - 1, -8.0):
        scale = extent / largest
        place = taken.free_place(float(size[0]) * scale, float(size[1]) * scale, (paper.x1, paper.y0 + 60.0), 8.0)
        if place is not None:
            return view_marks(PlacedView(sight, float(scale), np.array(place) - low * scale), hidden=False, centres=False)
    return []

