"""Finding room on a sheet for a block of text or a small picture, clear of everything already there. Sheet millimetres.

The drawing space is divided into small squares; those with ink are marked, and a box is free if none of its squares is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sheetgen.geometry import Array, Mask
from sheetgen.geometry.segments import segments_of
from sheetgen.ink import Fill, Mark, Stroke, Text, flattened, text_box
from sheetgen.sheet.paper import Box

CELL = 1.0
"""mm: side of the squares, and the step at which places are tried."""

SAME_SQUARE = 1e-4
"""mm2: squares of distances that differ by less are the same: of places that are equally near, the lowest is taken."""

ROW = 4.0
"""mm: height of the boxes in which an area is laid out."""

SLIDES = 6
"""How often a box slides both ways to come to the middle of its room: two or three times are enough for most."""

REACHES = (80.0, 240.0, np.inf)
"""mm from where a box is wanted: how far it is looked for, until there is room. Most find it in the first."""


def outlines_of(marks: Sequence[Mark]) -> list[Array]:
    """The ink of marks as polylines (n, 2): strokes, the rims of areas, the boxes of texts."""
    outlines = [flattened(mark, 0.1) for mark in marks if isinstance(mark, Stroke)]
    rims = [mark.points for mark in marks if isinstance(mark, Fill)]
    rims += [text_box(mark, 0.5) for mark in marks if isinstance(mark, Text)]
    return outlines + [np.concatenate([rim, rim[:1]]) for rim in rims]


def boxes_of(marks: Sequence[Mark]) -> Array:
    """The boxes (n, 4) round the ink of marks: x0, y0, x1, y1."""
    if not marks:
        return np.zeros((0, 4))
    outlines = [text_box(mark, 0.5) if isinstance(mark, Text) else mark.points for mark in marks]
    first = np.cumsum([0, *(len(outline) for outline in outlines[:-1])])
    points = np.concatenate(outlines)
    return np.hstack([np.minimum.reduceat(points, first), np.maximum.reduceat(points, first)])


@dataclass(frozen=True, eq=False)
class Taken:
    """Which squares of ``area`` have ink in them: ``inked`` (columns, rows), True or False."""

    area: Box
    inked: Mask

    def with_more(self, outlines: Sequence[Array]) -> Taken:
        """With the squares that polylines (n, 2) run through taken too."""
        inked = self.inked.copy()
        if outlines:
            corner = np.array(self.area[:2])
            i, j = np.floor((_along(outlines) - corner[:, None]) / CELL).astype(np.int64)
            columns, rows = inked.shape
            inside = (i >= 0) & (i < columns) & (j >= 0) & (j < rows)
            inked.reshape(-1)[(i * rows + j)[inside]] = True
        return Taken(self.area, inked)

    def with_boxes(self, boxes: Sequence[Box]) -> Taken:
        """With all squares of boxes taken too."""
        inked = self.inked.copy()
        for box in boxes:
            _fill(inked, self.area, box)
        return Taken(self.area, inked)

    def free_place(self, width: float, height: float, towards: tuple[float, float], margin: float) -> tuple[float, float] | None:
        """The lower left corner of a free box nearest to having its middle at ``towards``; None if there is no room.

        ``margin``: mm kept clear all round.
        """
        columns, rows = (int(np.ceil((side + 2 * margin) / CELL)) + 1 for side in (width, height))
        if columns > self.inked.shape[0] or rows > self.inked.shape[1]:
            return None
        count = self.inked.shape[0] - columns + 1, self.inked.shape[1] - rows + 1
        x, y = (self.area[k] + np.arange(count[k]) * CELL + margin for k in (0, 1))
        across, up = (x + width / 2 - towards[0]) ** 2, (y + height / 2 - towards[1]) ** 2
        for reach in REACHES:
            i, j = np.flatnonzero(across <= reach * reach), np.flatnonzero(up <= reach * reach)
            if not len(i) or not len(j):
                continue
            square = across[i, None] + up[j]
            np.copyto(square, np.inf, where=_blocked(self.inked[i[0]:i[-1] + columns, j[0]:j[-1] + rows], columns, rows))
            least = float(square.min())
            if least < np.inf and least + SAME_SQUARE <= reach * reach:          # no nearer one, nor an equal, lies beyond
                one, other = np.divmod(np.flatnonzero(square <= least + SAME_SQUARE), len(j))
                i, j = i[one], j[other]
                lowest = int(np.lexsort((x[i], y[j]))[0])
                return float(x[i[lowest]]), float(y[j[lowest]])
        return None

    def middle_place(
        self, width: float, height: float, towards: tuple[float, float], margin: float
    ) -> tuple[float, float] | None:
        """The lower left corner of a box in the middle of the free room nearest to ``towards``; None if there is no room.

        From the nearest place it slides to the middle between what stops it left and right, then between what stops it above
        and below, until it stays.
        """
        place = self.free_place(width, height, towards, margin)
        if place is None:
            return None
        sides = tuple(int(np.ceil((side + 2 * margin) / CELL)) + 1 for side in (width, height))
        at = [round((place[k] - margin - self.area[k]) / CELL) for k in (0, 1)]
        for _ in range(SLIDES):
            before = list(at)
            for k in (0, 1):
                other = slice(at[1 - k], at[1 - k] + sides[1 - k])
                stops = np.any(self.inked[:, other] if k == 0 else self.inked[other].T, axis=1)
                at[k] = _in_the_middle(np.asarray(stops), at[k], sides[k])
            if at == before:
                break
        return self.area[0] + at[0] * CELL + margin, self.area[1] + at[1] * CELL + margin


def _in_the_middle(stops: Mask, at: int, length: int) -> int:
    """Where a run of ``length`` free squares from ``at`` begins when it has slid to the middle between the ``stops`` (n,)."""
    before, after = np.flatnonzero(stops[:at]), np.flatnonzero(stops[at + length:])
    low = int(before[-1]) + 1 if len(before) else 0
    high = at + length + int(after[0]) if len(after) else len(stops)
    return low + (high - low - length) // 2


def taken_of(area: Box, block: Box, outlines: Sequence[Array]) -> Taken:
    """What ``outlines`` take of ``area``, and all of ``block`` (the title block)."""
    columns, rows = (int(np.ceil((area[k + 2] - area[k]) / CELL)) for k in (0, 1))
    inked = np.zeros((columns, rows), dtype=bool)
    _fill(inked, area, block)
    return Taken(area, inked).with_more(outlines)


def rows_of(area: BaseGeometry) -> list[Box]:
    """An area as boxes, row by row."""
    x0, y0, x1, y1 = area.bounds
    strips = np.array([shapely.box(x0, y, x1, min(y + ROW, y1)) for y in np.arange(y0, y1, ROW).tolist()])
    parts = shapely.get_parts(shapely.intersection(area, strips))
    return [(a, b, c, d) for a, b, c, d in shapely.bounds(parts[shapely.area(parts) > 0]).tolist()]


def _fill(inked: Mask, area: Box, box: Box) -> None:
    """Mark the squares of ``area`` that a box has a share in."""
    low = ((np.array(box[:2]) - area[:2]) // CELL).astype(int).clip(0)
    high = np.ceil((np.array(box[2:]) - area[:2]) / CELL).astype(int).clip(0)
    inked[low[0]:high[0], low[1]:high[1]] = True


def _blocked(inked: Mask, columns: int, rows: int) -> Mask:
    """For each place at which a box of so many squares has room: whether one of its squares is inked.

    Squares are looked at in one row of them all: each step doubles how many next to it every one answers for.
    """
    stride, found = inked.shape[1], inked.reshape(-1)
    for length, apart in ((columns, stride), (rows, 1)):
        done = 1
        while done < length:
            more = min(done, length - done)
            found = found[:-more * apart] | found[more * apart:]
            done += more
    places = inked.shape[0] - columns + 1, stride - rows + 1
    whole = np.zeros(places[0] * stride, dtype=bool)
    whole[:len(found)] = found
    return np.asarray(whole.reshape(-1, stride)[:, :places[1]])


def _along(outlines: Sequence[Array]) -> Array:
    """Points (2, k) along polylines, no farther apart than half a square."""
    segments = segments_of(outlines).T
    start, way = segments[:2], segments[2:] - segments[:2]
    count = np.ceil(np.hypot(way[0], way[1]) / (CELL / 2)).astype(np.int64) + 1
    step = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count)
    share = step / np.repeat(np.maximum(count - 1, 1), count)
    return np.asarray(np.repeat(start, count, axis=1) + share * np.repeat(way, count, axis=1))
