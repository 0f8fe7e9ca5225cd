"""Holes told from bosses, and through holes from blind ones."""

from __future__ import annotations

import numpy as np

from sheetgen.solid.solid import Solid
from sheetgen.solid.surfaces import Cone, Cylinder, Plane, coaxial
from sheetgen.units import SAME_COSINE, SAME_POINT


def is_hollow(solid: Solid, turned: int) -> bool:
    """True if the solid lies outside the cylinder or cone: a hole, not a boss."""
    return bool(solid.inward[solid.owner == turned].sum() > 0)


def is_open(solid: Solid, turned: int) -> bool:
    """True if neither a face square to the axis nor a drill's point closes a hole: at both ends the faces it ends in look away
    from it."""
    surface = solid.surfaces[turned]
    assert not isinstance(surface, Plane)
    used = np.zeros(len(solid.vertices), dtype=bool)
    used[solid.triangles.compress(solid.owner == turned, axis=0)] = True
    middle = float(((solid.vertices.compress(used, axis=0) - surface.point) @ surface.direction).mean())
    for pair in solid.edges.curves:
        if turned not in pair:
            continue
        k = pair[0] if pair[1] == turned else pair[1]
        plane = solid.surfaces[k]
        if isinstance(plane, Plane) and abs(abs(float(plane.normal @ surface.direction)) - 1) < SAME_COSINE:
            sense = float(solid.normals[int(np.argmax(solid.owner == k))] @ surface.direction)
            level = plane.offset * float(np.sign(plane.normal @ surface.direction)) - float(surface.point @ surface.direction)
            if sense * (level - middle) < 0:
                return False
        if is_drill_point(solid, k, turned):
            return False
    return True


def is_drill_point(solid: Solid, point: int, wall: int) -> bool:
    """True if the surface ``point`` is the cone in which a drilled hole with that ``wall`` ends: about the same axis, as wide as
    the hole where they meet and narrower beyond. (A countersink is wider beyond.)"""
    cone, cylinder = solid.surfaces[point], solid.surfaces[wall]
    if not (isinstance(cone, Cone) and isinstance(cylinder, Cylinder) and coaxial(cone, cylinder)):
        return False
    used = np.unique(solid.triangles.compress(solid.owner == wall, axis=0))
    along = (solid.vertices.take(used, axis=0) - cone.point) @ cone.direction
    return float(along.min()) > cylinder.radius / cone.slope - SAME_POINT
