"""Holes whose far end the pictorial cannot show: where they end, which their notes must say."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sheetgen.sight.anchors import Sight
from sheetgen.sight.rims import seen_rim_points
from sheetgen.solid import Cylinder, Plane, Solid, is_hollow, is_open
from sheetgen.units import SAME_POINT


@dataclass(frozen=True, slots=True)
class Through:
    """A hole that goes right through."""


@dataclass(frozen=True, slots=True)
class IntoBore:
    """A hole that ends in a bore. ``diameter``: of the bore, mm."""

    diameter: float


@dataclass(frozen=True, slots=True)
class IntoHollow:
    """A hole that ends in something hollow that does not turn right round: a vault, a saddle. ``radius``: of it, mm."""

    radius: float


FarEnd = Through | IntoBore | IntoHollow


def unseen_ends(sight: Sight) -> dict[int, FarEnd]:
    """Return how the cylinders end that are holes open at both ends of which the pictorial shows one end only."""
    solid = sight.view.solid
    return {
        k: _where_it_ends(sight, k) for k, surface in enumerate(solid.surfaces)
        if isinstance(surface, Cylinder) and is_hollow(solid, k) and is_open(solid, k) and not _far_rim_seen(sight, k)
    }


def _where_it_ends(sight: Sight, turned: int) -> FarEnd:
    """Right through, or in the bore or hollow whose wall its far rim lies on."""
    solid, surface = sight.view.solid, sight.view.solid.surfaces[turned]
    assert isinstance(surface, Cylinder)
    edges = solid.edges
    mine = np.flatnonzero(((edges.pair[:, 0] == turned) | (edges.pair[:, 1] == turned)) & edges.sharp)
    away = surface.direction * -np.sign(float(surface.direction @ sight.view.frame.toward))
    reach = (solid.vertices[edges.ends[mine]] @ away).max(axis=1)
    partner = edges.pair[mine[int(np.argmax(reach))]]
    other = int(partner[0] if partner[1] == turned else partner[1])
    bore = solid.surfaces[other]
    if not isinstance(bore, Cylinder) or not is_hollow(solid, other):
        return Through()
    return IntoBore(2 * bore.radius) if _goes_round(solid, other) else IntoHollow(bore.radius)


def _goes_round(solid: Solid, turned: int) -> bool:
    """True if a cylinder turns right round: a bore, not the vault of a tunnel or a saddle."""
    surface = solid.surfaces[turned]
    assert isinstance(surface, Cylinder)
    one, other = np.delete(np.eye(3), int(np.argmax(np.abs(surface.direction))), axis=0)
    arms = solid.vertices[np.unique(solid.triangles[solid.owner == turned])] - surface.point
    turn = np.sort(np.arctan2(arms @ other, arms @ one))
    return bool(np.diff(turn, append=turn[0] + 2 * np.pi).max() < np.pi / 2)


def _far_rim_seen(sight: Sight, turned: int) -> bool:
    """True if some of the rim away from the reader shows, through the hole itself."""
    surface = sight.view.solid.surfaces[turned]
    assert not isinstance(surface, Plane)
    along = seen_rim_points(sight, turned) @ surface.direction
    solid = sight.view.solid
    points = solid.vertices[solid.triangles[solid.owner == turned].ravel()] @ surface.direction
    far = points.min() if float(surface.direction @ sight.view.frame.toward) > 0 else points.max()
    return bool((np.abs(along - far) < SAME_POINT).any())
