"""Drilled holes: the points in which they end, all of one angle, which one general note tells; the counterbores in which they
begin."""

from __future__ import annotations

from sheetgen.solid import Plane, Solid, is_drill_point

DRILL_POINT = 120.0
"""Degrees: the angle of a drilled hole's point as it is drawn (118 to 120 in practice; common practice, no source)."""

COUNTERBORE, SHOULDER = "counterbore", "shoulder"
"""The sides of a hole that are the wall of its counterbore, and the floor of that."""


def drill_points(solid: Solid) -> tuple[int, ...]:
    """The cones of a solid in which drilled holes end."""
    return tuple(sorted({k for pair in solid.edges.curves for k, wall in (pair, pair[::-1]) if is_drill_point(solid, k, wall)}))


def meeting(solid: Solid, surface: int) -> list[int]:
    """The surfaces that meet another in an edge."""
    return [pair[0] if pair[1] == surface else pair[1] for pair in solid.edges.curves if surface in pair]


def is_named(solid: Solid, surface: int, side: str) -> bool:
    """Whether it is that side of some feature."""
    return any(name.split(".")[-1] == side for name in solid.names_of(surface))


def mouth_of(solid: Solid, shoulder: int, axis: int) -> dict[float, tuple[int, ...]]:
    """The face, by its level along the axis, in which the counterbore with that floor begins."""
    walls = [k for k in meeting(solid, shoulder) if is_named(solid, k, COUNTERBORE)]
    faces = {k: solid.surfaces[k] for wall in walls for k in meeting(solid, wall) if k != shoulder}
    return {face.level: (k,) for k, face in faces.items() if isinstance(face, Plane) and face.axis == axis}
