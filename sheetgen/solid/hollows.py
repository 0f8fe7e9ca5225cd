"""Holes told from bosses, through holes from blind ones, what turns right round from what does not, one from several."""

from __future__ import annotations

import math

import numpy as np

from sheetgen.solid.axes import turn_about
from sheetgen.solid.solid import Solid
from sheetgen.solid.surfaces import Cone, Cylinder, Plane, coaxial
from sheetgen.units import SAME_COSINE, SAME_POINT

HALF_TURN = 0.1
"""Radians over a half turn up to which an arc counts as half: facets of a half-round end may stand a little past it. Arcs over
180 degrees have a diameter, others a radius (ISO 129-1, from memory)."""


def is_hollow(solid: Solid, turned: int) -> bool:
    """True if the solid lies outside the cylinder or cone: a hole, not a boss."""
    return bool(solid.inward[solid.owner == turned].sum() > 0)


def is_open(solid: Solid, turned: int) -> bool:
    """True if nothing closes a hole: at both ends of each of its rows the faces square to its axis look away from it, and it does
    not end in a drill point."""
    surface = solid.surfaces[turned]
    assert isinstance(surface, Cylinder)
    rows = rows_of(solid, turned)
    for pair in solid.edges.curves:
        if turned not in pair:
            continue
        k = pair[0] if pair[1] == turned else pair[1]
        end = solid.surfaces[k]
        if isinstance(end, Plane) and abs(abs(float(end.normal @ surface.direction)) - 1) < SAME_COSINE:
            sense = float(solid.normals[int(np.argmax(solid.owner == k))] @ surface.direction)
            level = end.offset * float(np.sign(end.normal @ surface.direction))
            mine = [row for row in rows if row[0] - SAME_POINT < level < row[1] + SAME_POINT]
            if any(sense * (level - (low + high) / 2) < 0 for low, high in mine):
                return False
        if is_drill_point(solid, k, turned):
            return False
    return True


def turns_right_round(solid: Solid, turned: int) -> bool:
    """True if a cylinder turns right round, but perhaps for a slot along it: a bore or a boss, not a vault, a saddle, the
    rounded end of a plate."""
    return turn_of(solid, turned) > math.pi + HALF_TURN


def turn_of(solid: Solid, turned: int) -> float:
    """Radians through which a cylinder's facets go about its axis, taken together, wherever along it they lie."""
    surface = solid.surfaces[turned]
    assert isinstance(surface, Cylinder)
    arms = solid.vertices[np.unique(solid.triangles.compress(solid.owner == turned, axis=0))] - surface.point
    arms -= (arms @ surface.direction)[:, None] * surface.direction
    return turn_about(arms, arms[0], surface)


def rows_of(solid: Solid, turned: int) -> list[tuple[float, float]]:
    """Where along its axis a cylinder stands, mm along its direction from the origin: from, to, of each stretch.

    The two cheeks of a fork are two, and so are the holes in them. A hole that a bore crosses, or anything hollow and round, is
    one: it was drilled in one go.
    """
    surface = solid.surfaces[turned]
    assert isinstance(surface, Cylinder)
    along = solid.vertices[solid.triangles.compress(solid.owner == turned, axis=0)] @ surface.direction
    rows: list[tuple[float, float]] = []
    for low, high in sorted(zip(along.min(axis=1).tolist(), along.max(axis=1).tolist(), strict=True)):
        if rows and (low < rows[-1][1] + SAME_POINT or _crossed(solid, turned, rows[-1][1], low)):
            rows[-1] = rows[-1][0], max(rows[-1][1], high)
        else:
            rows.append((low, high))
    return rows


def _crossed(solid: Solid, turned: int, low: float, high: float) -> bool:
    """True if a hollow round surface bounds a cylinder on both sides of the gap from ``low`` to ``high`` along its axis."""
    edges, direction = solid.edges, solid.surfaces[turned].direction      # type: ignore[union-attr]
    mine = np.flatnonzero((edges.pair == turned).any(axis=1) & edges.sharp)
    other = edges.pair[mine].sum(axis=1) - turned
    at = (solid.vertices[edges.ends[mine]] @ direction).mean(axis=1)
    before, behind = set(other[at < low + SAME_POINT].tolist()), set(other[at > high - SAME_POINT].tolist())
    return any(not isinstance(solid.surfaces[k], Plane) and is_hollow(solid, k) for k in before & behind)


def is_drill_point(solid: Solid, point: int, wall: int) -> bool:
    """True if the surface ``point`` is the cone in which a drilled hole with that ``wall`` ends: about the same axis, as wide as
    the hole where they meet and narrower beyond. (A countersink is wider beyond.)"""
    cone, cylinder = solid.surfaces[point], solid.surfaces[wall]
    if not (isinstance(cone, Cone) and isinstance(cylinder, Cylinder) and coaxial(cone, cylinder)):
        return False
    used = np.unique(solid.triangles.compress(solid.owner == wall, axis=0))
    along = (solid.vertices.take(used, axis=0) - cone.point) @ cone.direction
    return float(along.min()) > cylinder.radius / cone.slope - SAME_POINT
