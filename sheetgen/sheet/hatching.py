"""Hatching: thin lines, evenly spaced, over the faces of a cut, broken round figures. Sheet millimetres.

Thin continuous lines at 45 degrees to the main outlines, 30 or 60 degrees where these run at 45 (US Navy manual p. 3-68); 2 to 4
mm apart, wider on larger faces; one slope and spacing for one part in all its faces (machine-drawing textbook).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sheetgen.geometry import Array
from sheetgen.ink import Pen, Stroke

SLOPES = (45.0, 30.0, 60.0, 135.0, 150.0, 120.0)
"""Degrees, in the order in which they are tried."""

APART = 12.0
"""Degrees that hatching keeps from outlines and from lines square to them; nearer, it reads as one of them or as shading of it
(common practice, no source)."""

SHORT = 5.0
"""mm: a shorter outline is no main one."""

CLOSEST, WIDEST = 2.0, 4.0
"""mm between lines, of the smallest and of the largest faces."""

SMALL, LARGE = 300.0, 5000.0
"""mm2 of all faces of a cut: up to, and from, which it is hatched closest and widest (common practice, no source)."""

LEAST = 0.6
"""mm: a shorter piece of a line is a speck in a corner."""

CLEAR = 1.0
"""mm kept free round figures."""


def slope_for(outlines: Array) -> float:
    """Degrees of hatching for faces with straight ``outlines`` (n, 2, 2): the first of SLOPES that keeps APART from all long
    ones, or else the one that keeps most.

    >>> slope_for(np.array([[[0.0, 0.0], [60.0, 0.0]], [[60.0, 0.0], [40.0, 20.0]]]))
    30.0
    """
    run = outlines[:, 1] - outlines[:, 0]
    run = run[np.hypot(run[:, 0], run[:, 1]) > SHORT]
    ways = np.degrees(np.arctan2(run[:, 1], run[:, 0]))
    off = [float((45.0 - np.abs((ways - slope) % 90.0 - 45.0)).min(initial=45.0)) for slope in SLOPES]
    fair = [slope for slope, much in zip(SLOPES, off, strict=True) if much >= APART]
    return fair[0] if fair else SLOPES[int(np.argmax(np.round(off, 6)))]


def spacing_for(area: float) -> float:
    """mm between the lines on faces of so many mm2 together.

    >>> spacing_for(100.0), spacing_for(2650.0), spacing_for(1e5)
    (2.0, 3.0, 4.0)
    """
    share = (area - SMALL) / (LARGE - SMALL)
    return round(CLOSEST + (WIDEST - CLOSEST) * min(1.0, max(0.0, share)), 1)


def hatching(faces: BaseGeometry, slope: float, spacing: float, figures: Sequence[Array] = ()) -> list[Stroke]:
    """Lines over ``faces``, at ``slope`` degrees and ``spacing`` mm apart, none in the boxes (4, 2) of ``figures``."""
    if faces.is_empty:
        return []
    free = faces
    if len(figures):
        boxes = shapely.polygons(np.stack(figures))
        free = faces.difference(shapely.union_all(shapely.buffer(boxes, CLEAR, join_style="mitre")))
    along = np.array([math.cos(math.radians(slope)), math.sin(math.radians(slope))])
    across = np.array([-along[1], along[0]])
    x0, y0, x1, y1 = faces.bounds
    corners = np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
    low, high = (corners @ across).min(), (corners @ across).max()
    first, last = (corners @ along).min() - 1.0, (corners @ along).max() + 1.0
    # Not through the corners of the box, where a line would only touch: the first lies half a space within.
    levels = low + spacing * (np.arange(math.floor((high - low) / spacing) + 1) + 0.5)
    lines = shapely.linestrings(np.stack([
        first * along + levels[:, None] * across, last * along + levels[:, None] * across], axis=1))
    pieces = shapely.get_parts(shapely.intersection(lines, free))
    pieces = pieces[(shapely.get_type_id(pieces) == 1) & (shapely.length(pieces) > LEAST)]
    return [Stroke(shapely.get_coordinates(piece), Pen.HATCHING) for piece in pieces]
