"""The ground on which sizes are placed: the lines already drawn, forbidden areas, and what each candidate costs there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt
import shapely

from sheetgen.dimensions.candidate import Candidate
from sheetgen.solid.surfaces import Array

HARD = 1e6               # cost of what must never be printed
CROSS_VISIBLE = 7.0      # a dimension line crosses a visible line
EXTENSION_CROSS = 2.5    # an extension line crosses a visible line
LEADER_CROSS = 2.0       # a leader crosses a visible line
CROSS_THIN = 0.6         # any of them crosses a hidden or centre line
WITHIN = 3.0             # figures stand within the part's outline
BESIDE = 4.0             # mm: a dimension line nearer than this beside a visible line reads as part of it


@dataclass(frozen=True, eq=False)
class Ground:
    """``visible``, ``thin`` (hidden and centre): polylines (k, 2) on the sheet; ``blocked``: areas nothing may enter (title block,
    notes); ``area``: where marks may be; ``outlines``: the shadows of the views."""

    visible: Sequence[Array]
    thin: Sequence[Array]
    blocked: Sequence[shapely.Polygon]
    area: shapely.Polygon
    outlines: Sequence[shapely.Geometry]

    @cached_property
    def _segments(self) -> tuple[Array, Array]:
        """Visible and thin lines as segments (n, 4)."""
        return segments_of(self.visible), segments_of(self.thin)

    def costs(self, candidates: Sequence[Candidate]) -> Array:
        """Cost (n,) of each candidate by itself: its own, and that of where it lies; HARD or more if it may not be used."""
        total = np.array([candidate.cost for candidate in candidates])
        self._texts(candidates, total)
        self._lines(candidates, total)
        return total

    def _texts(self, candidates: Sequence[Candidate], total: Array) -> None:
        boxes, owner = owned(candidates, lambda c: c.boxes)
        if not boxes:
            return
        shapes = shapely.polygons([np.concatenate([box, box[:1]]) for box in boxes])
        tree = shapely.STRtree(shapes)
        lines = [shapely.LineString(points) for points in (*self.visible, *self.thin)]
        for obstacles in (lines, list(self.blocked)):
            if obstacles:
                _, hit = tree.query(np.array(obstacles, dtype=object), predicate="intersects")
                total[owner[np.unique(hit)]] += HARD
        outside = ~shapely.covers(self.area, shapes)
        np.add.at(total, owner[outside], HARD)
        middles = shapely.centroid(shapes)
        for outline in self.outlines:
            np.add.at(total, owner[shapely.intersects(outline, middles)], WITHIN)

    def _lines(self, candidates: Sequence[Candidate], total: Array) -> None:
        lines, line_owner = owned_segments(candidates, lambda c: c.lines)
        ends, end_owner = owned_segments(candidates, lambda c: c.extensions)
        visible, thin = self._segments
        leaders = np.array([candidate.leader for candidate in candidates])
        crossings = crossing(lines, visible)
        rate = np.where(leaders[line_owner], LEADER_CROSS, CROSS_VISIBLE)
        np.add.at(total, line_owner, crossings.sum(axis=1) * rate)
        np.add.at(total, line_owner, crossing(lines, thin).sum(axis=1) * CROSS_THIN)
        np.add.at(total, end_owner, crossing(ends, visible).sum(axis=1) * EXTENSION_CROSS)
        np.add.at(total, end_owner, crossing(ends, thin).sum(axis=1) * CROSS_THIN)
        for close in (visible, thin):
            np.add.at(total, line_owner, beside(lines, close, BESIDE).any(axis=1) * HARD)
            np.add.at(total, end_owner, beside(ends, close, 0.6).any(axis=1) * HARD)
        for segments, owner in ((lines, line_owner), (ends, end_owner)):
            if not len(segments):
                continue
            strings = shapely.linestrings(segments.reshape(-1, 2, 2))
            np.add.at(total, owner, ~shapely.covers(self.area, strings) * HARD)
            for block in self.blocked:
                np.add.at(total, owner, shapely.intersects(block, strings) * HARD)


def owned(candidates: Sequence[Candidate], part: object) -> tuple[list[Array], npt.NDArray[np.int64]]:
    """All of a part of the candidates in one list, and for each the number of its candidate."""
    items, owner = [], []
    for i, candidate in enumerate(candidates):
        for entry in part(candidate):  # type: ignore[operator]
            items.append(entry)
            owner.append(i)
    return items, np.array(owner, dtype=np.int64)


def owned_segments(candidates: Sequence[Candidate], part: object) -> tuple[Array, npt.NDArray[np.int64]]:
    """The same for polylines, cut into segments (n, 4)."""
    items, owner = owned(candidates, part)
    counts = np.array([len(points) - 1 for points in items], dtype=np.int64)
    return segments_of(items), np.repeat(owner, counts)


def segments_of(polylines: Sequence[Array]) -> Array:
    """Segments (n, 4) of polylines: x and y of both ends."""
    if not polylines:
        return np.zeros((0, 4))
    return np.concatenate([np.hstack([points[:-1], points[1:]]) for points in polylines])


def crossing(one: Array, other: Array, tolerance: float = 1e-3) -> npt.NDArray[np.bool_]:
    """(n, m) True where segments (n, 4) and (m, 4) cross inside the first; touching the first's end is no crossing."""
    if not len(one) or not len(other):
        return np.zeros((len(one), len(other)), dtype=bool)
    p, r = one[:, None, :2], (one[:, 2:] - one[:, :2])[:, None, :]
    q, s = other[None, :, :2], (other[:, 2:] - other[:, :2])[None, :, :]
    det = r[..., 0] * s[..., 1] - r[..., 1] * s[..., 0]
    length_r, length_s = np.linalg.norm(r, axis=2), np.linalg.norm(s, axis=2)
    slanted = np.abs(det) > 1e-6 * length_r * length_s
    safe = np.where(slanted, det, 1.0)
    w = q - p
    t = (w[..., 0] * s[..., 1] - w[..., 1] * s[..., 0]) / safe
    u = (w[..., 0] * r[..., 1] - w[..., 1] * r[..., 0]) / safe
    edge_r, edge_s = tolerance / length_r, tolerance / length_s
    return np.asarray(slanted & (t > edge_r) & (t < 1 - edge_r) & (u > -edge_s) & (u < 1 + edge_s))


def beside(one: Array, other: Array, distance: float) -> npt.NDArray[np.bool_]:
    """(n, m) True where two segments are parallel, nearer than ``distance`` mm, and side by side over more than 1 mm."""
    if not len(one) or not len(other):
        return np.zeros((len(one), len(other)), dtype=bool)
    direction = one[:, 2:] - one[:, :2]
    length = np.linalg.norm(direction, axis=1, keepdims=True)
    unit = (direction / np.where(length > 0, length, 1.0))[:, None, :]
    start = other[None, :, :2] - one[:, None, :2]
    stop = other[None, :, 2:] - one[:, None, :2]
    off_a = unit[..., 0] * start[..., 1] - unit[..., 1] * start[..., 0]
    off_b = unit[..., 0] * stop[..., 1] - unit[..., 1] * stop[..., 0]
    along_a, along_b = (start * unit).sum(axis=2), (stop * unit).sum(axis=2)
    shared = np.minimum(np.maximum(along_a, along_b), length) - np.maximum(np.minimum(along_a, along_b), 0.0)
    parallel = np.abs(off_a - off_b) < 0.02 * np.abs(along_a - along_b)
    return np.asarray(parallel & (np.maximum(np.abs(off_a), np.abs(off_b)) < distance) & (shared > 1.0))
