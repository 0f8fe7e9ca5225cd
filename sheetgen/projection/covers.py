"""What hides: the panes turned to the viewer, as linear functions over the view, and the segments they cover.

View coordinates (u, v, depth): u to the right, v up, depth towards the viewer; mm. Pairs of a segment and a facet are worked
off in slices that stay in the processor's cache: large arrays cost more in fresh memory than in arithmetic.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array, IntArray, Mask
from sheetgen.projection.frames import Frame
from sheetgen.solid import Solid
from sheetgen.units import BEHIND, CHORD_ERROR, RIM

BLOCK = 6              # boxes that are tried together
SLICE = 4096           # pairs worked on at once
FEW = 50_000           # pairs that are tried one and all: to sort them into blocks would take longer
_SPREAD = np.array([sum((k >> bit & 1) << 2 * bit for bit in range(6)) for k in range(64)])


@dataclass(frozen=True, eq=False)
class Covers:
    """The panes turned to the viewer, one column each.

    ``low``, ``high`` (3, m): their boxes. ``owner`` (m,): their surfaces, and ``slack`` (m,) mm how far behind its own surface's
    facets a curve counts as lying on it. ``forms`` (5, 3, m): functions a u + b v + c, not negative within the four sides, and
    the depth of the pane's plane. ``face`` (m,): which of ``planes`` (3, p) it lies in, the depth function of each planar
    face; p for a facet of a curved one.
    """

    low: Array
    high: Array
    owner: IntArray
    slack: Array
    forms: Array
    face: IntArray
    planes: Array


def covers_of(solid: Solid, frame: Frame, points: Array, facing: IntArray) -> Covers:
    """Return the covers of a view; ``points`` (n, 3): the solid's vertices as (u, v, depth); ``facing`` (m,): of the facets."""
    front = np.flatnonzero(facing[solid.panes.facet] > 0)
    owner = solid.owner[solid.panes.facet[front]]
    corners = points.T.take(solid.panes.corners[front].T, axis=1)              # (3 coordinates, 4 corners, m)
    along, up, _ = corners.take([1, 2, 3, 0], axis=1) - corners                # the four sides (4, m)
    (x, y, z), (p, q, r) = corners[:, 2] - corners[:, 0], corners[:, 3] - corners[:, 1]
    twice = x * q - y * p                                                      # the area, doubled
    length = np.maximum(np.sqrt(along * along + up * up), RIM)
    wide = twice > RIM * length.max(axis=0)
    twice = np.where(wide, twice, 1.0)
    forms = np.empty((5, 3, len(front)))
    forms[:4, 0], forms[:4, 1] = -up / length, along / length
    forms[:4, 2] = RIM - forms[:4, 0] * corners[0] - forms[:4, 1] * corners[1]
    forms[4, 0], forms[4, 1] = (z * q - y * r) / twice, (x * r - z * p) / twice
    forms[4, 2] = corners[2, 0] - forms[4, 0] * corners[0, 0] - forms[4, 1] * corners[1, 0]
    faces = np.flatnonzero(solid.table.flat)
    planes = _planes(solid, frame, faces)
    number = np.full(len(solid.surfaces), len(faces))
    number[faces] = np.arange(len(faces))
    face = number[owner]
    flat = np.flatnonzero(face < len(faces))
    forms[4][:, flat] = planes.take(face[flat], axis=1)
    forms[4][:, ~wide] = [[0.0], [0.0], [-np.inf]]
    return Covers(corners.min(axis=1), corners.max(axis=1), owner, _slack(solid)[owner], forms, face, planes)


def _slack(solid: Solid) -> Array:
    """By surface, mm: the width of a facet of a round one. Where it turns away, its facets and exact curves on it cross in depth
    by up to a facet's width; sideways that is CHORD_ERROR."""
    radius = np.zeros(len(solid.surfaces))
    for group in solid.axis_groups:
        radius[list(group.surfaces)] = group.radius
    return np.sqrt(8 * CHORD_ERROR * radius)


def _planes(solid: Solid, frame: Frame, faces: IntArray) -> Array:
    """The depth a u + b v + c of planar faces as columns (3, p); meaningless for one seen edge-on, which covers nothing."""
    normal, offset = solid.table.axis[faces], solid.table.offset[faces]
    square = normal @ frame.back.T                                             # (p, 2)
    facing = normal @ frame.toward
    facing = np.where(np.abs(facing) > RIM, facing, 1.0)
    return np.stack([-square[:, 0], -square[:, 1], offset - square @ frame.origin]) / facing


def covered(segments: Array, pair: IntArray, covers: Covers) -> tuple[IntArray, Array, Array]:
    """For each pair of a segment (k, 2, 3) and a facet that hides part of it: segment index, from where to where.

    ``pair`` (k, 2): the surfaces on which each segment lies, if its ends were moved onto them off the facets; else -1.
    """
    points = segments.transpose(1, 2, 0).copy()                                # (2 ends, 3 coordinates, k)
    found = [(np.zeros(0, dtype=np.int64), np.zeros(0), np.zeros(0))]
    behind = _behind(points, covers.planes)
    for s, t in _near_pairs(points.min(axis=0), points.max(axis=0), covers):
        keep = behind[covers.face[t], s]
        s, t = s[keep], t[keep]
        for first in range(0, len(s), SLICE):
            part = slice(first, first + SLICE)
            found.append(_clipped(points, pair, covers, s[part], t[part]))
    which, low, high = zip(*found, strict=True)
    return np.concatenate(which), np.concatenate(low), np.concatenate(high)


