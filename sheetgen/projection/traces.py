"""Where a plane of symmetry cuts the faces that a view shows: the centre line of a pictorial. View millimetres."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from sheetgen.geometry import Array, Mask
from sheetgen.geometry.intervals import joined, longer
from sheetgen.projection.hidden import hidden_stretches, seen_parts
from sheetgen.projection.view import View
from sheetgen.units import EXACT, SAME_CARRIER, SAME_COSINE, SAME_DIRECTION, SAME_POINT, SAME_RUN

CHAIN = 14.0
"""mm on paper: a shorter stretch of the cut has no room for the dot of a chain line and reads as an edge."""

DOT = 0.04
"""mm of part: a point is looked at as a stroke of this length, and shows if all of it does."""

LEAST = 8.0
"""mm on paper: a shorter one is not even drawn where no stretch has room (common practice, no source)."""


def symmetry_trace(view: View, axis: int, scale: float = 1.0) -> list[Array]:
    """Return the seen stretches (2, 2) of the cut of the part's mid-plane square to ``axis`` with its flat faces.

    ``scale``: paper mm per part mm at which the view will be drawn.
    """
    solid, frame = view.solid, view.frame
    shown = (view.facing > 0) & (solid.inward == 0)        # along a round surface it would read as an edge
    cuts = _cuts(solid.vertices.take(solid.triangles.compress(shown, axis=0), axis=0), axis, float(solid.size[axis]) / 2)
    if not len(cuts):
        return []
    found = _linked(seen_parts(frame, view.covers, cuts), LEAST / scale)
    length = [float(np.linalg.norm(line[1] - line[0])) * scale for line in found]
    return [line for line, much in zip(found, length, strict=True) if much >= min(CHAIN, max(length))]


def seen_segments(view: View, segments: Sequence[Array], least: float) -> list[Array]:
    """The stretches (2, 2), ``least`` mm long or longer, of ``segments`` (2, 3) on the part's faces or before them that show."""
    if not segments:
        return []
    parts = seen_parts(view.frame, view.covers, np.array(segments))
    return [part for part, run in zip(parts, parts[:, 1] - parts[:, 0], strict=True) if np.hypot(*run) >= least]


def seen_points(view: View, points: Array) -> Mask:
    """Which of the points (n, 3), on the part's faces or before them, show."""
    aside = DOT / 2 * view.frame.axes[0]
    which, _, _ = hidden_stretches(view.frame, view.covers, np.stack([points - aside, points + aside], axis=1))
    found = np.ones(len(points), dtype=bool)
    found[which] = False
    return found


def _cuts(corners: Array, axis: int, level: float) -> Array:
    """Where triangles (m, 3 corners, 3) cross a plane square to ``axis``: segments (k, 2, 3)."""
    side, following = corners[:, :, axis] - level, corners.take([1, 2, 0], axis=1)
    after = side.take([1, 2, 0], axis=1)
    within, across = np.abs(side) < EXACT, (side * after < 0) & (np.minimum(np.abs(side), np.abs(after)) >= EXACT)
    t = side / np.where(across, side - after, 1.0)
    points = np.concatenate([corners + t[..., None] * (following - corners), corners], axis=1)      # (m, 6, 3)
    there = np.concatenate([across, within], axis=1)
    two = np.flatnonzero(there.sum(axis=1) == 2)
    ends = np.flatnonzero(there.take(two, axis=0))
    return points.take(two, axis=0).reshape(-1, 3).take(ends, axis=0).reshape(-1, 2, 3)


def _linked(stretches: Array, least: float) -> list[Array]:
    """Stretches (k, 2, 2) in one line joined; short ones left out."""
    lines: list[tuple[float, float, float, list[tuple[float, float]]]] = []     # direction, offset, from where to where
    for (px, py), (qx, qy) in stretches.tolist():
        length = math.hypot(qx - px, qy - py)
        if length < SAME_POINT:
            continue
        u, v = (qx - px) / length, (qy - py) / length
        if u < -SAME_DIRECTION or (abs(u) <= SAME_DIRECTION and v < 0):
            px, py, qx, qy, u, v = qx, qy, px, py, -u, -v
        offset = u * py - v * px
        entry = next((e for e in lines if abs(e[0] * u + e[1] * v) > 1 - SAME_COSINE and abs(e[2] - offset) < SAME_CARRIER), None)
        if entry is None:
            entry = (u, v, offset, [])
            lines.append(entry)
        entry[3].append((entry[0] * px + entry[1] * py, entry[0] * qx + entry[1] * qy))
    result = []
    for u, v, offset, spans in lines:
        unit, foot = np.array([u, v]), np.array([-offset * v, offset * u])
        result += [np.stack([foot + a * unit, foot + b * unit]) for a, b in longer(joined(spans, SAME_RUN), least)]
    return result
