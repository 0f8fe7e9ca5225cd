"""Features in, solid out: Boolean operations, then each facet is told which exact surface it lies on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import manifold3d
import numpy as np

from sheetgen.bank.features import Feature
from sheetgen.geometry import Array, IntArray
from sheetgen.solid.edges import Edges, curves_of, edges_of, facet_normals
from sheetgen.solid.folds import folded, smoothed
from sheetgen.solid.operands import operands_of
from sheetgen.solid.refine import bisected, refined
from sheetgen.solid.registry import Registry, manifold_of
from sheetgen.solid.solid import Solid
from sheetgen.solid.surfaces import Surface
from sheetgen.solid.table import SurfaceTable, table_of
from sheetgen.solid.threads import single_threaded
from sheetgen.solid.touching import touching
from sheetgen.units import EXACT, SAME_POINT

MOST_CORNERS = 4_000
"""Corners of all features' bodies together, twice those of any real exercise: the time to work out a face with many round
holes grows with the square of its corners, and a stranger's file must not take minutes."""

MOST_FACETS = 8_000
"""Facets of a part, twice those of any real exercise: what a view shows is worked out facet by facet, and a stranger's file of
crossing grooves makes as many as the square of what it says."""

HALVINGS = 4
"""Times that an edge of a curve may be halved: each brings it four times as near to the curve."""


TOO_MANY_FACETS = f"there are too many crossings of faces by now: over {MOST_FACETS} facets"


class SolidError(ValueError):
    """The features do not make one closed solid; ``feature`` names the one at fault, if one is."""

    def __init__(self, reason: str, feature: str = "") -> None:
        super().__init__(f"{feature}: {reason}" if feature else reason)
        self.reason, self.feature = reason, feature


def build(features: Sequence[Feature]) -> Solid:
    """Return the solid that ``features``, in their order, make. Its lowest, leftmost, foremost corner is the origin.

    Raises: SolidError if a feature has no shape, changes nothing, or brings too many corners, or what results is empty, falls
    apart or touches itself along an edge or in a point only.
    """
    single_threaded()
    registry, body = Registry(), manifold3d.Manifold()
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


def _joined(body: manifold3d.Manifold, feature: Feature, registry: Registry) -> manifold3d.Manifold:
    box = body.bounding_box() if not body.is_empty() else (0.0,) * 6
    try:
        operands = operands_of(feature, np.array(box).reshape(2, 3))
    except ValueError as problem:
        raise SolidError(str(problem), feature.name) from None
    registry.corners += sum(len(operand.body.vertices) for operand in operands)
    if registry.corners > MOST_CORNERS:
        raise SolidError("there are too many round faces by now, or too large ones", feature.name)
    before, known = body.volume(), len(registry.surfaces)
    tools = [registry.manifold(operand.body, feature.name) for operand in operands]
    if any(tool.status() != manifold3d.Error.NoError or tool.is_empty() for tool in tools):
        raise SolidError("its outline crosses or touches itself", feature.name)
    cut = operands[0].cut                                             # a feature adds, or takes away
    body = body - _together(tools) if cut else body + _together(tools)
    if body.status() != manifold3d.Error.NoError:
        raise SolidError("it cannot be joined to the rest", feature.name)
    if body.num_tri() > MOST_FACETS:
        raise SolidError(TOO_MANY_FACETS, feature.name)
    if abs(body.volume() - before) < SAME_POINT:
        raise SolidError("it changes nothing: it lies wholly inside, or wholly outside, what is there", feature.name)
    if not cut and registry.repeats_round(len(registry.surfaces) - known):
        body = _tidied(body, registry)
    return body


def _together(tools: Sequence[manifold3d.Manifold]) -> manifold3d.Manifold:
    """Bodies as one, to be joined to the rest at one go: the rest is worked through once, not once for each."""
    if len(tools) == 1:
        return tools[0]
    boxes = np.array([tool.bounding_box() for tool in tools]).reshape(-1, 2, 3)
    low, high = boxes[:, 0], boxes[:, 1]
    meet = (low[:, None] <= high).all(axis=2) & (high[:, None] >= low).all(axis=2)
    if meet.sum() > len(tools):
        return manifold3d.Manifold.batch_boolean(list(tools), manifold3d.OpType.Add)
    return manifold3d.Manifold.compose(list(tools))


def _tidied(body: manifold3d.Manifold, registry: Registry) -> manifold3d.Manifold:
    """The body with facets of one round surface, made by two features, joined; each had its own cut across the other's."""
    vertices, triangles, face = mesh_of(body)
    return manifold_of(vertices, triangles, registry.merged(face)).simplify(EXACT)


def mesh_of(body: manifold3d.Manifold) -> tuple[Array, IntArray, IntArray]:
    """Vertices (n, 3), triangles (m, 3) and the registered surface of each triangle (m,)."""
    mesh = body.to_mesh64()
    vertices = np.array(mesh.vert_properties[:, :3])
    return vertices, np.array(mesh.tri_verts, dtype=np.int64), np.array(mesh.face_id, dtype=np.int64)


def _finished(body: manifold3d.Manifold, registry: Registry) -> Solid:
    vertices, triangles, face = mesh_of(body)
    used = np.flatnonzero(np.bincount(face))
    surfaces, place = registry.distinct(used.tolist())
    owner = place[np.searchsorted(used, face)]
    names = _names(registry, used, place)
    low = vertices.min(axis=0)
    shift = np.where(np.abs(low) > SAME_POINT, -low, 0.0)
    surfaces = [surface.moved(shift) for surface in surfaces]
    known = frozenset(name for group in registry.names for name in group)
    features, makers = _features(registry, used, place), _makers(registry, used, place)
    return finished(vertices + shift, triangles, owner, surfaces, names, known, features, makers)


