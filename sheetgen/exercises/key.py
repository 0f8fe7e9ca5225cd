"""The answer's drawing for the answer key: half as large, with lines as thick as ever, and figures that can still be read.

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


def halved(drawing: Sequence[Mark]) -> Page:
    """A drawing half as large, its lower left corner at (0, 0), as a page that it fills; the dashes are fitted anew."""
    marks = [_halved(mark) for mark in drawing]
    boxes = boxes_of(marks)
    (x0, y0), (x1, y1) = boxes[:, :2].min(axis=0).tolist(), boxes[:, 2:].max(axis=0).tolist()
    return Page(x1 - x0, y1 - y0, dashed(moved(marks, -x0, -y0)))


def _halved(mark: Mark) -> Mark:
    if isinstance(mark, Text):
        return replace(mark, at=(mark.at[0] * HALF, mark.at[1] * HALF), height=max(mark.height * HALF, HEIGHTS[-1]))
    return replace(mark, points=np.asarray(mark.points) * HALF)