def _behind(points: Array, planes: Array) -> Mask:
    """(p + 1, k): whether a segment reaches behind each planar face; the last row, for curved ones, is always True."""
    reaches = np.ones((planes.shape[1] + 1, points.shape[2]), dtype=bool)
    over = planes[:2].T @ points[:, :2] + planes[2][:, None] - points[:, 2:]   # (2 ends, p, k)
    reaches[:-1] = (over > BEHIND).any(axis=0)
    return reaches


def _clipped(points: Array, pair: IntArray, covers: Covers, s: IntArray, t: IntArray) -> tuple[IntArray, Array, Array]:
    """The stretch of each segment ``s`` that lies within the sides of facet ``t`` and behind it, for pairs that have one."""
    a, b, c = covers.forms.take(t, axis=2).transpose(1, 0, 2)                  # (5, pairs) each
    ends = points.take(s, axis=2)
    at = a * ends[:, 0][:, None]                                               # (2 ends, 5, pairs)
    at += b * ends[:, 1][:, None]
    at += c
    owner, (one, other) = covers.owner[t], pair.T
    own = (one[s] == owner) | (other[s] == owner)
    at[:, 4] -= ends[:, 2] + np.where(own, BEHIND + covers.slack[t], BEHIND)
    near = np.flatnonzero((np.maximum(at[0], at[1]) >= 0).all(axis=0))         # none of the five is below 0 at both ends
    s, (start, stop) = s[near], at.take(near, axis=2)
    change = stop - start
    root = -start / np.where(change == 0, 1.0, change)
    low = np.where(start < 0, root, 0.0).max(axis=0)
    high = np.where(stop < 0, root, 1.0).min(axis=0)
    keep = high > low
    return s[keep], low[keep], high[keep]


def _near_pairs(low: Array, high: Array, covers: Covers) -> Iterator[tuple[IntArray, IntArray]]:
    """Pairs (segment, facet) whose boxes meet, the facet perhaps in front. ``low``, ``high`` (3, k): the segments' boxes."""
    reach = (RIM, RIM, -BEHIND)
    if low.shape[1] * len(covers.owner) < FEW:
        wider = np.array(reach)[:, None]
        near = _meet((low - wider)[..., None], (high + wider)[..., None], covers.low[:, None], covers.high[:, None])
        yield np.divmod(np.flatnonzero(near), len(covers.owner))
        return
    mine, theirs = _blocks(low, high), _blocks(covers.low, covers.high)
    low, high = (_boxes(low, mine, np.inf, [-r for r in reach]), _boxes(high, mine, -np.inf, reach))
    their_low, their_high = _boxes(covers.low, theirs, np.inf), _boxes(covers.high, theirs, -np.inf)
    whole = low.min(axis=1)[..., None], high.max(axis=1)[..., None]
    i, j = np.nonzero(_meet(*whole, their_low.min(axis=1)[:, None], their_high.max(axis=1)[:, None]))
    step = 16 * SLICE // BLOCK**2
    for first in range(0, len(i), step):
        a, b = i[first:first + step], j[first:first + step]
        near = _meet(
            low.take(a, axis=2)[:, :, None], high.take(a, axis=2)[:, :, None],
            their_low.take(b, axis=2)[:, None], their_high.take(b, axis=2)[:, None],
        )
        place, pair = np.divmod(np.flatnonzero(near), len(a))
        yield mine[place // BLOCK, a[pair]], theirs[place % BLOCK, b[pair]]


def _meet(low: Array, high: Array, their_low: Array, their_high: Array) -> Mask:
    """Which boxes meet in the view, the second of the two not wholly behind the first; each (3, ...), shapes to be broadcast."""
    near: Mask = their_high[2] >= low[2]
    for k in (0, 1):
        near &= their_high[k] >= low[k]
        near &= their_low[k] <= high[k]
    return near


def _blocks(low: Array, high: Array) -> IntArray:
    """Boxes that lie near each other in blocks (BLOCK, b), large ones apart; the last block is filled up with -1."""
    if not low.shape[1]:
        return np.zeros((BLOCK, 0), dtype=np.int64)
    base, reach = low[:2].min(axis=1), high[:2].max(axis=1)
    scale = 63.0 / max(float((reach - base).max()), RIM)
    u, v = ((low[:2] + high[:2]) / 2 - base[:, None]) * scale
    large = (high[:2] - low[:2]).max(axis=0) * scale
    key = _SPREAD[u.astype(np.int64)] + 2 * _SPREAD[v.astype(np.int64)] + 4096 * ((large > 8).astype(np.int64) + (large > 24))
    order = np.full(-(-len(key) // BLOCK) * BLOCK, -1)
    order[:len(key)] = np.argsort(key, kind="stable")
    return order.reshape(-1, BLOCK).T.copy()


def _boxes(values: Array, blocks: IntArray, filling: float, wider: Sequence[float] = (0.0, 0.0, 0.0)) -> Array:
    """``values`` (3, k) in blocks (3, BLOCK, b), moved by ``wider``; ``filling``, where a block is not full, meets nothing."""
    placed: Array = (values + np.array(wider)[:, None]).take(blocks, axis=1)
    placed[:, blocks < 0] = filling
    return placed
