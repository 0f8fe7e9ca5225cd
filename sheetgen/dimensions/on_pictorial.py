"""Where a size can stand on the isometric pictorial: the ways offered to the search. Sheet millimetres.

Dimension and extension lines run along the isometric axes, figures lie in the plane of both.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, partial
from typing import NamedTuple

import numpy as np

from sheetgen.dimensions.angles import angle_offers
from sheetgen.dimensions.candidate import FIRST_TIER, GAP, NEXT_TIER, Candidate, Head, Vec, lettered_width, reading
from sheetgen.dimensions.ends import EndRef
from sheetgen.dimensions.items import Item
from sheetgen.dimensions.leaders import Leader, Leaders
from sheetgen.dimensions.linear import Linear, Lines
from sheetgen.dimensions.offers import NO_FIELDS, NO_LINES, Offer, Offers, boxes_at, gathered, table_of
from sheetgen.dimensions.placed import PlacedView
from sheetgen.dimensions.rims import on_seen_rim, rims_of, seen_rim_points
from sheetgen.ink import Text
from sheetgen.projection.centre import OVERSHOOT as CENTRE_OVERSHOOT
from sheetgen.solid import Plane, coaxial
from sheetgen.solid.surfaces import Array, Round
from sheetgen.units import SAME_POINT

TIERS = 4
REACH = 0.07             # cost per mm of extension line
TIER = 1.0               # cost per tier outwards
LOCAL = 1.5              # cost of a dimension line beside its feature, not beyond the part
LEADER_LENGTHS = (9.0, 13.0, 18.0, 24.0, 31.0, 39.0)
BEHIND = 14.0            # cost of centre lines in a rim that is not the foremost
SEEN_SHARE = 0.3         # a rim of which less is seen does not show where its centre is

SIGHT_HEIGHT = 5.0       # mm: letter of the arrow of sight
SIGHT_LENGTH = 16.0      # mm
SIGHT_CLEAR = 4.0        # mm before its tip that no dimension line comes into
SIGHT_OVER = 2.0         # cost per mm of the arrow of sight that lies over the part: it should stand before it
STICKS_OUT = 8.0         # mm on paper that an axis without a flat rim is drawn out of the part towards the reader


Point = tuple[float, float, float]


class Anchor(NamedTuple):
    """Where an extension line may begin: a ``point`` of the part, or the crossing of centre lines, whose half-lengths are
    ``arms`` (3,) and reach so far along x, y and z; ``stem``: a centre line (2, 3) that leads to the point from the part."""

    point: Point
    arms: tuple[Array, ...] = ()
    reach: Point = (0.0, 0.0, 0.0)
    stem: Array | None = None
    cost: float = 0.0


def _marked(centre: Array, arms: Sequence[Array], cost: float) -> Anchor:
    """An anchor where centre lines cross: they reach along an axis of the part if they run along it."""
    def reach(axis: int) -> float:
        return max((abs(float(arm[axis])) for arm in arms if float(np.linalg.norm(np.delete(arm, axis))) < 1e-9), default=0.0)

    return Anchor(_point(centre), tuple(arms), (reach(0), reach(1), reach(2)), cost=cost)


@dataclass(frozen=True, eq=False)
class _Span:
    """A length to be placed: its item's number, figures and axis."""

    item: int
    text: str
    axis: int
    ends: tuple[EndRef, ...]


def pictorial_offers(view: PlacedView, items: Sequence[Item], *, upright: bool = False) -> Offers:
    """All ways to put items on the pictorial. ``upright``: figures stand upright instead of lying in the isometric planes."""
    lines, leaders, single = Lines(upright), Leaders(), list[Offer]()
    for number, item in enumerate(items):
        if item.kind == "span":
            assert item.main.axis is not None
            _span(view, _Span(number, item.lines[0], item.main.axis, item.main.ends), lines)
        elif item.kind == "angle":
            single += angle_offers(view, item, number)
        else:
            leaders.rows.extend(_round(view, item, number, upright))
    return gathered([lines.offers(), leaders.offers(), table_of(single)])


def _span(view: PlacedView, span: _Span, lines: Lines) -> None:
    one, other = (_anchors(view, end, span.axis) for end in span.ends)
    for outward in (a for a in range(3) if a != span.axis):
        third = 3 - span.axis - outward
        at_one, at_other = (
            _at_levels(view, end, found, span.axis, third) for end, found in zip(span.ends, (one, other), strict=True))
        for level in sorted(_levels(one, third) | _levels(other, third)):
            ends = [at_one(level), at_other(level)]
            if all(ends):
                for sign in (-1, 1):
                    p, q = (max(on, key=lambda anchor: _outwardness(anchor, outward, sign)) for on in ends)
                    _beyond(view, span, (p, q), outward, sign, lines)


