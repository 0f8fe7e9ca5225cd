"""Where a length can stand on the isometric pictorial: anchors of its extension lines, and dimension lines along the axes.

Sheet millimetres, but for anchors, which are points of the part.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np

from sheetgen.geometry import Array
from sheetgen.measures import EndRef
from sheetgen.placing.candidate import FIRST_TIER, GAP, NEXT_TIER, SAME_LEVEL
from sheetgen.placing.costs.misread import Runs
from sheetgen.placing.offers.linear import Lines, Row
from sheetgen.projection import seen_points
from sheetgen.projection.centre import OVERSHOOT as CENTRE_OVERSHOOT
from sheetgen.sight import PlacedView, Rim
from sheetgen.sight.rims import seen_rim_points
from sheetgen.solid import Plane, coaxial
from sheetgen.solid.surfaces import Round
from sheetgen.units import SAME_POINT

TIERS = 4
REACH = 0.07             # cost per mm of extension line
TIER = 1.0               # cost per tier outwards
LOCAL = 1.5              # cost of a dimension line beside its feature, not beyond the part
STEP = 4.0               # mm between the places tried there
BEHIND = 14.0            # cost of centre lines in a rim that is not the foremost
MIDWAY = 4.0             # cost of an extension line that starts midway along an edge, level with the other end
NO_CORNER = 25.0         # and if there is a corner at neither end: it looks detached
SMOOTH = 18.0            # cost of an extension line along the seam in which a face runs into a round one: there is no edge
UNMARKED = 30.0          # cost of an axis whose centre the part hides, so that no crossing of centre lines tells where it is
LEANS_BACK = 8.0         # cost of figures sheared against their reading direction: a 4 or a 7 is hard to tell
ALL_SEEN = 0.99          # of a rim: nothing stands before it
STICKS_OUT = 8.0         # mm on paper that an axis without a flat rim is drawn out of the part towards the reader

Point = tuple[float, float, float]
Key = tuple[tuple[int, ...], int]
"""The surfaces of an end, and the axis along which it is measured."""


class Anchor(NamedTuple):
    """Where an extension line may begin: a ``point`` of the part, or the crossing of centre lines, whose half-lengths are
    ``arms`` (3,) and reach so far along x, y and z; ``stem``: a centre line (2, 3) that leads to the point from the part;
    ``seam``: the axis along which a flat face runs into a round one there, -1 for none; ``in_part``: not all of the rim shows
    whose centre it is; ``covered``: axes, and to which end of them, 1 or -1, along which an extension line would start behind the
    part."""

    point: Point
    arms: tuple[Array, ...] = ()
    reach: Point = (0.0, 0.0, 0.0)
    stem: Array | None = None
    cost: float = 0.0
    seam: int = -1
    in_part: bool = False
    covered: frozenset[tuple[int, int]] = frozenset()


def _marked(rim: Rim, over: float, cost: float) -> Anchor:
    """An anchor where centre lines cross: they reach along an axis of the part if they run along it."""
    arms = rim.arms(over)

    def reach(axis: int) -> float:
        return max((abs(float(arm[axis])) for arm in arms if float(np.linalg.norm(np.delete(arm, axis))) < 1e-9), default=0.0)

    return Anchor(_point(rim.centre), tuple(arms), (reach(0), reach(1), reach(2)), None, cost, in_part=rim.part < ALL_SEEN)


class Span(NamedTuple):
    """A length to be placed: its item's number and axis."""

    item: int
    axis: int
    ends: tuple[EndRef, ...]


def add_spans(view: PlacedView, spans: Sequence[Span], lines: Lines) -> None:
    """Put all ways to draw the spans among the ``lines``."""
    ends = {(end.surfaces, span.axis): end for span in spans for end in span.ends}
    anchors = _with_covered(view, {(surfaces, axis): _anchors(view, end, axis) for (surfaces, axis), end in ends.items()})
    rows = [
        row for span in spans
        for row in _hangs(view, span, [anchors[end.surfaces, span.axis] for end in span.ends], lines)
    ]
    hangs = np.array(rows).reshape(-1, 14)
    lines.tables.append(_beyond(view, hangs, 0.0 if lines.upright else LEANS_BACK))


