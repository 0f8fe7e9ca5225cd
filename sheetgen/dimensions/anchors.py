"""Where the ends of a measure show in a view: points of lines that belong to the end's surfaces."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from sheetgen.dimensions.ends import EndRef
from sheetgen.projection import View
from sheetgen.projection.hidden import Pieces
from sheetgen.solid import Line, Plane
from sheetgen.solid.primitives import IntArray
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
    def pair(self) -> IntArray:
        """The two surfaces of each piece (k, 2)."""
        return self.view.solid.edges.pair[self.pieces.edge]

    @cached_property
    def sharp(self) -> npt.NDArray[np.bool_]:
        """True for pieces of edges, False for limbs (k,)."""
        return np.asarray(self.view.solid.edges.sharp[self.pieces.edge], dtype=np.bool_)

    @cached_property
    def straight(self) -> npt.NDArray[np.bool_]:
        """True for pieces of straight edges (k,)."""
        curves = self.view.solid.edges.curves
        count = len(self.view.solid.surfaces)
        low, high = np.sort(self.pair, axis=1).T
        lines = np.array([a * count + b for (a, b), curve in sorted(curves.items()) if isinstance(curve, Line)], dtype=np.int64)
        return np.isin(low * count + high, lines)

    @cached_property
    def _corner(self) -> npt.NDArray[np.bool_]:
        """True for vertices (n,) in which three surfaces or more meet."""
        edges, count = self.view.solid.edges, len(self.view.solid.surfaces)
        ends = np.repeat(edges.ends[edges.sharp].ravel(), 2)
        around = np.repeat(edges.pair[edges.sharp], 2, axis=0).ravel()
        meets = np.unique(ends * count + around) // count
        return np.asarray(np.bincount(meets, minlength=len(self.view.solid.vertices)) >= 3)

    @cached_property
    def _true_start(self) -> npt.NDArray[np.bool_]:
        """True for pieces (k,) that start in a corner of the solid."""
        at_corner = self._corner[self.view.solid.edges.ends[self.pieces.edge, 0]]
        return np.asarray((self.pieces.start == 0.0) & at_corner)

    @cached_property
    def _true_stop(self) -> npt.NDArray[np.bool_]:
        """True for pieces (k,) that stop in a corner of the solid."""
        at_corner = self._corner[self.view.solid.edges.ends[self.pieces.edge, 1]]
        return np.asarray((self.pieces.stop == 1.0) & at_corner)

    @cached_property
    def _held(self) -> dict[tuple[int, bool], Array]:
        return {}

    def points_of(self, surface: int, *, seen: bool) -> Array:
        """Where a size can take hold (m, 3) on the seen (or the hidden) edges of a surface: ends of straight ones, and the
        points of curved ones that are outermost along x, y or z."""
        if (surface, seen) not in self._held:
            self._held[surface, seen] = self._points_of(surface, seen)
        return self._held[surface, seen]

    def _points_of(self, surface: int, seen: bool) -> Array:
        which = (self.pair == surface).any(axis=1) & self.sharp & (self.pieces.seen == seen)
        lines = which & self.straight
        ends = [self.start[lines & self._true_start], self.stop[lines & self._true_stop]]
        # Where a line merely disappears behind another is no place to measure from, unless there is no other.
        found = ends if len(ends[0]) + len(ends[1]) else [self.start[lines], self.stop[lines]]
        bent = which & ~self.straight
        other = np.where(self.pair[:, 0] == surface, self.pair[:, 1], self.pair[:, 0])
        for partner in np.unique(other[bent]):
            mine = bent & (other == partner)
            points = np.concatenate([self.start[mine], self.stop[mine]])
            low, high = points.min(axis=0), points.max(axis=0)
            outermost = ((points <= low + SAME_POINT) | (points >= high - SAME_POINT)) & (high - low > SAME_POINT)
            found.append(points[outermost.any(axis=1)])
        return np.concatenate(found)

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
            return _once(points[on])
        points = parts[0]
        return _once(points[np.abs(points[:, axis] - end.point[axis]) < SAME_POINT])

    def rails(self, end: EndRef, axis: int, third: int) -> list[tuple[tuple[float, float, float], float, float]]:
        """Seen straight edges of an end that run along the axis ``third``: a point of each, and its lowest and highest level."""
        which = (self.pair[:, :, None] == end.surfaces).any(axis=(1, 2)) & self.sharp & self.straight & self.pieces.seen
        start, stop = self.start[which], self.stop[which]
        straight = np.abs(np.delete(stop - start, third, axis=1)).max(axis=1, initial=0.0) < SAME_POINT
        held = straight & (np.abs(start[:, axis] - end.point[axis]) < SAME_POINT)
        low, high = np.minimum(start, stop)[held, third], np.maximum(start, stop)[held, third]
        places = [(x, y, z) for x, y, z in start[held].tolist()]
        return list(zip(places, low.tolist(), high.tolist(), strict=True))


def _once(points: Array) -> Array:
    """Points (n, 3) to a millionth of a millimetre, each once, in order of x, y, z."""
    return np.array(sorted(set(map(tuple, np.round(points, 6).tolist())))).reshape(-1, 3)
