"""A part with faces square to the axes, as cells between its levels, each filled or empty. Part frame, millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np

from sheetgen.bank.features import Block
from sheetgen.geometry import Array, IntArray, Mask
from sheetgen.refusals import Reason, UnsuitedError
from sheetgen.solid import Plane, Solid, build
from sheetgen.units import EXACT, SAME_LEVEL

AXES = "xyz"


@dataclass(frozen=True, eq=False)
class Grid:
    """``levels``: along x, y and z, rising, mm; ``filled`` (nx, ny, nz): the cells between them.

    ``vertices`` (n, 3) mm and ``triangles`` (m, 3), anticlockwise from outside, are its closed surface.
    """

    levels: tuple[Array, Array, Array]
    filled: Mask

    @property
    def vertices(self) -> Array:
        """The corners of the surface (n, 3), mm."""
        return self._surface[0]

    @property
    def triangles(self) -> IntArray:
        """Its facets (m, 3), anticlockwise seen from outside."""
        return self._surface[1]

    @property
    def volume(self) -> float:
        """mm3."""
        dx, dy, dz = (np.diff(levels) for levels in self.levels)
        return float(np.einsum("i,j,k,ijk->", dx, dy, dz, self.filled))

    def mirrored(self, symmetry: Sequence[str]) -> list[IntArray]:
        """For each axis of ``symmetry`` (x, y) the numbers (n,) of the cells' images in the mid-plane across it, cells numbered
        from 1 in their order. Raises: ValueError for levels that are not symmetric."""
        numbers, found = np.arange(1, self.filled.size + 1).reshape(self.filled.shape), []
        for axis in map(AXES.index, symmetry):
            steps = np.diff(self.levels[axis])
            if np.abs(steps - steps[::-1]).max() > SAME_LEVEL:
                raise ValueError(f"a part that is not symmetric along {AXES[axis]}")
            found.append(np.flip(numbers, axis).ravel())
        return found

    @cached_property
    def boxes(self) -> Array:
        """Boxes (b, 2, 3) that fill it without overlapping: lowest and highest corners, mm."""
        found: list[Box] = [((i, j, k), (i + 1, j + 1, k + 1)) for i, j, k in np.argwhere(self.filled).tolist()]
        for axis in (2, 1, 0):
            found = _grown(found, axis)
        return np.array([[[self.levels[a][corner[a]] for a in range(3)] for corner in box] for box in found]).reshape(-1, 2, 3)

    @cached_property
    def solid(self) -> Solid:
        """The same as a solid whose views can be drawn, without levels at which it has no face."""
        spans = [[(low, high) for low, high in box.T.tolist()] for box in self.boxes]
        return build([Block(f"box{k}", False, x, y, z) for k, (x, y, z) in enumerate(spans)])

    def tidied(self) -> Grid:
        """The same part without levels at which it has no face."""
        levels, filled = list(self.levels), self.filled
        for axis in range(3):
            kept = used_levels(filled, axis)
            filled = np.take(filled, kept[:-1], axis=axis)
            levels[axis] = levels[axis][kept]
        return Grid((levels[0], levels[1], levels[2]), filled)

    @cached_property
    def _surface(self) -> tuple[Array, IntArray]:
        sides = np.concatenate([_sides(self.filled, axis) for axis in range(3)])
        counts = np.array([len(levels) for levels in self.levels])
        used, corner = np.unique(np.ravel_multi_index(tuple(np.moveaxis(sides, -1, 0)), tuple(counts)), return_inverse=True)
        places = np.unravel_index(used, tuple(counts))
        vertices = np.stack([levels[at] for levels, at in zip(self.levels, places, strict=True)], axis=1)
        quads = corner.reshape(-1, 4)
        return vertices, np.concatenate([quads[:, [0, 1, 2]], quads[:, [0, 2, 3]]]).astype(np.int64)


Box = tuple[tuple[int, ...], ...]


def _grown(boxes: list[Box], axis: int) -> list[Box]:
    """Boxes of level numbers, those that are alike and follow one another along ``axis`` joined."""
    order = sorted(boxes, key=lambda box: ([box[0][a] for a in range(3) if a != axis], box[0][axis]))
    found: list[Box] = []
    for low, high in order:
        others = [a for a in range(3) if a != axis]
        if found and found[-1][1][axis] == low[axis] and all(
                found[-1][0][a] == low[a] and found[-1][1][a] == high[a] for a in others):
            found[-1] = (found[-1][0], high)
        else:
            found.append((low, high))
    return found


def _sides(filled: Mask, axis: int) -> IntArray:
    """Squares between a filled and an empty cell along ``axis``: level numbers of their corners (n, 4, 3), anticlockwise from
    outside."""
    padded = np.moveaxis(np.pad(filled, 1), axis, 0)[:, 1:-1, 1:-1].astype(np.int8)
    change = np.diff(padded, axis=0)                                     # +1: material begins, so the side looks back
    found = []
    for sense, order in ((-1, ((0, 0), (1, 0), (1, 1), (0, 1))), (1, ((0, 0), (0, 1), (1, 1), (1, 0)))):
        at = np.argwhere(change == sense)
        corners = np.stack([at + np.array([0, *step]) for step in order], axis=1)
        if axis == 1:
            corners = corners[:, ::-1]                                   # y, x, z is left-handed
        found.append(corners[..., np.argsort([axis, *(a for a in range(3) if a != axis)])])
    return np.concatenate(found)


def used_levels(filled: Mask, axis: int) -> IntArray:
    """Numbers of the levels along ``axis`` at which cells (nx, ny, nz) have a face."""
    padded = np.pad(filled, [(1, 1) if a == axis else (0, 0) for a in range(3)])
    return np.asarray(np.flatnonzero(np.diff(padded, axis=axis).any(axis=tuple(a for a in range(3) if a != axis))))


def is_square(solid: Solid) -> bool:
    """True if all faces of a part are square to the axes."""
    return all(isinstance(surface, Plane) and surface.axis is not None for surface in solid.surfaces)


def grid_of(solid: Solid) -> Grid:
    """The cells of a part. Raises: RefusedError if not all its faces are square to the axes."""
    if not is_square(solid):
        raise UnsuitedError([Reason("not all its faces are square to the views")])
    levels = tuple(levels_along(solid, axis) for axis in range(3))
    centres = [(level[1:] + level[:-1]) / 2 for level in levels]
    points = np.stack(np.meshgrid(*centres, indexing="ij"), axis=-1)
    return Grid((levels[0], levels[1], levels[2]), inside(solid, points.reshape(-1, 3)).reshape(points.shape[:3]))


def levels_along(solid: Solid, axis: int, more: Array | None = None) -> Array:
    """Where a part has faces square to an axis, rising, mm, and ``more`` levels."""
    own = [surface.level for surface in solid.surfaces if isinstance(surface, Plane) and surface.axis == axis]
    rising = np.sort([*own, *([] if more is None else more.tolist())])
    return np.asarray(rising[np.concatenate([[True], np.diff(rising) > SAME_LEVEL])])


def inside(solid: Solid, points: Array) -> Mask:
    """True for those of the points (n, 3) that lie within the solid; none may lie on its surface.

    Counted are the facets above each point, by their edges: an edge of two facets is counted the same way from both, so that
    none is missed or counted twice where a point lies below it.
    """
    a, b, c = (solid.vertices[solid.triangles[:, k]] for k in range(3))
    normal = np.cross(b - a, c - a)
    flat = np.abs(normal[:, 2]) > EXACT * np.linalg.norm(normal, axis=1)              # upright ones cover no point
    a, b, c, normal = a[flat], b[flat], c[flat], normal[flat]
    turns = sum(_crossings(points, p, q) for p, q in pairwise((a, b, c, a)))
    height = a[:, 2] - ((points[:, None, :2] - a[:, :2]) * (normal / normal[:, 2:])[:, :2]).sum(axis=-1)
    return np.asarray((turns * (height > points[:, 2:])).sum(axis=1) > 0)


def _crossings(points: Array, p: Array, q: Array) -> IntArray:
    """How often (n, m) the line from a point (n, 3) to the right crosses a facet's edge p-q (m, 3) seen from above: 1 upwards,
    -1 downwards, ends below counted and ends above not."""
    x, y = points[:, None, 0], points[:, None, 1]
    rises = (p[:, 1] < q[:, 1])[:, None]
    lower, upper = np.where(rises, p, q), np.where(rises, q, p)
    within = (lower[:, 1] <= y) & (y < upper[:, 1])
    run = np.where(upper[:, 1] > lower[:, 1], upper[:, 1] - lower[:, 1], 1.0)
    right = lower[:, 0] + (y - lower[:, 1]) / run * (upper[:, 0] - lower[:, 0]) > x
    return np.asarray((within & right) * np.sign(q[:, 1] - p[:, 1])).astype(np.int64)
