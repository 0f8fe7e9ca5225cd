"""The answer's drawing for the answer key: half as large, its views closed up, with lines as thick as ever and figures that can
still be read.

It is the very drawing of the answer sheet, not another one: what the key shows is what the student's sheet will be held
against, for every kind, and a size stands where it stands there. Half of 3.5 mm would be lettering of 1.75; it is drawn as 1.8,
the smallest of ISO 3098-0:1997 (from memory). Pens keep their widths: half of 0.25 mm a copier loses (common practice, no
source).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from sheetgen.ink import HEIGHTS, Mark, Page, Text, dashed, moved
from sheetgen.sheet.free import boxes_of

HALF = 0.5

CLEAR = 8.0
"""mm between two views of the key; on the sheet the space between them teaches how views are spread."""


def halved(drawing: Sequence[Mark]) -> Page:
    """A drawing half as large, its lower left corner at (0, 0), as a page that it fills; the dashes are fitted anew."""
    marks = _closed_up(_closed_up([_halved(mark) for mark in drawing], 0), 1)
    boxes = boxes_of(marks)
    (x0, y0), (x1, y1) = boxes[:, :2].min(axis=0).tolist(), boxes[:, 2:].max(axis=0).tolist()
    return Page(x1 - x0, y1 - y0, dashed(moved(marks, -x0, -y0)))


def _halved(mark: Mark) -> Mark:
    if isinstance(mark, Text):
        return replace(mark, at=(mark.at[0] * HALF, mark.at[1] * HALF), height=max(mark.height * HALF, HEIGHTS[-1]))
    return replace(mark, points=np.asarray(mark.points) * HALF)


def _closed_up(marks: Sequence[Mark], axis: int) -> list[Mark]:
    """The marks with every strip across the drawing that is free of ink made no wider than CLEAR. What stood in line with each
    other still does: all that is beyond a strip moves together."""
    boxes = boxes_of(marks)
    low, high = boxes[:, axis], boxes[:, axis + 2]
    steps, reached = list[tuple[float, float]](), float(low.min())
    for start, end in sorted(zip(low.tolist(), high.tolist(), strict=True)):
        if start - reached > CLEAR:
            steps.append((start, start - reached - CLEAR))
        reached = max(reached, end)
    shift = [-sum(by for start, by in steps if start <= at) for at in low.tolist()]
    return [moved([mark], *((by, 0.0) if axis == 0 else (0.0, by)))[0] for mark, by in zip(marks, shift, strict=True)]
