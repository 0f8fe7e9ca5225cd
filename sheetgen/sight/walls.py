"""The thinnest wall and the narrowest face of a solid, and whether all can be drawn. Part frame, millimetres."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import shapely

from sheetgen.geometry import Array, IntArray
from sheetgen.geometry.vectors import across_axis
from sheetgen.measures import drill_points
from sheetgen.sight.readable import face_words
from sheetgen.solid import Cone, Cylinder, Plane, Solid
from sheetgen.units import CHORD_ERROR, FACES_READER, NO_WIDTH, SAME_LEVEL, SAME_POINT

LEAST_FACE = 4.0
"""mm: a narrower face, or wall, prints as two lines that nearly touch (common practice, no source)."""

OPPOSITE = 0.85
"""Cosine: two faces that look away from each other by more than this have a wall between them; less is a wedge's tip."""

LOOKED_FAR = 12.0
"""mm: faces wider than this are not measured."""

FAR = 1e9
TOWARD = 0.99
"""Cosine: facets of a round face that look this much in a direction stand for it; the smallest hole's are 11 degrees wide."""


Place = tuple[float, str]
"""mm, and where it is in trade words."""


def is_sound(solid: Solid) -> bool:
    """Whether no wall is thinner, and no face narrower, than LEAST_FACE. (With walls of no thickness no solid is built.)"""
    least = LEAST_FACE - 2 * CHORD_ERROR
    return least_wall(solid)[0] >= least and least_face(solid)[0] >= least


def least_wall(solid: Solid) -> Place:
    """The least thickness found by looking straight into the material: from every facet of a flat face, from round faces in eight
    directions square to their axis, and from the tips of drilled holes along theirs. (Other cones are left out: walls beside them
    show in their rims' faces.)
    """
    middle = solid.vertices[solid.triangles].mean(axis=1)
    best: Place = (FAR, "")
    for way, facets in _directions(solid):
        distance, hit = _first_exits(solid, middle[facets], way)
        i = int(np.argmin(distance))
        if distance[i] < best[0] - SAME_POINT:
            words = (face_words(solid, int(solid.owner[k])) for k in (facets[i], hit[i]))
            best = (float(distance[i]), "between " + " and ".join(words))
    for k in drill_points(solid):
        cone = solid.surfaces[k]
        assert isinstance(cone, Cone)
        distance, hit = _first_exits(solid, cone.point[None], -cone.direction)
        if distance[0] < best[0] - SAME_POINT:
            beyond = face_words(solid, int(solid.owner[hit[0]]))
            best = (float(distance[0]), f"between the tip of {face_words(solid, k)} and {beyond}")
    return best


def _directions(solid: Solid) -> list[tuple[Array, IntArray]]:
    """Directions (3,) into the material, and the facets from which to look that way."""
    found: dict[tuple[float, ...], tuple[Array, list[IntArray]]] = {}

    def look(way: Array, facets: IntArray) -> None:
        if len(facets):
            found.setdefault(tuple((np.round(way, 6) + 0.0).tolist()), (way, []))[1].append(facets)

    for k, surface in enumerate(solid.surfaces):
        facets = np.flatnonzero(solid.owner == k)
        if isinstance(surface, Plane):
            for sense in (1.0, -1.0):
                look(-sense * surface.normal, facets[solid.normals[facets] @ surface.normal * sense > 0.5])
        elif isinstance(surface, Cylinder):
            across, up = across_axis(surface.direction)
            for turn in np.arange(8) * np.pi / 4:
                way = np.cos(turn) * across + np.sin(turn) * up
                look(way, facets[solid.normals[facets] @ way < -TOWARD])
    return [(way, np.concatenate(facets)) for way, facets in found.values()]


