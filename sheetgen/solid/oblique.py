"""A half-space as a large box: what an oblique cut takes away."""

from __future__ import annotations

import numpy as np

from sheetgen.geometry import Array
from sheetgen.solid.primitives import Primitive
from sheetgen.solid.surfaces import Plane
from sheetgen.units import SAME_POINT


def half_space(points: Array, toward: Array, far: float, names: tuple[str, ...]) -> Primitive:
    """Return a box of half-width ``far`` mm that stands on the plane through ``points`` (3, 3), on the side of ``toward`` (3,).

    Raises: ValueError if the points lie in a line, or the plane runs along ``toward``.
    """
    normal = np.cross(points[1] - points[0], points[2] - points[0])
    length = float(np.linalg.norm(normal))
    if length < SAME_POINT:
        raise ValueError("its three points lie in one line and fix no plane")
    normal = normal / length
    if abs(normal @ toward) < SAME_POINT:
        raise ValueError("its plane runs towards the corner that is to go; nothing lies on that side")
    normal = normal * np.sign(normal @ toward)
    side = np.cross(normal, np.eye(3)[int(np.argmin(np.abs(normal)))])
    side = side / np.linalg.norm(side)
    other = np.cross(normal, side)
    centre = points.mean(axis=0)
    square = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * far
    base = centre + square[:, :1] * side + square[:, 1:] * other
    vertices = np.concatenate([base, base + normal * far])
    quads = np.array([[3, 2, 1, 0], [4, 5, 6, 7], [0, 1, 5, 4], [1, 2, 6, 5], [2, 3, 7, 6], [3, 0, 4, 7]])
    triangles = quads[:, [0, 1, 2, 0, 2, 3]].reshape(-1, 3)
    walls = [-other, side, other, -side]
    surfaces = [Plane(normal, float(normal @ centre)), Plane(normal, float(normal @ centre) + far)]
    surfaces += [Plane(w, float(w @ centre) + far) for w in walls]
    return Primitive(vertices, triangles, np.repeat(np.arange(6), 2), tuple(surfaces), (names, (), (), (), (), ()))
