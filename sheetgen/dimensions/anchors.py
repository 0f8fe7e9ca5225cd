"""Where the ends of a measure show in a view: points of lines that belong to the end's surfaces."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sheetgen.dimensions.ends import EndRef
from sheetgen.projection import View
from sheetgen.projection.hidden import Pieces
from sheetgen.solid import Plane
from sheetgen.solid.surfaces import Array
from sheetgen.units import SAME_POINT


@dataclass(frozen=True, eq=False)
class Sight:
    """A view with its edge pieces as segments: ``start``, ``stop`` (k, 3) in the part and ``pair`` (k, 2) their surfaces."""

    view: View

    @property
    def pieces(self) -> Pieces:
        """The view's pieces."""
        return self.view.pieces

    @cached_property
    def start(self) -> Array:
        """Where each piece starts (k, 3), part frame."""
        return self._at(self.pieces.start)

    @cached_property
    def stop(self) -> Array:
        """Where each piece stops (k, 3), part frame."""
        return self._at(self.pieces.stop)

    def _at(self, t: Array) -> Array:
        ends = self.view.solid.edges.ends[self.pieces.edge]
        a, b = (self.view.solid.vertices[ends[:, k]] for k in (0, 1))
        return np.asarray(a + t[:, None] * (b - a))

    @cached_property
    def pair(self) -> Array:
        """The two surfaces of each piece (k, 2)."""
        return self.view.solid.edges.pair[self.pieces.edge]

    @cached_property
    def sharp(self) -> Array:
        """True for pieces of edges, False for limbs (k,)."""
        return self.view.solid.edges.sharp[self.pieces.edge]

    def points_of(self, surface: int, *, seen: bool) -> Array:
        """End points (m, 3) of the seen (or the hidden) edge pieces of a surface."""
        which = (self.pair == surface).any(axis=1) & self.sharp & (self.pieces.seen == seen)
        return np.concatenate([self.start[which], self.stop[which]])

    def anchors(self, end: EndRef, axis: int, *, seen: bool = True) -> Array:
        """Points (m, 3) at which an end that measures along ``axis`` shows; none if it does not show.

        A plane: ends of its lines. An edge: the points where its own lines end, or, seen end-on, the corner of its planes' lines.
        An axis is no line of the solid: see ``rims``.
        """
        parts = [self.points_of(surface, seen=seen) for surface in end.surfaces]
        if len(parts) > 1:
            points = np.concatenate(parts)
            on = np.ones(len(points), dtype=bool)
            for surface in end.surfaces:
                plane = self.view.solid.surfaces[surface]
                assert isinstance(plane, Plane)
                on &= np.abs(points @ plane.normal - plane.offset) < SAME_POINT
            return np.unique(np.round(points[on], 6), axis=0)
        points = parts[0]
        return np.unique(np.round(points[np.abs(points[:, axis] - end.point[axis]) < SAME_POINT], 6), axis=0)

    def rims(self, turned: int, *, seen: bool = True) -> list[tuple[float, float, float]]:
        """Seen rims of a round surface that lie square to its axis: (level along the axis, radius, seen share of the turn)."""
        surface = self.view.solid.surfaces[turned]
        assert not isinstance(surface, Plane)
        which = (self.pair == turned).any(axis=1) & self.sharp & (self.pieces.seen == seen)
        start, stop = self.start[which], self.stop[which]
        level = (start - surface.point) @ surface.direction
        flat = np.abs((stop - start) @ surface.direction) < SAME_POINT
        middle = surface.point + level[flat, None] * surface.direction
        one, other = start[flat] - middle, stop[flat] - middle
        radius = np.linalg.norm(one, axis=1)
        swing = np.arctan2(np.linalg.norm(np.cross(one, other), axis=1), np.einsum("ij,ij->i", one, other)) / (2 * np.pi)
        places = np.round(level[flat], 6)
        return [
            (float(z), float(radius[places == z].max()), float(swing[places == z].sum()))
            for z in np.unique(places)
            if radius[places == z].max() > SAME_POINT
        ]
