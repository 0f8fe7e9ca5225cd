"""A part whose inclined and round faces all run along one axis, as cells: faces of its plan by slabs between its levels.

The plan is the view along that axis, divided by its own lines. Every wall of a part, flat or round, parts cells that differ, so
the view along the axis has a line over it; and every level shows in a view across. If both are given, any part that fits has
its walls over lines of the same plan and its faces square to the axis at the same levels: the same cells, filled otherwise.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np

from sheetgen.bank.features import Plane as DrawnPlane
from sheetgen.bank.features import Profile
from sheetgen.certainty.bores import Bores, reaching_rounds, without_cones
from sheetgen.certainty.grid import AXES, inside, levels_along
from sheetgen.certainty.outlines import outlines_of
from sheetgen.certainty.plan import Gap, Meeting, Plan, plan_of
from sheetgen.geometry import Array, IntArray, Mask
from sheetgen.projection import view_of
from sheetgen.refusals import Reason, RefusedError, UnsuitedError
from sheetgen.solid import Cylinder, Plane, Solid, build
from sheetgen.units import SAME_DIRECTION

PLANS: tuple[DrawnPlane, ...] = ("right", "front", "top")
"""By axis the view along it whose own axes are those of the part."""


@dataclass(frozen=True, eq=False)
class Prism:
    """``axis`` 0, 1 or 2; ``plan`` in strips along the first of the other two axes, ``across`` in strips along the second;
    ``levels`` along the axis, rising, mm; ``filled`` (faces + 1, slabs), the air's row first."""

    axis: int
    plan: Plan
    across: Plan
    levels: Array
    filled: Mask

    @property
    def cells(self) -> IntArray:
        """The numbers of the cells (faces + 1, slabs), from 1; 0 for the air."""
        count, slabs = self.filled.shape
        return np.concatenate([np.zeros((1, slabs), dtype=np.int64), np.arange(1, (count - 1) * slabs + 1).reshape(-1, slabs)])

    def filled_as(self, cells: Mask) -> Prism:
        """Another part on the same cells, ``cells`` (n,) in the order of their numbers."""
        rows = np.concatenate([np.zeros(self.filled.shape[1], dtype=bool), cells]).reshape(self.filled.shape)
        return Prism(self.axis, self.plan, self.across, self.levels, rows)

    @property
    def used_levels(self) -> IntArray:
        """Numbers of the levels at which it has faces."""
        return np.flatnonzero(np.diff(np.pad(self.filled, ((0, 0), (1, 1))), axis=1).any(axis=0))

    def tidied(self) -> Prism:
        """The same part without levels at which it has no face."""
        kept = self.used_levels
        return Prism(self.axis, self.plan, self.across, self.levels[kept], self.filled[:, kept[:-1]])

    def mirrored(self, symmetry: Sequence[str]) -> list[IntArray]:
        """For each axis of ``symmetry`` (x, y) the numbers (n,) of the cells' images in the mid-plane across it. Raises:
        ValueError for a plan that is not symmetric."""
        found, cells = [], self.cells
        for axis in map(AXES.index, symmetry):
            if axis == self.axis:
                found.append(cells[1:, ::-1].ravel())
                continue
            faces = [self._image(face, first=axis == min(a for a in range(3) if a != self.axis))
                     for face in range(1, len(cells))]
            if sorted(faces) != list(range(1, len(cells))):
                raise ValueError(f"a part that is not symmetric along {AXES[axis]}")
            found.append(cells[faces].ravel())
        return found

    def _image(self, face: int, *, first: bool) -> int:
        """The face of the plan that is the image of another."""
        plan = self.plan if first else self.across
        (x, y), whole = self.plan.samples[face], plan.places[0] + plan.places[-1]
        return self.plan.face_at(*((whole - x, y) if first else (x, whole - y)))

    @cached_property
    def features(self) -> tuple[Profile, ...]:
        """Outlines, extruded and cut out by turns, that make it."""
        found = list[Profile]()
        for low, high in _alike(self.filled):
            along = float(self.levels[low]), float(self.levels[high])
            for k, (start, pieces, cut) in enumerate(outlines_of(self.plan, self.filled[:, low])):
                found.append(Profile(f"slab{low}-{k}", cut, PLANS[self.axis], start, pieces, along))
        return tuple(found)

    @cached_property
    def solid(self) -> Solid:
        """The exact part. Raises: SolidError if it touches itself in a point."""
        return build(self.features)

    @property
    def vertices(self) -> Array:
        """The corners of its surface (n, 3), mm."""
        return self.solid.vertices

    @property
    def triangles(self) -> IntArray:
        """Its facets (m, 3), anticlockwise seen from outside."""
        return self.solid.triangles

    @property
    def neighbours(self) -> IntArray:
        """Pairs of cells (m, 2) that share a side."""
        cells = self.cells
        beside = [cells[[one, other]].T for one, other in self.beside if one and other]
        return np.concatenate([*beside, np.stack([cells[1:, :-1].ravel(), cells[1:, 1:].ravel()], axis=1)])

    @cached_property
    def beside(self) -> tuple[tuple[int, int], ...]:
        """Pairs of faces of the plan with a line between them, the air among them, each once."""
        pairs = [pair for faces in self.plan.faces for pair in pairwise(faces)]
        pairs += [(item.left, item.right) for seam in self.plan.seams for item in seam if isinstance(item, Gap) and item.walled]
        if any(one == other for one, other in pairs):
            raise RefusedError([Reason("a line of its plan ends within a face")])
        return tuple(sorted({(min(pair), max(pair)) for pair in pairs}))

    @cached_property
    def rings(self) -> tuple[tuple[int, ...], ...]:
        """Round each point of the plan at which four faces or more meet: these, going round."""
        found = set()
        for seam in self.plan.seams:
            for item in seam:
                if isinstance(item, Meeting):
                    left, right = list(item.left), list(item.right)[::-1]
                    ring = [*left, *(right if item.walls[1] else right[1:])]
                    ring = ring if item.walls[0] or len(ring) == 1 else ring[:-1]
                    if len(ring) >= 4:
                        found.add(tuple(ring))
        return tuple(sorted(found))


