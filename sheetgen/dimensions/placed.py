"""A view standing on the sheet: scale and place. Sheet millimetres."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt
import shapely

from sheetgen.dimensions.anchors import Sight
from sheetgen.projection import Straight, View
from sheetgen.projection.hidden import facing_of
from sheetgen.solid.surfaces import Array

Box = tuple[float, float, float, float]


NODE = 1e-3
"""mm on paper: a shadow need be no finer."""


@dataclass(frozen=True, eq=False)
class PlacedView:
    """``view`` drawn at ``scale`` (paper mm per part mm) with its own (0, 0) at ``origin`` (2,) on the sheet."""

    view: View
    scale: float
    origin: Array

    @cached_property
    def sight(self) -> Sight:
        """The view's edge pieces."""
        return Sight(self.view)

    def paper(self, points: Array) -> Array:
        """Points (n, 3) of the part on the sheet (n, 2)."""
        return np.asarray(self.view.frame.flat(np.atleast_2d(points)) * self.scale + self.origin)

    def vector(self, axis: int) -> Array:
        """What one part mm along x, y or z (0, 1, 2) gives on the sheet (2,)."""
        return self.view.frame.flat_vectors(np.eye(3)[axis]) * self.scale

    @cached_property
    def _axes(self) -> tuple[tuple[float, float], ...]:
        """What one part mm along x, y and z gives on a drawing at full size."""
        return tuple((float(u), float(v)) for u, v in self.view.frame.flat_vectors(np.eye(3)).tolist())

    def unit(self, axis: int) -> tuple[float, float]:
        """What one part mm along x, y or z (0, 1, 2) gives on a drawing at full size."""
        return self._axes[axis]

    @cached_property
    def _corner(self) -> tuple[float, float]:
        u, v = self.paper(np.zeros(3))[0].tolist()
        return u, v

    def place(self, point: tuple[float, float, float]) -> tuple[float, float]:
        """One point of the part on the sheet, in plain numbers."""
        (xu, xv), (yu, yv), (zu, zv) = self._axes
        x, y, z = (self.scale * value for value in point)
        return self._corner[0] + x * xu + y * yu + z * zu, self._corner[1] + x * xv + y * yv + z * zv

    @cached_property
    def box(self) -> Box:
        """Least box (x0, y0, x1, y1) of the visible lines on the sheet."""
        points = np.concatenate(self.view.visible) * self.scale + self.origin
        (x0, y0), (x1, y1) = points.min(axis=0), points.max(axis=0)
        return float(x0), float(y0), float(x1), float(y1)

    @cached_property
    def visible(self) -> list[Array]:
        """Visible lines on the sheet, polylines (k, 2)."""
        return [points * self.scale + self.origin for points in self.view.visible]

    @cached_property
    def hidden(self) -> list[Array]:
        """Hidden lines on the sheet, polylines (k, 2)."""
        return [points * self.scale + self.origin for points in self.view.hidden]

    @cached_property
    def centres(self) -> list[Array]:
        """Centre lines on the sheet, segments (2, 2)."""
        return [line.points() * self.scale + self.origin for line in self.view.centre_lines]

    @cached_property
    def outline(self) -> shapely.Geometry:
        """The shadow of the part on the sheet, as an area."""
        solid, frame = self.view.solid, self.view.frame
        seen = facing_of(solid, frame) > 0
        corners = self.view.flat[solid.triangles[seen]] * self.scale + self.origin
        facets = np.asarray(shapely.polygons(np.round(np.concatenate([corners, corners[:, :1]], axis=1), 6)))
        owner = solid.owner[seen]
        return shapely.union_all([_face(facets[owner == k]) for k in np.unique(owner)], grid_size=NODE)

    @cached_property
    def visible_straights(self) -> Array:
        """Straight visible lines on the sheet, segments (n, 2, 2)."""
        ends = np.array([shape.points() for shape in self.view.visible_lines if isinstance(shape, Straight)])
        return np.asarray(ends.reshape(-1, 2, 2) * self.scale + self.origin)

    def coarse(self, kind: str) -> list[Array]:
        """``visible``, ``hidden`` or ``centre`` lines on the sheet as polylines of few points, to tell what is in the way."""
        shapes = {"visible": self.view.visible_lines, "hidden": self.view.hidden_lines, "centre": self.view.centre_lines}[kind]
        return [points[_few(len(points))] * self.scale + self.origin for points in (shape.points() for shape in shapes)]

    @cached_property
    def straights(self) -> Array:
        """Straight visible, hidden and centre lines on the sheet, segments (n, 2, 2)."""
        shapes = (*self.view.visible_lines, *self.view.hidden_lines, *self.view.centre_lines)
        ends = np.array([shape.points() for shape in shapes if isinstance(shape, Straight)])
        return np.asarray(ends.reshape(-1, 2, 2) * self.scale + self.origin)


def _face(facets: npt.NDArray[np.object_]) -> shapely.Geometry:
    """The facets of one surface as one area. They lie side by side, which is quick to join, unless some are slivers."""
    try:
        return shapely.coverage_union_all(facets)
    except shapely.GEOSException:
        return shapely.union_all(facets, grid_size=NODE)


def _few(count: int) -> Array:
    """Indices of at most about 25 of ``count`` points in a row, the ends among them."""
    return np.unique(np.linspace(0, count - 1, min(count, 25)).round().astype(int))
