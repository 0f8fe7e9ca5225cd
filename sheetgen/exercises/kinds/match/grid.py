"""Four candidates in two rows of two at the left of the sheet, each over its label; what is asked stands at their right. Sheet
millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.exercises.drawing import INSET
from sheetgen.exercises.kinds.match.sets import Set, moved_set, whole_of
from sheetgen.exercises.kinds.match.sheet import LABEL, label
from sheetgen.ink import Mark, Pen, Stroke
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.paper import Box
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sheet.viewmarks import view_marks

BETWEEN, UNDER = 14.0, 9.0
"""mm between two candidates and round them, and under each down to the middle of its label."""

LEAST_COLUMN, WIDEST, BESIDE = 100.0, 150.0, 6.0
"""mm: least width of what is left at the right; greatest of text there; between it and the candidates."""

SHORT = 3.0
"""mm by which the lines between candidates end before the room does."""

OVER_BLOCK = 4.0
"""mm kept free over the title block."""


@dataclass(frozen=True, eq=False)
class Grid:
    """``placed``: the candidates; ``marks``: they and their labels, which stand ``at``; ``room``: what is left at the right, over
    the title block."""

    placed: tuple[Set, ...]
    marks: tuple[Mark, ...]
    at: tuple[tuple[float, float], ...]
    room: Box

    @property
    def text_width(self) -> float:
        """mm, of text at the right."""
        return min(self.room[2] - self.room[0], WIDEST)


def grid_of(sets: Sequence[Set], labels: Sequence[str], settings: Settings) -> Grid:
    """Four candidates in their places. Raises: RefusedError if they, or what stands beside them, have no room."""
    paper, block = settings.paper, titleblock_box(settings.block, settings.paper)
    x0, y0, x1, y1 = paper.x0 + INSET, paper.y0 + INSET, paper.x1 - INSET, paper.y1 - INSET
    # In line with each other, whatever centre lines stick out of one of them: all have the lower left corner at the same place.
    corners = [np.min([view.box[:2] for view in views], axis=0) for views in sets]
    reach = np.array([whole_of(views) - corner for views, corner in zip(sets, corners, strict=True)])
    least, most = reach[:, 0].min(axis=0), reach[:, 1].max(axis=0)
    wide, high = (most - least + np.array([BETWEEN, BETWEEN + UNDER + LABEL / 2])).tolist()
    low = block[3] + OVER_BLOCK if x0 + 2 * wide > block[0] - OVER_BLOCK else y0
    left = x0 + 2 * wide + BESIDE
    if x1 - left < LEAST_COLUMN or low + 2 * high > y1:
        raise RefusedError([Reason("no room for four candidates and what is asked of them")])
    placed, marks, at = list[Set](), list[Mark](), list[tuple[float, float]]()
    for k, (views, corner) in enumerate(zip(sets, corners, strict=True)):
        middle = np.array([x0 + (k % 2 + 0.5) * wide, (y1 + low) / 2 + (0.5 - k // 2) * (y1 - low) / 2 + UNDER / 2])
        there = np.round(middle - (least + most) / 2, 1)
        placed.append(moved_set(views, there - corner))
        at.append((float(middle[0]), round(float(there[1] + least[1]) - UNDER, 1)))
        marks += [*(mark for view in placed[-1] for mark in view_marks(view)), label(labels[k], at[-1])]
    # Views of two sets side by side would seem to belong together.
    across, up = round(x0 + wide, 1), round((y1 + low) / 2, 1)
    marks += [Stroke(np.array([(across, low + SHORT), (across, y1 - SHORT)]), Pen.TABLE),
              Stroke(np.array([(x0 + SHORT, up), (x0 + 2 * wide - SHORT, up)]), Pen.TABLE)]
    return Grid(tuple(placed), tuple(marks), tuple(at), (left, block[3] + OVER_BLOCK, x1, y1))
