"""Where a length can stand on the isometric pictorial: dimension lines along the axes, before anchors of its extension lines.

Sheet millimetres, but for anchors, which are points of the part.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.arrays import IntArray
from sheetgen.placing.candidate import FIRST_TIER, GAP, NEXT_TIER, SHORT_EXTENSION, STEP
from sheetgen.placing.columns import Table
from sheetgen.placing.costs.misread import Runs
from sheetgen.placing.offers.linear import Crossings, DimensionLines
from sheetgen.placing.offers.pictorial_anchors import Anchor, Key, Line, anchors_of
from sheetgen.placing.offers.pictorial_standing import (
    SIGNS,
    PictorialFooting,
    Span,
    Stand,
    Standing,
    levels_of,
    moved,
    stand_of,
    standing_of,
)
from sheetgen.placing.offers.pictorial_touching import touching_footings
from sheetgen.placing.offers.prolonged import ENDS, prolonged
from sheetgen.placing.weights import Weights
from sheetgen.projection import hidden_stretches
from sheetgen.sight import PlacedView
from sheetgen.sight.anchors import Rail
from sheetgen.units import SAME_LEVEL, SAME_PLACE, SAME_POINT

TIERS = 7

SEEN_ENOUGH = 1.0        # mm on paper that may be hidden of a centre line drawn on: at an edge that it passes


@dataclass(frozen=True, eq=False)
class PictorialFootings(Table):
    """Pairs of the two ends' anchors on one level, on which dimension lines can stand, one a row (n,).

    ``item``; ``cost``; the ``axis`` measured along; the axis along which the extension lines run, ``outward``, and ``sign``: to
    which end of it, 1 or -1; ``points`` (n, 2, 3): the anchors; ``reach`` (n, 2): how far their centre lines reach so;
    ``crossing``: the set of these, -1 for none; ``place`` (n,): where outward the dimension line stands, not a number where
    it may stand anywhere.
    """

    item: IntArray
    cost: Array
    axis: IntArray
    outward: IntArray
    sign: Array
    points: Array
    reach: Array
    crossing: IntArray
    place: Array


def span_lines(
    view: PlacedView, spans: Sequence[Span], widths: Sequence[float], leans_back: float, weights: Weights
) -> tuple[DimensionLines, Crossings]:
    """All ways to draw the spans, and the centre lines that belong to them; ``widths``: of their figures; ``leans_back``: cost of
    figures that do."""
    ends = {(end.surfaces, span.axis): end for span in spans for end in span.ends}
    anchors = anchors_of(view, ends, weights)
    standing = standing_of(view, ends, anchors)
    found = [footing for span in spans for footing in _footings(span, standing, weights)]
    for span, width in zip(spans, widths, strict=True):
        found += touching_footings(span, width, view.scale, standing, anchors, weights)
    footings, crossings = _tables(view, found)
    return _beyond(view, footings, leans_back, weights), crossings


def _footings(span: Span, standing: Mapping[Key, Standing], weights: Weights) -> Iterator[PictorialFooting]:
    """Pairs of the two ends' anchors on one level, from which a dimension line can be drawn out."""
    one, other = (standing[end.surfaces, span.axis] for end in span.ends)
    for outward in (a for a in range(3) if a != span.axis):
        third = 3 - span.axis - outward
        midway = _midway(one.rails[outward], other.rails[outward])
        levels = levels_of([*(stand.level for end in (one, other) for stand in end.stands[outward]), *midway])
        at_one, at_other = (_at_levels(end, outward, third, levels, weights) for end in (one, other))
        for level, ps, qs in zip(levels, at_one, at_other, strict=True):
            if ps is None or qs is None:
                continue
            detached = weights.no_corner if level in midway else 0.0
            for sign, p, q in zip(SIGNS, ps.farthest, qs.farthest, strict=True):
                if p is not None and q is not None:
                    seams = weights.smooth * ((p.seam == outward) + (q.seam == outward))
                    yield PictorialFooting(span.item, p.cost + q.cost + detached + seams, span.axis, outward, sign, p, q)


