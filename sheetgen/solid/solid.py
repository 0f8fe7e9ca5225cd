"""The solid: a closed mesh beside the exact surfaces it stands for. Part frame, millimetres, read-only."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sheetgen.geometry import Array, IntArray, Mask
from sheetgen.solid.axes import AxisGroup, axis_groups_of
from sheetgen.solid.edges import Conic, Edges, Line
from sheetgen.solid.panes import Panes, panes_of
from sheetgen.solid.surfaces import Cone, Cylinder, Plane, Surface
from sheetgen.solid.table import SurfaceTable, table_of
from sheetgen.units import SAME_POINT


def _fan() -> tuple[Array, Array, Array]:
    """Gauss points of a triangle as (t, s) fanning out from one corner, and their weights, which add up to 1."""
    nodes, weights = np.polynomial.legendre.leggauss(4)
    nodes, weights = (nodes + 1) / 2, weights / 2
    t, s = (grid.ravel() for grid in np.meshgrid(nodes, nodes, indexing="ij"))
    return t, s, np.outer(weights * 2 * nodes, weights).ravel()


_FAN = _fan()


@dataclass(frozen=True, eq=False)
class Solid:
    """A closed solid whose lowest, leftmost, foremost corner is the origin.

    ``vertices`` (n, 3) mm; ``triangles`` (m, 3) anticlockwise from outside; ``normals`` (m, 3) outward, unit: of the facets as
    they were cut, so that the two halves of a strip look one way; ``owner`` (m,) the surface of each triangle;
    ``sides``: surface by the trade's name of a side ("slot.left"); ``known``: all side names the features could make,
    also of sides that nothing is left of; ``features``: for each surface the features that made what is left of it;
    ``makers``: those that have it at all, seen or not.
    """

    vertices: Array
    triangles: IntArray
    normals: Array
    owner: IntArray
    surfaces: tuple[Surface, ...]
    sides: dict[str, int]
    known: frozenset[str]
    features: tuple[tuple[str, ...], ...]
    edges: Edges
    makers: tuple[frozenset[str], ...]

    @cached_property
    def table(self) -> SurfaceTable:
        """The surfaces as columns."""
        return table_of(self.surfaces)

    @cached_property
    def straight_curves(self) -> tuple[tuple[tuple[int, int], ...], Array]:
        """The pairs of surfaces that meet in a straight line, and its direction (k, 3); a cone has many with one plane."""
        cone = self.table.cone.tolist()
        found = {pair: curve.direction for pair, curve in self.edges.curves.items()
                 if isinstance(curve, Line) and not cone[pair[0]] and not cone[pair[1]]}
        return tuple(found), np.array(list(found.values())).reshape(-1, 3)

    @cached_property
    def conics(self) -> tuple[tuple[tuple[int, int], ...], Array]:
        """The pairs of surfaces that meet in a circle or ellipse, and its centre and radii (k, 3 vectors, 3)."""
        found = {pair: [curve.centre, curve.a, curve.b] for pair, curve in self.edges.curves.items() if isinstance(curve, Conic)}
        return tuple(found), np.array(list(found.values())).reshape(-1, 3, 3)

    @cached_property
    def bent_edges(self) -> Mask:
        """True for edges (e,) whose ends were moved onto curves off the facets: neither straight nor circular, or smooth."""
        count = len(self.surfaces)
        moved = np.zeros(count * count, dtype=bool)
        for (a, b), curve in self.edges.curves.items():
            circle = isinstance(curve, Conic) and abs(curve.a @ curve.a - curve.b @ curve.b) < SAME_POINT
            moved[[a * count + b, b * count + a]] = not circle and not isinstance(curve, Line)
        return np.asarray(moved[self.edges.pair[:, 0] * count + self.edges.pair[:, 1]] | ~self.edges.sharp)

    @cached_property
    def inward(self) -> Array:
        """Of each facet (m,): the cosine of the angle at which it looks towards its round surface's axis, above 0 where that is
        hollow; 0 of flat ones."""
        bent = np.flatnonzero(~self.table.flat[self.owner])
        a, b, c = (self.vertices.take(corner, axis=0) for corner in self.triangles.take(bent, axis=0).T)
        away = self.table.normals(self.owner[bent], (a + b + c) / 3)
        found = np.zeros(len(self.triangles))
        found[bent] = -np.einsum("ij,ij->i", away, self.normals.take(bent, axis=0))
        return found

    @cached_property
    def axis_groups(self) -> tuple[AxisGroup, ...]:
        """The axes about which round surfaces turn."""
        return axis_groups_of(self.vertices, self.triangles, self.owner, self.surfaces)

    def about_axis_of(self, turned: int) -> AxisGroup:
        """All that turns about the axis of the round surface ``turned``."""
        return next(group for group in self.axis_groups if turned in group.surfaces)

    @cached_property
    def panes(self) -> Panes:
        """The facets, most of them joined two and two."""
        return panes_of(self.vertices, self.triangles, self.normals, self.edges)

    @cached_property
    def straight_edges(self) -> Mask:
        """True for the straight ones among the edges (e,)."""
        count = len(self.surfaces)
        straight = np.zeros(count * count, dtype=bool)
        lines = [pair for pair, curve in self.edges.curves.items() if isinstance(curve, Line)]
        straight[[k for a, b in lines for k in (a * count + b, b * count + a)]] = True
        return np.asarray(straight[self.edges.pair[:, 0] * count + self.edges.pair[:, 1]])

    @cached_property
    def meeting(self) -> Mask:
        """True (n, s) for the surfaces that meet others at sharp edges in each vertex."""
        edges = self.edges
        ends = np.repeat(edges.ends[edges.sharp].ravel(), 2)
        around = np.repeat(edges.pair[edges.sharp], 2, axis=0).ravel()
        meets = np.zeros((len(self.vertices), len(self.surfaces)), dtype=bool)
        meets[ends, around] = True
        return meets

    @cached_property
    def corners(self) -> Mask:
        """True for vertices (n,) in which three surfaces or more meet at sharp edges."""
        return np.asarray(self.meeting.sum(axis=1) >= 3)

    @cached_property
    def rims(self) -> tuple[tuple[tuple[int, Conic], ...], ...]:
        """Of each surface the circles and ellipses in which flat ones cut it: those and the curves, in a fixed order."""
        found: list[list[tuple[int, Conic]]] = [[] for _ in self.surfaces]
        for (one, other), curve in sorted(self.edges.curves.items()):
            if isinstance(curve, Conic):
                for turned, partner in ((one, other), (other, one)):
                    if isinstance(self.surfaces[partner], Plane):
                        found[turned].append((partner, curve))
        return tuple(map(tuple, found))

    @cached_property
    def size(self) -> Array:
        """Width, depth and height (3,), mm."""
        size = np.asarray(self.vertices.max(axis=0))
        size.flags.writeable = False
        return size

    @cached_property
    def volume(self) -> float:
        """mm3 of the exact solid: the mesh's volume and what lies between its facets and the true curved surfaces.
        """
        a, b, c = (self.vertices[self.triangles[:, k]] for k in range(3))
        total = float(np.einsum("ij,ij->", a, np.cross(b, c))) / 6
        for k, surface in enumerate(self.surfaces):
            if not isinstance(surface, Plane):
                total += self._bulge(surface, self.owner == k)
        return total

    def _bulge(self, surface: Cylinder | Cone, which: Array) -> float:
        """mm3 between the facets ``which`` (m,) bool and their surface; negative where the surface is hollow.

        Gauss points fan out from the corner nearest to a cone's apex, where the gap shrinks to nothing but is no polynomial.
        """
        corners = self.vertices[self.triangles[which]]                     # (k, 3 corners, 3)
        first = np.argmin(np.linalg.norm(corners - surface.point, axis=2), axis=1)
        apex, one, other = (corners[np.arange(len(corners)), (first + i) % 3][:, None] for i in range(3))
        t, s, weight = _FAN
        points = apex + t[:, None] * ((1 - s)[:, None] * (one - apex) + s[:, None] * (other - apex))
        axial = (points - surface.point) @ surface.direction
        distance = np.linalg.norm(points - surface.point - axial[..., None] * surface.direction, axis=2)
        if isinstance(surface, Cylinder):
            gap = surface.radius - distance
        else:
            gap = (axial * surface.slope - distance) / np.hypot(1.0, surface.slope)
        away = surface.normals(corners.mean(axis=1))
        sense = np.sign(np.einsum("ij,ij->i", away, self.normals[which]))
        area = np.linalg.norm(np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1) / 2
        return float(np.sum(sense * area * (gap @ weight)))

    def names_of(self, surface: int) -> list[str]:
        """All names of a surface, the shortest first."""
        return sorted((name for name, k in self.sides.items() if k == surface), key=lambda name: (len(name), name))
