"""The construction of an ellipse from four centres, as a small drawing of its own beside the pictorial. Sheet millimetres."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from sheetgen.exercises.construction import ticks
from sheetgen.exercises.kinds.pictorial.circles import Circle, FourCentres, circles_of, four_centres
from sheetgen.exercises.kinds.pictorial.thin import clear_of_ink
from sheetgen.geometry import Array
from sheetgen.ink import Mark, Pen, Stroke, Text, arc_curve, moved
from sheetgen.measures.measures import number
from sheetgen.sheet import Settings
from sheetgen.sheet.free import Taken, boxes_of, outlines_of
from sheetgen.sight import PlacedView

LEAST = 16.0
"""mm on paper: of a smaller circle the construction would show nothing (common practice, no source)."""

WORDS, UNDER = 2.5, 3.0
"""mm: height of the words under it, and between them."""

MARGINS = (8.0, 4.0)
"""mm kept free round it, as they are tried."""


def details(view: PlacedView, settings: Settings, taken: Taken) -> list[Mark]:
    """For the largest circle of each direction the construction from four centres, where there is room; of a pictorial in which
    the axes of a face are not drawn alike, none."""
    marks, room = list[Mark](), taken
    if view.view.frame.oblique:
        return marks
    for circle in _largest(view):
        drawn = _detail(view, circle, settings)
        boxes = boxes_of(drawn)
        (x0, y0), (x1, y1) = boxes[:, :2].min(axis=0).tolist(), boxes[:, 2:].max(axis=0).tolist()
        for margin in MARGINS:
            place = room.free_place(x1 - x0, y1 - y0, (view.box[0], view.box[3]), margin)
            if place is not None:
                drawn = moved(drawn, place[0] - x0, place[1] - y0)
                marks, room = [*marks, *drawn], room.with_more(outlines_of(drawn)).with_boxes(
                    [(place[0], place[1], place[0] + x1 - x0, place[1] + y1 - y0)])
                break
    return marks


def _largest(view: PlacedView) -> Iterator[Circle]:
    """The largest circle of those that look each way."""
    every = [circle for circle in circles_of(view) if 2 * circle.radius * view.scale >= LEAST]
    for normal in range(3):
        some = [circle for circle in every if circle.normal == normal]
        if some:
            yield max(some, key=lambda circle: (circle.whole, circle.radius))


def _detail(view: PlacedView, circle: Circle, settings: Settings) -> list[Mark]:
    """The construction of one circle about (0, 0), with words under it."""
    one, other = (view.view.frame.flat_vectors(arm) * view.scale for arm in circle.arms)
    found = four_centres(one, other)
    arcs = [Stroke(curve, Pen.SMALL, curved=True) for curve in arcs_of(found)]
    low = float(found.corners[:, 1].min())
    words = settings.wording.render("pictorial.four_centres", size=f"Ø{number(2 * circle.radius)}")
    return [*clear_of_ink(_thin(found), arcs), *arcs, Text(words, (0.0, low - UNDER - WORDS), WORDS, anchor="middle")]


def arcs_of(found: FourCentres) -> Iterator[Array]:
    """The four arcs, each as the control points of Béziers."""
    for k, centre in enumerate(found.centres):
        start, stop = found.middles[k] - centre, found.middles[(k + 1) % 4] - centre
        first = math.atan2(start[1], start[0])
        turn = math.atan2(start[0] * stop[1] - start[1] * stop[0], float(start @ stop))
        radius = float(found.radii[k])
        yield arc_curve(centre, np.array([radius, 0.0]), np.array([0.0, radius]), first, first + turn)


def _thin(found: FourCentres) -> list[Stroke]:
    """The rhombus, the lines from its obtuse corners to the middles of the sides opposite, its long diagonal, crosses at the
    centres."""
    corners, middles = found.corners, found.middles
    lines: Sequence[Array] = [
        *(np.stack([corners[k], corners[(k + 1) % 4]]) for k in range(4)), np.stack([corners[1], corners[3]]),
        *(np.stack([corners[k], middles[m]]) for k, m in ((0, 1), (0, 2), (2, 3), (2, 0)))]
    return [*(Stroke(line, Pen.CONSTRUCTION) for line in lines), *ticks(found.centres)]
