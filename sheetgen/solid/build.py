"""Features in, solid out: Boolean operations, then each facet is told which exact surface it lies on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import manifold3d
import numpy as np

from sheetgen.bank.features import Feature
from sheetgen.solid.edges import edges_of
from sheetgen.solid.primitives import IntArray, Primitive
from sheetgen.solid.shapes import shapes_of
from sheetgen.solid.solid import Solid
from sheetgen.solid.surfaces import Array, Plane, Surface
from sheetgen.units import SAME_POINT


class SolidError(ValueError):
    """The features do not make one closed solid; ``feature`` names the one at fault, if one is."""

    def __init__(self, reason: str, feature: str = "") -> None:
        super().__init__(f"{feature}: {reason}" if feature else reason)
        self.reason, self.feature = reason, feature


@dataclass
class _Registry:
    """Surfaces and their names, numbered as the mesh's face ids number them."""

    surfaces: list[Surface] = field(default_factory=list)
    names: list[tuple[str, ...]] = field(default_factory=list)
    owners: list[str] = field(default_factory=list)

    def manifold(self, body: Primitive, owner: str) -> manifold3d.Manifold:
        face_id = (body.group + len(self.surfaces)).astype(np.uint64)
        self.surfaces += body.surfaces
        self.names += body.names
        self.owners += [owner] * len(body.surfaces)
        mesh = manifold3d.Mesh64(np.ascontiguousarray(body.vertices), body.triangles.astype(np.uint64), face_id=face_id)
        return manifold3d.Manifold(mesh)


def build(features: Sequence[Feature]) -> Solid:
    """Return the solid that ``features``, in their order, make. Its lowest, leftmost, foremost corner is the origin.

    Raises: SolidError if a feature has no shape, changes nothing, or what results is empty, falls apart or touches itself
    along an edge or in a point only.
    """
    registry, body = _Registry(), manifold3d.Manifold()
    for feature in features:
        body = _joined(body, feature, registry)
    if body.is_empty():
        raise SolidError("the features leave nothing of the solid")
    pieces = body.decompose()
    if any(piece.volume() < 0 for piece in pieces):
        raise SolidError("the solid has a hollow with no opening, which no view can show")
    if len(pieces) > 1:
        raise SolidError(f"the solid falls apart into {len(pieces)} pieces")
    return _finished(body, registry)


def _joined(body: manifold3d.Manifold, feature: Feature, registry: _Registry) -> manifold3d.Manifold:
    box = body.bounding_box() if not body.is_empty() else (0.0,) * 6
    try:
        shapes = shapes_of(feature, np.array(box).reshape(2, 3))
    except ValueError as problem:
        raise SolidError(str(problem), feature.name) from None
    before = body.volume()
    for shape in shapes:
        primitive = registry.manifold(shape.body, feature.name)
        if primitive.status() != manifold3d.Error.NoError or primitive.is_empty():
            raise SolidError("its outline crosses or touches itself", feature.name)
        body = body - primitive if shape.cut else body + primitive
    if body.status() != manifold3d.Error.NoError:
        raise SolidError("it cannot be joined to the rest", feature.name)
    if abs(body.volume() - before) < SAME_POINT:
        raise SolidError("it changes nothing: it lies wholly inside, or wholly outside, what is there", feature.name)
    return body


def _finished(body: manifold3d.Manifold, registry: _Registry) -> Solid:
    mesh = body.to_mesh64()
    vertices = np.array(mesh.vert_properties[:, :3])
    triangles, face = np.array(mesh.tri_verts, dtype=np.int64), np.array(mesh.face_id, dtype=np.int64)
    used, face = np.unique(face, return_inverse=True)
    surfaces, merged = _merged([registry.surfaces[i] for i in used])
    owner = merged[face]
    names = _names(registry, surfaces)
    low = vertices.min(axis=0)
    shift = np.where(np.abs(low) > SAME_POINT, -low, 0.0)
    surfaces = [surface.moved(shift) for surface in surfaces]
    vertices = _on_planes(vertices + shift, triangles, owner, surfaces)
    known = frozenset(name for group in registry.names for name in group)
    owners = [sorted({registry.owners[i] for i, k in zip(used, merged, strict=True) if k == s}) for s in range(len(surfaces))]
    edges = edges_of(vertices, triangles, owner, surfaces)
    if edges is None:
        raise SolidError("parts of the solid touch along an edge or in a point only")
    for array in (vertices, triangles, owner):
        array.flags.writeable = False
    return Solid(vertices, triangles, owner, tuple(surfaces), names, known, tuple(map(tuple, owners)), edges)


def _names(registry: _Registry, surfaces: Sequence[Surface]) -> dict[str, int]:
    """The surface of each side name. A face that another feature's face of the same surface swallowed is still that surface."""
    names: dict[str, int] = {}
    for surface, group in zip(registry.surfaces, registry.names, strict=True):
        if group:
            k = next((k for k, other in enumerate(surfaces) if other.same_as(surface)), None)
            names.update({name: k for name in group if k is not None and name not in names})
    return names


def _merged(surfaces: Sequence[Surface]) -> tuple[list[Surface], IntArray]:
    """Equal surfaces of different features as one: the distinct ones, and for each given one its place among them."""
    distinct: list[Surface] = []
    place = []
    for surface in surfaces:
        k = next((k for k, other in enumerate(distinct) if surface.same_as(other)), len(distinct))
        if k == len(distinct):
            distinct.append(surface)
        place.append(k)
    return distinct, np.array(place, dtype=np.int64)


def _on_planes(vertices: Array, triangles: IntArray, owner: IntArray, surfaces: Sequence[Surface]) -> Array:
    """Vertices of planes square to an axis get the plane's own coordinate, free of rounding."""
    for k, surface in enumerate(surfaces):
        if isinstance(surface, Plane) and surface.axis is not None:
            vertices[np.unique(triangles[owner == k]), surface.axis] = surface.level
    return vertices
