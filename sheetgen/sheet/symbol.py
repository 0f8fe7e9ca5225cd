"""The symbol of the projection method: a frustum and its end view (ISO 5456-2:1996, from memory).

Both circles are visible, so the end view is seen from the small end. Therefore they lie beside the large end in first
angle and beside the small end in third angle, where every view stands on the side from which it is seen.
"""

from __future__ import annotations

from typing import Literal

import numpy as np

from sheetgen.ink import Mark, Pen, Stroke, Vector, circle

Projection = Literal["first", "third"]

LARGE = 0.76
"""Large diameter as a share of the symbol's height; small one half, length equal (SP 46 school figure, from memory)."""

APART = 0.12
"""Between the ends of the two centre lines, as a share of the height: they do not run on from view to view."""


def symbol_width(height: float) -> float:
    """Return the symbol's whole width, mm, with its centre lines, for a ``height`` with its centre lines.

    >>> round(symbol_width(10.0), 6)
    21.2
    """
    return (2 + APART) * height


def symbol_marks(projection: Projection, centre: Vector, height: float) -> list[Mark]:
    """Return the symbol of first or third angle, ``height`` mm high, centre lines included, round ``centre``."""
    x, y = centre
    left, right = x - (1 + APART) * height / 2, x + (1 + APART) * height / 2
    frustum_x, circles_x = (left, right) if projection == "first" else (right, left)
    half, reach = LARGE * height / 2, height / 2
    corners = [(frustum_x - half, y - half / 2), (frustum_x + half, y - half),
               (frustum_x + half, y + half), (frustum_x - half, y + half / 2)]
    return [
        Stroke(np.array(corners), Pen.OUTLINE, closed=True),
        circle((circles_x, y), half, Pen.OUTLINE),
        circle((circles_x, y), half / 2, Pen.OUTLINE),
        Stroke(np.array([(frustum_x - reach, y), (frustum_x + reach, y)]), Pen.CENTRE),
        Stroke(np.array([(circles_x - reach, y), (circles_x + reach, y)]), Pen.CENTRE),
        Stroke(np.array([(circles_x, y - reach), (circles_x, y + reach)]), Pen.CENTRE),
    ]
