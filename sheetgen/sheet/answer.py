"""The answer sheet: front, top and side view with their sizes, the spacing worked out, a small pictorial where there is room."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import shapely

from sheetgen.dimensions import (
    Candidate,
    Ground,
    Offer,
    PlacedView,
    PlacingError,
    choose,
    gathered,
    items_of,
    marks_of,
    table_of,
    view_offers,
)
from sheetgen.dimensions.candidate import NEXT_TIER
from sheetgen.dimensions.measures import number
from sheetgen.ink import Mark, Page, Text, dashed, text_width
from sheetgen.projection import View, at_scale
from sheetgen.sheet.free import Taken, shapes_of
from sheetgen.sheet.furniture import furniture
from sheetgen.sheet.layout import Layout, layout_of
from sheetgen.sheet.paper import Box
from sheetgen.sheet.problem import Problem, RefusedError, Settings
from sheetgen.sheet.textblock import block_of
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sheet.viewmarks import view_marks

INSET = 6.0              # mm between frame and anything in the drawing space
BESIDE_FIGURES = 6.5     # mm from the middle of a view to a name that stands beside the figures there
NAME_HEIGHT = 3.5        # mm: view names (sub-titles, textbook of engineering drawing p. 2.9)
OVER_IT = 16.0           # cost of a name over its view: under the view above it would seem to be that one's
NOTE_HEIGHT = 2.5        # mm: notes and the arithmetic
LEAST_PICTORIAL = 38.0   # mm: a smaller one shows nothing
MOST_PICTORIAL = 90.0


@dataclass(frozen=True, eq=False)
class _Drawing:
    """The views with their sizes placed."""

    layout: Layout
    views: tuple[PlacedView, ...]
    marks: list[Mark]


def answer_page(problem: Problem, settings: Settings, sheet: int = 1, sheets: int = 1) -> Page:
    """Draw the answer sheet.

    Raises: RefusedError if the sizes cannot be placed; NoRoomError if the views fit at no scale.
    """
    paper = settings.paper
    block = titleblock_box(settings.block, paper)
    drawing = _drawn(problem, settings, block)
    marks = drawing.marks + _notes(problem, settings, drawing.layout, block, drawing.marks)
    marks = marks + _small_pictorial(problem, settings, block, marks, drawing.views)
    values = replace(settings.values, document_type=settings.wording.render("documents.answer"), scale=drawing.layout.scale_name)
    return Page(paper.width, paper.height, dashed([*furniture(problem, settings, values, sheet, sheets, marks), *marks]))


def answer_views(problem: Problem, settings: Settings) -> tuple[View, View, View]:
    """Front, top and side view of a problem."""
    front, top, side = (problem.view(name) for name in ("front", "top", settings.side))
    return front, top, side


def _drawn(problem: Problem, settings: Settings, block: Box) -> _Drawing:
    views = answer_views(problem, settings)
    items = items_of(problem.measures)
    layout = layout_of(settings.paper, problem.solid.size, settings.projection, settings.side, block)
    placed = tuple(_placed(problem, view, layout) for view in views)
    ground = _ground(placed, settings, block)
    sizes = view_offers(placed, items, upright=settings.upright)
    names = [name for k, view in enumerate(placed) for name in _name_offers(view, settings, len(items) + k)]
    try:
        chosen = choose(ground, gathered([sizes, table_of(names)]), len(items) + len(placed))
    except PlacingError as found:
        what = items[found.item].main.words if found.item < len(items) else "a view's name"
        raise RefusedError(f"on the views, {what}: {found.reason}") from None
    marks = [mark for view in placed for mark in view_marks(view)] + marks_of(chosen)
    return _Drawing(layout, placed, marks)


def _placed(problem: Problem, view: View, layout: Layout) -> PlacedView:
    return PlacedView(at_scale(view, layout.scale, problem.symmetry), layout.scale, np.array(layout.places[view.name]))


def _ground(placed: tuple[PlacedView, ...], settings: Settings, block: Box) -> Ground:
    paper = settings.paper
    area = (paper.x0 + INSET, paper.y0 + INSET, paper.x1 - INSET, paper.y1 - INSET)
    visible = [line for view in placed for line in view.coarse("visible")]
    thin = [line for view in placed for kind in ("hidden", "centre") for line in view.coarse(kind)]
    margin = shapely.box(block[0] - 4, block[1], block[2], block[3] + 4)
    return Ground(visible, thin, [margin], area, [view.shadow for view in placed])


def _name_offers(view: PlacedView, settings: Settings, number: int) -> list[Offer]:
    """Places for a view's name, item ``number``: under it, as near as the tiers of sizes allow, or over it."""
    x0, y0, x1, y1 = view.box
    name = settings.wording.render(f"views.{view.view.name}")
    half = text_width(name, NAME_HEIGHT) / 2
    # Under the middle, or beside it, or beside the figures that stand there, or level with an edge of the view.
    aside = ((12.0, 1.0), (half + BESIDE_FIGURES, 6.0), (max((x1 - x0) / 2 - half, half + 2 * BESIDE_FIGURES), 8.0))
    shifts = [(0.0, 0.0), *((side * shift, extra) for shift, extra in aside for side in (-1, 1))]
    found = []
    for step in range(5):
        for base, cost in ((y0 - 9.0 - NEXT_TIER * step, 0.0), (y1 + 6.0 + NEXT_TIER * step, OVER_IT)):
            for shift, extra in shifts:
                text = Text(name, ((x0 + x1) / 2 + shift, base), NAME_HEIGHT, anchor="middle")
                found.append(Offer(number, step + cost + extra, Candidate((), (), (), (text,)), name=True))
    return found


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
    view = problem.pictorials[0]
    points = np.concatenate(view.visible)
    low, high = points.min(axis=0), points.max(axis=0)
    size = high - low
    taken = Taken(paper.frame, [*shapes_of(marks), *(shapely.box(*view.box) for view in views)], block)
    largest = float(size.max())
    for extent in np.arange(MOST_PICTORIAL, LEAST_PICTORIAL - 1, -8.0):
        scale = extent / largest
        place = taken.free_place(float(size[0]) * scale, float(size[1]) * scale, (paper.x1, paper.y0 + 60.0), 8.0)
        if place is not None:
            return view_marks(PlacedView(view, float(scale), np.array(place) - low * scale), hidden=False, centres=False)
    return []


__all__ = ["answer_page", "answer_views"]
