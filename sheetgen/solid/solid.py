"""The solid: a closed mesh beside the exact surfaces it stands for. Part frame, millimetres, read-only."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sheetgen.solid.edges import Edges, facet_normals
from sheetgen.solid.primitives import IntArray
from sheetgen.solid.surfaces import Array, Cone, Cylinder, Plane, Surface


@dataclass(frozen=True, eq=False)
class Solid:
    """A closed solid whose lowest, leftmost, foremost corner is the origin.

    ``vertices`` (n, 3) mm; ``triangles`` (m, 3) anticlockwise from outside; ``owner`` (m,) the surface of each triangle;
    ``sides``: surface by the trade's name of a side ("slot.left"); ``known``: all side names the features could make,
    also of sides that nothing is left of; ``features``: for each surface the features that made it.
    """

    vertices: Array
    triangles: IntArray
    owner: IntArray
    surfaces: tuple[Surface, ...]
    sides: dict[str, int]
    known: frozenset[str]
    features: tuple[tuple[str, ...], ...]
    edges: Edges

    @cached_property
    def normals(self) -> Array:
        """Outward unit normals (m, 3) of the triangles."""
        return facet_normals(self.vertices, self.triangles)

    @property
    def size(self) -> Array:
        """Width, depth and height (3,), mm."""
        return np.asarray(self.vertices.max(axis=0))

    @cached_property
    def volume(self) -> float:
        """mm3 of the exact solid: the mesh's volume and what lies between its facets and the true curved surfaces.

        Over a chord of length c the surface bulges by about (c2/4 - s2) / 2r at distance s from its middle; the error of
        that parabola is of the fourth order, below 1e-8 of the whole at our chords.
        """
        a, b, c = (self.vertices[self.triangles[:, k]] for k in range(3))
        total = float(np.einsum("ij,ij->", a, np.cross(b, c))) / 6
        for k, surface in enumerate(self.surfaces):
            if not isinstance(surface, Plane):
                total += self._bulge(surface, self.owner == k)
        return total

    def _bulge(self, surface: Cylinder | Cone, which: Array) -> float:
        """mm3 between the facets ``which`` (m,) bool and their surface; negative where the surface is hollow."""
        corners = self.vertices[self.triangles[which]]                     # (k, 3 corners, 3)
        normal = self.normals[which]
        # Three points inside each triangle integrate a parabola exactly (midpoints of the sides).
        points = (corners + np.roll(corners, -1, axis=1)) / 2
        flat = points.reshape(-1, 3)
        away = surface.normals(flat).reshape(points.shape)
        axial = (points - surface.point) @ surface.direction
        distance = np.linalg.norm(points - surface.point - axial[..., None] * surface.direction, axis=2)
        if isinstance(surface, Cylinder):
            gap = surface.radius - distance
        else:
            gap = (axial * surface.slope - distance) / np.hypot(1.0, surface.slope)
        sense = np.sign(np.einsum("ijk,ik->i", away, normal))
        area = np.linalg.norm(np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1) / 2
        return float(np.sum(sense * area * gap.mean(axis=1)))

    def names_of(self, surface: int) -> list[str]:
        """All names of a surface, the shortest first."""
        return sorted((name for name, k in self.sides.items() if k == surface), key=lambda name: (len(name), name))
