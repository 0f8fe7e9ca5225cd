"""The dimensioned pictorial: an isometric view with its sizes and the arrow of sight, placed clear of a text column."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from sheetgen.exercises.column import WIDTH, Column, column_of
from sheetgen.exercises.drawing import INSET
from sheetgen.geometry import Array
from sheetgen.ink import Mark
from sheetgen.placing import (
    Item,
    Placement,
    PlacingError,
    Surroundings,
    alike_marks,
    choose,
    gathered,
    items_of,
    marks_of,
    pictorial_offers,
    sight_arrow,
)
from sheetgen.problem import Problem
from sheetgen.projection import seen_segments, symmetry_trace
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.layout import SCALES, SCALES_TRIED
from sheetgen.sheet.paper import Box
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView, Sight, unseen_ends

SHORTEST_AXIS = 2.0
"""mm of a centre line that shows past something before it: less would be a speck."""


@dataclass(frozen=True, eq=False)
class Picture:
    """A pictorial with its sizes. ``chosen``: the placing of each of ``items`` in turn, then of the arrow of sight; ``traces``:
    centre lines of planes of symmetry, and centre marks of holes alike, segments (2, 2) on the sheet."""

    scale_name: str
    view: PlacedView
    items: tuple[Item, ...]
    chosen: tuple[Placement, ...]
    traces: tuple[Array, ...]

    @property
    def marks(self) -> list[Mark]:
        """Pictorial, sizes and centre lines as marks."""
        axes = [segment for placement in self.chosen for segment in placement.drawn.centres]
        traces = [*self.traces, *_seen(self.view, axes)]
        lines = list(self.view.visible_straights)
        return [*view_marks(self.view, hidden=False, centres=False), *marks_of(self.chosen, traces, lines)]


def _seen(view: PlacedView, axes: Sequence[Array]) -> list[Array]:
    """What shows of centre lines (2, 3) of the part, segments (2, 2) on the sheet."""
    return [line * view.scale + view.origin for line in seen_segments(view.view, axes, SHORTEST_AXIS / view.scale)]


def picture_of(problem: Problem, settings: Settings, lines: Callable[[str], Sequence[str]]) -> tuple[Picture, Column]:
    """The pictorial with its sizes at the largest standard scale at which it fits or, if they cannot be placed there, the next;
    and the text column beside it, whose ``lines`` may tell of that scale.

    Raises: RefusedError if no placing of the sizes keeps the rules, or text or pictorial have no room.
    """
    tried, reasons = 0, list[Reason]()
    for name, scale in SCALES:
        column, fits = column_of(lines(name), settings), False
        blocked = [titleblock_box(settings.block, settings.paper), column.box]
        for placed in (_placed(sight, settings, scale) for sight in problem.pictorials()):
            if placed is None:
                continue
            fits = True
            items = items_of(problem.measures, settings.wording, unseen_ends(placed.sight))
            try:
                return _dimensioned(name, placed, items, problem, settings, blocked), column
            except PlacingError as found:
                words = items[found.item].main.words if found.item < len(items) else "the arrow of sight"
                reasons.append(Reason(f"on the pictorial, {words}: {found.reason}"))
        tried += fits
        if tried == SCALES_TRIED:
            break
    raise RefusedError(reasons[:1] or [Reason("the pictorial fits on the paper at no scale")])


def _placed(sight: Sight, settings: Settings, scale: float) -> PlacedView | None:
    """The pictorial in the middle of the room left of the text column; None if it is too large."""
    paper = settings.paper
    low, high = (corner * scale for corner in sight.view.extent)
    room = (paper.x0 + INSET, paper.y0 + INSET, paper.x1 - INSET - WIDTH - 8, paper.y1 - INSET)
    if high[0] - low[0] > room[2] - room[0] - 50 or high[1] - low[1] > room[3] - room[1] - 30:
        return None
    middle = np.array([(room[0] + room[2]) / 2, (room[1] + room[3]) / 2])
    return PlacedView(sight, scale, np.round(middle - (low + high) / 2, 1))


def _dimensioned(
    scale_name: str, placed: PlacedView, items: tuple[Item, ...], problem: Problem, settings: Settings, blocked: list[Box]
) -> Picture:
    paper = settings.paper
    area = (paper.x0 + INSET, paper.y0 + INSET, paper.x1 - INSET, paper.y1 - INSET)
    cuts = [line for letter in problem.symmetry for line in symmetry_trace(placed.view, "xyz".index(letter), placed.scale)]
    alike = [np.stack(line) for line in alike_marks(placed, items)]
    traces = (*(line * placed.scale + placed.origin for line in cuts), *_seen(placed, alike))
    surroundings = Surroundings(placed.coarse("visible"), traces, [shapely.box(*box) for box in blocked], area, [placed.shadow])
    sizes = pictorial_offers(placed, items, upright=settings.upright)
    arrow = sight_arrow(placed, settings.wording.render("letters.arrow"), len(items))
    chosen = choose(surroundings, gathered([sizes, arrow]), len(items) + 1)
    return Picture(scale_name, placed, items, chosen, traces)
