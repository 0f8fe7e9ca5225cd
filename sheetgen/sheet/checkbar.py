"""The check bar: 100 mm on paper, so that a teacher sees when a printer has shrunk the page."""

from __future__ import annotations

from typing import Literal

import numpy as np

from sheetgen.ink import Mark, Pen, Stroke, Text, Vector, fitted
from sheetgen.sheet.paper import Paper

LENGTH = 100.0
"""mm, from the middle of one end tick to the middle of the other."""

END_TICK, TEN_TICK = 3.0, 1.2
"""mm, of the ticks at the ends and at every 10 mm, so that one reads how much is missing."""

LETTERING = 1.8
"""mm, the smallest of ISO 3098-0:1997 (from memory): the bar is for whoever looks for it."""

TAILS = 1.0
"""mm between ticks and base line: room for the tails of g and p, a quarter of the height, and a gap."""

def check_bar_marks(start: Vector, direction: Literal["across", "up"], text: str) -> list[Mark]:
    """Return the bar from ``start`` (sheet mm), its ticks and text on its left as one walks along it.

    Raises: LetteringError for a text that is longer than the bar in the narrow face.

    >>> bar = check_bar_marks((10.0, 15.0), "up", "100 mm")[0]
    >>> float(np.ptp(bar.points[:, 1]))
    100.0
    """
    along, left = (((1.0, 0.0), (0.0, 1.0)) if direction == "across" else ((0.0, 1.0), (-1.0, 0.0)))
    origin, forward, sideways = np.array(start), np.array(along), np.array(left)
    marks: list[Mark] = [Stroke(np.array([origin, origin + LENGTH * forward]), Pen.DIMENSION)]
    for step in range(11):
        foot = origin + 10.0 * step * forward
        tick = END_TICK if step in (0, 10) else TEN_TICK
        marks.append(Stroke(np.array([foot, foot + tick * sideways]), Pen.DIMENSION))
    x, y = origin + LENGTH / 2 * forward + (TEN_TICK + TAILS) * sideways
    text, height, face = fitted(text, LENGTH, LETTERING)
    marks.append(Text(text, (float(x), float(y)), height, along, left, anchor="middle", face=face))
    return marks


def check_bar_on(paper: Paper, text: str) -> list[Mark]:
    """Return the bar in its usual place: upright in the filing border, clear of the drawing and 5 mm from the edge."""
    return check_bar_marks((paper.x0 - 9.0, paper.y0), "up", text)
