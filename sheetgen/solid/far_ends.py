"""Where holes end that are open at both ends: a pictorial does not show it, so their notes must say. Millimetres."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from sheetgen.solid.hollows import is_hollow, is_open, turns_right_round
from sheetgen.solid.solid import Solid
from sheetgen.solid.surfaces import Cylinder, coaxial


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


def far_ends(solid: Solid) -> dict[int, FarEnd]:
    """Return how the cylinders end, by their numbers, that are hollow and open at both ends.

    A hole that goes on beyond a bore goes through; it ends in the bore if its last rim, at either end, lies on the bore's wall.
    """
    return {
        k: _where_it_ends(solid, k) for k, surface in enumerate(solid.surfaces)
        if isinstance(surface, Cylinder) and is_hollow(solid, k) and is_open(solid, k)
    }


def _where_it_ends(solid: Solid, turned: int) -> FarEnd:
    hole = solid.surfaces[turned]
    assert isinstance(hole, Cylinder)
    for last in (np.argmin, np.argmax):
        other = _met_last(solid, turned, last)
        bore = solid.surfaces[other]
        if isinstance(bore, Cylinder) and is_hollow(solid, other) and not coaxial(bore, hole):
            return IntoBore(2 * bore.radius) if turns_right_round(solid, other) else IntoHollow(bore.radius)
    return Through()


def _met_last(solid: Solid, turned: int, last: Callable[..., np.intp]) -> int:
    """The surface that a cylinder meets first, or last, along its axis."""
    edges, surface = solid.edges, solid.surfaces[turned]
    assert isinstance(surface, Cylinder)
    mine = np.flatnonzero((edges.pair == turned).any(axis=1) & edges.sharp)
    middles = solid.vertices[edges.ends[mine]].mean(axis=1)
    partner = edges.pair[mine[int(last(middles @ surface.direction))]]
    return int(partner[0] if partner[1] == turned else partner[1])

