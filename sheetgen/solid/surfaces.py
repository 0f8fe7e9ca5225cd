"""The exact surfaces that bound a solid: planes, cylinders and cones. Part frame, millimetres."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.vectors import cross, dot, length_of, lengths
from sheetgen.units import SAME_COSINE, SAME_DIRECTION, SAME_POINT


@dataclass(frozen=True, eq=False)
class Plane:
    """All points p with ``normal @ p == offset``; ``normal`` (3,) unit."""

    normal: Array
    offset: float

    def normals(self, points: Array) -> Array:
        """Unit normals (n, 3) at ``points`` (n, 3), of either sense."""
        return np.broadcast_to(self.normal, points.shape)

    def same_as(self, other: Surface) -> bool:
        """True if both are one plane, whichever way their normals look."""
        if not isinstance(other, Plane) or abs(self.size - other.size) >= SAME_POINT or not parallel(self.normal, other.normal):
            return False                                    # the sizes first: most differ, and they cost least
        sense = math.copysign(1.0, dot(self.normal, other.normal))
        return abs(self.offset - sense * other.offset) < SAME_POINT

    def moved(self, by: Array) -> Plane:
        """The plane shifted by the vector ``by`` (3,)."""
        return replace(self, offset=float(self.offset + self.normal @ by))

    @property
    def size(self) -> float:
        """mm from the origin: equal for equal planes."""
        return abs(self.offset)

    @cached_property
    def axis(self) -> int | None:
        """0, 1 or 2 if the plane is square to x, y or z; else None."""
        size = [abs(part) for part in self.normal.tolist()]
        k = size.index(max(size))
        return k if abs(size[k] - 1.0) < SAME_COSINE else None

    @cached_property
    def level(self) -> float:
        """The coordinate along ``axis`` at which the plane stands."""
        return float(self.offset * self.normal[int(np.argmax(np.abs(self.normal)))])


@dataclass(frozen=True, eq=False)
class Cylinder:
    """All points at ``radius`` from the line through ``point`` (3,) along ``direction`` (3,) unit."""

    point: Array
    direction: Array
    radius: float

    @property
    def size(self) -> float:
        """The radius, mm: equal for equal cylinders."""
        return self.radius

    def normals(self, points: Array) -> Array:
        """Unit normals (n, 3), away from the axis."""
        arm = points - self.point
        arm = arm - np.outer(arm @ self.direction, self.direction)
        return np.asarray(arm / lengths(arm)[:, None])

    def same_as(self, other: Surface) -> bool:
        """True if both are one cylinder."""
        return isinstance(other, Cylinder) and abs(self.radius - other.radius) < SAME_POINT and coaxial(self, other)

    def moved(self, by: Array) -> Cylinder:
        """The cylinder shifted by the vector ``by`` (3,)."""
        return replace(self, point=self.point + by)


@dataclass(frozen=True, eq=False)
class Cone:
    """The cone with its apex at ``point`` (3,), opening along ``direction`` (3,) unit; ``slope`` is radius over distance."""

    point: Array
    direction: Array
    slope: float

    @property
    def size(self) -> float:
        """The slope: equal for equal cones."""
        return self.slope

    def normals(self, points: Array) -> Array:
        """Unit normals (n, 3), away from the axis."""
        arm = points - self.point
        arm = arm - np.outer(arm @ self.direction, self.direction)
        arm = arm / lengths(arm)[:, None]
        return np.asarray((arm - self.slope * self.direction) / np.hypot(1.0, self.slope))

    def same_as(self, other: Surface) -> bool:
        """True if both are one cone."""
        return (
            isinstance(other, Cone)
            and abs(self.slope - other.slope) < SAME_POINT
            and math.dist(self.point.tolist(), other.point.tolist()) < SAME_POINT
            and dot(self.direction, other.direction) > 1 - SAME_COSINE
        )

    def moved(self, by: Array) -> Cone:
        """The cone shifted by the vector ``by`` (3,)."""
        return replace(self, point=self.point + by)


Surface = Plane | Cylinder | Cone
Round = Cylinder | Cone


def parallel(a: Array, b: Array) -> bool:
    """True if the unit vectors (3,) are parallel or opposite."""
    return length_of(cross(a, b)) < SAME_DIRECTION


def coaxial(a: Round, b: Round) -> bool:
    """True if two round surfaces turn about one line."""
    return parallel(a.direction, b.direction) and length_of(cross(b.point - a.point, a.direction)) < SAME_POINT

