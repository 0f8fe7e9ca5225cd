"""Vectors of space: products, lengths, directions square to one another."""

from __future__ import annotations

import math

import numpy as np

from sheetgen.geometry.arrays import Array
from sheetgen.units import SAME_COSINE

COS30 = math.cos(math.radians(30))

Vector = tuple[float, float, float]

UNITS = np.eye(3)


def cross(a: Array, b: Array) -> Vector:
    """The vector product of two (3,): for single vectors ten times as fast as numpy's."""
    ax, ay, az = a.tolist()
    bx, by, bz = b.tolist()
    return (ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx)


def unit_cross(a: Array, b: Array) -> Array:
    """The unit vector (3,) square to two (3,) that are not parallel."""
    square = cross(a, b)
    return np.array(square) / length_of(square)


def crosses(a: Array, b: Array) -> Array:
    """The vector products (n, 3) of rows (n, 3): a third of the time of numpy's."""
    (ax, ay, az), (bx, by, bz) = a.T, b.T
    return np.stack([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx], axis=1)


def dot(a: Array, b: Array) -> float:
    """The scalar product of two (3,)."""
    return float(a @ b)


def length_of(vector: Vector) -> float:
    """Its length."""
    return math.hypot(*vector)


def lengths(vectors: Array) -> Array:
    """The lengths (n,) of rows (n, 3)."""
    return np.asarray(np.sqrt(np.einsum("ij,ij->i", vectors, vectors)))


def square_to(direction: Array) -> tuple[Array, Array]:
    """Two unit vectors square to ``direction`` and each other; along the axes where the direction is."""
    size = [abs(part) for part in direction.tolist()]
    across = unit_cross(UNITS[size.index(min(size))], direction)
    return across, np.array(cross(direction, across))


def across_axis(direction: Array) -> list[Array]:
    """Two unit vectors square to an axis: part axes where the axis is one."""
    k = int(np.argmax(np.abs(direction)))
    if abs(abs(direction[k]) - 1) < SAME_COSINE:
        return [np.eye(3)[a] for a in range(3) if a != k]
    spare = np.eye(3)[int(np.argmin(np.abs(direction)))]
    across = np.cross(spare, direction)
    across = across / np.linalg.norm(across)
    return [across, np.cross(direction, across)]