def finished(
    vertices: Array, triangles: IntArray, owner: IntArray, surfaces: Sequence[Surface], names: dict[str, int],
    known: frozenset[str], features: tuple[tuple[str, ...], ...], makers: tuple[frozenset[str], ...],
) -> Solid:
    """The solid of a mesh whose facets know their surfaces: corners on these exactly, edges found.

    Raises: SolidError if it touches itself along an edge or in a point only, leaves a wall of no thickness or has too many
    facets.
    """
    table = table_of(surfaces)
    vertices, triangles, owner, normals, edges = _exact(
        *_sound(_on_planes(vertices, triangles, owner, table), triangles, owner, surfaces, table), surfaces, table)
    if len(triangles) > MOST_FACETS:
        raise SolidError(TOO_MANY_FACETS)
    if folded(normals, surfaces, edges).any():
        raise SolidError("one of its faces cannot be divided into facets")
    thin = touching(vertices, triangles, normals, owner, surfaces, edges)
    if thin is not None:
        one, other = (_called(k, names) for k in thin)
        raise SolidError(f"a wall of no thickness is left {f'at {one}' if one == other else f'between {one} and {other}'}")
    for array in (vertices, triangles, owner, normals):
        array.flags.writeable = False
    return Solid(vertices, triangles, normals, owner, tuple(surfaces), names, known, features, edges, makers)


def _sound(
    vertices: Array, triangles: IntArray, owner: IntArray, surfaces: Sequence[Surface], table: SurfaceTable
) -> tuple[Array, IntArray, IntArray, Array, Edges]:
    """The mesh, divided anew where facets of a flat face lie folded over others; its facets' normals; its edges."""
    edges, normals = edges_of(vertices, triangles, owner, table), facet_normals(vertices, triangles)
    if edges is None or folded(normals, surfaces, edges).any():
        vertices, triangles, owner = smoothed(vertices, triangles, owner, surfaces)
        edges, normals = _closed(edges_of(vertices, triangles, owner, table)), facet_normals(vertices, triangles)
    return vertices, triangles, owner, normals, edges


def _exact(
    vertices: Array, triangles: IntArray, owner: IntArray, normals: Array, edges: Edges,
    surfaces: Sequence[Surface], table: SurfaceTable,
) -> tuple[Array, IntArray, IntArray, Array, Edges]:
    """The mesh with its corners on the exact surfaces and enough of them on every curve; its facets' normals and its edges."""
    moved, divided = refined(vertices, triangles, owner, table, edges)
    if divided is not triangles:
        changed = (divided != triangles).any(axis=1)
        normals = np.where(changed[:, None], facet_normals(moved, divided), normals)
        triangles, edges = divided, _closed(edges_of(vertices, divided, owner, table))
    vertices = _on_planes(moved, triangles, owner, table)
    edges = replace(edges, curves=curves_of(vertices, edges, surfaces))
    for _ in range(HALVINGS):
        halved = bisected(vertices, triangles, owner, normals, table, edges)
        if halved is None:
            break
        vertices, triangles, owner, normals = halved
        edges = replace(_closed(edges_of(vertices, triangles, owner, table)), curves=edges.curves)
    return vertices, triangles, owner, normals, edges


def _closed(edges: Edges | None) -> Edges:
    if edges is None:
        raise SolidError("parts of the solid touch along an edge or in a point only")
    return edges


def _called(surface: int, names: Mapping[str, int]) -> str:
    """The shortest name of a surface, its axis' left aside."""
    own = [name for name, k in names.items() if k == surface and not name.endswith(".axis")]
    return min(own, key=lambda name: (len(name), name), default="a face")


def _features(registry: Registry, used: IntArray, place: IntArray) -> tuple[tuple[str, ...], ...]:
    """For each surface, the features that made what is left of it."""
    owners: list[set[str]] = [set() for _ in range(int(place.max()) + 1)]
    for i, k in zip(used.tolist(), place.tolist(), strict=True):
        owners[k] |= registry.owners[i]
    return tuple(tuple(sorted(group)) for group in owners)


def _makers(registry: Registry, used: IntArray, place: IntArray) -> tuple[frozenset[str], ...]:
    """For each surface, the features that have an equal one, seen or not."""
    at = {registry.first[i]: k for i, k in zip(used.tolist(), place.tolist(), strict=True)}
    makers = [frozenset[str]() for _ in range(int(place.max()) + 1)]
    for first, owners in zip(registry.first, registry.owners, strict=True):
        if first in at:
            makers[at[first]] |= owners
    return tuple(makers)


def _names(registry: Registry, used: IntArray, place: IntArray) -> dict[str, int]:
    """The surface of each side name. A face that another feature's face of the same surface swallowed is still that surface."""
    at = {registry.first[i]: k for i, k in zip(used.tolist(), place.tolist(), strict=True)}
    names: dict[str, int] = {}
    for first, group in zip(registry.first, registry.names, strict=True):
        if first in at:
            for name in group:
                names.setdefault(name, at[first])
    return names


def _on_planes(vertices: Array, triangles: IntArray, owner: IntArray, table: SurfaceTable) -> Array:
    """Vertices of planes square to an axis get the plane's own coordinate, free of rounding."""
    square, level = table.square[owner], table.level[owner]
    for axis in range(3):
        mine = square == axis
        at, part = level[mine], vertices[:, axis]
        for corner in triangles.compress(mine, axis=0).T:
            part[corner] = at
    return vertices
