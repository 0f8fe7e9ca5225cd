"""Stretches of edges become lines as a draughtsman draws them: each once, whole, by precedence visible before hidden.

Stretches are gathered on carriers, the straight lines and ellipses of the view; on a carrier a stretch is an interval, so that
lines that coincide join by arithmetic. Only space curves seen askew are joined point by point.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array, IntArray, Mask
from sheetgen.geometry.intervals import Interval, begins_of, joined_by, longer, minus
from sheetgen.projection.carriers import Carriers, Direction, Ellipse
from sheetgen.projection.frames import Frame
from sheetgen.projection.freecurves import FlatStretches, free_lines
from sheetgen.projection.hidden import Stretches
from sheetgen.projection.shapes import Arc, Shape, Straight
from sheetgen.solid import Line, Solid
from sheetgen.units import SAME_CARRIER, SAME_POINT, SLIVER

FULL_TURN = 2 * math.pi


@dataclass(frozen=True, eq=False)
class Linework:
    """Visible and hidden lines of a view."""

    visible: tuple[Shape, ...]
    hidden: tuple[Shape, ...]


@dataclass(frozen=True, eq=False)
class _Sorted:
    """Numbers of stretches by what they lie on: lines of a direction, or each along its own (None); ellipses; space curves."""

    lines: list[tuple[Direction | None, IntArray]]
    ellipses: list[tuple[Ellipse, IntArray]]
    free: list[IntArray]


def linework_of(solid: Solid, frame: Frame, flat: Array, stretches: Stretches) -> Linework:
    """Join ``stretches`` to lines; ``flat`` (n, 2): the vertices in the view."""
    p, q = flat.take(solid.edges.ends.take(stretches.edge, axis=0).T, axis=0)
    along = q - p
    every = FlatStretches(p + stretches.start[:, None] * along, p + stretches.stop[:, None] * along, stretches.seen)
    kinds = _sorted(solid, frame, stretches, every)
    visible: list[Shape] = []
    hidden: list[Shape] = []
    for found in (_straight(every, kinds.lines), _elliptic(every, kinds.ellipses), free_lines(every, kinds.free)):
        visible += found[0]
        hidden += found[1]
    return Linework(_in_order(visible), _in_order(hidden))


def _in_order(shapes: list[Shape]) -> tuple[Shape, ...]:
    """A fixed order for lines: by their first and last points, in hundredths of a micron."""
    ends = [(*shape.first.tolist(), *shape.last.tolist(), shape.count) for shape in shapes]
    keys = np.round(np.array(ends).reshape(-1, 5), 5).tolist()
    order = sorted(range(len(shapes)), key=keys.__getitem__)
    return tuple(shapes[k] for k in order)


def _by_pair(solid: Solid, stretches: Stretches) -> list[tuple[tuple[int, int], bool, IntArray]]:
    """Groups of stretches whose edges part the same two surfaces, and whether sharply (limbs: one surface twice, or two that
    are tangent)."""
    one, other = solid.edges.pair.take(stretches.edge, axis=0).T
    count = len(solid.surfaces)
    key = (np.minimum(one, other) * count + np.maximum(one, other)) * 2 + solid.edges.sharp[stretches.edge]
    order = np.argsort(key, kind="stable")
    key = key[order]
    starts = np.flatnonzero(begins_of(key))
    return [(divmod(name // 2, count), bool(name % 2), order[first:last]) for first, last, name in zip(
        starts.tolist(), [*starts[1:].tolist(), len(key)], key[starts].tolist(), strict=True)]


def _sorted(solid: Solid, frame: Frame, stretches: Stretches, every: FlatStretches) -> _Sorted:
    carriers = Carriers(solid, frame)
    kinds = _Sorted([], [], [])
    for pair, sharp, which in _by_pair(solid, stretches):
        carrier = carriers.of(pair, sharp=sharp)
        if isinstance(carrier, Ellipse):
            kinds.ellipses.append((carrier, which))
        elif carrier is not None:
            kinds.lines.append((carrier, which))
        elif _is_straight(solid, pair, every.some(which)):
            kinds.lines.append((None, which))
        else:
            kinds.free.append(which)
    return kinds


def _is_straight(solid: Solid, pair: tuple[int, int], some: FlatStretches) -> bool:
    """Limbs and rulings of cones are straight stretch by stretch; a space curve may look straight as a whole."""
    if pair[0] == pair[1] or isinstance(solid.edges.curves.get(pair), Line):
        return True
    points = np.concatenate([some.start, some.stop])
    spread = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)
    return bool(spread[-1] < SAME_CARRIER * len(points))


def _straight(every: FlatStretches, lines: Sequence[tuple[Direction | None, IntArray]]) -> tuple[list[Shape], list[Shape]]:
    """Stretches of straight lines, gathered by direction and offset."""
    if not lines:
        return [], []
    some = every.some(np.concatenate([which for _, which in lines]))
    unit, sure = _units(some, lines)
    turn = _clusters(np.arctan2(unit[:, 1], unit[:, 0]), np.zeros(len(unit), dtype=np.int64))
    best = np.lexsort((-sure, turn))                                  # each cluster's direction is that of its surest stretch
    unit = unit.take(best[begins_of(turn[best])], axis=0)
    u, v = unit.take(turn, axis=0).T
    middle = (some.start + some.stop) / 2
    offset = u * middle[:, 1] - v * middle[:, 0]
    owner = _clusters(offset, turn)
    first = np.full(int(owner.max()) + 1, len(owner))
    np.minimum.at(first, owner, np.arange(len(owner)))
    level = np.full(len(first), np.inf)
    np.minimum.at(level, owner, offset)
    a, b = (u * points[:, 0] + v * points[:, 1] for points in (some.start, some.stop))
    spans = _settled(owner, np.minimum(a, b), np.maximum(a, b), some.seen, np.full(len(first), SLIVER))
    way = unit.take(turn[first], axis=0)
    foot = level[:, None] * np.stack([-way[:, 1], way[:, 0]], axis=1)
    return _straights(foot, way, spans[0]), _straights(foot, way, spans[1])


def _straights(foot: Array, way: Array, spans: Spans) -> list[Shape]:
    """Stretches of the lines through ``foot`` (k, 2) along ``way`` (k, 2) as shapes."""
    if not spans:
        return []
    which = [k for k, runs in spans for _ in runs]
    ends = np.array([span for _, runs in spans for span in runs]).reshape(-1, 2)
    foot, way = foot.take(which, axis=0), way.take(which, axis=0)
    return [Straight(p, q) for p, q in zip(foot + ends[:, :1] * way, foot + ends[:, 1:] * way, strict=True)]


def _units(some: FlatStretches, lines: Sequence[tuple[Direction | None, IntArray]]) -> tuple[Array, Array]:
    """The unit direction (k, 2) of each stretch, of the sense that points to the right, or straight up, and how sure it is (k,):
    a given one infinitely, a stretch's own by its length."""
    counts = [len(which) for _, which in lines]
    given = np.repeat(np.array([way or (0.0, 0.0) for way, _ in lines]), counts, axis=0)
    own = np.repeat([way is None for way, _ in lines], counts)
    own_ones = np.flatnonzero(own)
    given[own_ones] = some.stop.take(own_ones, axis=0) - some.start.take(own_ones, axis=0)
    length = np.hypot(given[:, 0], given[:, 1])
    given[length == 0] = (1.0, 0.0)
    given /= np.where(length == 0, 1.0, length)[:, None]
    back = (given[:, 0] < -SAME_CARRIER) | ((given[:, 0] <= SAME_CARRIER) & (given[:, 1] < 0))
    given[back] *= -1
    return given, np.where(own, length, np.inf)