def prism_axis(solid: Solid) -> int:
    """The axis along which all its inclined and round faces run. Raises: RefusedError if there is no such axis, or a cone."""
    common = prism_axes(solid)
    if not common:
        raise UnsuitedError([Reason("not all its faces are seen edge-on or in their true shape in one view")])
    return common[-1]


def prism_axes(solid: Solid, but_for: frozenset[int] = frozenset()) -> list[int]:
    """The axes along which all its inclined and round faces run, ``but_for`` those of these numbers."""
    ways = [_along(surface) for k, surface in enumerate(solid.surfaces) if k not in but_for]
    return [axis for axis in range(3) if all(axis in way for way in ways)]


def _along(surface: object) -> frozenset[int]:
    """The axes (0, 1, 2) along which a surface runs, or to which it is square."""
    if isinstance(surface, Plane):
        if surface.axis is not None:
            return frozenset(range(3))
        return frozenset(np.flatnonzero(np.abs(surface.normal) < SAME_DIRECTION).tolist())
    if isinstance(surface, Cylinder):
        return frozenset(np.flatnonzero(np.abs(surface.direction) > 1 - SAME_DIRECTION).tolist())
    return frozenset()


def prism_of(solid: Solid, axis: int) -> Prism:
    """The cells of a part whose other faces run along ``axis``. Raises: RefusedError if its plan cannot be divided."""
    return _divided(solid, axis, None)[0]


def bored_prism(solid: Solid, axis: int, bores: Bores) -> tuple[Prism, Mask]:
    """The same of a part whose holes across ``axis`` are square, without cones; and which of its cells (faces + 1, slabs) are
    holes."""
    return _divided(solid, axis, bores)


def _divided(solid: Solid, axis: int, bores: Bores | None) -> tuple[Prism, Mask]:
    view = view_of(solid, PLANS[axis])
    shapes = (*view.linework.visible, *view.linework.hidden)
    first, second = (a for a in range(3) if a != axis)
    own = np.ones(len(solid.vertices), dtype=bool)
    if bores:
        shapes = reaching_rounds(without_cones(shapes, view, bores, axis))
        own[np.unique(solid.triangles[np.isin(solid.owner, list(bores.told))])] = False
    corners = solid.vertices[own][:, [first, second]]
    plan = plan_of(shapes, corners)
    levels = levels_along(solid, axis, bores.levels(axis, axis) if bores else None)
    middles = (levels[1:] + levels[:-1]) / 2
    points = np.zeros((len(plan.samples), len(middles), 3))
    flat = np.array([plan.samples[face] for face in range(1, len(plan.samples) + 1)]).reshape(-1, 2)
    points[..., first], points[..., second], points[..., axis] = flat[:, :1], flat[:, 1:], middles
    filled, hole = inside(solid, points.reshape(-1, 3)), np.zeros(points.shape[0] * points.shape[1], dtype=bool)
    if bores:
        filled, hole = bores.filled(points.reshape(-1, 3), filled, axis)
    air = np.zeros((1, len(middles)), dtype=bool)
    rows, holes = (np.concatenate([air, each.reshape(points.shape[:2])]) for each in (filled, hole))
    return Prism(axis, plan, plan_of(shapes, corners, turned=True, like=plan), levels, rows), holes


def _alike(filled: Mask) -> list[tuple[int, int]]:
    """Slabs that are filled, those in a row that are filled alike together: from which level to which."""
    changes = np.flatnonzero((filled[:, 1:] != filled[:, :-1]).any(axis=0)) + 1
    ends = [0, *changes.tolist(), filled.shape[1]]
    return [(low, high) for low, high in pairwise(ends) if filled[:, low].any()]
