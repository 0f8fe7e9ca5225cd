"""The axes of a kernel solid, from its exact surfaces: what should have centre lines, known without this program's geometry."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepGProp import BRepGProp
from OCP.GeomAbs import GeomAbs_Cone, GeomAbs_Cylinder
from OCP.GProp import GProp_GProps
from OCP.TopAbs import TopAbs_FACE
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Shape

Array = NDArray[np.float64]
NEAR = 1e-4      # mm, and of unit vectors
BINS = 720       # half degrees


@dataclass(frozen=True, eq=False)
class Axis:
    """A line about which surfaces turn: ``point`` (3,), ``way`` (3,) unit; ``turn``: radians of the surface that turns most."""

    point: Array
    way: Array
    turn: float


def axes_of(shape: TopoDS_Shape) -> list[Axis]:
    """Every line about which a cylinder or cone of the solid turns, once."""
    found: list[tuple[Array, Array, dict[float, NDArray[np.bool_]]]] = []
    for point, way, size, angles in _rounds(shape):
        mine = next((each for each in found if _one_line(each, point, way)), None)
        if mine is None:
            mine = (point, way, {})
            found.append(mine)
        bins = mine[2].setdefault(size, np.zeros(BINS, dtype=bool))
        bins[angles] = True
    return [Axis(point, way, max(map(_turn, sizes.values()))) for point, way, sizes in found]


def _turn(bins: NDArray[np.bool_]) -> float:
    """Radians through which a surface turns that covers these half degrees: all but its widest gap."""
    at = np.flatnonzero(bins)
    return (BINS - max(np.diff(at, append=at[0] + BINS)) + 1) / BINS * 2 * math.pi


def _one_line(line: tuple[Array, Array, object], point: Array, way: Array) -> bool:
    away = point - line[0]
    return bool(abs(abs(way @ line[1]) - 1) < NEAR and np.linalg.norm(away - (away @ line[1]) * line[1]) < NEAR)


def _rounds(shape: TopoDS_Shape) -> Iterator[tuple[Array, Array, float, NDArray[np.int64]]]:
    """Of each round face: a point and the way of its axis, the surface's size, and the half degrees that it covers about it."""
    walk = TopExp_Explorer(shape, TopAbs_FACE)
    while walk.More():
        surface = BRepAdaptor_Surface(TopoDS.Face(walk.Current()), True)
        walk.Next()
        if surface.GetType() not in (GeomAbs_Cylinder, GeomAbs_Cone):
            continue
        round_one = surface.Cylinder() if surface.GetType() == GeomAbs_Cylinder else surface.Cone()
        axis = round_one.Axis()
        point, way = (np.array([p.X(), p.Y(), p.Z()]) for p in (axis.Location(), axis.Direction()))
        size = round_one.Radius() if surface.GetType() == GeomAbs_Cylinder else -round_one.SemiAngle()
        across = np.eye(3)[int(np.argmin(np.abs(way)))]
        across = np.cross(way, across) / np.linalg.norm(np.cross(way, across))
        across *= np.sign(across[np.argmax(np.abs(across))])
        other = np.cross(way if way[np.argmax(np.abs(way))] > 0 else -way, across)
        middle = (surface.FirstVParameter() + surface.LastVParameter()) / 2
        turned = np.linspace(surface.FirstUParameter(), surface.LastUParameter(), 2 * BINS)[1:-1]
        points = [surface.Value(u, middle) for u in turned.tolist()]
        arms = np.array([[p.X(), p.Y(), p.Z()] for p in points]) - point
        turns = np.arctan2(arms @ other, arms @ across) % (2 * math.pi)
        yield point, way, round(abs(size), 5), np.unique((turns / (2 * math.pi) * BINS).astype(np.int64) % BINS)


def unbalance(shape: TopoDS_Shape, middle: Array) -> Array:
    """How far (3,) a solid is from being symmetric to the planes through ``middle`` (3,) square to x, y and z, as shares: of what
    is symmetric the centre of gravity lies in the plane, and the products of inertia across it are nothing."""
    found = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, found)
    at, inertia = found.CentreOfMass(), found.MatrixOfInertia()
    size = 2 * middle
    off = np.abs(np.array([at.X(), at.Y(), at.Z()]) - middle) / size
    whole = sum(inertia.Value(k, k) for k in (1, 2, 3))
    across = [max(abs(inertia.Value(k, other)) for other in (1, 2, 3) if other != k) / whole for k in (1, 2, 3)]
    return np.maximum(off, across)
