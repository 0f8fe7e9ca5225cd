"""The views that are asked for, with their sizes placed: what the sheets of an exercise have in common."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from sheetgen.ink import Mark, Text, text_width
from sheetgen.placing import (
    Candidate,
    Ground,
    Item,
    Offer,
    PlacingError,
    choose,
    gathered,
    items_of,
    marks_of,
    table_of,
    view_offers,
)
from sheetgen.placing.candidate import NEXT_TIER
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.layout import SCALES_TRIED, Layout, layouts, views_asked
from sheetgen.sheet.paper import Box
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView

INSET = 6.0              # mm between frame and anything in the drawing space
BESIDE_FIGURES = 6.5     # mm from the middle of a view to a name that stands beside the figures there
NAME_HEIGHT = 3.5        # mm: view names (sub-titles, textbook of engineering drawing p. 2.9)
OVER_IT = 16.0           # cost of a name over its view: under the view above it would seem to be that one's


@dataclass(frozen=True, eq=False)
class Drawing:
    """The views with their sizes and names placed. ``chosen``: the placing of each of ``items`` in turn, then of each view's
    name."""

    layout: Layout
    views: tuple[PlacedView, ...]
    items: tuple[Item, ...]
    chosen: tuple[Candidate, ...]

    @property
    def marks(self) -> list[Mark]:
        """Views, sizes and names as marks."""
        return [mark for view in self.views for mark in view_marks(view)] + marks_of(self.chosen)


def drawing_of(problem: Problem, settings: Settings) -> Drawing:
    """The views that the course asks for, at the largest standard scale at which they fit or, if their sizes cannot be placed
    there, the next. Worked out once for all sheets of an exercise: the question asks for the views at the scale at which the
    answer draws them.

    Raises: RefusedError if the sizes cannot be placed, or the views fit at no scale.
    """
    block = titleblock_box(settings.block, settings.paper)
    views, reasons = views_asked(settings.side), list[Reason]()
    for layout in layouts(settings.paper, problem.solid.size, settings.projection, views, block)[:SCALES_TRIED]:
        try:
            return _drawn(problem, settings, block, layout)
        except RefusedError as error:
            reasons += error.reasons
    raise RefusedError(reasons[:1])


def _drawn(problem: Problem, settings: Settings, block: Box, layout: Layout) -> Drawing:
    items = items_of(problem.measures, settings.wording)
    placed = tuple(_placed(problem, name, layout) for name in layout.places)
    ground = _ground(placed, settings, block)
    sizes = view_offers(placed, items, upright=settings.upright)
    names = [name for k, view in enumerate(placed) for name in _name_offers(view, settings, len(items) + k)]
    try:
        chosen = choose(ground, gathered([sizes, table_of(names)]), len(items) + len(placed))
    except PlacingError as found:
        what = items[found.item].main.words if found.item < len(items) else "a view's name"
        raise RefusedError([Reason(f"on the views, {what}: {found.reason}")]) from None
    return Drawing(layout, placed, items, tuple(chosen))


def _placed(problem: Problem, name: str, layout: Layout) -> PlacedView:
    return PlacedView(problem.sights[name], layout.scale, np.array(layout.places[name]))


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
