"""The dimensioned pictorial: an isometric view with its sizes and the arrow of sight, placed clear of a text column."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from sheetgen.exercises.column import WIDTH, Column, column_of
from sheetgen.exercises.drawing import INSET
from sheetgen.geometry import Array
from sheetgen.ink import Mark, moved
from sheetgen.placing import (
    Item,
    Offers,
    PictorialRead,
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
from sheetgen.sheet.free import boxes_of
from sheetgen.sheet.layout import ENLARGED, SCALES, SCALES_TRIED
from sheetgen.sheet.paper import Box
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView, Sight, crowded_pictorial
from sheetgen.solid import far_ends

BESIDE = 4.0             # mm kept between the sizes and title block or text column when all go to the middle of their room
SHORTEST_AXIS = 2.0
"""mm of a centre line that shows past something before it: less would be a speck."""


@dataclass(frozen=True, eq=False)
class Picture:
    """A pictorial with its sizes. ``chosen``: the placing of each of ``items`` in turn, then of the arrows of sight; ``traces``:
    centre lines of planes of symmetry, and centre marks of holes alike, segments (2, 2) on the sheet; ``room``: in the middle of
    which it belongs with its sizes, as far as they keep clear of what is ``blocked``."""

    scale_name: str
    view: PlacedView
    items: tuple[Item, ...]
    chosen: tuple[Placement, ...]
    traces: tuple[Array, ...]
    room: Box
    blocked: tuple[Box, ...]

    @property
    def marks(self) -> list[Mark]:
        """Pictorial, sizes and centre lines as marks, in the middle of their room."""
        axes = [segment for placement in self.chosen for segment in placement.drawn.centres]
        traces = [*self.traces, *_seen(self.view, axes)]
        lines = list(self.view.visible_straights)
        marks = [*view_marks(self.view, hidden=False, centres=False), *marks_of(self.chosen, traces, lines)]
        return moved(marks, *_to_the_middle(boxes_of(marks), self.room, self.blocked))

    @property
    def read(self) -> PictorialRead:
        """As a strict reader sees it."""
        return PictorialRead(self.view, self.chosen[:len(self.items)], self.chosen[len(self.items):])


def _to_the_middle(boxes: Array, room: Box, blocked: Sequence[Box]) -> tuple[float, float]:
    """How far marks, in ``boxes`` (n, 4), go to have the middle of them all in the middle of the ``room``: both ways if they keep
    clear of what is blocked, else one way or not at all."""
    low, high = boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)
    across, up = np.round((np.array(room[:2]) + room[2:] - low - high) / 2, 1).tolist()
    for by in ((across, up), (across, 0.0), (0.0, up)):
        there = boxes + np.tile(by, 2)
        meets = [(there[:, 0] < x1) & (there[:, 2] > x0) & (there[:, 1] < y1) & (there[:, 3] > y0) for x0, y0, x1, y1 in blocked]
        if not np.any(meets):
            return by
    return 0.0, 0.0


def sight_arrows(view: PlacedView, settings: Settings, first: int = 0) -> list[Offers]:
    """The arrows of sight that the course asks for, as items from ``first`` on."""
    return [
        sight_arrow(view, settings.wording.render(f"letters.arrow_{seen}"), first + place, seen=seen)
        for place, seen in enumerate(settings.arrows)
    ]


def _seen(view: PlacedView, axes: Sequence[Array]) -> list[Array]:
    """What shows of centre lines (2, 3) of the part, segments (2, 2) on the sheet."""
    return [line * view.scale + view.origin for line in seen_segments(view.view, axes, SHORTEST_AXIS / view.scale)]


def picture_of(
    problem: Problem, settings: Settings, lines: Callable[[str], Sequence[str]], *, enlarged: bool = False
) -> tuple[Picture, Column]:
    """The pictorial with its sizes at the largest standard scale at which it fits or, if they cannot be placed there, the next;
    and the text column beside it, whose ``lines`` may tell of that scale. ``enlarged``: it may be larger than the part.

    Raises: RefusedError if no placing of the sizes keeps the rules, or text or pictorial have no room.
    """
    tried, reasons = 0, list[Reason]()
    for name, scale in (ENLARGED, *SCALES) if enlarged else SCALES:
        column, fits = column_of(lines(name), settings), False
        blocked = [titleblock_box(settings.block, settings.paper), column.box]
        for placed in (_placed(sight, settings, scale) for sight in problem.pictorials()):
            if placed is None:
                continue
            fits = True
            if scale < 1.0 and (crowded := crowded_pictorial(placed)):       # at full size it is known to be clear
                reasons += crowded
                continue
            items = items_of(problem.measures, settings.wording, far_ends(problem.solid))
            try:
                return _dimensioned(name, placed, items, problem, settings, blocked), column
            except PlacingError as found:
                words = items[found.item].main.words if found.item < len(items) else "the arrow of sight"
                reasons.append(Reason(f"on the pictorial, {words}: {found.reason}"))
        tried += fits
        if tried == SCALES_TRIED:
            break
    raise RefusedError(reasons[:1] or [Reason("the pictorial fits on the paper at no scale")])


def _room(settings: Settings) -> Box:
    """The drawing space left of the text column."""
    paper = settings.paper
    return paper.x0 + INSET, paper.y0 + INSET, paper.x1 - INSET - WIDTH - 8, paper.y1 - INSET


def _placed(sight: Sight, settings: Settings, scale: float) -> PlacedView | None:
    """The pictorial in the middle of the room left of the text column; None if it is too large."""
    low, high = (corner * scale for corner in sight.view.extent)
    room = _room(settings)
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
    arrows = sight_arrows(placed, settings, len(items))
    chosen = choose(surroundings, gathered([sizes, *arrows]), len(items) + len(arrows))
    clear = tuple((x0 - BESIDE, y0 - BESIDE, x1 + BESIDE, y1 + BESIDE) for x0, y0, x1, y1 in blocked)
    return Picture(scale_name, placed, items, chosen, traces, _room(settings), clear)
