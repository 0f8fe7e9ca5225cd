"""What a measure runs between: a plane, an axis, or the edge or corner in which planes meet. Part frame, millimetres."""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.vectors import UNITS, cross
from sheetgen.solid import Plane, Solid, parallel
from sheetgen.units import INDEPENDENT, SAME_DIRECTION


class MeasureError(ValueError):
    """A measure that this solid does not have."""


class LostSideError(MeasureError):
    """A side of which nothing is left. ``side``: its name."""

    def __init__(self, side: str, measure: str = "") -> None:
        said = f"nothing is left of the side {side}: other features took it away"
        super().__init__(f"{measure}: {said}" if measure else said)
        self.side = side


@dataclass(frozen=True, eq=False)
class EndRef:
    """One end of a span. ``surfaces``: one (a plane square to an axis, or a round surface, meaning its axis), or two or three
    planes that meet; or a cylinder and a cone, for the circle in which a drilled hole's wall runs into its point. ``point`` (3,):
    its coordinates, not a number in the directions along which it runs.
    """

    names: tuple[str, ...]
    surfaces: tuple[int, ...]
    point: Array

    @property
    def words(self) -> str:
        """As the trade says it: slot.left, or edge of a and b."""
        return self.names[0] if len(self.names) == 1 else "edge of " + " and ".join(self.names)

    def fixes(self, axis: int) -> bool:
        """True if the end has a definite coordinate along the axis 0, 1 or 2."""
        return bool(np.isfinite(self.point[axis]))


def surface_named(solid: Solid, name: str) -> int:
    """The surface that a side name stands for; a bare feature name stands for its wall,
    and of several alike the first stands for all.

    Raises: MeasureError that tells an unknown side from one of which nothing is left.
    """
    feature, _, side = name.partition(".")
    for form in (name, f"{name}.wall", f"{name}.round", f"{name}.1.wall", f"{feature}.1.{side}"):
        if form in solid.sides:
            return solid.sides[form]
    if name in solid.known:
        raise LostSideError(name)
    near = difflib.get_close_matches(name, sorted(solid.known), 1)
    raise MeasureError(f"there is no side {name}" + (f"; did you mean {near[0]}?" if near else ""))


def resolve_end(solid: Solid, names: Sequence[str]) -> EndRef:
    """Find the end called by one, two or three side names.

    Raises: MeasureError if a side is missing, alone and inclined, or the sides do not meet in an edge or corner.
    """
    surfaces = tuple(surface_named(solid, name) for name in names)
    parts = [solid.surfaces[k] for k in surfaces]
    first = parts[0]
    if len(parts) == 1:
        if not isinstance(first, Plane):
            point = np.where(np.abs(first.direction) > SAME_DIRECTION, np.nan, first.point)
            if not np.isnan(point).any() or np.isnan(point).all():
                raise MeasureError(f"{names[0]} has a slanting axis, which no single size locates")
            return EndRef(tuple(names), surfaces, point)
        if first.axis is None:
            raise MeasureError(f"{names[0]} is inclined: measure to the edge of it and another side")
        return EndRef(tuple(names), surfaces, np.where(np.arange(3) == first.axis, first.level, np.nan))
    planes = [part for part in parts if isinstance(part, Plane)]
    if len(planes) != len(parts):
        raise MeasureError(f"edge of {' and '.join(names)}: only flat sides make an edge; use the axis of a round one")
    return EndRef(tuple(names), surfaces, _meeting(planes, names))


def _meeting(planes: Sequence[Plane], names: Sequence[str]) -> Array:
    """Where two or three planes meet: (3,), not a number along the axis that the edge runs along."""
    if len(planes) == 2 and parallel(planes[0].normal, planes[1].normal):
        raise MeasureError(f"{' and '.join(names)} are parallel and meet in no edge")
    rows, levels = [p.normal for p in planes], [p.offset for p in planes]
    free = None
    if len(planes) == 2:
        along = [abs(part) for part in cross(rows[0], rows[1])]
        free = along.index(max(along))
        if max(part for k, part in enumerate(along) if k != free) > SAME_DIRECTION:
            raise MeasureError(f"the edge of {' and '.join(names)} slants, so no one size tells where it is; name a third side")
        rows, levels = [*rows, UNITS[free]], [*levels, 0.0]
    matrix = np.array(rows)
    if abs(np.linalg.det(matrix)) < INDEPENDENT:
        raise MeasureError(f"{', '.join(names)} do not meet in one corner")
    point = np.linalg.solve(matrix, np.array(levels))
    if free is not None:
        point[free] = np.nan
    return np.asarray(point)
