"""What would run together in print: lines too near each other to be told apart, and slivers of what shows past something nearer.

One rule for views and pictorials, at the scale at which they are drawn. Sheet millimetres.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np
import shapely

from sheetgen.geometry import Array, IntArray
from sheetgen.geometry.segments import lengths_of
from sheetgen.projection import Straight
from sheetgen.refusals import Reason
from sheetgen.sight.placed import PlacedView
from sheetgen.units import NO_SQUARE, SAME_LINE, SAME_RUN, TOUCHING

CLEAR = 0.9
"""mm between the middles of two lines: outlines 0.5 wide leave 0.4 of white; less closes up in a copy (common practice, no
source; ISO 128-2 asks for 0.7 of white between parallel lines, from memory)."""

ALONG = 2.0
"""mm: lines that run beside each other for less only pass."""

LEANS = 0.02
"""Sine: straight lines that lean less to each other (1.1 degrees) run beside each other."""

CURVED_ALONG = 8.0
"""mm: so far a curve of a radius of 20 stays near a line that it just misses; what runs along for longer is a second line."""

STRIDE = CURVED_ALONG / 2
"""mm between the points of a curve that are looked at first: of what is near for longer than CURVED_ALONG two are."""

STEP = 0.4
"""mm between the points at which it is then asked how far they are: a line that is crossed within CURVED_ALONG and is not left by
CLEAR is nearer than TOUCHING at one of them."""

IN_THE_INK = 0.25
"""mm: half an outline's width; a line no farther than this from another is in its ink, and no sliver shows."""

FINELY = 41
"""Points of a line of which it is asked whether it is clear of others there."""

SLANTED = np.array([0.8, 0.6])
"""A direction along which points of a view seldom fall together, to sort them by."""

Found = tuple[str, Array]
"""What is wrong, and where on the sheet (2,)."""

ONE_BAR, ONE_CORNER, SLIVER = (
    "two lines run so near each other that they print as one",
    "two ends of lines lie so near each other that they print as one",
    "a sliver of something shows past what is before it",
)


