"""What the edges of two surfaces lie on in a view: a straight line of a known direction, or an ellipse. View millimetres."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.intervals import Interval
from sheetgen.projection.frames import Frame
from sheetgen.projection.shapes import Straight
from sheetgen.solid import Cylinder, Plane, Solid
from sheetgen.units import EDGE_ON, SAME_CARRIER, SAME_SHARE

Direction = tuple[float, float]


@dataclass(eq=False)
class StraightCarrier:
    """All points p with cross(direction, p) == offset; intervals are along ``direction``."""

    direction: Array
    offset: float
    spans: list[Interval] = field(default_factory=list)

    def holds(self, direction: Array, offset: float) -> bool:
        """True if the line with that unit direction and offset is this one."""
        sine = self.direction[0] * direction[1] - self.direction[1] * direction[0]
        return bool(abs(sine) < SAME_CARRIER and abs(offset - self.offset) < SAME_CARRIER)

    def shape(self, span: Interval) -> Straight:
        """The stretch of the line between two numbers along it."""
        foot = self.offset * np.array([-self.direction[1], self.direction[0]])
        return Straight(foot + span[0] * self.direction, foot + span[1] * self.direction)


@dataclass(frozen=True, eq=False)
class Ellipse:
    """centre + a cos t + b sin t, a along the longer axis and b square to it; ``form``: a a' + b b'."""

    centre: Array
    a: Array
    b: Array
    form: Array

    @property
    def reach(self) -> float:
        """mm: half the longer axis."""
        return math.hypot(self.a[0], self.a[1])

    def same_as(self, other: Ellipse) -> bool:
        """True if both are one ellipse."""
        size = math.sqrt(self.form[0, 0] + self.form[1, 1])
        (x, y), (u, v) = self.centre.tolist(), other.centre.tolist()
        near = max(abs(x - u), abs(y - v)) < SAME_CARRIER
        return bool(near and np.abs(other.form - self.form).max() < SAME_CARRIER * size)


def ellipse(centre: Array, a: Array, b: Array) -> Ellipse:
    """Return the ellipse centre + a cos + b sin, told by its own axes."""
    (ax, ay), (bx, by) = a.tolist(), b.tolist()
    form = np.array([[ax * ax + bx * bx, ax * ay + bx * by], [ax * ay + bx * by, ay * ay + by * by]])
    mean, half, off = (form[0, 0] + form[1, 1]) / 2, (form[0, 0] - form[1, 1]) / 2, form[0, 1]
    spread = math.hypot(half, off)
    if spread < SAME_SHARE * mean:
        radius = math.sqrt(mean)
        return Ellipse(centre, np.array([radius, 0.0]), np.array([0.0, radius]), form)
    turn = math.atan2(off, half) / 2
    long, short = math.sqrt(mean + spread), math.sqrt(mean - spread)
    cos, sin = math.cos(turn), math.sin(turn)
    return Ellipse(centre, np.array([long * cos, long * sin]), np.array([-short * sin, short * cos]), form)


class Carriers:
    """Tells, for one view, what the edges of a pair of surfaces lie on."""

    def __init__(self, solid: Solid, frame: Frame) -> None:
        self.solid, self.frame = solid, frame
        axes = solid.table.axis
        cosines, flats = np.abs(axes @ frame.toward).tolist(), frame.flat_vectors(axes).tolist()
        self.across: dict[int, Direction] = {}          # planes seen edge-on, and cylinders, by surface
        self.edge_on: dict[int, Direction] = {}
        self.end_on: dict[int, Ellipse] = {}
        for k, surface in enumerate(solid.surfaces):
            if isinstance(surface, Plane):
                if cosines[k] < EDGE_ON:
                    self.edge_on[k] = self._trace(surface) if frame.oblique else (-flats[k][1], flats[k][0])
            elif isinstance(surface, Cylinder):
                self.across[k] = (flats[k][0], flats[k][1])
                if abs(cosines[k] - 1) < EDGE_ON:
                    self.end_on[k] = self._end_on(surface)

        pairs, way = solid.straight_curves
        self.lines: dict[tuple[int, int], Direction] = {
            pair: (u, v) for pair, (u, v) in zip(pairs, frame.flat_vectors(way).tolist(), strict=True)}
        pairs, conics = solid.conics
        flat = frame.flat_vectors(conics) - np.stack([frame.origin, np.zeros(2), np.zeros(2)])
        self.conics = dict(zip(pairs, flat, strict=True))

    def _trace(self, plane: Plane) -> Direction:
        """The direction of a plane that the line of sight runs along, where that meets the paper at a slant."""
        u, v = self.frame.flat_vectors(np.cross(plane.normal, self.frame.toward)).tolist()
        return u, v

    def _end_on(self, cylinder: Cylinder) -> Ellipse:
        """A cylinder along the line of sight."""
        centre = self.frame.flat(cylinder.point)
        if self.frame.oblique:
            across = np.linalg.svd(cylinder.direction[None])[2][1:]             # two ways square to its axis
            a, b = self.frame.flat_vectors(cylinder.radius * across)
            return ellipse(centre, a, b)
        radius = cylinder.radius * math.hypot(*self.frame.axes[0].tolist())
        return ellipse(centre, np.array([radius, 0.0]), np.array([0.0, radius]))

    def of(self, pair: tuple[int, int], *, sharp: bool) -> Direction | Ellipse | None:
        """A line's direction, an ellipse, or None for neither. ``pair``: the surfaces in order; not ``sharp``: a limb."""
        for seen in (self.edge_on, self.end_on):
            for k in pair:
                if k in seen:
                    return seen[k]
        if not sharp:
            turned = pair[0] if not isinstance(self.solid.surfaces[pair[0]], Plane) else pair[1]
            return self.across.get(turned)
        if pair in self.lines:
            return self.lines[pair]
        return _conic(*self.conics[pair]) if pair in self.conics else None


def _conic(centre: Array, a: Array, b: Array) -> Direction | Ellipse:
    """The circle or ellipse centre + a cos + b sin as it is seen: an ellipse, or a line if seen edge-on."""
    (ax, ay), (bx, by) = a.tolist(), b.tolist()
    one, other = ax * ax + ay * ay, bx * bx + by * by
    if abs(ax * by - ay * bx) < EDGE_ON * (one + other):
        return (ax, ay) if one > other else (bx, by)
    return ellipse(centre, a, b)
