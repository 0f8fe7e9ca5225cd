"""Scale and spacing: where the views stand on the sheet. Sheet millimetres, origin lower left.

The rule taught: the views of a row with equal gaps between and beside them make the length of the drawing space, those of a
column its breadth (thirds rule, US Navy drawing manual p. 5-8). Where a view would come too near the title block, the rows move
up (the same manual calls the plain rule unbalanced there).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Literal

import numpy as np

from sheetgen.geometry import Array
from sheetgen.projection import Frame, frame_of
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet.paper import Box, Paper
from sheetgen.sheet.symbol import Projection

SideView = Literal["left", "right", "both"]

SCALES: tuple[tuple[str, float], ...] = (("1:1", 1.0), ("1:2", 0.5), ("1:5", 0.2), ("1:10", 0.1))
"""Full size where it fits, else the next reduction of ISO 5455 (clause 5.1, whole table seen)."""

ENLARGED = ("2:1", 2.0)
"""The first enlargement of ISO 5455, for parts that would be lost on the paper."""

LOST_GAP = 100.0
"""mm between views at full size, both ways, from which they are lost on the paper (common practice, no source)."""

SCALES_TRIED = 2
"""The largest at which a drawing fits, and the next if its sizes find no place; still smaller, figures would hide the part."""

LEAST_GAP = 24.0
"""mm between and round views: 18 hold one row of dimensions, 26 two; under 25 textbooks refuse (Exploring Drafting p. 218)."""

OVER_BLOCK = 22.0
"""mm kept between a view and the title block under it: a row of dimensions and the view's name."""


class NoRoomError(RefusedError):
    """The part does not fit on the paper at any scale."""


@dataclass(frozen=True, slots=True)
class Spacing:
    """How the length, or the breadth, of the drawing space is shared out: the ``sizes`` of the views on paper, from the left or
    from the bottom, and so many equal ``gaps`` of ``gap`` mm. ``kept``: mm that belong to the title block, 0 where the plain rule
    keeps clear of it by itself."""

    sizes: tuple[float, ...]
    gap: float
    kept: float = 0.0

    @property
    def gaps(self) -> int:
        """How many there are: beside and between the views; where room is kept for the title block, it stands for the lowest."""
        return len(self.sizes) + (0 if self.kept else 1)

    @property
    def starts(self) -> tuple[float, ...]:
        """Where the views begin, mm from the frame."""
        found, at = [], self.kept or self.gap
        for size in self.sizes:
            found.append(at)
            at += size + self.gap
        return tuple(found)


@dataclass(frozen=True, eq=False)
class Layout:
    """``places``: lower left corner (x, y) of each view, and ``extents`` (width, height) on paper, by the view's name;
    ``across``, ``up``: how these came about; ``drawn`` (3,) width, depth, height of the part on paper."""

    paper: Paper
    scale_name: str
    scale: float
    drawn: Array
    across: Spacing
    up: Spacing
    places: Mapping[str, tuple[float, float]]
    extents: Mapping[str, tuple[float, float]]

    def box(self, view: str) -> Box:
        """The view's box (x0, y0, x1, y1) on the sheet."""
        (x, y), (wide, high) = self.places[view], self.extents[view]
        return (x, y, float(x + wide), float(y + high))


def views_asked(side: SideView) -> tuple[str, ...]:
    """The views of a course, as they are asked for: front and top, and the side view or both.

    >>> views_asked("left"), views_asked("both")
    (('front', 'top', 'left'), ('front', 'top', 'left', 'right'))
    """
    return ("front", "top", *(("left", "right") if side == "both" else (side,)))