def _hangs(view: PlacedView, span: Span, anchors: Sequence[Sequence[Anchor]], lines: Lines) -> Iterator[Row]:
    """Pairs of the two ends' anchors on one level from which a dimension line can hang, in 14 numbers: item; cost; which axis it
    hangs out along; to which end of it, 1 or -1; the anchors (three each); how far their centre lines reach so; the set of these;
    the axis it measures along."""
    one, other = anchors
    marked: dict[tuple[Point, ...], int] = {}
    for outward in (a for a in range(3) if a != span.axis):
        third = 3 - span.axis - outward
        midway = _midway(view, span, third)
        levels = _levels([*one, *other], third, midway)
        at_one, at_other = (
            _at_levels(view, end, found, span.axis, third, levels) for end, found in zip(span.ends, (one, other), strict=True))
        for level, *ends in zip(levels, at_one, at_other, strict=True):
            detached = NO_CORNER if level in midway else 0.0
            for sign in (-1, 1):
                one_on, other_on = ([anchor for anchor in on if (outward, sign) not in anchor.covered] for on in ends)
                if not one_on or not other_on:
                    continue
                p, q = (max(on, key=lambda anchor: _outwardness(anchor, outward, sign)) for on in (one_on, other_on))
                key = (p.point, p.reach, q.point, q.reach)
                if key not in marked:
                    marked[key] = _centre_lines(view, (p, q), lines)
                reaches = p.reach[outward], q.reach[outward]
                cost = p.cost + q.cost + detached + SMOOTH * ((p.seam == outward) + (q.seam == outward))
                yield (span.item, cost, outward, sign, *p.point, *q.point, *reaches, marked[key], span.axis)


def _outwardness(anchor: Anchor, outward: int, sign: int) -> tuple[float, float]:
    return sign * anchor.point[outward] + anchor.reach[outward], anchor.reach[outward]


def _anchors(view: PlacedView, end: EndRef, axis: int) -> list[Anchor]:
    solid = view.view.solid
    first = solid.surfaces[end.surfaces[0]]
    if len(end.surfaces) > 1 or isinstance(first, Plane):
        seams = view.sight.tangent_ends
        return [Anchor((x, y, z), seam=seams.get((x, y, z), -1)) for x, y, z in view.sight.anchors(end, axis).tolist()]
    turned = [k for k, surface in enumerate(solid.surfaces) if not isinstance(surface, Plane) and coaxial(first, surface)]
    rims = [rim for k in turned for rim in view.sight.rims[k]]
    if not rims:
        return _stems(view, first, turned)
    # Centre lines belong in the foremost rim: in one behind it they run through what stands before them.
    depth = [float(rim.centre @ first.direction * np.sign(first.direction @ view.view.frame.toward)) for rim in rims]
    return [
        _marked(rim, CENTRE_OVERSHOOT / view.scale, 0.0 if far > max(depth) - SAME_POINT else BEHIND)
        for rim, far in zip(rims, depth, strict=True)
    ]


def _with_covered(view: PlacedView, anchors: dict[Key, list[Anchor]]) -> dict[Key, list[Anchor]]:
    """The anchors, and of rims that are hidden in places where extension lines would start behind the part."""
    doubtful = [anchor for several in anchors.values() for anchor in several if anchor.in_part]
    if not doubtful:
        return anchors
    ways = [(axis, sign) for axis in range(3) for sign in (-1, 1)]
    places = np.array([
        [np.array(anchor.point), *(np.array(anchor.point) + sign * anchor.reach[axis] * np.eye(3)[axis] for axis, sign in ways)]
        for anchor in doubtful])
    shows: Iterator[list[bool]] = iter(seen_points(view.view, places.reshape(-1, 3)).reshape(len(places), -1).tolist())

    def known(anchor: Anchor) -> Anchor:
        if not anchor.in_part:
            return anchor
        centre, *ends = next(shows)
        covered = frozenset(way for way, seen in zip(ways, ends, strict=True) if not seen)
        return anchor._replace(covered=covered, cost=anchor.cost + (0.0 if centre else UNMARKED))

    return {key: [known(anchor) for anchor in several] for key, several in anchors.items()}


def _stems(view: PlacedView, surface: Round, turned: list[int]) -> list[Anchor]:
    """An axis that comes out of the part through no flat face is drawn out towards the reader; its end is the anchor."""
    points = np.concatenate([seen_rim_points(view.sight, k) for k in turned])
    sight = float(surface.direction @ view.view.frame.toward)
    if not len(points) or abs(sight) < 1e-9:
        return []
    way = surface.direction * np.sign(sight)
    foot = surface.point + float(((points - surface.point) @ way).max()) * way
    tip = foot + STICKS_OUT / view.scale * way
    return [Anchor(_point(tip), stem=np.stack([foot, tip]))]


def _midway(view: PlacedView, span: Span, third: int) -> list[float]:
    """The level midway along the longest stretch of ``third`` at which both ends show edges, if any: a dimension line may
    stand there where none is clear of the drawing at the corners."""
    if not all(isinstance(view.view.solid.surfaces[end.surfaces[0]], Plane) for end in span.ends):
        return []
    one, other = (view.sight.rails(end, span.axis, third) for end in span.ends)
    shared = [(max(low, at), min(high, to)) for _, low, high in one for _, at, to in other]
    low, high = max(shared, key=lambda stretch: stretch[1] - stretch[0], default=(0.0, 0.0))
    return [round((low + high) / 2, 5)] if high - low > 2 * SAME_LEVEL else []


