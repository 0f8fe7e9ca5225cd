"""Circles of a part as its pictorial shows them: the rhombus round each, its centre lines, how it is drawn from four centres.

The rhombus is the square round a circle, seen in the pictorial. Where both axes of its face are drawn at one scale, as in an
isometric, arcs from four centres come near the ellipse: two about the obtuse corners, two about the points in which the lines
from these to the middles of the sides opposite cross the long diagonal (named in NAVEDTRA 14276 p. 6-21; the way is common
practice, no source). They touch the sides in their middles, as the ellipse does.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from sheetgen.geometry import Array
from sheetgen.placing.draw import joined_segments
from sheetgen.projection import seen_segments
from sheetgen.sight import PlacedView, Rim
from sheetgen.units import SAME_COSINE

LEAST, LEAST_APART = 8.0, 3.0
"""mm on paper: no rhombus is drawn round a smaller circle, and none whose sides would be nearer to each other, as those of a
small one in a face that a cabinet drawing flattens (common practice, no source)."""

LEAST_SHARE = 0.2
"""Of a turn that is seen, for a circle to have one."""

WHOLE = 0.98
"""Of a turn that is seen, for a circle to be whole."""

OVERSHOOT = 4.0
"""mm on paper by which centre lines go past the circle, as in views."""

SHORTEST = 2.0
"""mm on paper: shorter pieces of centre lines are not drawn."""

ON_LINE = 0.08
"""mm on paper: so near a drawn line is on it; chords stray by a hundredth or two."""


@dataclass(frozen=True, eq=False)
class Circle:
    """A circle about ``centre`` (3,) of ``radius`` mm whose face is square to the axis ``normal`` (0, 1, 2); ``whole``: all of it
    is seen."""

    centre: Array
    radius: float
    normal: int
    whole: bool

    @property
    def axes(self) -> tuple[int, int]:
        """The axes of its face."""
        one, other = (axis for axis in range(3) if axis != self.normal)
        return one, other

    @property
    def arms(self) -> tuple[Array, Array]:
        """From its centre to its rim along the axes of its face, (3,) each."""
        one, other = self.axes
        return self.radius * np.eye(3)[one], self.radius * np.eye(3)[other]


def circles_of(view: PlacedView) -> tuple[Circle, ...]:
    """Those circles of each axis that have a rhombus: the largest that is seen whole, and the largest of all if that is larger;
    the foremost where several are as large. Only those are looked at that lie in faces square to an axis of the part."""
    found: dict[tuple[int, float, float], list[Circle]] = {}
    for rims in view.sight.rims:
        for rim in rims:
            circle = _circle(rim)
            if circle is not None and 2 * circle.radius * view.scale >= LEAST and _apart(view, circle) >= LEAST_APART:
                one, other = np.round(circle.centre[list(circle.axes)], 3).tolist()
                found.setdefault((circle.normal, one, other), []).append(circle)

    def size(circle: Circle) -> tuple[float, bool, float]:
        return round(circle.radius, 6), circle.whole, _depth(view, circle)

    largest = [max(some, key=size) for _, some in sorted(found.items())]
    wholes = [max((circle for circle in some if circle.whole), key=size, default=None) for _, some in sorted(found.items())]
    return tuple(circle for pair in zip(wholes, largest, strict=True) for circle in dict.fromkeys(pair) if circle is not None)


def whole_circles(view: PlacedView) -> tuple[Circle, ...]:
    """Of each axis the foremost of the circles that are seen whole, the largest there: those that have centre lines."""
    found: dict[tuple[int, float, float], list[Circle]] = {}
    for rims in view.sight.rims:
        for rim in rims:
            circle = _circle(rim)
            if circle is not None and circle.whole:
                one, other = np.round(circle.centre[list(circle.axes)], 3).tolist()
                found.setdefault((circle.normal, one, other), []).append(circle)
    return tuple(max(some, key=lambda circle: (_depth(view, circle), circle.radius)) for _, some in sorted(found.items()))


def _circle(rim: Rim) -> Circle | None:
    """The circle of a rim; None of one askew, or of which little is seen."""
    way = np.abs(np.cross(rim.a, rim.b))
    way = way / np.linalg.norm(way)
    normal = int(np.argmax(way))
    if not rim.square or way[normal] < 1 - SAME_COSINE or rim.share < LEAST_SHARE:
        return None
    return Circle(rim.centre, float(np.linalg.norm(rim.a)), normal, rim.share > WHOLE)


def _apart(view: PlacedView, circle: Circle) -> float:
    """mm on paper from side to side of the rhombus round it, where these are nearest."""
    (ax, ay), (bx, by) = (view.view.frame.flat_vectors(2 * view.scale * arm).tolist() for arm in circle.arms)
    return float(abs(ax * by - ay * bx) / max(math.hypot(ax, ay), math.hypot(bx, by)))


def _depth(view: PlacedView, circle: Circle) -> float:
    """How near to the reader it lies, along its axis."""
    return round(float(circle.centre[circle.normal] * np.sign(view.view.frame.toward[circle.normal])), 6)


def is_round(view: PlacedView, circle: Circle) -> bool:
    """Whether a circle is one on the drawing too, and wants no rhombus: in an oblique pictorial, in a face like the front."""
    return view.view.frame.oblique and circle.normal == 1


def quadrants(view: PlacedView, circle: Circle) -> Iterator[tuple[int, int]]:
    """Which quarters of a circle are drawn, by the senses of the two axes of its face."""
    lines = shapely.MultiLineString(view.visible)
    one, other = circle.arms
    for sense in ((1, 1), (-1, 1), (-1, -1), (1, -1)):
        turns = np.radians((22.0, 45.0, 68.0))[:, None]
        points = view.paper(circle.centre + sense[0] * np.cos(turns) * one + sense[1] * np.sin(turns) * other)
        if (shapely.distance(lines, shapely.points(points)) < ON_LINE).all():
            yield sense


def rhombus_lines(view: PlacedView, circle: Circle) -> list[Array]:
    """The sides of the rhombus round those quarters that are drawn, polylines (3, 2) on the sheet."""
    one, other = circle.arms
    return [view.paper(np.stack([circle.centre + s * one, circle.centre + s * one + t * other, circle.centre + t * other]))
            for s, t in quadrants(view, circle)]


def centre_lines(view: PlacedView) -> list[Array]:
    """The centre lines of all circles that are seen whole, segments (2, 2) on the sheet, as far as they show."""
    ends = []
    for circle in whole_circles(view):
        for arm in circle.arms:
            reach = arm * (1 + OVERSHOOT / view.scale / circle.radius)
            ends.append(np.stack([circle.centre - reach, circle.centre + reach]))
    parts = seen_segments(view.view, ends, SHORTEST / view.scale)
    return joined_segments([part * view.scale + view.origin for part in parts])


@dataclass(frozen=True, eq=False)
class FourCentres:
    """The construction of a circle from four centres, on paper: ``corners`` (4, 2) of the rhombus round it, ``middles`` (4, 2) of
    its sides, each between the corner of its number and the next; ``centres`` (4, 2) and ``radii`` (4,) of the arcs, each from
    the middle of its number to the next."""

    corners: Array
    middles: Array
    centres: Array
    radii: Array


def four_centres(one: Array, other: Array) -> FourCentres:
    """The construction about (0, 0) for a circle whose half axes are drawn as ``one`` and ``other`` (2,), of the same length.

    >>> found = four_centres(np.array([20.0, 0.0]) , 20 * np.array([-0.5, 0.75**0.5]))
    >>> found.radii.round(3).tolist()              # 0.866 d and 0.289 d
    [11.547, 34.641, 11.547, 34.641]
    """
    if float(one @ other) > 0:
        one, other = other, -one                                   # now one + other is an obtuse corner
    corners = np.stack([one + other, other - one, -one - other, one - other])
    middles = np.stack([other, -one, -other, one])
    # Lines from the obtuse corners 0 and 2 to the middles of the sides opposite cross the long diagonal, through corners 1 and 3.
    centres = np.stack([_crossing(corners[2], middles[0], corners[1]), corners[0], _crossing(corners[0], middles[2], corners[3]),
                        corners[2]])
    return FourCentres(corners, middles, centres, np.hypot(*(middles - centres).T))


def _crossing(start: Array, stop: Array, tip: Array) -> Array:
    """Where the line from ``start`` to ``stop`` crosses that through (0, 0) and ``tip``."""
    share, _ = np.linalg.solve(np.stack([stop - start, -tip], axis=1), -start)
    return np.asarray(start + share * (stop - start))
