"""Where a length can stand on the isometric pictorial: dimension lines along the axes, before anchors of its extension lines.

Sheet millimetres, but for anchors, which are points of the part.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.arrays import IntArray
from sheetgen.measures import EndRef
from sheetgen.placing.candidate import FIRST_TIER, GAP, NEXT_TIER, STEP
from sheetgen.placing.columns import Table
from sheetgen.placing.costs.misread import Runs
from sheetgen.placing.offers.linear import Crossings, DimensionLines
from sheetgen.placing.offers.pictorial_anchors import Anchor, Key, Line, Point, anchors_of
from sheetgen.placing.weights import Weights
from sheetgen.sight import PlacedView
from sheetgen.sight.anchors import Rail
from sheetgen.solid import Plane
from sheetgen.units import SAME_LEVEL, SAME_PLACE, SAME_POINT

TIERS = 4
SIGNS = (-1, 1)
"""The two ends of an axis."""


class Span(NamedTuple):
    """A length to be placed: its item's number and axis."""

    item: int
    axis: int
    ends: tuple[EndRef, ...]


@dataclass(frozen=True, eq=False)
class PictorialFootings(Table):
    """Pairs of the two ends' anchors on one level, on which dimension lines can stand, one a row (n,).

    ``item``; ``cost``; the ``axis`` measured along; the axis along which the extension lines run, ``outward``, and ``sign``: to
    which end of it, 1 or -1; ``points`` (n, 2, 3): the anchors; ``reach`` (n, 2): how far their centre lines reach so;
    ``crossing``: the set of these, -1 for none.
    """

    item: IntArray
    cost: Array
    axis: IntArray
    outward: IntArray
    sign: Array
    points: Array
    reach: Array
    crossing: IntArray


class _PictorialFooting(NamedTuple):
    """Two anchors on one level, as a row of ``PictorialFootings``; ``p``, ``q``: themselves; their centre lines are drawn."""

    item: int
    cost: float
    axis: int
    outward: int
    sign: int
    p: Anchor
    q: Anchor


class _Stand(NamedTuple):
    """The anchors of an end at one ``level``: for each of SIGNS the farthest out, None where none is free to that side."""

    level: float
    farthest: tuple[Anchor | None, Anchor | None]


class _Standing(NamedTuple):
    """Of an end, by the axis along which extension lines run out: where its anchors stand, lowest level first, and its seen
    straight edges along the third axis; an axis has none."""

    stands: tuple[tuple[_Stand, ...], ...]
    rails: tuple[Sequence[Rail], ...]


def span_lines(
    view: PlacedView, spans: Sequence[Span], leans_back: float, weights: Weights
) -> tuple[DimensionLines, Crossings]:
    """All ways to draw the spans, and the centre lines that belong to them; ``leans_back``: cost of figures that do."""
    ends = {(end.surfaces, span.axis): end for span in spans for end in span.ends}
    standing = _standing(view, ends, anchors_of(view, ends, weights))
    found = [footing for span in spans for footing in _footings(span, standing, weights)]
    footings, crossings = _tables(view, found)
    return _beyond(view, footings, leans_back, weights), crossings


def _standing(
    view: PlacedView, ends: Mapping[Key, EndRef], anchors: Mapping[Key, Sequence[Anchor]]
) -> dict[Key, _Standing]:
    """How the anchors of each end stand."""
    flat = {key: end for key, end in ends.items() if isinstance(view.view.solid.surfaces[key[0][0]], Plane)}
    measured = [(end, axis) for (_, axis), end in flat.items()]
    rails = [dict(zip(flat, view.sight.rails(measured, along), strict=True)) for along in range(3)]
    found = {}
    for key in ends:
        thirds = [3 - key[1] - outward if outward != key[1] else -1 for outward in range(3)]
        found[key] = _Standing(
            tuple(() if third < 0 else _stands(anchors[key], outward, third) for outward, third in enumerate(thirds)),
            tuple(() if third < 0 else rails[third].get(key, ()) for third in thirds))
    return found


