"""Where the ends of a measure show in a view: points of lines that belong to the end's surfaces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sheetgen.geometry import Array, IntArray
from sheetgen.geometry.arrays import Mask
from sheetgen.measures import EndRef
from sheetgen.projection import View
from sheetgen.projection.hidden import Stretches
from sheetgen.sight.rims import Rim, rims_of
from sheetgen.solid import Plane
from sheetgen.units import SAME_POINT

Rail = tuple[tuple[float, float, float], float, float]
"""A straight edge along an axis of the part: a point of it, and its lowest and highest level."""


@dataclass(frozen=True, eq=False)
class Sight:
    """A view with its edge stretches as segments: ``start``, ``stop`` (k, 3) in the part and ``pair`` (k, 2) their surfaces."""

    view: View

    @property
    def stretches(self) -> Stretches:
        """The view's stretches."""
        return self.view.stretches

    @cached_property
    def start(self) -> Array:
        """Where each piece starts (k, 3), part frame."""
        return self._at(np.where(self.stretches.whole[:, 0], 0.0, self.stretches.start))

    @cached_property
    def stop(self) -> Array:
        """Where each piece stops (k, 3), part frame."""
        return self._at(np.where(self.stretches.whole[:, 1], 1.0, self.stretches.stop))

    def _at(self, t: Array) -> Array:
        start, run = self._whole_edges
        return np.asarray(start + t[:, None] * run)

    @cached_property
    def _whole_edges(self) -> tuple[Array, Array]:
        """Where each piece's whole edge starts (k, 3), and how far it runs (k, 3)."""
        start, stop = self.view.solid.vertices.take(self.view.solid.edges.ends.take(self.stretches.edge, axis=0).T, axis=0)
        return start, stop - start

    @cached_property
    def pair(self) -> IntArray:
        """The two surfaces of each piece (k, 2)."""
        return self.view.solid.edges.pair.take(self.stretches.edge, axis=0)

    @cached_property
    def _drawn(self) -> frozenset[int]:
        return frozenset(self.pair.ravel().tolist())

    def draws(self, surface: int) -> bool:
        """Whether a line of a surface is drawn, seen or hidden; a section leaves out what is hidden."""
        return surface in self._drawn

    @cached_property
    def sharp(self) -> Mask:
        """True for stretches of edges, False for limbs (k,)."""
        return np.asarray(self.view.solid.edges.sharp[self.stretches.edge], dtype=np.bool_)

    @cached_property
    def straight(self) -> Mask:
        """True for stretches of straight edges (k,)."""
        return self.view.solid.straight_edges[self.stretches.edge]

    @cached_property
    def _seen_between(self) -> tuple[IntArray, IntArray]:
        """The lower and the higher of the two surfaces of each seen sharp stretch (k,), -1 for the rest."""
        seen = self.sharp & self.stretches.seen
        one, other = self.pair.T
        return np.where(seen, np.minimum(one, other), -1), np.where(seen, np.maximum(one, other), -1)

    def seen_of(self, one: int, other: int | None = None) -> IntArray:
        """Which stretches are seen sharp edges of a surface, or of two."""
        low, high = self._seen_between
        if other is None:
            return np.flatnonzero((low == one) | (high == one))
        return np.flatnonzero((low == min(one, other)) & (high == max(one, other)))

    @cached_property
    def rims(self) -> tuple[tuple[Rim, ...], ...]:
        """Of each surface the rims that are seen; none of flat ones."""
        surfaces = self.view.solid.surfaces
        return tuple(() if isinstance(surface, Plane) else rims_of(self, k) for k, surface in enumerate(surfaces))

    @cached_property
    def rim_centres(self) -> Array:
        """The centres (k, 3) of all rims that are seen, each once."""
        return _once(np.array([rim.centre for rims in self.rims for rim in rims]).reshape(-1, 3))

    @cached_property
    def _true_ends(self) -> Mask:
        """True for stretches that start, and that stop, in a corner of the solid (k, 2)."""
        ends = self.view.solid.edges.ends.take(self.stretches.edge, axis=0)
        return np.asarray(self.stretches.whole & self.view.solid.corners.take(ends))

    @cached_property
    def _holds(self) -> tuple[Array, IntArray]:
        """Where sizes can take hold: points (m, 3) in order of their keys (m,), twice the surface's number, plus 1 where seen."""
        count, seen = len(self.view.solid.surfaces), self.stretches.seen
        line = np.flatnonzero(self.sharp & self.straight)
        of = (2 * self.pair[line] + seen[line, None]).T.ravel()        # each once for each of its two surfaces
        line = np.concatenate([line, line])
        first, last = self._true_ends.take(line, axis=0).T
        # Where a line merely disappears behind another is no place to measure from, unless there is no other.
        lost = np.bincount(of[first], minlength=2 * count) + np.bincount(of[last], minlength=2 * count) == 0
        first, last = first | lost[of], last | lost[of]
        bent = np.flatnonzero(self.sharp & ~self.straight)
        one, other = self.pair.take(bent, axis=0).T
        curve = (np.minimum(one, other) * count + np.maximum(one, other)) * 2 + seen[bent]
        tips, of_tip = _outermost(self.start.take(bent, axis=0), self.stop.take(bent, axis=0), curve)
        low, high = np.divmod(of_tip // 2, count)
        points = np.concatenate([self.start.take(line[first], axis=0), self.stop.take(line[last], axis=0), tips, tips])
        keys = np.concatenate([of[first], of[last], 2 * low + of_tip % 2, 2 * high + of_tip % 2])
        order = np.argsort(keys, kind="stable")
        return points.take(order, axis=0), keys.take(order)

    @property
    def holds(self) -> Array:
        """All points (m, 3) at which sizes can take hold."""
        return self._holds[0]

    @cached_property
    def _bounds(self) -> list[int]:
        bounds: list[int] = np.searchsorted(self._holds[1], np.arange(2 * len(self.view.solid.surfaces) + 1)).tolist()
        return bounds

    def points_of(self, surface: int, *, seen: bool) -> Array:
        """Where a size can take hold (m, 3) on the seen (or the hidden) edges of a surface: ends of straight ones, and the
        points of curved ones that are outermost along x, y or z."""
        return self.holds[self.hold(surface, seen=seen)]

    def hold(self, surface: int, *, seen: bool) -> slice:
        """Which of the points are of the seen (or the hidden) edges of a surface."""
        key = 2 * surface + seen
        return slice(self._bounds[key], self._bounds[key + 1])

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

    @cached_property
    def _rails(self) -> tuple[tuple[IntArray, Array, Array], ...]:
        """Seen straight edges along x, y and z: surfaces (k, 2), ends (k, 3) and (k, 3)."""
        which = np.flatnonzero(self.sharp & self.straight & self.stretches.seen)
        pair, start, stop = self.pair.take(which, axis=0), self.start.take(which, axis=0), self.stop.take(which, axis=0)
        x, y, z = (np.abs(stop - start) < SAME_POINT).T
        found = [np.flatnonzero(still) for still in (y & z, x & z, x & y)]
        return tuple((pair.take(on, axis=0), start.take(on, axis=0), stop.take(on, axis=0)) for on in found)

    @cached_property
    def tangent_ends(self) -> dict[tuple[float, float, float], int]:
        """Corners in which a flat face runs into a round one without an edge, and the axis along which it does."""
        edges, vertices = self.view.solid.edges, self.view.solid.vertices
        ends = vertices.take(edges.ends.compress(edges.tangent, axis=0), axis=0)                                      # (k, 2, 3)
        run = np.abs(ends[:, 1] - ends[:, 0])
        along = np.flatnonzero((run > SAME_POINT).sum(axis=1) == 1)
        axes = np.repeat(run[along].argmax(axis=1), 2).tolist()
        return {(x, y, z): axis for (x, y, z), axis in zip(np.round(ends[along], 6).reshape(-1, 3).tolist(), axes, strict=True)}

    def seen_along(self, axis: int) -> tuple[Array, Array]:
        """Where the seen straight edges along x, y or z (0, 1, 2) start and stop (k, 3)."""
        _, start, stop = self._rails[axis]
        return start, stop

    def rails(self, ends: Sequence[tuple[EndRef, int]], third: int) -> list[list[Rail]]:
        """Of each of the ends, with the axes along which they measure, the seen straight edges along the axis ``third``."""
        pair, start, stop = self._rails[third]
        mine = np.zeros((len(ends), len(self.view.solid.surfaces)), dtype=bool)
        for k, (end, _) in enumerate(ends):
            mine[k, list(end.surfaces)] = True
        axis = np.array([along for _, along in ends], dtype=np.int64)
        level = np.array([end.point[along] for end, along in ends])
        at_level = np.abs(start.T[axis] - level[:, None]) < SAME_POINT
        which, edge = np.nonzero((mine[:, pair[:, 0]] | mine[:, pair[:, 1]]) & at_level)
        low, high = (part(start[:, third], stop[:, third])[edge].tolist() for part in (np.minimum, np.maximum))
        found: list[list[Rail]] = [[] for _ in ends]
        for k, (x, y, z), one, other in zip(which.tolist(), start[edge].tolist(), low, high, strict=True):
            found[k].append(((x, y, z), one, other))
        return found


def _outermost(start: Array, stop: Array, group: IntArray) -> tuple[Array, IntArray]:
    """Ends (m, 3) of stretches (k, 3) outermost of their ``group`` (k,) along an axis in which it extends; (m,) groups."""
    if not len(group):
        return start, group
    points, of = np.concatenate([start, stop]), np.concatenate([group, group])
    order = np.argsort(of, kind="stable")
    points, of = points.take(order, axis=0), of.take(order)
    first = np.flatnonzero(np.diff(of, prepend=-1))
    size = np.diff(first, append=len(of))
    low, high = (np.repeat(ends.reduceat(points, first), size, axis=0) for ends in (np.minimum, np.maximum))
    on = ((points <= low + SAME_POINT) | (points >= high - SAME_POINT)) & (high - low > SAME_POINT)
    some = np.flatnonzero(on[:, 0] | on[:, 1] | on[:, 2])
    return points.take(some, axis=0), of.take(some)


def _once(points: Array) -> Array:
    """Points (n, 3) to a millionth of a millimetre, each once, in order of x, y, z."""
    return np.array(sorted(set(map(tuple, np.round(points, 6).tolist())))).reshape(-1, 3)
