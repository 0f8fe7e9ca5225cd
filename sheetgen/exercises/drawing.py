"""Orthographic views spread over a sheet, with their sizes and names placed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import shapely

from sheetgen.geometry import Array
from sheetgen.ink import Mark, Text
from sheetgen.placing import (
    Item,
    Placement,
    PlacingError,
    Surroundings,
    ViewsRead,
    choose,
    gathered,
    items_of,
    marks_of,
    name_offers,
    view_offers,
)
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.layout import SCALES_TRIED, Layout, layouts, views_asked
from sheetgen.sheet.paper import Box
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView, Sight, crowded_views

INSET = 6.0              # mm between frame and anything in the drawing space


@dataclass(frozen=True, eq=False)
class Dressing:
    """What a kind draws on its views beyond their lines and sizes. ``sights``: by their names, the views that it draws in place
    of the part's own. This one draws nothing."""

    sights: Mapping[str, Sight]

    @property
    def astray(self) -> tuple[str, ...]:
        """Views that stand where they belong in the other angle of projection."""
        return ()

    def layouts(self, problem: Problem, settings: Settings, views: Sequence[str]) -> list[Layout]:
        """Where the views may stand, at what scales, those first that are preferred. Raises: RefusedError if they fit at none."""
        block = titleblock_box(settings.block, settings.paper)
        found = layouts(settings.paper, problem.solid.size, settings.projection, views, block, self.astray)
        return [layout for layout in found if self.suits(layout)][:SCALES_TRIED]

    def name(self, view: str, settings: Settings) -> str:
        """The name that stands under a view."""
        return settings.wording.render(f"views.{view}")

    def suits(self, layout: Layout) -> bool:
        """Whether the views may be drawn so: a kind may need room at their scale for what is asked."""
        return True

    def sized(self, view: str) -> bool:
        """Whether a view has sizes; those without stand after the others. If none has, nothing is measured."""
        return True

    def lines(self, views: Sequence[PlacedView]) -> list[Array]:
        """Lines of its own that are in the way of sizes, polylines (k, 2)."""
        return []

    def uncrossed(self, views: Sequence[PlacedView]) -> list[Array]:
        """Lines of its own, polylines (k, 2), that no dimension line or leader may cross."""
        return []

    def blocked(self, views: Sequence[PlacedView]) -> list[shapely.Polygon]:
        """What no size may enter."""
        return []

    def in_the_way(self, views: Sequence[PlacedView]) -> list[shapely.Polygon]:
        """What a strict reader sees to be in the way of a size that stands farther out than others would."""
        return self.blocked(views)

    def slopes(self, views: Sequence[PlacedView]) -> dict[int, float]:
        """Of views that are hatched, by their numbers, in which direction: degrees."""
        return {}

    def looked_at(self, view: str) -> tuple[tuple[str, int], ...]:
        """What a marker looks at in a view besides its lines, as the wording's ``marking`` calls it, and how many things."""
        return ()

    def marks(self, views: Sequence[PlacedView], texts: Sequence[Text]) -> list[Mark]:
        """What is drawn under the views' lines, clear of the ``texts`` that stand on them."""
        return []


PLAIN = Dressing({})
"""Views as they are."""


@dataclass(frozen=True, eq=False)
class Drawing:
    """The views with their sizes and names placed. ``chosen``: the placing of each of ``items`` in turn, then of each view's
    name; ``dressing``: what is drawn besides."""

    layout: Layout
    views: tuple[PlacedView, ...]
    items: tuple[Item, ...]
    chosen: tuple[Placement, ...]
    dressing: Dressing = PLAIN

    @cached_property
    def marks(self) -> list[Mark]:
        """Views, sizes and names as marks."""
        return self.marks_with(self.views)

    def marks_with(self, views: Sequence[PlacedView]) -> list[Mark]:
        """Sizes and names, and the lines of those ``views`` alone."""
        centres = [line for view in views for line in view.centres]
        lines = [mark for view in views for mark in view_marks(view, centres=False)]
        return self._dressed(views) + lines + marks_of(self.chosen, centres, serving=False)

    @cached_property
    def dressed(self) -> list[Mark]:
        """What the dressing draws: the first of ``marks``."""
        return self._dressed(self.views)

    @property
    def texts(self) -> list[Text]:
        """Figures and names."""
        return [text for placement in self.chosen for text in placement.drawn.texts]

    def _dressed(self, views: Sequence[PlacedView]) -> list[Mark]:
        return self.dressing.marks(views, self.texts)

    def name(self, view: str, settings: Settings) -> str:
        """The name that stands under a view."""
        return self.dressing.name(view, settings)

    @property
    def read(self) -> ViewsRead:
        """As a strict reader sees it."""
        count = len(self.items)
        sized = [view for view in self.views if self.dressing.sized(view.view.name)]
        return ViewsRead(
            sized, self.items, self.chosen[:count], self.chosen[count:count + len(sized)], self.dressing.in_the_way(self.views))