def _outwardness(anchor: Anchor, outward: int, sign: int) -> tuple[float, float]:
    return sign * anchor.point[outward] + anchor.reach[outward], anchor.reach[outward]


def _anchors(view: PlacedView, end: EndRef, axis: int) -> list[Anchor]:
    solid = view.view.solid
    first = solid.surfaces[end.surfaces[0]]
    if len(end.surfaces) > 1 or isinstance(first, Plane):
        return [Anchor((x, y, z)) for x, y, z in view.sight.anchors(end, axis).tolist()]
    turned = [k for k, surface in enumerate(solid.surfaces) if not isinstance(surface, Plane) and coaxial(first, surface)]
    rims = [rim for k in turned for rim in rims_of(view.sight, k) if rim.share >= SEEN_SHARE]
    # Centre lines belong in the foremost rim: in one behind it they run through what stands before them.
    depth = [float(rim.centre @ first.direction * np.sign(first.direction @ view.view.frame.toward)) for rim in rims]
    found = [
        _marked(rim.centre, rim.arms(CENTRE_OVERSHOOT / view.scale), 0.0 if far > max(depth) - SAME_POINT else BEHIND)
        for rim, far in zip(rims, depth, strict=True)
    ]
    return found or _stems(view, first, turned)


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


def _levels(anchors: Sequence[Anchor], axis: int) -> set[float]:
    return {round(anchor.point[axis], 5) for anchor in anchors}


def _at_levels(
    view: PlacedView, end: EndRef, anchors: Sequence[Anchor], axis: int, third: int
) -> Callable[[float], list[Anchor]]:
    """Anchors at a level of the third axis; if there are none, points where the end's edges along that axis pass it."""
    rails = cache(lambda: view.sight.rails(end, axis, third))
    plane = isinstance(view.view.solid.surfaces[end.surfaces[0]], Plane)

    def at(level: float) -> list[Anchor]:
        on = [anchor for anchor in anchors if abs(anchor.point[third] - level) < 1e-4]
        if on or not plane:
            return on
        return [Anchor(_moved(point, third, level)) for point, low, high in rails() if low < level < high]

    return at


def _moved(point: Point, axis: int, level: float) -> Point:
    x, y, z = (level if k == axis else value for k, value in enumerate(point))
    return x, y, z


def _beyond(view: PlacedView, span: _Span, ends: tuple[Anchor, Anchor], outward: int, sign: int, lines: Lines) -> None:
    """Dimension lines at several distances along an axis from the two anchors."""
    scale = view.scale
    x, y = (sign * part for part in view.unit(outward))
    far = float(view.view.solid.size[outward]) if sign > 0 else 0.0
    near = max(_outwardness(anchor, outward, sign)[0] for anchor in ends)
    levels = [(far + (FIRST_TIER + NEXT_TIER * t) / scale, TIER * t) for t in range(TIERS)]
    levels += [(near + (FIRST_TIER - 1 + 4 * t) / scale, LOCAL + t) for t in range(3) if near + FIRST_TIER / scale < far - 1e-6]
    (px, py), (qx, qy) = (view.place(anchor.point) for anchor in ends)
    arm_p, arm_q = (max(anchor.reach[outward] * scale - GAP, 0.0) for anchor in ends)
    starts = ((px + arm_p * x, py + arm_p * y), (qx + arm_q * x, qy + arm_q * y))
    centres = _centre_lines(view, ends, lines)
    base_p, base_q = (sign * anchor.point[outward] for anchor in ends)
    for level, cost in levels:
        run_p, run_q = (level - base_p) * scale, (level - base_q) * scale
        if min(run_p - arm_p, run_q - arm_q) < GAP + 1.0:
            continue
        length = run_p - arm_p + run_q - arm_q
        a, b = (px + run_p * x, py + run_p * y), (qx + run_q * x, qy + run_q * y)
        cost += REACH * length + ends[0].cost + ends[1].cost
        lines.rows.append(Linear(span.item, cost, a, b, starts, (x, y), span.text, centres))


def _centre_lines(view: PlacedView, anchors: Sequence[Anchor], lines: Lines) -> int:
    """The number of the set of centre lines that mark the anchors, put among the table's; -1 if there are none."""
    pairs = [(np.array(anchor.point) - arm, np.array(anchor.point) + arm) for anchor in anchors for arm in anchor.arms]
    pairs += [(anchor.stem[0], anchor.stem[1]) for anchor in anchors if anchor.stem is not None]
    if not pairs:
        return -1
    lines.centres.append(view.paper(np.array(pairs).reshape(-1, 3)).reshape(-1, 4))
    return len(lines.centres) - 1


