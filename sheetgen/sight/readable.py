"""Whether a pictorial can be read: every feature shows, and nothing in it misleads."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import shapely

from sheetgen.geometry import Array, IntArray
from sheetgen.refusals import Reason
from sheetgen.sight.anchors import Sight
from sheetgen.sight.crowding import crowded_pictorial
from sheetgen.sight.placed import PlacedView
from sheetgen.solid import Plane, Solid
from sheetgen.units import FACES_READER

SHOWS = 2.0
"""mm of part: a feature of which less edge is seen does not show itself."""

SAME_SPOT = 0.5
"""mm on an isometric drawing at full size: nearer corners read as one (about the width of an outline)."""

NEARLY_ALONG = 0.087
"""Sine of five degrees between a face and the line of sight (common practice, no source): a face 20 wide that
is turned to the reader by less shows as a sliver."""

APART = 1.0
"""mm in the part: corners farther apart than this are two."""


@dataclass(frozen=True, eq=False)
class Pictorial:
    """An isometric view, and how well it can be read."""

    sight: Sight

    @cached_property
    def faults(self) -> list[Reason]:
        """What would mislead a reader, or run together in print at full size; nothing if it can be read."""
        return pictorial_faults(self.sight) or crowded_pictorial(PlacedView(self.sight, 1.0, np.zeros(2)))

    @cached_property
    def edge_on(self) -> list[Reason]:
        """Those of the faults that are faces which the line of sight runs along, or nearly."""
        return _edge_on_faces(self.sight)

    @cached_property
    def meetings(self) -> int:
        """How many edges seem to end in a corner that is not theirs."""
        return awkward_meetings(self.sight)


def pictorial_faults(sight: Sight) -> list[Reason]:
    """Return, in trade words, what would mislead a reader of an isometric view; nothing if it can be read."""
    return [*_unseen_features(sight), *_edge_on_faces(sight), *_false_corners(sight), *_false_lines(sight)]


def _unseen_features(sight: Sight) -> list[Reason]:
    """Features none of whose edges is seen. A feature of which no face is left is the bank's business, not the picture's."""
    solid = sight.view.solid
    length = np.linalg.norm(sight.stop - sight.start, axis=1) * sight.stretches.seen * sight.sharp
    totals = sum(np.bincount(of, weights=length, minlength=len(solid.surfaces)) for of in sight.pair.T)
    seen: dict[str, float] = {}
    for total, owners in zip(np.asarray(totals).tolist(), solid.features, strict=True):
        for owner in owners:
            seen[owner] = seen.get(owner, 0.0) + total
    return [Reason(f"nothing of {name} shows in the pictorial") for name, total in sorted(seen.items()) if total < SHOWS]


def _edge_on_faces(sight: Sight) -> list[Reason]:
    """Flat faces that the line of sight runs along, or nearly: they look like lines, or slivers. Those turned away stay out."""
    solid, toward = sight.view.solid, sight.view.frame.toward
    found = []
    for k, surface in enumerate(solid.surfaces):
        if not isinstance(surface, Plane):
            continue
        turned = float(solid.normals[int(np.argmax(solid.owner == k))] @ toward)
        if -FACES_READER < turned < NEARLY_ALONG:
            how = "nearly edge-on" if turned > FACES_READER else "edge-on"
            found.append(Reason(f"{face_words(solid, k)} is seen {how} in the pictorial"))
    return found


def face_words(solid: Solid, k: int) -> str:
    """A face in trade words."""
    names = solid.names_of(k)
    return names[0] if names else "a face of " + " and ".join(solid.features[k])


def _corners(sight: Sight, *, just_covered: bool) -> tuple[Array, Array, IntArray]:
    """Corners at which seen straight edges end: places in the part (n, 3) and in the view (n, 2), and their vertex numbers;
    with or without those which a nearer edge just covers."""
    edges, stretches = sight.view.solid.edges, sight.stretches
    which = stretches.seen & sight.sharp & sight.straight
    ends = edges.ends[stretches.edge[which]]
    exactly = np.stack([stretches.start == 0.0, stretches.stop == 1.0], axis=1)
    whole = (stretches.whole if just_covered else exactly)[which]
    numbers = np.unique(ends[whole])
    return sight.view.solid.vertices[numbers], sight.view.flat[numbers], numbers


def _false_corners(sight: Sight) -> list[Reason]:
    """Two corners, apart in space, that fall on one spot; or a corner that falls on an edge to which it does not belong.

    One that a nearer edge just covers is hidden, its line disappears there as any other would; but not where that edge ends too.
    """
    points, flat, _ = _corners(sight, just_covered=True)
    found = [_at(points[a], "corners that are apart fall on one another")
             for a, b in _on_one_spot(flat, points, flat, points) if a < b]
    points, flat, numbers = _corners(sight, just_covered=False)
    edges, stretches = sight.view.solid.edges, sight.stretches
    which = np.flatnonzero(stretches.seen & sight.sharp & sight.straight)
    start, stop = sight.start[which], sight.stop[which]
    flat_start, flat_stop = (sight.view.frame.flat(p) for p in (start, stop))
    along = flat_stop - flat_start
    length = np.linalg.norm(along, axis=1)
    unit = along / np.where(length > 0, length, 1.0)[:, None]
    lines = _lines(flat_start, flat_stop)
    corner, edge = _near(shapely.points(flat), lines, SAME_SPOT / 2)
    away = flat[corner] - flat_start[edge]
    t = away[:, 0] * unit[edge, 0] + away[:, 1] * unit[edge, 1]
    off = np.abs(unit[edge, 0] * away[:, 1] - unit[edge, 1] * away[:, 0])
    on = (off < SAME_SPOT / 2) & (t > SAME_SPOT) & (t < length[edge] - SAME_SPOT)
    for a, b, at in zip(corner[on].tolist(), edge[on].tolist(), t[on].tolist(), strict=True):
        place = start[b] + (stop[b] - start[b]) * at / length[b]
        if np.linalg.norm(place - points[a]) > APART and not (edges.ends[stretches.edge[which[b]]] == numbers[a]).any():
            found.append(_at(points[a], "a corner falls on an edge behind or before it"))
    return found


def awkward_meetings(sight: Sight) -> int:
    """How many edges disappear just where a corner is that is not theirs: they seem to end in it. Not wrong, but ugly."""
    points, flat, _ = _corners(sight, just_covered=True)
    which = np.flatnonzero(sight.stretches.seen & sight.sharp & sight.straight)
    count = 0
    for end, places in enumerate((sight.start, sight.stop)):
        lost = places[which[~sight.stretches.whole[which, end]]]
        count += len(_on_one_spot(sight.view.frame.flat(lost), lost, flat, points))
    return count


def _on_one_spot(flat: Array, points: Array, other_flat: Array, others: Array) -> list[tuple[int, int]]:
    """Pairs of points (n, 3) and others (m, 3), apart in space, that are seen, at ``flat`` (n, 2) and (m, 2), on one spot."""
    i, j = _near(shapely.points(flat), shapely.points(other_flat), SAME_SPOT)
    one_spot = np.linalg.norm(flat[i] - other_flat[j], axis=1) < SAME_SPOT
    apart = np.linalg.norm(points[i] - others[j], axis=1) > APART
    return list(zip(i[one_spot & apart].tolist(), j[one_spot & apart].tolist(), strict=True))


def _lines(start: Array, stop: Array) -> Any:
    """Straight lines (n,) from ``start`` (n, 2) to ``stop`` (n, 2)."""
    return shapely.linestrings(np.stack([start, stop], axis=1))


def _near(some: Any, others: Any, distance: float) -> tuple[IntArray, IntArray]:
    """Pairs of some shapes (n,) and others (m,) that are within a distance of each other, in order: numbers of the one, and of
    the other."""
    i, j = shapely.STRtree(others).query(some, predicate="dwithin", distance=distance)
    order = np.lexsort((j, i))
    return i[order], j[order]


def _false_lines(sight: Sight) -> list[Reason]:
    """Two edges or outlines of round faces, apart in space, that are drawn along one line for some way."""
    which = np.flatnonzero(sight.stretches.seen & (sight.straight | ~sight.sharp))
    start, stop = sight.start[which], sight.stop[which]
    p, q = (sight.view.frame.flat(points) for points in (start, stop))
    length = np.linalg.norm(q - p, axis=1)
    long = length > SHOWS
    start, stop, p, q, length = start[long], stop[long], p[long], q[long], length[long]
    unit = (q - p) / length[:, None]
    lines = _lines(p, q)
    i, j = _near(lines, lines, SAME_SPOT / 2)
    i, j = i[i < j], j[i < j]
    one, other = p[j] - p[i], q[j] - p[i]
    off = [np.abs(unit[i, 0] * d[:, 1] - unit[i, 1] * d[:, 0]) for d in (one, other)]
    a, b = (d[:, 0] * unit[i, 0] + d[:, 1] * unit[i, 1] for d in (one, other))
    low, high = np.maximum(np.minimum(a, b), 0.0), np.minimum(np.maximum(a, b), length[i])
    clash = (np.maximum(*off) < SAME_SPOT / 2) & (high - low > SHOWS)
    i, j, a, b, middle = i[clash], j[clash], a[clash], b[clash], (low + high)[clash, None] / 2
    place = start[i] + (stop[i] - start[i]) * middle / length[i][:, None]
    behind = start[j] + (stop[j] - start[j]) * (middle - a[:, None]) / (b - a)[:, None]
    apart = np.linalg.norm(place - behind, axis=1) > APART
    return [_at(at, "edges that are apart fall on one line") for at in place[apart]]


def _at(point: Array, what: str) -> Reason:
    x, y, z = (f"{v:.4g}" for v in point)
    return Reason(f"in the pictorial, {what}", f"at x {x}, y {y}, z {z}")
