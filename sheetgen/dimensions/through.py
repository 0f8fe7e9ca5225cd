"""Holes whose far end the pictorial cannot show: their notes say THROUGH."""

from __future__ import annotations

import numpy as np

from sheetgen.dimensions.anchors import Sight
from sheetgen.projection import ISOMETRIC_CORNER, view_of
from sheetgen.solid import Cylinder, Plane, Solid


def unseen_ends(solid: Solid, corner: str = ISOMETRIC_CORNER) -> frozenset[int]:
    """Return the cylinders that are holes open at both ends of which the pictorial shows one end only."""
    sight = Sight(view_of(solid, "isometric", corner))
    return frozenset(
        k for k, surface in enumerate(solid.surfaces)
        if isinstance(surface, Cylinder) and is_hollow(solid, k) and is_open(solid, k) and len(sight.rims(k)) < 2
    )


def is_hollow(solid: Solid, turned: int) -> bool:
    """True if the solid lies outside the cylinder or cone: a hole, not a boss."""
    which = solid.owner == turned
    middles = solid.vertices[solid.triangles[which]].mean(axis=1)
    return bool(np.einsum("ij,ij->", solid.surfaces[turned].normals(middles), solid.normals[which]) < 0)


def is_open(solid: Solid, turned: int) -> bool:
    """True if no face square to the axis closes a hole: at both ends the faces it ends in look away from it."""
    surface = solid.surfaces[turned]
    assert not isinstance(surface, Plane)
    points = solid.vertices[np.unique(solid.triangles[solid.owner == turned])]
    middle = float(((points - surface.point) @ surface.direction).mean())
    for pair in solid.edges.curves:
        if turned not in pair:
            continue
        k = pair[0] if pair[1] == turned else pair[1]
        plane = solid.surfaces[k]
        if isinstance(plane, Plane) and abs(abs(float(plane.normal @ surface.direction)) - 1) < 1e-9:
            facets = np.flatnonzero(solid.owner == k)
            sense = float(solid.normals[facets[0]] @ surface.direction)
            level = plane.offset * float(np.sign(plane.normal @ surface.direction)) - float(surface.point @ surface.direction)
            if sense * (level - middle) < 0:
                return False
    return True