def crowded_views(views: Sequence[PlacedView]) -> list[Reason]:
    """What would not be told apart in print of views on one sheet, their hidden lines among it; nothing if all can.

    The least distance that vetting asks of parallel lines is wider, but vetting looks at some variants, and this at each.
    """
    shapes = [(*view.view.visible_lines, *view.view.hidden_lines) for view in views]
    each = [np.array([(*s.p, *s.q) for s in some if isinstance(s, Straight)]).reshape(-1, 4) for some in shapes]
    lines = np.concatenate([ends * view.scale + np.tile(view.origin, 2) for view, ends in zip(views, each, strict=True)])
    owner = np.repeat(np.arange(len(views)), [len(ends) for ends in each])
    found = [(owner[k], ONE_BAR, lines[k].reshape(2, 2).mean(axis=0)) for k in _side_by_side(lines)]
    found += [(owner[k // 2], ONE_CORNER, lines.reshape(-1, 2)[k]) for k in _nearly_met(lines.reshape(-1, 2))]
    return [_reason(views[k], f"in the {views[k].view.name} view", what, at) for k, what, at in found]


def crowded_pictorial(view: PlacedView) -> list[Reason]:
    """What would not be told apart in print of a pictorial, slivers among it; nothing if all can."""
    straight, curved = view.visible_straights.reshape(-1, 4), [not isinstance(s, Straight) for s in view.view.visible_lines]
    found: list[Found] = [(ONE_BAR, straight[k].reshape(2, 2).mean(axis=0)) for k in _side_by_side(straight)]
    lines: Any = shapely.linestrings(np.concatenate(view.visible), indices=np.repeat(
        np.arange(len(view.visible)), [len(points) for points in view.visible]))
    tree = shapely.STRtree(lines)
    found += [(ONE_BAR, _middle(lines[k])) for k in _running_along(lines, tree, np.flatnonzero(curved))]
    found += [(SLIVER, _middle(lines[k])) for k in _slivers(lines, tree)]
    return [_reason(view, "in the pictorial", what, at) for what, at in found]


def _side_by_side(lines: Array) -> list[int]:
    """Straight lines (n, 4) that run beside an earlier one, and not clear of it; but for those that are one line to the last
    digits, which is drawn once."""
    x, y = lines[:, 0], lines[:, 1]
    length = np.maximum(lengths_of(lines), NO_SQUARE)
    dx, dy = (lines[:, 2] - x) / length, (lines[:, 3] - y) / length
    sine = np.multiply.outer(dx, dy)
    sine = sine - sine.T
    i, j = np.divmod(np.flatnonzero(np.abs(sine, out=sine) < LEANS), len(lines))

    def beside(end: slice) -> tuple[Array, Array]:
        """How far off the line of the first, and how far on along it, an end of the second lies."""
        ax, ay = lines[:, end].T
        ax, ay = ax.take(j) - x.take(i), ay.take(j) - y.take(i)
        return np.abs(ay * dx.take(i) - ax * dy.take(i)), ax * dx.take(i) + ay * dy.take(i)

    near = (i < j) & (beside(slice(0, 2))[0] < CLEAR)
    i, j = i[near], j[near]
    (off, on), (other_off, other_on) = beside(slice(0, 2)), beside(slice(2, 4))
    shared = np.minimum(np.maximum(on, other_on), length.take(i)) - np.maximum(np.minimum(on, other_on), 0.0)
    apart = np.maximum(off, other_off)
    found: list[int] = np.unique(j[(apart < CLEAR) & (apart > SAME_RUN) & (shared > ALONG)]).tolist()
    return found


def _nearly_met(ends: Array) -> list[int]:
    """Which ends of lines (n, 2) lie near another, but not on it."""
    way = ends @ SLANTED
    order = np.argsort(way, kind="stable")
    way, ends = way.take(order), ends.take(order, axis=0)
    found: list[int] = []
    for step in range(1, len(ends)):
        near = np.flatnonzero(way[step:] - way[:-step] < CLEAR)
        if not len(near):
            break
        away = lengths_of(np.hstack([ends.take(near, axis=0), ends.take(near + step, axis=0)]))
        found += order.take(near[(away < CLEAR) & (away > TOUCHING)]).tolist()
    return sorted(found)


def _others(tree: shapely.STRtree, points: Any, of: IntArray) -> IntArray:
    """Pairs (2, k) of points and lines, but for the lines they are ``of`` (n,), that are not clear of each other."""
    pairs = tree.query(points, predicate="dwithin", distance=CLEAR)
    return np.asarray(pairs[:, of.take(pairs[0]) != pairs[1]])


def _running_along(lines: Any, tree: shapely.STRtree, curves: IntArray) -> list[int]:
    """Which of the curves run beside another line, without touching it, for more than CURVED_ALONG."""
    length = shapely.length(lines.take(curves))
    curves, length = curves[length > CURVED_ALONG], length[length > CURVED_ALONG]
    counts = np.ceil(length / STRIDE).astype(np.int64) + 1
    of = np.repeat(curves, counts)
    along = np.concatenate([np.linspace(0.0, far, count) for far, count in zip(length, counts, strict=True)] or [length])
    near, other = _others(tree, shapely.line_interpolate_point(lines.take(of), along), of)
    keys, found = of.take(near) * len(lines) + other, list[int]()
    for key in np.unique(keys).tolist():
        k, j = divmod(key, len(lines))
        at = along.take(near[keys == key])
        if len(at) > 1 and _runs_along(lines[k], lines[j], at.min() - STRIDE, at.max() + STRIDE):
            found.append(k)
    return list(dict.fromkeys(found))


def _runs_along(curve: Any, other: Any, low: float, high: float) -> bool:
    """True if a curve, between ``low`` and ``high`` mm from its start, runs beside a line for so long, and does not touch it
    there."""
    spots = shapely.line_interpolate_point(curve, np.arange(max(low, 0.0), min(high, curve.length), STEP))
    away = shapely.distance(spots, other)
    near = np.concatenate([[0], away < CLEAR, [0]])
    starts, stops = np.flatnonzero(np.diff(near) > 0), np.flatnonzero(np.diff(near) < 0)
    return any((stop - start - 1) * STEP > CURVED_ALONG and away[start:stop].min() > TOUCHING
               for start, stop in zip(starts.tolist(), stops.tolist(), strict=True))


def _slivers(lines: Any, tree: shapely.STRtree) -> Iterator[int]:
    """Which lines are clear of all others nowhere, and shut in a piece of white too narrow to be seen. A corner that just comes
    out behind something is only a short line."""
    near = _never_clear(lines, tree, np.arange(len(lines)), np.array([0.3, 0.5, 0.7]))
    near = _never_clear(lines, tree, near, np.linspace(0.0, 1.0, FINELY))
    for k in near.tolist():
        about = tree.query(lines[k], predicate="dwithin", distance=CLEAR)
        spots = shapely.line_interpolate_point(lines[k], np.linspace(0.0, 1.0, FINELY), normalized=True)
        away = shapely.distance(spots[:, None], lines.take(about[about != k])).min(axis=1)
        if away.max() > IN_THE_INK and _shuts_in(lines[k], lines.take(about)):
            yield k


def _never_clear(lines: Any, tree: shapely.STRtree, which: IntArray, shares: Array) -> IntArray:
    """Those of the lines that are clear of the others at none of these ``shares`` of their length."""
    spots = shapely.line_interpolate_point(lines.take(which)[:, None], shares, normalized=True).ravel()
    met = np.zeros(len(spots), dtype=bool)
    met[_others(tree, spots, np.repeat(which, len(shares)))[0]] = True
    return which[met.reshape(-1, len(shares)).all(axis=1)]


def _shuts_in(line: Any, about: Any) -> bool:
    """True if a line and those ``about`` it, itself among them, bound a piece of white that is nowhere CLEAR wide."""
    noded = shapely.union_all(about, grid_size=SAME_LINE)
    pieces = shapely.get_parts(shapely.polygonize(shapely.get_parts(noded)))
    mine = pieces[shapely.dwithin(pieces, shapely.line_interpolate_point(line, 0.5, normalized=True), TOUCHING)]
    return bool(shapely.is_empty(shapely.buffer(mine, -CLEAR / 2)).any())


def _middle(line: Any) -> Array:
    """The middle of a line (2,)."""
    return np.asarray(shapely.get_coordinates(shapely.line_interpolate_point(line, 0.5, normalized=True))[0])


def _reason(view: PlacedView, where: str, what: str, at: Array) -> Reason:
    """The place in the view's own axes, for whoever looks for it."""
    u, v = ((at - view.origin) / view.scale).tolist()
    return Reason(f"{where}, {what}", f"at {round(u, 3) + 0.0:.4g} across, {round(v, 3) + 0.0:.4g} up")