def _levels(anchors: Sequence[Anchor], axis: int, more: Sequence[float]) -> list[float]:
    """The levels at which anchors stand along an axis, and ``more``, lowest first; rounded, so that lines from one level are one
    line."""
    found: list[float] = []
    for level in sorted([*(round(anchor.point[axis], 5) for anchor in anchors), *more]):
        if not found or level > found[-1] + SAME_LEVEL:
            found.append(level)
    return found


def _at_levels(
    view: PlacedView, end: EndRef, anchors: Sequence[Anchor], axis: int, third: int, levels: Sequence[float]
) -> list[list[Anchor]]:
    """Anchors at each level of the third axis; where there are none, points where the end's edges along that axis pass it."""
    found: list[list[Anchor]] = [[] for _ in levels]
    for anchor in anchors:
        found[bisect_left(levels, anchor.point[third] - SAME_LEVEL)].append(anchor)
    if all(found) or not isinstance(view.view.solid.surfaces[end.surfaces[0]], Plane):
        return found
    rails = view.sight.rails(end, axis, third)
    return [
        on or [Anchor(_moved(point, third, level), cost=MIDWAY) for point, low, high in rails if low < level < high]
        for level, on in zip(levels, found, strict=True)
    ]


def _moved(point: Point, axis: int, level: float) -> Point:
    x, y, z = (level if k == axis else value for k, value in enumerate(point))
    return x, y, z


def _beyond(view: PlacedView, hangs: Array, leans_back: float) -> Array:
    """Dimension lines, rows (m, 21) of ``Lines``, at several distances from each two anchors, ``hangs`` (n, 14); ``leans_back``:
    cost of figures that do, as those of an upright line whose extension lines rise to the right."""
    scale, item, cost = view.scale, hangs[:, :1], hangs[:, 1:2]
    outward, sign, last = hangs[:, 2].astype(np.int64), hangs[:, 3:4], hangs[:, 12:]
    points, reach = hangs[:, 4:10].reshape(-1, 2, 3), hangs[:, 10:12]
    runs = Runs(view, points, outward, sign[:, 0], hangs[:, 13].astype(np.int64))
    cost = cost + runs.seeming()[:, None]
    way = sign * np.array([view.unit(axis) for axis in range(3)])[outward]             # (n, 2) on paper
    base = sign * points[np.arange(len(hangs)), :, outward]                            # (n, 2) along the axis, outwards
    far = np.where(sign > 0, view.view.solid.size[outward][:, None], 0.0)
    near = (base + reach).max(axis=1, keepdims=True)
    tier, step = np.arange(TIERS), np.arange(3)
    level = np.hstack([far + (FIRST_TIER + NEXT_TIER * tier) / scale, near + (FIRST_TIER - 1 + STEP * step) / scale])
    extra = np.concatenate([TIER * tier, LOCAL + step])
    local = np.repeat([False, True], [TIERS, len(step)])
    arm = np.maximum(reach * scale - GAP, 0.0)
    run = (level[:, :, None] - base[:, None]) * scale                                  # (n, ways, 2) mm from anchor to line
    stretch = run - arm[:, None]
    usable = (~local | (near + FIRST_TIER / scale < far - 1e-6)) & (stretch.min(axis=2) >= GAP + 1.0)
    of, which = np.nonzero(usable)
    foot = view.places(points.reshape(-1, 3)).reshape(-1, 2, 2)[of]
    start, end = foot + arm[of][:, :, None] * way[of][:, None], foot + run[of, which][:, :, None] * way[of][:, None]
    upright = np.abs(foot[:, 0, 0] - foot[:, 1, 0]) < 1e-6
    lean = np.where(upright & (way[of].prod(axis=1) > 0.0), leans_back, 0.0)
    total = cost[of, 0] + lean + extra[which] + REACH * stretch[of, which].sum(axis=1)
    total += runs.hidden(of, arm[of], run[of, which]) + runs.through_centres(of, arm[of], run[of, which])
    none = np.full((len(of), 1), -1.0)
    lines = end.reshape(-1, 4), start.reshape(-1, 4), way[of]
    return np.hstack([item[of], total[:, None], *lines, last[of], none, hangs[of, 4:10]])


def _centre_lines(view: PlacedView, anchors: Sequence[Anchor], lines: Lines) -> int:
    """The number of the set of centre lines that mark the anchors, put among the table's; -1 if there are none."""
    pairs = [(np.array(anchor.point) - arm, np.array(anchor.point) + arm) for anchor in anchors for arm in anchor.arms]
    pairs += [(anchor.stem[0], anchor.stem[1]) for anchor in anchors if anchor.stem is not None]
    if not pairs:
        return -1
    lines.axes.append(np.array(pairs))
    lines.centres.append(view.paper(lines.axes[-1].reshape(-1, 3)).reshape(-1, 4))
    return len(lines.centres) - 1


def _point(place: Array) -> Point:
    x, y, z = place.tolist()
    return x, y, z