def _stands(anchors: Sequence[Anchor], outward: int, third: int) -> tuple[_Stand, ...]:
    """Where anchors stand along the ``third`` axis, lowest first."""
    levels = _levels([round(anchor.point[third], 5) for anchor in anchors])
    found: list[list[Anchor]] = [[] for _ in levels]
    for anchor in anchors:
        found[bisect_left(levels, anchor.point[third] - SAME_LEVEL)].append(anchor)
    return tuple(_stand(level, on, outward) for level, on in zip(levels, found, strict=True))


def _stand(level: float, anchors: Sequence[Anchor], outward: int) -> _Stand:
    """Those of several anchors on one level that are farthest out: reaches count, and of two alike the longer one is it."""
    low: Anchor | None = None
    high: Anchor | None = None
    least, most, least_arm, most_arm = -math.inf, -math.inf, 0.0, 0.0
    for anchor in anchors:
        place, arm, covered = anchor.point[outward], anchor.reach[outward], anchor.covered
        down, up = arm - place, place + arm
        if (down > least or (down == least and arm > least_arm)) and (outward, -1) not in covered:
            low, least, least_arm = anchor, down, arm
        if (up > most or (up == most and arm > most_arm)) and (outward, 1) not in covered:
            high, most, most_arm = anchor, up, arm
    return _Stand(level, (low, high))


def _footings(span: Span, standing: Mapping[Key, _Standing], weights: Weights) -> Iterator[_PictorialFooting]:
    """Pairs of the two ends' anchors on one level, from which a dimension line can be drawn out."""
    one, other = (standing[end.surfaces, span.axis] for end in span.ends)
    for outward in (a for a in range(3) if a != span.axis):
        third = 3 - span.axis - outward
        midway = _midway(one.rails[outward], other.rails[outward])
        levels = _levels([*(stand.level for end in (one, other) for stand in end.stands[outward]), *midway])
        at_one, at_other = (_at_levels(end, outward, third, levels, weights) for end in (one, other))
        for level, ps, qs in zip(levels, at_one, at_other, strict=True):
            if ps is None or qs is None:
                continue
            detached = weights.no_corner if level in midway else 0.0
            for sign, p, q in zip(SIGNS, ps.farthest, qs.farthest, strict=True):
                if p is not None and q is not None:
                    seams = weights.smooth * ((p.seam == outward) + (q.seam == outward))
                    yield _PictorialFooting(span.item, p.cost + q.cost + detached + seams, span.axis, outward, sign, p, q)


def _at_levels(
    end: _Standing, outward: int, third: int, levels: Sequence[float], weights: Weights
) -> list[_Stand | None]:
    """How an end stands at each level of the third axis; where it has no anchors, those are the points where its edges along that
    axis pass it, if there are any."""
    found: list[_Stand | None] = [None] * len(levels)
    for stand in end.stands[outward]:
        found[bisect_left(levels, stand.level - SAME_LEVEL)] = stand
    for k, level in enumerate(levels):
        if found[k] is None:
            passing = [
                Anchor(_moved(point, third, level), cost=weights.midway)
                for point, low, high in end.rails[outward] if low < level < high]
            found[k] = _stand(level, passing, outward) if passing else None
    return found


def _tables(view: PlacedView, found: Sequence[_PictorialFooting]) -> tuple[PictorialFootings, Crossings]:
    """The footings as a table, and the centre lines that mark their anchors: one set for all that start alike."""
    numbers: dict[object, int] = {}
    sets: list[list[Line]] = []
    crossing = np.full(len(found), -1)
    for k, (number, *_, p, q) in enumerate(found):
        if p.arms or q.arms or p.stem is not None or q.stem is not None:
            key = number, p.point, p.reach, q.point, q.reach
            if key not in numbers:
                numbers[key] = len(sets)
                sets.append(_centre_lines((p, q)))
            crossing[k] = numbers[key]
    item, axis, outward = (np.array([footing[k] for footing in found], dtype=np.int64) for k in (0, 2, 3))
    cost, sign = (np.array([footing[k] for footing in found], dtype=float) for k in (1, 4))
    points = np.array([value for footing in found for anchor in footing[5:] for value in anchor.point], dtype=float)
    reach = np.array([anchor.reach[footing.outward] for footing in found for anchor in footing[5:]], dtype=float)
    drawn = np.array([line for several in sets for line in several], dtype=float).reshape(-1, 2, 3)
    footings = PictorialFootings(item, cost, axis, outward, sign, points.reshape(-1, 2, 3), reach.reshape(-1, 2), crossing)
    first = np.cumsum([0, *map(len, sets)])
    return footings, Crossings(drawn, view.paper(drawn.reshape(-1, 3)).reshape(-1, 4), first)