def place_of(view: Frame, front: Frame, projection: Projection) -> tuple[int, int]:
    """How many columns to the right of the front view, and rows above it, a view stands: in first angle beyond the part, on the
    side away from the reader of that view; in third angle on the side from which it is seen (ISO 5456-2:1996 clause 5, from
    memory).

    >>> size = np.array([3.0, 2.0, 1.0])
    >>> front, left = frame_of("front", size), frame_of("left", size)
    >>> place_of(left, front, "first"), place_of(left, front, "third")
    ((1, 0), (-1, 0))
    """
    sense = -1 if projection == "first" else 1
    column, row = (sense * round(float(axis @ view.toward)) for axis in front.axes)
    return column, row


def layouts(
    paper: Paper, size: Array, projection: Projection, views: Sequence[str], block: Box, astray: Sequence[str] = ()
) -> list[Layout]:
    """All standard scales at which the ``views``, the front view among them, of a part of ``size`` (3,) mm fit, largest first,
    enlarged only where they would be lost at full size; ``block``: the title block's box; ``astray``: views that stand where they
    belong in the other angle of projection.

    Raises: NoRoomError if there is none.
    """
    frames = {view: frame_of(view, size) for view in views}
    other: Projection = "third" if projection == "first" else "first"
    stands = {view: place_of(frame, frames["front"], other if view in astray else projection) for view, frame in frames.items()}
    whole = {view: _extent(frame, size) for view, frame in frames.items()}
    at = partial(_layout, paper, size, stands, whole, block)
    found = [layout for scale in SCALES if (layout := at(*scale)) is not None]
    if found and found[0].scale == 1.0 and min(found[0].across.gap, found[0].up.gap) >= LOST_GAP and (larger := at(*ENLARGED)):
        found.insert(0, larger)
    if not found:
        w, d, h = (f"{v:g}" for v in size)
        what = f"a part that does not fit on {paper.name} at any scale down to {SCALES[-1][0]}"
        raise NoRoomError([Reason(what, f"{w} x {d} x {h} mm")])
    return found


def _layout(
    paper: Paper, size: Array, stands: Mapping[str, tuple[int, int]], whole: Mapping[str, tuple[float, float]], block: Box,
    name: str, scale: float,
) -> Layout | None:
    """The views at one scale; None if they do not fit. ``stands``: as ``place_of``; ``whole``: width and height at full size."""
    extents = {view: (wide * scale, high * scale) for view, (wide, high) in whole.items()}
    columns, rows = (sorted({place[k] for place in stands.values()}) for k in (0, 1))
    wide = tuple(max(extents[view][0] for view in stands if stands[view][0] == column) for column in columns)
    high = tuple(max(extents[view][1] for view in stands if stands[view][1] == row) for row in rows)
    across, up = _shared(paper.x1 - paper.x0, wide), _shared(paper.y1 - paper.y0, high)
    if min(across.gap, up.gap) < LEAST_GAP:
        return None
    begins = dict(zip(columns, across.starts, strict=True))
    reach = max(begins[stands[view][0]] + extents[view][0] for view in stands if stands[view][1] == rows[0])
    left, top = block[0] - paper.x0 - OVER_BLOCK, block[3] - paper.y0 + OVER_BLOCK
    if reach > left and up.gap < top:
        up = _shared(paper.y1 - paper.y0, high, kept=top)
        if up.gap < LEAST_GAP:
            return None
    stand_up = dict(zip(rows, up.starts, strict=True))
    places = {view: (paper.x0 + begins[column], paper.y0 + stand_up[row]) for view, (column, row) in stands.items()}
    return Layout(paper, name, scale, size * scale, across, up, places, extents)


def _shared(room: float, sizes: tuple[float, ...], kept: float = 0.0) -> Spacing:
    """Views of those sizes with equal gaps; ``kept``: mm that stand for the first gap."""
    return Spacing(sizes, (room - kept - sum(sizes)) / (len(sizes) + (0 if kept else 1)), kept)


def _extent(frame: Frame, size: Array) -> tuple[float, float]:
    """Width and height of a view of a part of ``size`` (3,)."""
    wide, high = np.abs(frame.axes) @ size
    return float(wide), float(high)
