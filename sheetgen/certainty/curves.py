"""Drawn lines and arcs as pieces that run from left to right once: what a plan is divided by. Millimetres in the plan's axes."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array
from sheetgen.projection import Arc, Shape, Straight
from sheetgen.refusals import Reason, RefusedError
from sheetgen.units import LINE_END, NO_WIDTH, SAME_SQUARES

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Run:
    """A piece of a straight line or circle over ``low`` to ``high``, on which each place has one height.

    ``start``, ``rise``: of a straight one, its height at ``low`` and how much it rises a mm; of a round one the ``centre``,
    ``radius``, and whether it is the ``upper`` half.
    """

    low: float
    high: float
    start: float = 0.0
    rise: float = 0.0
    centre: Point | None = None
    radius: float = 0.0
    upper: bool = True

    def height(self, x: float) -> float:
        """Its height at ``x``."""
        if self.centre is None:
            return self.start + (x - self.low) * self.rise
        reach = math.sqrt(max(self.radius**2 - (x - self.centre[0]) ** 2, 0.0))
        return self.centre[1] + (reach if self.upper else -reach)

    def slope(self, x: float) -> float:
        """How much it rises a mm at ``x``; infinite where it stands upright."""
        if self.centre is None:
            return self.rise
        off, up = x - self.centre[0], self.height(x) - self.centre[1]
        return math.inf if abs(up) < NO_WIDTH else -off / up

    def crossings(self, other: Run) -> list[float]:
        """Where both have one height, within both."""
        low, high = max(self.low, other.low), min(self.high, other.high)
        if high - low < NO_WIDTH:
            return []
        if self.centre is None and other.centre is None:
            turn = self.rise - other.rise
            found = [low + (other.height(low) - self.height(low)) / turn] if abs(turn) > 1e-12 else []
        elif self.centre is None or other.centre is None:
            straight, rounded = (self, other) if self.centre is None else (other, self)
            found = _on_circle(straight, rounded)
        else:
            found = _on_both(self, other)
        return [x for x in found if low < x < high and abs(self.height(x) - other.height(x)) < NO_WIDTH]


def _on_circle(straight: Run, rounded: Run) -> list[float]:
    """Where a straight line meets the circle of a round piece."""
    assert rounded.centre is not None
    cx, cy = rounded.centre
    b = straight.height(cx) - cy                                          # height over the centre: y = b + rise (x - cx)
    a = 1 + straight.rise**2
    root = (straight.rise * b) ** 2 - a * (b * b - rounded.radius**2)
    return [cx + (-straight.rise * b + sign * math.sqrt(max(root, 0.0))) / a for sign in (-1, 1)] if root > -SAME_SQUARES else []


def _on_both(one: Run, other: Run) -> list[float]:
    """Where the circles of two round pieces meet."""
    assert one.centre is not None and other.centre is not None
    dx, dy = other.centre[0] - one.centre[0], other.centre[1] - one.centre[1]
    apart = math.hypot(dx, dy)
    if apart < NO_WIDTH:
        return []
    along = (apart**2 + one.radius**2 - other.radius**2) / (2 * apart)
    square = one.radius**2 - along**2
    if square < -SAME_SQUARES:
        return []
    off = math.sqrt(max(square, 0.0))
    return [one.centre[0] + (along * dx + sign * off * dy) / apart for sign in (-1, 1)]


@dataclass(frozen=True, slots=True)
class Upright:
    """A straight line square to the reader's right, at ``x``, from ``low`` to ``high``."""

    x: float
    low: float
    high: float


def runs_of(shapes: Iterable[Shape], corners: Array, *, turned: bool) -> tuple[list[Run], list[Upright]]:
    """The lines and arcs of a view in pieces, ends at the part's own ``corners`` (n, 2); ``turned``: with its two axes exchanged.

    Raises: RefusedError for other curves.
    """
    runs: list[Run] = []
    uprights: list[Upright] = []
    for shape in shapes:
        if isinstance(shape, Straight):
            (px, py), (qx, qy) = sorted(_point(_exact(end, corners), turned) for end in (shape.p, shape.q))
            if qx - px < NO_WIDTH:
                uprights.append(Upright((px + qx) / 2, min(py, qy), max(py, qy)))
            else:
                runs.append(Run(px, qx, py, (qy - py) / (qx - px)))
        elif isinstance(shape, Arc) and abs(float(shape.a @ shape.a - shape.b @ shape.b)) < SAME_SQUARES:
            runs += _halves(shape, corners, turned)
        else:
            raise RefusedError([Reason("it has curves that are no circles")])
    return runs, uprights


def _exact(place: Array, corners: Array) -> Array:
    """The corner of the part that is a line's end: lines are joined from stretches that stray a little."""
    apart = np.abs(corners - place).max(axis=1)
    nearest = int(np.argmin(apart))
    return np.asarray(corners[nearest] if apart[nearest] < LINE_END else place)


def _point(place: Iterable[float], turned: bool) -> Point:
    x, y = (float(part) for part in place)
    return (y, x) if turned else (x, y)


def _halves(arc: Arc, corners: Array, turned: bool) -> list[Run]:
    """An arc in pieces of the upper and the lower half of its circle."""
    cx, cy = _point(arc.centre, turned)
    radius = math.hypot(*arc.a)
    ends = []
    for t in (arc.start, (arc.start + arc.stop) / 2):
        x, y = _point(arc.at(t), turned)
        ends.append(math.atan2(y - cy, x - cx))
    half = (arc.stop - arc.start) / 2
    forward = abs(math.remainder(ends[1] - ends[0] - half, math.tau)) < abs(math.remainder(ends[1] - ends[0] + half, math.tau))
    if abs(half - math.pi) < 1e-9:
        forward = True                                                    # the whole circle, whichever way
    begin = ends[0] if forward else ends[0] - 2 * half
    turns = (k * math.pi for k in range(-4, 6))                           # where the circle turns back
    stops = [begin, *(turn for turn in turns if begin + 1e-6 < turn < begin + 2 * half - 1e-6), begin + 2 * half]
    found = []
    outer = [_point(_exact(arc.at(t), corners), turned)[0] for t in (arc.start, arc.stop)]
    inner = [cx + radius * math.cos(turn) for turn in stops[1:-1]]
    places = [outer[0 if forward else 1], *inner, outer[1 if forward else 0]]
    for a, b, *xs in zip(stops[:-1], stops[1:], places[:-1], places[1:], strict=True):
        xs.sort()
        if xs[1] - xs[0] >= NO_WIDTH:
            found.append(Run(xs[0], xs[1], centre=(cx, cy), radius=radius, upper=math.sin((a + b) / 2) > 0))
    return found