def _at_levels(
    end: Standing, outward: int, third: int, levels: Sequence[float], weights: Weights
) -> list[Stand | None]:
    """How an end stands at each level of the third axis; where it has no anchors, those are the points where its edges along that
    axis pass it, if there are any."""
    found: list[Stand | None] = [None] * len(levels)
    for stand in end.stands[outward]:
        found[bisect_left(levels, stand.level - SAME_LEVEL)] = stand
    for k, level in enumerate(levels):
        if found[k] is None:
            passing = [
                Anchor(moved(point, third, level), cost=weights.midway)
                for point, low, high in end.rails[outward] if low < level < high]
            found[k] = stand_of(level, passing, outward) if passing else None
    return found


def _tables(view: PlacedView, found: Sequence[PictorialFooting]) -> tuple[PictorialFootings, Crossings]:
    """The footings as a table, and the centre lines that mark their anchors: one set for all that start alike."""
    numbers: dict[object, int] = {}
    sets: list[list[Line]] = []
    crossing = np.full(len(found), -1)
    for k, footing in enumerate(found):
        number, p, q = footing.item, footing.p, footing.q
        if p.arms or q.arms or p.stem is not None or q.stem is not None:
            key = number, p.point, p.reach, q.point, q.reach
            if key not in numbers:
                numbers[key] = len(sets)
                sets.append(_centre_lines((p, q)))
            crossing[k] = numbers[key]
    item, axis, outward = (np.array([footing[k] for footing in found], dtype=np.int64) for k in (0, 2, 3))
    cost, sign = (np.array([footing[k] for footing in found], dtype=float) for k in (1, 4))
    points = np.array([value for footing in found for anchor in (footing.p, footing.q) for value in anchor.point], dtype=float)
    reach = np.array([anchor.reach[footing.outward] for footing in found for anchor in (footing.p, footing.q)], dtype=float)
    place = np.array([footing.place for footing in found], dtype=float)
    drawn = np.array([line for several in sets for line in several], dtype=float).reshape(-1, 2, 3)
    footings = PictorialFootings(item, cost, axis, outward, sign, points.reshape(-1, 2, 3), reach.reshape(-1, 2), crossing, place)
    first = np.cumsum([0, *map(len, sets)])
    return footings, Crossings(drawn, view.paper(drawn.reshape(-1, 3)).reshape(-1, 4), first)


def _midway(one: Sequence[Rail], other: Sequence[Rail]) -> list[float]:
    """The level midway along the longest stretch at which both ends show edges, if any: a dimension line may stand there where
    none is clear of the drawing at the corners."""
    shared = [(max(low, at), min(high, to)) for _, low, high in one for _, at, to in other]
    low, high = max(shared, key=lambda stretch: stretch[1] - stretch[0], default=(0.0, 0.0))
    return [round((low + high) / 2, 5)] if high - low > 2 * SAME_LEVEL else []