def _round(view: PlacedView, item: Item, number: int, upright: bool) -> Iterator[Leader]:
    for k in item.rounds:
        rims = [rim for rim in rims_of(view.sight, k) if rim.face in item.faces or not item.faces]
        for rim in rims:
            turns = np.radians(np.arange(7.5, 360.0, 15.0))
            arms = np.cos(turns)[:, None] * rim.a + np.sin(turns)[:, None] * rim.b
            for tip in _tips(view, k, rim.centre + arms, rim.centre, 3.0 * (1 - min(rim.share, 1.0))):
                yield from _leaders(item, number, *tip, upright)
        if not rims:
            points = seen_rim_points(view.sight, k)
            if len(points):
                some = points[:: max(1, len(points) // 24)]
                for tip in _tips(view, k, some, points.mean(axis=0), 1.0):
                    yield from _leaders(item, number, *tip, upright)


Plane2 = tuple[Vec, Vec]
"""Two axes of the part on the sheet, between which letters lie."""


def _tips(view: PlacedView, turned: int, tips: Array, middle: Array, cost: float) -> Iterator[tuple[Vec, Vec, Plane2, float]]:
    """Those of the points ``tips`` (n, 3) of a round surface's edges that are seen: place, direction away from ``middle`` (3,),
    the plane its note lies in, cost."""
    surface = view.view.solid.surfaces[turned]
    assert not isinstance(surface, Plane)
    axis = int(np.argmax(np.abs(surface.direction)))
    one, other = (view.unit(a) for a in range(3) if a != axis)
    flat, centre = view.paper(tips), view.paper(middle)[0]
    away = flat - centre
    length = np.hypot(*away.T)
    for rank in np.flatnonzero(on_seen_rim(view, turned, flat) & (length > 0.1)):
        yield _vec(flat[rank]), _vec(away[rank] / length[rank]), (one, other), cost + 0.01 * float(rank)


def _leaders(item: Item, number: int, tip: Vec, way: Vec, plane: Plane2, cost: float, upright: bool) -> Iterator[Leader]:
    for level, other in (plane, plane[::-1]):
        if abs(level[0]) < 1e-9:
            continue                                     # an upright landing would stand the figures on end
        along, up = ((1.0, 0.0), (0.0, 1.0)) if upright else reading(level, other)
        for length in LEADER_LENGTHS:
            yield Leader(number, cost + 0.12 * length, tip, way, length, item.lines, along, up)


def _vec(point: Array) -> Vec:
    return float(point[0]), float(point[1])


def _point(place: Array) -> Point:
    x, y, z = place.tolist()
    return x, y, z


def sight_arrow(view: PlacedView, letter: str, number: int) -> Offers:
    """Ways to place the arrow that shows from where the front view is seen, with its letter at the tail, as item ``number``."""
    along, across = view.vector(1) / view.scale, view.vector(0) / view.scale
    width, _, height = view.view.solid.size
    shares, lifts = (0.5, 0.35, 0.65, 0.2, 0.8, 0.0, 1.0), (0.5, 0.2, 0.8, -0.2)
    ways = (12.0, 16.0, 20.0, 25.0, 30.0, 42.0, 56.0, 72.0)
    aside = np.repeat([0.0, 0.4, 0.5, 0.9, 1.0, 8.0, 8.0], len(lifts)) + np.tile(0.4 * np.arange(len(lifts)), len(shares))
    aims = view.paper(np.array([(share * width, 0.0, lift * height) for share in shares for lift in lifts]))
    away = np.repeat(ways, len(aims))
    tips = np.tile(aims, (len(ways), 1)) - away[:, None] * along
    tails = tips - SIGHT_LENGTH * along
    at = tails - 3.5 * along - np.array([0.0, SIGHT_HEIGHT / 2])
    n = len(away)
    level, up, wide = np.tile([1.0, 0.0], (n, 1)), np.tile([0.0, 1.0], (n, 1)), np.full(n, lettered_width(letter, SIGHT_HEIGHT))
    no = np.zeros(n, dtype=bool)

    def drawn(k: int) -> Candidate:
        texts = (Text(letter, _vec(at[k]), SIGHT_HEIGHT, anchor="middle"),)
        return Candidate((np.stack([tails[k], tips[k]]),), (), (Head(tips[k], along, across),), texts, bold=True)

    return Offers(
        item=np.full(n, number),
        cost=0.15 * away + np.tile(aside, len(ways)),
        over=np.full(n, SIGHT_OVER),
        leader=no,
        own=no,
        name=no,
        lines=(np.hstack([tails, tips + SIGHT_CLEAR * along]), np.arange(n)),
        extensions=NO_LINES,
        centres=NO_LINES,
        boxes=(boxes_at(at, level, up, wide, SIGHT_HEIGHT, wide / 2), np.arange(n)),
        fields=NO_FIELDS,
        build=[partial(drawn, k) for k in range(n)],
    )
