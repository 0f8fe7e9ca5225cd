"""Rims of round surfaces: where a hole or boss shows its circle, so that its axis can be marked and a note can point at it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from sheetgen.geometry import Array, Mask
from sheetgen.geometry.vectors import cross
from sheetgen.solid import Conic, Plane, Solid
from sheetgen.units import FACES_READER, SAME_COSINE

if TYPE_CHECKING:
    from sheetgen.sight.anchors import Sight


@dataclass(frozen=True, eq=False)
class Rim:
    """The circle or ellipse centre + a cos t + b sin t, (3,) each, in which a round surface meets a face turned to the reader.

    ``share`` of the whole turn is seen, ``part`` of what there is of the rim; ``square``: the face stands square to the axis;
    ``face``: the surface it is.
    """

    centre: Array
    a: Array
    b: Array
    share: float
    part: float
    square: bool
    face: int

    def arms(self, over: float) -> list[Array]:
        """Half-lengths (3,) of the two centre lines that cross in it, ``over`` mm past the rim; along part axes if square."""
        if self.square:
            radius = float(np.linalg.norm(self.a)) + over
            axis = [abs(part) for part in cross(self.a, self.b)]
            k = axis.index(max(axis))
            if axis[k] > (1 - SAME_COSINE) * math.hypot(*axis):
                return [np.eye(3)[i] * radius for i in range(3) if i != k]
        return [arm * (1 + over / float(np.linalg.norm(arm))) for arm in (self.a, self.b)]


def rims_of(sight: Sight, turned: int) -> tuple[Rim, ...]:
    """The rims of a round surface of which something is seen, in a fixed order."""
    solid = sight.view.solid
    surface = solid.surfaces[turned]
    assert not isinstance(surface, Plane)
    found = []
    for partner, curve in solid.rims[turned]:
        plane, which = solid.surfaces[partner], sight.seen_of(turned, partner)
        if not len(which):
            continue
        assert isinstance(plane, Plane)
        facets = solid.edges.facets.take(sight.stretches.edge.take(which), axis=0)
        face = np.where(solid.owner[facets[:, 0]] == partner, facets[:, 0], facets[:, 1])
        which = which.compress(solid.normals.take(face, axis=0) @ sight.view.frame.toward > FACES_READER)
        if len(which):
            start, stop = sight.start.take(which, axis=0), sight.stop.take(which, axis=0)
            seen, there = _swing(curve, start, stop), _swing(curve, *_whole_rim(solid, turned, partner))
            square = abs(abs(float(plane.normal @ surface.direction)) - 1) < SAME_COSINE
            found.append(Rim(curve.centre, curve.a, curve.b, seen, seen / there, square, partner))
    return tuple(found)


def _whole_rim(solid: Solid, turned: int, partner: int) -> Array:
    """Both ends (2, k, 3) of all mesh edges, seen or not, in which two surfaces meet."""
    one, other = solid.edges.pair.T
    mine = np.flatnonzero((np.minimum(one, other) == min(turned, partner)) & (np.maximum(one, other) == max(turned, partner)))
    return solid.vertices.take(solid.edges.ends.take(mine, axis=0).T, axis=0)


def _swing(curve: Conic, start: Array, stop: Array) -> float:
    """How much of a whole turn stretches of a circle or ellipse from ``start`` (k, 3) to ``stop`` are."""
    swing = np.abs((_turn(curve, stop) - _turn(curve, start) + np.pi) % (2 * np.pi) - np.pi)
    return float(swing.sum()) / (2 * np.pi)


def _turn(curve: Conic, points: Array) -> Array:
    """The parameter t (n,) of points (n, 3) of a circle or ellipse."""
    away = points - curve.centre
    return np.arctan2(away @ curve.b / (curve.b @ curve.b), away @ curve.a / (curve.a @ curve.a))


def near_the_end(on: Mask) -> Mask:
    """Which of the places (n,) that go once round, ``on`` the seen rim or not, are the last on it: an arrow at the end of an arc
    seems to point at what it runs into."""
    round_again = np.concatenate([on[-1:], on, on[:1]])
    last: Mask = on & ~(round_again[:-2] & round_again[2:])
    return last


def seen_rim_points(sight: Sight, turned: int) -> Array:
    """Ends (n, 3) of all seen edge stretches of a round surface, whatever curve they belong to."""
    which = sight.seen_of(turned)
    return np.concatenate([sight.start.take(which, axis=0), sight.stop.take(which, axis=0)])
