"""The areas of a view: what its visible lines bound, and which face of the solid shows there. View axes, millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from sheetgen.geometry import Array
from sheetgen.projection.hidden import placed
from sheetgen.projection.view import View
from sheetgen.solid import Faces
from sheetgen.units import LINE_END, LINE_TOUCH, SAME_POINT, TOUCHING


@dataclass(frozen=True, eq=False)
class Area:
    """An area bounded by visible lines, ``polygon``, in which nothing but ``face`` shows."""

    face: int
    polygon: shapely.Polygon


def areas_of(view: View, faces: Faces) -> tuple[Area, ...]:
    """The areas of a view, from the top down and from the left. What shows through a hole that goes through is none."""
    cells = shapely.get_parts(shapely.polygonize([_net_of(view.visible)]))
    at = shapely.get_coordinates(shapely.point_on_surface(cells))
    shown = zip(_faces_at(view, faces, at), cells, strict=True)
    found = [Area(face, cell) for face, cell in shown if face >= 0]
    return tuple(sorted(found, key=lambda area: _reading_order(area.polygon)))


def _net_of(lines: Sequence[Array]) -> shapely.Geometry:
    """Lines with nodes where they meet. An end that stops short of another line is led on across it: outlines end on curves that
    are chords here."""
    drawn = np.array([shapely.LineString(points) for points in lines], dtype=object)
    ends = np.concatenate([points[[0, -1]] for points in lines])
    end, line = shapely.STRtree(drawn).query(shapely.points(ends), predicate="dwithin", distance=TOUCHING)
    way = shapely.get_coordinates(shapely.shortest_line(shapely.points(ends[end]), drawn[line])).reshape(-1, 2, 2)
    step = way[:, 1] - way[:, 0]
    length = np.hypot(*step.T)
    short = length > 0.0
    led = way[short]
    led[:, 1] += step[short] / length[short, None] * LINE_TOUCH
    return shapely.union_all([*drawn, *shapely.linestrings(led)], grid_size=LINE_END)


def _reading_order(polygon: shapely.Polygon) -> tuple[float, float]:
    x0, _, _, y1 = polygon.bounds
    return -round(y1, 3), round(x0, 3)


def _faces_at(view: View, faces: Faces, points: Array) -> Sequence[int]:
    """The foremost face at each of ``points`` (k, 2); -1 where there is none."""
    facing = np.flatnonzero(view.facing > 0)
    corners = placed(view.solid.vertices, view.frame)[view.solid.triangles[facing]]       # (m, 3 corners, u v depth)
    a, b, c = corners.transpose(1, 0, 2)
    twice = _cross(b - a, c - a)
    wide = np.abs(twice) > SAME_POINT
    a, b, c, twice, facing = a[wide], b[wide], c[wide], twice[wide], facing[wide]
    found = []
    for point in points:
        s, t = _cross(point - a[:, :2], c - a) / twice, _cross(b - a, point - a[:, :2]) / twice
        inside = np.flatnonzero((s >= 0) & (t >= 0) & (s + t <= 1))
        depth = a[inside, 2] + s[inside] * (b - a)[inside, 2] + t[inside] * (c - a)[inside, 2]
        found.append(int(faces.of_facet[facing[inside[int(np.argmax(depth))]]]) if len(inside) else -1)
    return found


def _cross(one: Array, other: Array) -> Array:
    return np.asarray(one[..., 0] * other[..., 1] - one[..., 1] * other[..., 0])