def _first_exits(solid: Solid, start: Array, way: Array) -> tuple[Array, IntArray]:
    """For rays from ``start`` (r, 3) along ``way`` (3,): how far to the facet they leave by, (r,), and its number (r,).

    A ray that leaves by a facet askew to it tells of a wedge's tip and counts as FAR.
    """
    steep = solid.normals @ way
    exits = np.flatnonzero(steep > FACES_READER)
    flat = solid.vertices @ np.stack(across_axis(way)).T
    areas: Any = shapely.polygons(flat[solid.triangles[exits]])
    tree = shapely.STRtree(areas)
    rays, places = tree.query(shapely.points(start @ np.stack(across_axis(way)).T), predicate="intersects")
    hits = exits[places]
    gap = np.einsum("ij,ij->i", solid.vertices[solid.triangles[hits, 0]] - start[rays], solid.normals[hits]) / steep[hits]
    gap = np.where(gap > SAME_LEVEL, gap, FAR)
    distance, hit = np.full(len(start), FAR), np.zeros(len(start), dtype=np.int64)
    order = np.argsort(gap, kind="stable")[::-1]                     # the nearest is written last
    distance[rays[order]], hit[rays[order]] = gap[order], hits[order]
    return np.where(steep[hit] > OPPOSITE, distance, FAR), hit


def least_face(solid: Solid) -> Place:
    """The least width of a face: between two of its borders that do not meet; of a round one, along and round its axis. (The
    point of a drilled hole goes with the hole, and no size is taken from it.)"""
    best: Place = (FAR, "")
    points = drill_points(solid)
    for k, surface in enumerate(solid.surfaces):
        if k in points:
            continue
        widths = _flat_widths(solid, k) if isinstance(surface, Plane) else _round_widths(solid, k)
        best = min([best, *((width, face_words(solid, k)) for width in widths)], key=lambda place: round(place[0], 6))
    return best


def _flat_widths(solid: Solid, k: int) -> Iterator[float]:
    """The least width of a flat face, if it has one."""
    plane = solid.surfaces[k]
    assert isinstance(plane, Plane)
    flat = solid.vertices @ np.stack(across_axis(plane.normal)).T
    borders = _borders(solid, k, flat)
    if not borders:
        return
    i, j = shapely.STRtree(borders).query(borders, predicate="dwithin", distance=LOOKED_FAR)
    one, other = (np.array(borders, dtype=object)[each[i < j]] for each in (i, j))
    width = shapely.distance(one, other)
    areas: Any = shapely.polygons(flat[solid.triangles[solid.owner == k]])
    face = shapely.STRtree(areas)
    for k in np.argsort(width, kind="stable"):
        if width[k] > NO_WIDTH:
            middle = shapely.line_interpolate_point(shapely.shortest_line(one[k], other[k]), 0.5, normalized=True)
            if len(face.query(middle, predicate="dwithin", distance=SAME_LEVEL)):
                yield float(width[k])
                return


def _borders(solid: Solid, k: int, flat: Array) -> list[shapely.Geometry]:
    """The drawn borders of face k, one for each stretch along one neighbour."""
    edges = solid.edges
    mine = np.flatnonzero(edges.sharp & (edges.pair == k).any(axis=1))
    beyond = np.where(edges.pair[mine, 0] == k, edges.pair[mine, 1], edges.pair[mine, 0])
    found: list[shapely.Geometry] = []
    for other in np.unique(beyond):
        lines = shapely.linestrings(flat[edges.ends[mine[beyond == other]]])
        found += shapely.get_parts(shapely.line_merge(shapely.multilinestrings(lines))).tolist()
    return found


def _round_widths(solid: Solid, k: int) -> Iterator[float]:
    surface = solid.surfaces[k]
    assert not isinstance(surface, Plane)
    facets = np.flatnonzero(solid.owner == k)
    corners = solid.vertices[solid.triangles[facets]]
    area = np.linalg.norm(np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1) / 2
    along = (corners @ surface.direction) * (np.hypot(1.0, surface.slope) if isinstance(surface, Cone) else 1.0)
    for part in _connected(solid, facets):
        length = float(np.ptp(along[part]))
        yield min(length, float(area[part].sum()) / length)


def _connected(solid: Solid, facets: IntArray) -> Iterator[IntArray]:
    """The facets in groups that hang together, as places in ``facets``."""
    label = np.full(len(solid.triangles), -1)
    label[facets] = np.arange(len(facets))
    pairs = label[solid.edges.facets]
    pairs = pairs[(pairs >= 0).all(axis=1)]
    group = np.arange(len(facets))
    while True:
        low = group[pairs].min(axis=1)
        new = group.copy()
        np.minimum.at(new, pairs[:, 0], low)
        np.minimum.at(new, pairs[:, 1], low)
        new = new[new]
        if (new == group).all():
            break
        group = new
    for number in np.unique(group):
        yield np.flatnonzero(group == number)
