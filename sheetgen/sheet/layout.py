"""Scale and spacing: where the three views stand on the sheet. Sheet millimetres, origin lower left.

The rule taught: width and depth with three equal gaps make the length of the drawing space, height and depth with three
equal gaps its breadth (thirds rule, US Navy drawing manual p. 5-8). Where a view would come too near the title block, the
rows move up (the same manual calls the plain rule unbalanced there).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from sheetgen.geometry import Array
from sheetgen.sheet.paper import Box, Paper
from sheetgen.sheet.symbol import Projection

SideView = Literal["left", "right"]

SCALES: tuple[tuple[str, float], ...] = (("1:1", 1.0), ("1:2", 0.5), ("1:5", 0.2), ("1:10", 0.1))
"""Full size where it fits, else the next reduction of ISO 5455 (clause 5.1, whole table seen)."""

SCALES_TRIED = 2
"""The largest at which a drawing fits, and the next if its sizes find no place; still smaller, figures would hide the part."""

LEAST_GAP = 24.0
"""mm between and round views: 18 hold one row of dimensions, 26 two; under 25 textbooks refuse (Exploring Drafting p. 218)."""

OVER_BLOCK = 22.0
"""mm kept between a view and the title block under it: a row of dimensions and the view's name."""


class NoRoomError(ValueError):
    """The part does not fit on the paper at any scale."""


@dataclass(frozen=True, eq=False)
class Layout:
    """``places``: lower left corner (x, y) of each view; ``drawn`` (3,) width, depth, height on paper; ``gaps`` between
    the views and round them, across and up; ``kept``: mm under the lowest view that belong to the title block, 0 where the
    thirds rule keeps clear of it by itself."""

    paper: Paper
    scale_name: str
    scale: float
    drawn: Array
    gaps: tuple[float, float]
    kept: float
    places: dict[str, tuple[float, float]]

    def box(self, view: str) -> Box:
        """The view's box (x0, y0, x1, y1) on the sheet."""
        x, y = self.places[view]
        w, d, h = self.drawn
        across, up = {"front": (w, h), "top": (w, d)}.get(view, (d, h))
        return (x, y, float(x + across), float(y + up))


def side_stands_right(projection: Projection, side: SideView) -> bool:
    """True if the side view stands to the right of the front view (ISO 5456-2:1996 clause 5, from memory).

    >>> side_stands_right("first", "left"), side_stands_right("third", "left")
    (True, False)
    """
    return (projection == "first") == (side == "left")


def layouts(paper: Paper, size: Array, projection: Projection, side: SideView, block: Box) -> list[Layout]:
    """All scales at which the part of ``size`` (3,) mm fits, the largest first; ``block``: the title block's box.

    Raises: NoRoomError if there is none.
    """
    tried = [_layout(paper, size, projection, side, block, name, scale) for name, scale in SCALES]
    found = [layout for layout in tried if layout is not None]
    if not found:
        w, d, h = (f"{v:g}" for v in size)
        raise NoRoomError(f"a part {w} x {d} x {h} mm does not fit on {paper.name} at any scale down to {SCALES[-1][0]}")
    return found


def _layout(
    paper: Paper, size: Array, projection: Projection, side: SideView, block: Box, name: str, scale: float
) -> Layout | None:
    w, d, h = (float(v) for v in size * scale)
    length, breadth = paper.x1 - paper.x0, paper.y1 - paper.y0
    across, up = (length - w - d) / 3, (breadth - h - d) / 3
    if min(across, up) < LEAST_GAP:
        return None
    right = side_stands_right(projection, side)
    front_x, side_x = (across, 2 * across + w) if right else (2 * across + d, across)
    lower, upper = (d, h) if projection == "first" else (h, d)
    bottom, kept = up, 0.0
    lowest = [(front_x, w)] + ([] if projection == "first" else [(side_x, d)])
    block_left, block_top = block[0] - paper.x0, block[3] - paper.y0
    if any(x + wide > block_left - OVER_BLOCK for x, wide in lowest) and bottom < block_top + OVER_BLOCK:
        bottom = kept = block_top + OVER_BLOCK
        up = (breadth - kept - lower - upper) / 2
        if up < LEAST_GAP:
            return None
    rows = (paper.y0 + bottom, paper.y0 + bottom + lower + up)
    front_y, top_y = (rows[1], rows[0]) if projection == "first" else (rows[0], rows[1])
    places = {"front": (paper.x0 + front_x, front_y), "top": (paper.x0 + front_x, top_y), side: (paper.x0 + side_x, front_y)}
    return Layout(paper, name, scale, np.array([w, d, h]), (across, up), kept, places)
