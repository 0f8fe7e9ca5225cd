"""Shapes of lines in a view: straight, elliptic arc, free curve. View millimetres, u right, v up."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sheetgen.geometry import Array
from sheetgen.units import CHORD_ERROR, SAME_TURN


@dataclass(frozen=True, eq=False)
class Straight:
    """From ``p`` (2,) to ``q`` (2,)."""

    p: Array
    q: Array

    def points(self) -> Array:
        """Both ends (2, 2)."""
        return np.array((self.p, self.q))

    @property
    def length(self) -> float:
        """mm."""
        return math.hypot(self.q[0] - self.p[0], self.q[1] - self.p[1])

    @property
    def first(self) -> Array:
        """Where it starts (2,)."""
        return self.p

    @property
    def last(self) -> Array:
        """Where it stops (2,)."""
        return self.q

    @property
    def count(self) -> int:
        """How many points keep CHORD_ERROR."""
        return 2


@dataclass(frozen=True, eq=False)
class Arc:
    """The points centre + a cos t + b sin t for t from ``start`` to ``stop`` (radians); a and b square to each other."""

    centre: Array
    a: Array
    b: Array
    start: float
    stop: float

    @property
    def closed(self) -> bool:
        """True for a whole ellipse."""
        return self.stop - self.start > 2 * math.pi - SAME_TURN

    def at(self, t: float | Array) -> Array:
        """The point (2,), or points (n, 2), at ``t``."""
        return np.asarray(self.centre + np.multiply.outer(np.cos(t), self.a) + np.multiply.outer(np.sin(t), self.b))

    def points(self) -> Array:
        """A polyline (k, 2) within CHORD_ERROR of the arc, its ends exact."""
        return self._polyline

    @cached_property
    def _polyline(self) -> Array:
        (ax, ay), (bx, by) = self.a.tolist(), self.b.tolist()
        turns = [first + k * math.pi for first in (math.atan2(bx, ax), math.atan2(by, ay)) for k in range(-3, 5)]
        outermost = [t for t in turns if self.start < t < self.stop]       # so that the polyline has the arc's true extent
        t = np.linspace(self.start, self.stop, self.count)
        if not outermost:
            return self.at(t)
        off = np.abs(t - np.array(outermost)[:, None]).min(axis=1)
        return self.at(np.sort(np.concatenate([t, np.array(outermost)[off > SAME_TURN]])))

    @property
    def count(self) -> int:
        """How many points keep CHORD_ERROR."""
        radius = max(math.hypot(*self.a.tolist()), math.hypot(*self.b.tolist()))
        step = 2 * math.acos(1 - min(0.5, CHORD_ERROR / radius))
        return max(2, math.ceil((self.stop - self.start) / step) + 1)

    @property
    def first(self) -> Array:
        """Where it starts (2,)."""
        return self._point(self.start)

    @property
    def last(self) -> Array:
        """Where it stops (2,)."""
        return self._point(self.stop)

    def _point(self, t: float) -> Array:
        return np.asarray(self.centre + math.cos(t) * self.a + math.sin(t) * self.b)

    @property
    def length(self) -> float:
        """mm, along the arc."""
        return _length(self.points())


@dataclass(frozen=True, eq=False)
class Free:
    """A smooth curve through ``knots`` (k, 2), which lie within CHORD_ERROR of it."""

    knots: Array

    def points(self) -> Array:
        """The knots (k, 2)."""
        return self.knots

    @property
    def first(self) -> Array:
        """Where it starts (2,)."""
        return np.asarray(self.knots[0])

    @property
    def last(self) -> Array:
        """Where it stops (2,)."""
        return np.asarray(self.knots[-1])

    @property
    def count(self) -> int:
        """How many knots there are."""
        return len(self.knots)

    @property
    def length(self) -> float:
        """mm, along the knots."""
        return _length(self.knots)


def _length(points: Array) -> float:
    """mm, along a polyline (k, 2)."""
    x, y = (points[1:] - points[:-1]).T
    return float(np.sqrt(x * x + y * y).sum())


Shape = Straight | Arc | Free
