"""Finding room on a sheet for a block of text or a small picture, clear of everything already there. Sheet millimetres.

The drawing space is divided into small squares; those with ink are marked, and a box is free if none of its squares is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array, Mask
from sheetgen.geometry.segments import segments_of
from sheetgen.ink import Fill, Mark, Stroke, Text, flattened, text_box
from sheetgen.sheet.paper import Box

CELL = 1.0
"""mm: side of the squares, and the step at which places are tried."""

SAME_SQUARE = 1e-4
"""mm2: squares of distances that differ by less are the same: of places that are equally near, the lowest is taken."""

REACHES = (80.0, 240.0, np.inf)
"""mm from where a box is wanted: how far it is looked for, until there is room. Most find it in the first."""


def outlines_of(marks: Sequence[Mark]) -> list[Array]:
    """The ink of marks as polylines (n, 2): strokes, the rims of areas, the boxes of texts."""
    outlines = [flattened(mark, 0.1) for mark in marks if isinstance(mark, Stroke)]
    rims = [mark.points for mark in marks if isinstance(mark, Fill)]
    rims += [text_box(mark, 0.5) for mark in marks if isinstance(mark, Text)]
    return outlines + [np.concatenate([rim, rim[:1]]) for rim in rims]


def rim_of(box: Box) -> Array:
    """The rim of a box as a polyline (5, 2)."""
    x0, y0, x1, y1 = box
    return np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)])


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


def taken_of(area: Box, block: Box, outlines: Sequence[Array]) -> Taken:
    """What ``outlines`` take of ``area``, and all of ``block`` (the title block)."""
    columns, rows = (int(np.ceil((area[k + 2] - area[k]) / CELL)) for k in (0, 1))
    inked = np.zeros((columns, rows), dtype=bool)
    low = ((np.array(block[:2]) - area[:2]) // CELL).astype(int).clip(0)
    high = np.ceil((np.array(block[2:]) - area[:2]) / CELL).astype(int)
    inked[low[0]:high[0], low[1]:high[1]] = True
    return Taken(area, inked).with_more(outlines)


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
