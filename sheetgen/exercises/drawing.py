"""The views that are asked for, with their sizes placed, at the scale at which question and answer both give them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely

from sheetgen.ink import Mark
from sheetgen.placing import PlacingError, Surroundings, choose, gathered, items_of, marks_of, name_offers, view_offers
from sheetgen.problem import Problem, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.layout import SCALES_TRIED, Layout, layouts
from sheetgen.sheet.paper import Box
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView

INSET = 6.0              # mm between frame and anything in the drawing space


@dataclass(frozen=True, eq=False)
class Drawing:
    """The views with their sizes placed."""

    layout: Layout
    views: tuple[PlacedView, ...]
    marks: list[Mark]


@lru_cache(maxsize=2)
def drawing_of(problem: Problem, settings: Settings) -> Drawing:
    """The views at the largest standard scale at which they fit or, if their sizes cannot be placed there, the next.

    Found once: the question asks for the views at the scale at which the answer draws them.

    Raises: RefusedError if the sizes cannot be placed; NoRoomError if the views fit at no scale.
    """
    block = titleblock_box(settings.block, settings.paper)
    reason = ""
    for layout in layouts(settings.paper, problem.solid.size, settings.projection, settings.side, block)[:SCALES_TRIED]:
        try:
            return _drawn(problem, settings, block, layout)
        except RefusedError as error:
            reason = reason or str(error)
    raise RefusedError(reason)


def _drawn(problem: Problem, settings: Settings, block: Box, layout: Layout) -> Drawing:
    items = items_of(problem.measures)
    placed = tuple(_placed(problem, name, layout) for name in ("front", "top", settings.side))
    surroundings = _surroundings(placed, settings, block)
    sizes = view_offers(placed, items, upright=settings.upright)
    says = [settings.wording.render(f"views.{view.view.name}") for view in placed]
    names = [name_offers(view, says[k], len(items) + k, k) for k, view in enumerate(placed)]
    try:
        chosen = choose(surroundings, gathered([sizes, *names]), len(items) + len(placed))
    except PlacingError as found:
        what = items[found.item].main.words if found.item < len(items) else "a view's name"
        raise RefusedError(f"on the views, {what}: {found.reason}") from None
    marks = [mark for view in placed for mark in view_marks(view)] + marks_of(chosen)
    return Drawing(layout, placed, marks)


def _placed(problem: Problem, name: str, layout: Layout) -> PlacedView:
    return PlacedView(problem.sights[name], layout.scale, np.array(layout.places[name]))


def _surroundings(placed: tuple[PlacedView, ...], settings: Settings, block: Box) -> Surroundings:
    paper = settings.paper
    area = (paper.x0 + INSET, paper.y0 + INSET, paper.x1 - INSET, paper.y1 - INSET)
    visible = [line for view in placed for line in view.coarse("visible")]
    thin = [line for view in placed for kind in ("hidden", "centre") for line in view.coarse(kind)]
    margin = shapely.box(block[0] - 4, block[1], block[2], block[3] + 4)
    return Surroundings(visible, thin, [margin], area, [view.shadow for view in placed])
