"""The surfaces of a solid as columns of numbers, to be asked about many points of many surfaces at once. Millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array, IntArray, Mask
from sheetgen.geometry.vectors import lengths
from sheetgen.solid.surfaces import Cone, Cylinder, Plane, Surface


@dataclass(frozen=True, eq=False)
class SurfaceTable:
    """Of each surface (s,): whether it is ``flat`` or ``cone``; its ``axis`` (s, 3), normal or direction; the ``foot`` (s, 3)
    from which it is reckoned; its ``offset`` (of planes, else 0), ``radius`` (of cylinders, else 0) and ``slope`` (of cones,
    else 0); and the axis to which a plane is ``square`` (else -1), at which ``level``."""

    flat: Mask
    cone: Mask
    axis: Array
    foot: Array
    offset: Array
    radius: Array
    slope: Array
    square: IntArray
    level: Array

    def normals(self, which: IntArray, points: Array) -> Array:
        """Unit normals (k, 3), of either sense, at ``points`` (k, 3) of the surfaces numbered ``which`` (k,).

        On the axis of a round surface, where the middle of a facet's edge may lie if the facet is folded, there is none: 0.
        """
        axis = self.axis.take(which, axis=0)
        bent = np.flatnonzero(~self.flat[which])
        if not len(bent):
            return np.asarray(axis)
        of, along = which[bent], axis.take(bent, axis=0)
        slope = self.slope[of]
        arm = points.take(bent, axis=0) - self.foot.take(of, axis=0)
        arm = arm - np.einsum("ij,ij->i", arm, along)[:, None] * along
        out = lengths(arm)
        told = out > 0
        normal = (arm / np.where(told, out, 1.0)[:, None] - slope[:, None] * along) / np.hypot(1.0, slope)[:, None]
        axis[bent] = normal * told[:, None]
        return np.asarray(axis)

    def distances(self, which: IntArray, points: Array) -> Array:
        """How far (k,) ``points`` (k, 3) lie from the surfaces numbered ``which`` (k,); the sense is that of their normals."""
        axis = self.axis.take(which, axis=0)
        arm = points - self.foot.take(which, axis=0)
        axial = np.einsum("ij,ij->i", arm, axis)
        bent = np.flatnonzero(~self.flat[which])
        if not len(bent):
            return np.asarray(axial)
        of, off = which[bent], axial[bent]
        slope = self.slope[of]
        out = lengths(arm.take(bent, axis=0) - off[:, None] * axis.take(bent, axis=0))
        axial[bent] = (out - self.radius[of] - slope * off) / np.hypot(1.0, slope)
        return np.asarray(axial)


def table_of(surfaces: Sequence[Surface]) -> SurfaceTable:
    """Return surfaces as columns."""
    square = [-1 if not isinstance(s, Plane) or s.axis is None else s.axis for s in surfaces]
    return SurfaceTable(
        np.array([isinstance(s, Plane) for s in surfaces]),
        np.array([isinstance(s, Cone) for s in surfaces]),
        np.array([s.normal if isinstance(s, Plane) else s.direction for s in surfaces]),
        np.array([s.normal * s.offset if isinstance(s, Plane) else s.point for s in surfaces]),
        np.array([s.offset if isinstance(s, Plane) else 0.0 for s in surfaces]),
        np.array([s.radius if isinstance(s, Cylinder) else 0.0 for s in surfaces]),
        np.array([s.slope if isinstance(s, Cone) else 0.0 for s in surfaces]),
        np.array(square),
        np.array([s.level if k >= 0 and isinstance(s, Plane) else 0.0 for k, s in zip(square, surfaces, strict=True)]),
    )
