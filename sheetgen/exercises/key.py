"""The answer's drawing for the answer key: half as large, its views closed up, with lines as thick as ever and figures of 2.5 mm.

Figures that were made half as large would be 1.75 mm high, less than a copier keeps (common practice, no source). So the views
are drawn once more, 0.7 times as large as on the answer, with the same lines, and their sizes placed anew in lettering of 3.5 mm;
then all is drawn 5/7 times as large: 0.7 x 5/7 is a half, and 3.5 x 5/7 is 2.5 mm. There are the same sizes, though one may stand
elsewhere than on the answer sheet. Where one finds no place so (an angle in a part at 1:2 on A4: one answer of a hundred), the
answer's own drawing is made half as large, with figures of 1.8 mm, the smallest of ISO 3098-0:1997 (from memory): no problem is
refused because of its key.

Pens keep their widths: half of 0.25 mm a copier loses (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from sheetgen.exercises.drawing import Drawing, drawing_reduced
from sheetgen.ink import HEIGHTS, Mark, Page, Text, dashed, moved
from sheetgen.problem import Problem
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import boxes_of

HALF = 0.5

PLACED = 0.7
"""How large the views are, of those of the answer, when their sizes are placed anew."""

CLEAR = 5.0
"""mm between two views of the key; on the sheet the space between them teaches how views are spread."""


def key_page(problem: Problem, settings: Settings, drawing: Drawing) -> Page:
    """The ``drawing`` of an answer for the key, its lower left corner at (0, 0), as a page that it fills."""
    try:
        return reduced(drawing_reduced(problem, settings, drawing, PLACED).marks, HALF / PLACED)
    except RefusedError:
        return reduced(drawing.marks, HALF)


def reduced(drawing: Sequence[Mark], factor: float) -> Page:
    """A drawing ``factor`` times as large, its views closed up; lettering takes the next smaller height, and dashes are fitted
    anew."""
    marks = _closed_up(_closed_up([_reduced(mark, factor) for mark in drawing], 0), 1)
    boxes = boxes_of(marks)
    (x0, y0), (x1, y1) = boxes[:, :2].min(axis=0).tolist(), boxes[:, 2:].max(axis=0).tolist()
    return Page(x1 - x0, y1 - y0, dashed(moved(marks, -x0, -y0)))


def _reduced(mark: Mark, factor: float) -> Mark:
    if isinstance(mark, Text):
        height = next((height for height in HEIGHTS if height <= mark.height * factor + 0.01), HEIGHTS[-1])
        return replace(mark, at=(mark.at[0] * factor, mark.at[1] * factor), height=height)
    return replace(mark, points=np.asarray(mark.points) * factor)


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