def drawing_of(
    problem: Problem, settings: Settings, views: Sequence[str] = (), dressing: Dressing = PLAIN
) -> Drawing:
    """The ``views``, or else those that the course asks for, at the largest standard scale at which they fit or, if their sizes
    cannot be placed there, the next. Worked out once for all sheets of an exercise: the question asks for the views at the scale
    at which the answer draws them. They are spread over the whole drawing space; what else stands there finds its room
    afterwards (``beside.py``).

    Raises: RefusedError if the sizes cannot be placed, or the views fit at no scale.
    """
    block = titleblock_box(settings.block, settings.paper)
    asked, reasons = views or views_asked(settings.side), list[Reason]()
    for layout in dressing.layouts(problem, settings, asked):
        try:
            return _drawn(problem, settings, block, layout, dressing)
        except RefusedError as error:
            reasons += error.reasons
    raise RefusedError(reasons[:1] or [Reason("what is asked fits on the paper at no scale at which the views do")])


def drawing_reduced(problem: Problem, settings: Settings, drawing: Drawing, factor: float) -> Drawing:
    """The views of a ``drawing`` with the same lines, ``factor`` times as large, each with its lower left corner where it stood,
    and their sizes placed anew in lettering that is as high as ever.

    Raises: RefusedError if they cannot be placed so.
    """
    block, layout = titleblock_box(settings.block, settings.paper), drawing.layout
    smaller = replace(layout, scale=layout.scale * factor, drawn=layout.drawn * factor,
                      extents={name: (wide * factor, high * factor) for name, (wide, high) in layout.extents.items()})
    placed = tuple(_placed(problem, name, smaller, drawing.dressing, layout.scale) for name in smaller.places)
    return _with_sizes(problem, settings, block, smaller, placed, drawing.dressing)


def _drawn(problem: Problem, settings: Settings, block: Box, layout: Layout, dressing: Dressing) -> Drawing:
    placed = tuple(_placed(problem, name, layout, dressing) for name in layout.places)
    if crowded := crowded_views(placed):
        raise RefusedError(crowded)
    return _with_sizes(problem, settings, block, layout, placed, dressing)


def _with_sizes(
    problem: Problem, settings: Settings, block: Box, layout: Layout, placed: tuple[PlacedView, ...], dressing: Dressing
) -> Drawing:
    sized = [view for view in placed if dressing.sized(view.view.name)]
    items = items_of(problem.measures, settings.wording) if sized else ()
    surroundings = _surroundings(placed, settings, block, dressing)
    _check_room(surroundings)
    sizes = view_offers(sized, items, upright=settings.upright, slopes=dressing.slopes(placed))
    says = [dressing.name(view.view.name, settings) for view in placed]
    rows = sorted({view.box[1] for view in placed})
    names = [
        name_offers(view, says[k], len(items) + k, k, rows.index(view.box[1])) for k, view in enumerate(placed)]
    try:
        chosen = choose(surroundings, gathered([sizes, *names]), len(items) + len(placed))
    except PlacingError as found:
        what = items[found.item].main.words if found.item < len(items) else "a view's name"
        raise RefusedError([Reason(f"on the views, {what}: {found.reason}")]) from None
    return Drawing(layout, placed, items, chosen, dressing)


def _check_room(surroundings: Surroundings) -> None:
    """Raise RefusedError if what is drawn besides the views runs into the title block, or off the drawing space."""
    block, *others = surroundings.blocked
    room = shapely.box(*surroundings.area)
    if any(not room.contains(other) or block.intersects(other) for other in others):
        raise RefusedError([Reason("on the views, what stands beside them has no room")])


def _placed(problem: Problem, name: str, layout: Layout, dressing: Dressing, lines_at: float | None = None) -> PlacedView:
    sight = dressing.sights[name] if name in dressing.sights else problem.sights[name]
    return PlacedView(sight, layout.scale, np.array(layout.places[name]), lines_at)


def _surroundings(placed: tuple[PlacedView, ...], settings: Settings, block: Box, dressing: Dressing) -> Surroundings:
    paper = settings.paper
    area = (paper.x0 + INSET, paper.y0 + INSET, paper.x1 - INSET, paper.y1 - INSET)
    visible = [line for view in placed for line in view.coarse("visible")]
    thin = [line for view in placed for kind in ("hidden", "centre") for line in view.coarse(kind)] + dressing.lines(placed)
    margin = shapely.box(block[0] - 4, block[1], block[2], block[3] + 4)
    blocked, shadows = [margin, *dressing.blocked(placed)], [view.shadow for view in placed]
    return Surroundings(visible, thin, blocked, area, shadows, dressing.uncrossed(placed))
