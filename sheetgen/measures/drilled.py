"""The points in which drilled holes end: all have one angle, which one general note tells."""

from __future__ import annotations

from sheetgen.solid import Solid, is_drill_point

DRILL_POINT = 120.0
"""Degrees: the angle of a drilled hole's point as it is drawn (118 to 120 in practice; common practice, no source)."""


def drill_points(solid: Solid) -> tuple[int, ...]:
    """The cones of a solid in which drilled holes end."""
    return tuple(sorted({k for pair in solid.edges.curves for k, wall in (pair, pair[::-1]) if is_drill_point(solid, k, wall)}))
