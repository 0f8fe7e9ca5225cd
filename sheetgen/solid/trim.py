"""A solid cut by a plane, or by one that turns at right angles, and what lies before it taken away. Part frame, millimetres.

What is left has the whole part's surfaces under their numbers, so that whatever was said of these still holds, and after them
those of the cut.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.bank.features import Plane as DrawnPlane
from sheetgen.solid.build import SolidError, finished, mesh_of
from sheetgen.solid.primitives import OutlineSide, Primitive, extruded
from sheetgen.solid.registry import manifold_of
from sheetgen.solid.solid import Solid
from sheetgen.solid.surfaces import Plane
from sheetgen.solid.threads import single_threaded

PAST = 10.0
"""mm: so far what is taken away reaches past the part."""

PLANES: tuple[DrawnPlane, ...] = ("right", "front", "top")
"""Those square to x, y and z, in which outlines are drawn."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of a cutting plane: from ``low`` to ``high`` along the axis on which stretches follow each other it stands at
    ``level`` mm; infinite where it is open."""

    level: float
    low: float = -math.inf
    high: float = math.inf


@dataclass(frozen=True, eq=False)
class Trimmed:
    """What is left of a part. ``faces``: the surfaces of the cut, one for each stretch; ``turns``: those in which the plane
    turns, or a half section ends."""

    solid: Solid
    faces: tuple[int, ...]
    turns: tuple[int, ...]


def trimmed(solid: Solid, axis: int, along: int, sense: int, stretches: Sequence[Stretch]) -> Trimmed:
    """Take away what lies before a cutting plane: square to ``axis`` (0, 1, 2), its ``stretches`` in order along ``along``;
    ``sense``: 1 if the reader stands towards greater levels, else -1.

    Raises: SolidError if the plane lies in a face of the part or turns in one, meets nothing, or leaves what touches itself along
    an edge or in a point only.
    """
    single_threaded()
    tool, faces, turns = _before(solid, axis, along, sense, stretches)
    for k in (*faces, *turns):
        plane = tool.surfaces[k]
        if any(plane.same_as(surface) for surface in solid.surfaces):
            raise SolidError("the cutting plane lies in a face of the part" if k in faces else "it turns in a face of the part")
    count = len(solid.surfaces)
    whole = manifold_of(solid.vertices, solid.triangles, solid.owner)
    left = whole - manifold_of(tool.vertices, tool.triangles, tool.group + count)
    if left.is_empty():
        raise SolidError("nothing is left of the part behind the cutting plane")
    vertices, triangles, owner = mesh_of(left)
    for k in faces:
        if not (owner == count + k).any():
            raise SolidError("the cutting plane misses the part")
    used = sorted({*faces, *turns})
    numbers = np.arange(count + len(tool.surfaces))
    numbers[[count + k for k in used]] = count + np.arange(len(used))
    surfaces = (*solid.surfaces, *(tool.surfaces[k] for k in used))
    more = tuple(() for _ in used)
    result = finished(
        vertices, triangles, numbers[owner], surfaces, solid.sides, solid.known, (*solid.features, *more),
        (*solid.makers, *(frozenset[str]() for _ in used)))
    vars(result)["size"] = solid.size                                  # views begin to count where those of the whole part do
    place = {k: count + n for n, k in enumerate(used)}
    return Trimmed(result, tuple(place[k] for k in faces), tuple(place[k] for k in turns))


def _before(
    solid: Solid, axis: int, along: int, sense: int, stretches: Sequence[Stretch]
) -> tuple[Primitive, tuple[int, ...], tuple[int, ...]]:
    """What lies before the plane, a prism; which of its surfaces are the cut's faces, and in which it turns."""
    third = 3 - axis - along
    outside = float(solid.size[axis]) + PAST if sense > 0 else -PAST
    low, high = -PAST, float(solid.size[along]) + PAST
    points = [(max(stretches[0].low, low), outside)]
    for stretch in stretches:
        points += [(max(stretch.low, low), stretch.level), (min(stretch.high, high), stretch.level)]
    points.append((min(stretches[-1].high, high), outside))
    swapped = axis < along                                             # outlines are drawn in the order of the axes
    corners = [(v, u) if swapped else (u, v) for u, v in points]
    sides = [OutlineSide(corner) for corner in (*corners[1:], corners[0])]
    faces = tuple(1 + 2 * k for k in range(len(stretches)))
    turns = tuple(2 + 2 * k for k in range(len(stretches) - 1))
    ends = (*((0,) if stretches[0].low > low else ()), *((len(points) - 2,) if stretches[-1].high < high else ()))
    body = extruded(PLANES[third], corners[0], sides, -PAST, float(solid.size[third]) + PAST, ((), ()))
    assert all(isinstance(body.surfaces[k], Plane) for k in faces)
    return body, faces, tuple(sorted((*turns, *ends)))
