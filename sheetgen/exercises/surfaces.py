"""How far surfaces of a part reach, which way they look, and which are square to what. Part frame, millimetres."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sheetgen.geometry import Array
from sheetgen.solid import Plane, Solid
from sheetgen.units import SAME_DIRECTION


def facing(solid: Solid, surface: int, axis: int) -> int:
    """Which way a flat surface square to an axis looks along it: -1 or 1; 0 if parts of it look either way."""
    ways = np.sign(np.round(solid.normals[solid.owner == surface, axis]))
    return int(ways[0]) if len(ways) and (ways == ways[0]).all() else 0


def limits(solid: Solid, surfaces: Sequence[int]) -> tuple[Array, Array]:
    """The lowest and the highest corner (3,) of some surfaces."""
    points = solid.vertices[solid.triangles[np.isin(solid.owner, surfaces)]].reshape(-1, 3)
    return points.min(axis=0), points.max(axis=0)


def inclined(solid: Solid) -> dict[int, int]:
    """Of flat surfaces that are square to one view and to no axis: by surface the axis along which they are seen edge on."""
    found = {}
    for k, surface in enumerate(solid.surfaces):
        if isinstance(surface, Plane):
            zero = np.flatnonzero(np.abs(surface.normal) < SAME_DIRECTION)
            if len(zero) == 1:
                found[k] = int(zero[0])
    return found


def oblique(solid: Solid) -> list[int]:
    """The flat surfaces that no view shows edge on."""
    return [k for k, surface in enumerate(solid.surfaces)
            if isinstance(surface, Plane) and not (np.abs(surface.normal) < SAME_DIRECTION).any()]
