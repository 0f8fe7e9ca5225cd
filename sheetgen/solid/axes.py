"""The axes of a solid: the lines about which its round surfaces turn. Part frame, millimetres."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array, IntArray
from sheetgen.geometry.vectors import cross
from sheetgen.solid.surfaces import Plane, Round, Surface, coaxial

WIDEST_FACET = 0.25
"""Radians: wider than any facet of a round surface, of which there are at least 32 to a turn."""


@dataclass(frozen=True, eq=False)
class AxisGroup:
    """Round surfaces, by number, about one line: from ``low`` to ``high`` mm along ``direction`` from ``point``.

    ``radius``: the greatest; ``turn``: through how many radians the one turns that turns most; ``corners`` (c,): the vertices
    of their facets.
    """

    surfaces: tuple[int, ...]
    point: Array
    direction: Array
    radius: float
    low: float
    high: float
    turn: float
    corners: IntArray


def axis_groups_of(vertices: Array, triangles: IntArray, owner: IntArray, surfaces: Sequence[Surface]) -> tuple[AxisGroup, ...]:
    """Return the axes of a mesh (``owner`` (m,): each triangle's surface), each with all that turns about it."""
    groups: list[tuple[Round, list[int]]] = []
    left = np.bincount(owner, minlength=len(surfaces)).tolist()              # of a part that was cut not all surfaces are
    for k, surface in enumerate(surfaces):
        if not isinstance(surface, Plane) and left[k]:
            group = next((group for first, group in groups if coaxial(first, surface)), None)
            if group is None:
                groups.append((surface, [k]))
            else:
                group.append(k)
    return tuple(_axis_group(first, group, vertices, triangles, owner) for first, group in groups)


def _axis_group(first: Round, group: Sequence[int], vertices: Array, triangles: IntArray, owner: IntArray) -> AxisGroup:
    radius, low, high, turn = 0.0, math.inf, -math.inf, 0.0
    every = np.zeros(len(vertices), dtype=bool)
    for k in group:
        used = np.zeros(len(vertices), dtype=bool)
        used[triangles.compress(owner == k, axis=0)] = True
        every |= used
        away = vertices.compress(used, axis=0) - first.point
        along = away @ first.direction
        arms = away - along[:, None] * first.direction
        square = np.einsum("ij,ij->i", arms, arms)
        radius = max(radius, math.sqrt(float(square.max())))
        low, high = min(low, float(along.min())), max(high, float(along.max()))
        turn = max(turn, turn_about(arms, arms[int(np.argmax(square))], first))
    return AxisGroup(tuple(group), first.point, first.direction, radius, low, high, turn, np.flatnonzero(every))


def turn_about(arms: Array, across: Array, surface: Round) -> float:
    """Through how many radians the surface with vertices at ``arms`` (n, 3) from its axis turns; ``across``: the longest arm."""
    across = across / math.sqrt(float(across @ across))
    angle = np.sort(np.arctan2(arms @ np.array(cross(surface.direction, across)), arms @ across))
    widest = max(float(np.diff(angle).max(initial=0.0)), float(angle[0] + 2 * math.pi - angle[-1]))
    return 2 * math.pi if widest < WIDEST_FACET else 2 * math.pi - widest
