"""Surfaces and their names, numbered as the facets of a mesh number them through the Boolean operations."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import manifold3d
import numpy as np

from sheetgen.geometry import IntArray
from sheetgen.solid.primitives import Primitive
from sheetgen.solid.surfaces import Plane, Surface
from sheetgen.units import SAME_POINT


@dataclass
class Registry:
    """All surfaces that features made so far.

    ``first``: for each surface, the first one equal to it; ``names`` and ``owners``: its side names, and the features it is of.
    ``distinct_ones``: of each that is the first of its equals, its kind and size. ``corners``: how many the bodies have had
    together.
    """

    surfaces: list[Surface] = field(default_factory=list)
    first: list[int] = field(default_factory=list)
    names: list[tuple[str, ...]] = field(default_factory=list)
    owners: list[frozenset[str]] = field(default_factory=list)
    distinct_ones: dict[int, tuple[type[Surface], float]] = field(default_factory=dict)
    corners: int = 0

    def manifold(self, body: Primitive, owner: str) -> manifold3d.Manifold:
        """Take in the surfaces of ``body`` and return it ready for the operations."""
        face_id = body.group + len(self.surfaces)
        for surface in body.surfaces:
            kind, size = type(surface), surface.size
            known = (k for k, (its, extent) in self.distinct_ones.items()
                     if its is kind and abs(extent - size) < 2 * SAME_POINT and self.surfaces[k].same_as(surface))
            first = next(known, len(self.surfaces))
            self.first.append(first)
            self.distinct_ones.setdefault(first, (kind, size))
            self.surfaces.append(surface)
        self.names += body.names
        self.owners += [frozenset([owner])] * len(body.surfaces)
        return manifold_of(body.vertices, body.triangles, face_id)

    def repeats_round(self, count: int) -> bool:
        """True if one of the last ``count`` surfaces is round and an earlier one's equal."""
        numbers = range(len(self.surfaces) - count, len(self.surfaces))
        return any(self.first[k] < numbers.start and not isinstance(self.surfaces[k], Plane) for k in numbers)

    def merged(self, face: IntArray) -> IntArray:
        """Facets of equal surfaces under one number: the first one's, which is then of all their features."""
        for k in np.flatnonzero(np.bincount(face)).tolist():
            self.owners[self.first[k]] |= self.owners[k]
        return np.array(self.first)[face]

    def distinct(self, used: Sequence[int]) -> tuple[list[Surface], IntArray]:
        """Equal ones of the surfaces ``used`` as one: the distinct ones, and for each given one its place among them."""
        place: dict[int, int] = {}
        surfaces: list[Surface] = []
        for k in used:
            if self.first[k] not in place:
                place[self.first[k]] = len(surfaces)
                surfaces.append(self.surfaces[k])
        return surfaces, np.array([place[self.first[k]] for k in used], dtype=np.int64)


def manifold_of(vertices: object, triangles: IntArray, face: IntArray) -> manifold3d.Manifold:
    """Return a mesh, facets numbered by ``face`` (m,), as the operations take it."""
    corners = np.array(vertices, dtype=np.float64, order="C")            # a copy: a finished solid's arrays are read-only
    mesh = manifold3d.Mesh64(corners, triangles.astype(np.uint64, order="C"), face_id=face.astype(np.uint64))
    return manifold3d.Manifold(mesh)