def _midway(one: Sequence[Rail], other: Sequence[Rail]) -> list[float]:
    """The level midway along the longest stretch at which both ends show edges, if any: a dimension line may stand there where
    none is clear of the drawing at the corners."""
    shared = [(max(low, at), min(high, to)) for _, low, high in one for _, at, to in other]
    low, high = max(shared, key=lambda stretch: stretch[1] - stretch[0], default=(0.0, 0.0))
    return [round((low + high) / 2, 5)] if high - low > 2 * SAME_LEVEL else []


def _levels(levels: Sequence[float]) -> list[float]:
    """Levels, lowest first, less what is at one with a lower one; they are rounded, so that lines from one level are one line."""
    found: list[float] = []
    for level in sorted(levels):
        if not found or level > found[-1] + SAME_LEVEL:
            found.append(level)
    return found


def _moved(point: Point, axis: int, level: float) -> Point:
    x, y, z = (level if k == axis else value for k, value in enumerate(point))
    return x, y, z


def _beyond(view: PlacedView, footings: PictorialFootings, leans_back: float, weights: Weights) -> DimensionLines:
    """Dimension lines at several distances from each two anchors; ``leans_back``: cost of figures that do, as those of an upright
    line whose extension lines rise to the right."""
    scale, points, outward, sign = view.scale, footings.points, footings.outward, footings.sign[:, None]
    runs = Runs(view, points, outward, footings.sign, footings.axis, weights)
    way = sign * np.array([view.unit(axis) for axis in range(3)])[outward]             # (n, 2) on paper
    base = sign * points[np.arange(len(footings)), :, outward]                         # (n, 2) along the axis, outwards
    far = np.where(sign > 0, view.view.solid.size[outward][:, None], 0.0)
    near = np.maximum(*(base + footings.reach).T)[:, None]
    tier, step = np.arange(TIERS), np.arange(3)
    level = np.hstack([far + (FIRST_TIER + NEXT_TIER * tier) / scale, near + (FIRST_TIER - 1 + STEP * step) / scale])
    extra = np.concatenate([weights.tier * tier, weights.beside_feature + weights.beside_step * step])
    local = np.repeat([False, True], [TIERS, len(step)])
    arm = np.maximum(footings.reach * scale - GAP, 0.0)
    run = (level[:, :, None] - base[:, None]) * scale                                  # (n, ways, 2) mm from anchor to line
    stretch = run - arm[:, None]
    shorter = np.minimum(stretch[..., 0], stretch[..., 1])
    usable = (~local | (near + FIRST_TIER / scale < far - SAME_POINT)) & (shorter >= GAP + 1.0)
    of, which = np.nonzero(usable)
    rows, arm, run, way = footings.take(of), arm.take(of, axis=0), run[of, which], way.take(of, axis=0)
    foot = view.places(points.reshape(-1, 3)).reshape(-1, 2, 2).take(of, axis=0)
    starts, ends = foot + arm[:, :, None] * way[:, None], foot + run[:, :, None] * way[:, None]
    upright = np.abs(foot[:, 0, 0] - foot[:, 1, 0]) < SAME_PLACE
    lean = np.where(upright & (way[:, 0] * way[:, 1] > 0.0), leans_back, 0.0)
    cost = (footings.cost + runs.seeming())[of] + lean + extra[which] + weights.reach * np.add(*stretch[of, which].T)
    cost += runs.hidden(of, arm, run) + runs.through_centres(of, arm, run)
    return DimensionLines(
        rows.item, cost, ends, starts, way, rows.crossing, rows.axis, np.full(len(of), -1), rows.points)


def _centre_lines(anchors: Sequence[Anchor]) -> list[Line]:
    """The centre lines that mark anchors."""
    lines = [(np.array(anchor.point) - arm, np.array(anchor.point) + arm) for anchor in anchors for arm in anchor.arms]
    return lines + [(anchor.stem[0], anchor.stem[1]) for anchor in anchors if anchor.stem is not None]