def _clusters(values: Array, groups: IntArray) -> IntArray:
    """The number of the cluster of each of ``values`` (k,): those of one group, no further apart than SAME_CARRIER."""
    order = np.lexsort((values, groups))
    begins, values = begins_of(groups[order]), values[order]
    begins[1:] |= values[1:] - values[:-1] > SAME_CARRIER
    number = np.empty(len(values), dtype=np.int64)
    number[order] = np.cumsum(begins) - 1
    return number


Spans = list[tuple[int, list[Interval]]]


def _settled(owner: IntArray, low: Array, high: Array, seen: Mask, gap: Array) -> tuple[Spans, Spans]:
    """Visible stretches of each owner joined; hidden ones joined, less the visible. ``gap`` by owner: what is no gap yet."""
    kept = np.flatnonzero(high - low > gap[owner] * (SAME_POINT / SLIVER))
    found = joined_by(2 * owner[kept] + seen[kept], low[kept], high[kept], np.repeat(gap, 2))
    runs: tuple[dict[int, list[Interval]], ...] = {}, {}                       # of the hidden ones, of the seen ones
    for k, a, b in zip(*(part.tolist() for part in found), strict=True):
        runs[k % 2].setdefault(k // 2, []).append((a, b))
    least = gap.tolist()
    visible = {k: longer(spans, least[k]) for k, spans in runs[1].items()}
    hidden = [(k, longer(minus(spans, visible[k]) if k in visible else spans, least[k])) for k, spans in runs[0].items()]
    return list(visible.items()), hidden


def _elliptic(every: FlatStretches, ellipses: Sequence[tuple[Ellipse, IntArray]]) -> tuple[list[Shape], list[Shape]]:
    """Stretches of ellipses, as intervals of the parameter between 0 and a full turn."""
    if not ellipses:
        return [], []
    distinct: list[Ellipse] = []
    owners: list[int] = []
    for one, _ in ellipses:
        k = next((k for k, other in enumerate(distinct) if one is other or one.same_as(other)), len(distinct))
        if k == len(distinct):
            distinct.append(one)
        owners.append(k)
    owner = np.repeat(owners, [len(which) for _, which in ellipses])
    some = every.some(np.concatenate([which for _, which in ellipses]))
    t, u = _angles(distinct, owner, some.start), _angles(distinct, owner, some.stop)
    swing = (u - t + math.pi) % FULL_TURN - math.pi                            # the short way round
    low = np.where(swing >= 0, t, t + swing) % FULL_TURN
    high = low + np.abs(swing)
    over = high > FULL_TURN                                                    # such stretches go on from 0
    owner, seen = np.concatenate([owner, owner[over]]), np.concatenate([some.seen, some.seen[over]])
    low, high = np.concatenate([low, np.zeros(int(over.sum()))]), np.concatenate([high, high[over] - FULL_TURN])
    high = np.minimum(high, FULL_TURN)
    gap = np.array([SLIVER / one.reach for one in distinct])
    visible, hidden = (
        [_arc(distinct[k], span) for k, runs in kind for span in _round_the_end(runs, float(gap[k]))]
        for kind in _settled(owner, low, high, seen, gap)
    )
    return list(visible), list(hidden)


def _angles(ellipses: Sequence[Ellipse], owner: IntArray, points: Array) -> Array:
    """The parameters (k,) of points (k, 2) on, or near, the ellipses numbered ``owner`` (k,)."""
    cx, cy, ax, ay, bx, by = np.array([(one.centre, one.a, one.b) for one in ellipses]).reshape(-1, 6).T
    x, y = points[:, 0] - cx[owner], points[:, 1] - cy[owner]
    along = (x * ax[owner] + y * ay[owner]) / (ax * ax + ay * ay)[owner]
    return np.asarray(np.arctan2((x * bx[owner] + y * by[owner]) / (bx * bx + by * by)[owner], along))


def _arc(one: Ellipse, span: Interval) -> Arc:
    return Arc(one.centre, one.a, one.b, *span)


def _round_the_end(spans: list[Interval], gap: float) -> list[Interval]:
    """Intervals of a full turn that meet at 0 = 2 pi become one."""
    if not spans or spans[0][0] > gap or spans[-1][1] < FULL_TURN - gap:
        return spans
    if len(spans) == 1:
        return [(0.0, FULL_TURN)]
    return [*spans[1:-1], (spans[-1][0], spans[0][1] + FULL_TURN)]
