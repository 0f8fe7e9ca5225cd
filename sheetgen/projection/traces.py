"""Where a plane of symmetry cuts the faces that a view shows: the centre line of a pictorial. View millimetres."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from sheetgen.projection.hidden import facing_of, seen_parts
from sheetgen.projection.intervals import joined, longer
from sheetgen.projection.view import View
from sheetgen.solid import Plane
from sheetgen.solid.surfaces import Array

LEAST = 8.0
"""mm on paper: shorter stretches of the cut, on narrow rims and edges, would read as edges (common practice, no source)."""


def symmetry_trace(view: View, axis: int, scale: float = 1.0) -> list[Array]:
    """Return the seen stretches (2, 2) of the cut of the part's mid-plane square to ``axis`` with its straight-ruled faces.

    ``scale``: paper mm per part mm at which the view will be drawn.
    """
    solid, frame = view.solid, view.frame
    middle = float(solid.size[axis]) / 2
    facing = facing_of(solid, frame)
    cuts = []
    for triangle in solid.triangles[(facing > 0) & ~_hollow(view)]:
        side = solid.vertices[triangle][:, axis] - middle
        points = []
        for i in range(3):
            j = (i + 1) % 3
            if side[i] * side[j] < 0:
                t = side[i] / (side[i] - side[j])
                points.append(solid.vertices[triangle[i]] + t * (solid.vertices[triangle[j]] - solid.vertices[triangle[i]]))
            elif abs(side[i]) < 1e-9:
                points.append(solid.vertices[triangle[i]])
        distinct = [p for n, p in enumerate(points) if all(np.linalg.norm(p - q) > 1e-9 for q in points[:n])]
        if len(distinct) == 2:
            cuts.append(np.stack(distinct))
    if not cuts:
        return []
    pieces = seen_parts(solid, frame, np.stack(cuts))
    return _linked(pieces, LEAST / scale)


def _hollow(view: View) -> npt.NDArray[np.bool_]:
    """True for facets (m,) of bores and other hollow rounds: a centre line there would read as an edge."""
    solid = view.solid
    hollow = np.zeros(len(solid.triangles), dtype=bool)
    for k, surface in enumerate(solid.surfaces):
        if not isinstance(surface, Plane):
            which = np.flatnonzero(solid.owner == k)
            away = surface.normals(solid.vertices[solid.triangles[which]].mean(axis=1))
            hollow[which] = np.einsum("ij,ij->i", away, solid.normals[which]) < 0
    return hollow


def _linked(pieces: list[Array], least: float) -> list[Array]:
    """Pieces in one line joined; short ones left out."""
    lines: list[tuple[Array, float, list[tuple[float, float]]]] = []
    for p, q in pieces:
        length = float(np.linalg.norm(q - p))
        if length < 1e-6:
            continue
        unit = (q - p) / length
        if unit[0] < -1e-9 or (abs(unit[0]) <= 1e-9 and unit[1] < 0):
            p, q, unit = q, p, -unit
        offset = float(unit[0] * p[1] - unit[1] * p[0])
        entry = next((e for e in lines if abs(e[0] @ unit) > 1 - 1e-9 and abs(e[1] - offset) < 1e-5), None)
        if entry is None:
            entry = (unit, offset, [])
            lines.append(entry)
        entry[2].append((float(entry[0] @ p), float(entry[0] @ q)))
    result = []
    for unit, offset, spans in lines:
        foot = offset * np.array([-unit[1], unit[0]])
        result += [np.stack([foot + a * unit, foot + b * unit]) for a, b in longer(joined(spans, 1e-4), least)]
    return result
