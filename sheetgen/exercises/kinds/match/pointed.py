"""A pictorial without lengths, with its arrow of sight and the notes of its round features: these tell how deep holes are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from sheetgen.exercises.picture import sight_arrows
from sheetgen.ink import Mark, Text, moved
from sheetgen.placing import PlacingError, Surroundings, choose, gathered, items_of, marks_of, pictorial_offers
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import boxes_of
from sheetgen.sheet.paper import Box
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView, Sight
from sheetgen.solid import far_ends

SHARES = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5)
"""Of full size, at which a pictorial is tried."""

LEAST = 55.0
"""mm, the longer side: a smaller pictorial shows too little (common practice, no source)."""

CAPTION, UNDER = 2.5, 4.0
"""mm: height of the words under a pictorial, and how far below it they stand."""


@dataclass(frozen=True, eq=False)
class Pointed:
    """A pictorial and all its marks."""

    view: PlacedView
    marks: tuple[Mark, ...]

    @property
    def top(self) -> float:
        """mm, the upper end of the highest mark."""
        return float(boxes_of(self.marks)[:, 3].max())


def pointed_in(problem: Problem, settings: Settings, room: Box, blocked: Sequence[Box]) -> Pointed:
    """The pictorial as large as it goes into a room, clear of what is ``blocked``, in the middle.

    Raises: RefusedError if there is no room for one that can be read.
    """
    for share in SHARES:
        for sight in problem.pictorials():
            found = _at(sight, share, problem, settings, room, blocked)
            if found is not None:
                return found
    raise RefusedError([Reason("no room for the pictorial beside the candidates")])


def _at(
    sight: Sight, share: float, problem: Problem, settings: Settings, room: Box, blocked: Sequence[Box]
) -> Pointed | None:
    low, high = (corner * share for corner in sight.view.extent)
    if max(high - low) < LEAST or (high - low)[0] > room[2] - room[0] or (high - low)[1] > room[3] - room[1]:
        return None
    middle = np.array([(room[0] + room[2]) / 2, (room[1] + room[3]) / 2])
    placed = PlacedView(sight, share, np.round(middle - (low + high) / 2, 1))
    items = [item for item in items_of(problem.measures, settings.wording, far_ends(problem.solid)) if item.kind == "round"]
    around = Surroundings(placed.coarse("visible"), (), [shapely.box(*box) for box in blocked], room, [placed.shadow])
    arrows = sight_arrows(placed, settings, len(items))
    offers = [pictorial_offers(placed, items, upright=settings.upright)] if items else []
    try:
        chosen = choose(around, gathered([*offers, *arrows]), len(items) + len(arrows))
    except PlacingError:
        return None
    marks = [*view_marks(placed, hidden=False, centres=False), *marks_of(chosen, (), list(placed.visible_straights))]
    boxes = boxes_of(marks)
    (x0, y0), (x1, y1) = boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)
    words = settings.wording.render("notes.not_to_scale")
    marks.append(Text(words, (float((x0 + x1) / 2), float(y0) - UNDER - CAPTION), CAPTION, anchor="middle"))
    across, up = (room[0] + room[2] - x0 - x1) / 2, (room[1] + room[3] - y0 + UNDER + CAPTION - y1) / 2
    if y1 - y0 + UNDER + CAPTION > room[3] - room[1] or x1 - x0 > room[2] - room[0]:
        return None
    across, up = round(float(across), 1), round(float(up), 1)
    there = boxes_of(moved(marks, across, up))
    hit = [((there[:, 0] < b[2]) & (there[:, 2] > b[0]) & (there[:, 1] < b[3]) & (there[:, 3] > b[1])).any() for b in blocked]
    if any(hit):
        return None
    return Pointed(placed, tuple(moved(marks, across, up)))