def _beyond(view: PlacedView, footings: PictorialFootings, leans_back: float, weights: Weights) -> DimensionLines:
    """Dimension lines at several distances from each two anchors; ``leans_back``: cost of figures that do, as those of an upright
    line whose extension lines rise to the right."""
    scale, points, outward, sign = view.scale, footings.points, footings.outward, footings.sign[:, None]
    fixed = ~np.isnan(footings.place)
    base = sign * points[np.arange(len(footings)), :, outward]                         # (n, 2) along the axis, outwards
    runs = Runs(view, points, outward, footings.sign, footings.axis, (sign * footings.place[:, None] != base), weights)
    way = sign * np.array([view.unit(axis) for axis in range(3)])[outward]             # (n, 2) on paper
    far = np.where(sign > 0, view.view.solid.size[outward][:, None], 0.0)
    near = np.maximum(*(base + footings.reach).T)[:, None]
    tier, step = np.arange(TIERS), np.arange(3)
    level = np.hstack([
        far + (FIRST_TIER + NEXT_TIER * tier) / scale, near + (FIRST_TIER - 1 + STEP * step) / scale,
        sign * footings.place[:, None]])
    extra = np.concatenate([weights.tier * tier, weights.beside_feature + weights.beside_step * step, [0.0]])
    local, touching = (np.repeat(which, [TIERS, len(step), 1]) for which in ([False, True, False], [False, False, True]))
    arm = np.maximum(footings.reach * scale - GAP, 0.0)
    run = (level[:, :, None] - base[:, None]) * scale                                  # (n, ways, 2) mm from anchor to line
    stretch = run - arm[:, None]
    shorter = np.minimum(stretch[..., 0], stretch[..., 1])
    usable = (~local | (near + FIRST_TIER / scale < far - SAME_POINT)) & (shorter >= GAP + 1.0)
    usable = np.where(touching, fixed[:, None], usable & ~fixed[:, None])
    of, which = np.nonzero(usable)
    feet = view.places(points.reshape(-1, 3)).reshape(-1, 2, 2)
    longer = _longer(view, footings, feet, arm, way)
    rows, arm, run, way = footings.take(of), arm.take(of, axis=0), run[of, which], way.take(of, axis=0)
    foot, longer = feet.take(of, axis=0), longer.take(of, axis=0)
    chain = np.where((run - arm)[..., None] - longer >= SHORT_EXTENSION, longer, 0.0).max(axis=2)
    arm = arm + chain
    starts, ends = foot + arm[:, :, None] * way[:, None], foot + run[:, :, None] * way[:, None]
    upright = np.abs(foot[:, 0, 0] - foot[:, 1, 0]) < SAME_PLACE
    lean = np.where(upright & (way[:, 0] * way[:, 1] > 0.0), leans_back, 0.0)
    cost = (footings.cost + runs.seeming())[of] + lean + extra[which] + weights.reach * np.add(*stretch[of, which].T)
    cost += runs.hidden(of, arm, run) + runs.through_centres(of, arm, run)
    return DimensionLines(
        rows.item, cost, ends, starts, way, rows.crossing, rows.axis, np.full(len(of), -1), rows.points, chain)


def _longer(view: PlacedView, footings: PictorialFootings, feet: Array, arm: Array, way: Array) -> Array:
    """mm (n, 2, ENDS) that the centre lines of anchors can be drawn on from where they end, ``arm`` (n, 2) mm from their ``feet``
    (n, 2, 2) along the ``way`` (n, 2) outwards; 0 of what is no axis. Past the face in which it begins one is drawn on only where
    no part stands before it: else it would seem to lie on that."""
    longer, marked = np.zeros((*arm.shape, ENDS)), arm > 0.0
    if not marked.any():
        return longer
    starts, ways = feet + arm[:, :, None] * way[:, None], np.repeat(way[:, None], 2, axis=1)
    longer[marked] = prolonged(view, starts[marked], ways[marked])
    along = footings.sign[:, None] * np.eye(3)[footings.outward]
    far = (arm + longer.max(axis=2)) / view.scale
    rays = np.stack([footings.points, footings.points + far[..., None] * along[:, None]], axis=2)[marked]
    which, low, high = hidden_stretches(view.view.frame, view.view.covers, rays)
    covered = np.bincount(which, weights=high - low, minlength=len(rays)) * far[marked] * view.scale > SEEN_ENOUGH
    longer[marked] = np.where(covered[:, None], longer[marked].min(axis=1, keepdims=True), longer[marked])
    return longer


def _centre_lines(anchors: Sequence[Anchor]) -> list[Line]:
    """The centre lines that mark anchors."""
    lines = [(np.array(anchor.point) - arm, np.array(anchor.point) + arm) for anchor in anchors for arm in anchor.arms]
    return lines + [(anchor.stem[0], anchor.stem[1]) for anchor in anchors if anchor.stem is not None]
