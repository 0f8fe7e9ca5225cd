"""Where a size can stand on the isometric pictorial: the ways offered to the search. Sheet millimetres.

Dimension and extension lines run along the isometric axes, figures lie in the plane of both.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

import numpy as np

from sheetgen.dimensions.angles import angle_offers
from sheetgen.dimensions.candidate import (
    FIRST_TIER,
    GAP,
    NEXT_TIER,
    TEXT_HEIGHT,
    Candidate,
    Head,
    Leader,
    Linear,
    Offer,
    Vec,
    reading,
)
from sheetgen.dimensions.ends import EndRef
from sheetgen.dimensions.items import Item
from sheetgen.dimensions.placed import PlacedView
from sheetgen.dimensions.rims import on_seen_rim, rims_of, seen_rim_points
from sheetgen.ink import Text
from sheetgen.projection.centre import OVERSHOOT as CENTRE_OVERSHOOT
from sheetgen.solid import Plane, coaxial
from sheetgen.solid.surfaces import Array, Round

TIERS = 4
REACH = 0.07             # cost per mm of extension line
TIER = 1.0               # cost per tier outwards
LOCAL = 1.5              # cost of a dimension line beside its feature, not beyond the part
LEADER_LENGTHS = (9.0, 13.0, 18.0, 24.0, 31.0, 39.0)
SEEN_SHARE = 0.3         # a rim of which less is seen does not show where its centre is

SIGHT_OVER = 2.0         # cost per mm of the arrow of sight that lies over the part: it should stand before it
STICKS_OUT = 8.0         # mm on paper that an axis without a flat rim is drawn out of the part towards the reader


@dataclass(frozen=True, eq=False)
class Anchor:
    """Where an extension line may begin: a ``point`` of the part, or the crossing of centre lines, whose half-lengths are
    ``arms`` (3,); ``stem``: a centre line (2, 3) that leads to the point from the part."""

    point: tuple[float, float, float]
    arms: tuple[Array, ...] = ()
    stem: Array | None = None

    def reach(self, axis: int) -> float:
        """Part mm from the point to where its centre line along the axis ends; 0 if it has none."""
        return max((abs(float(arm[axis])) for arm in self.arms if _along(arm, axis)), default=0.0)


def _along(arm: Array, axis: int) -> bool:
    return abs(abs(float(arm[axis])) - float(np.linalg.norm(arm))) < 1e-9


def pictorial_offers(view: PlacedView, item: Item, *, upright: bool = False) -> list[Offer]:
    """All ways to put an item on the pictorial. ``upright``: figures stand upright instead of lying in the isometric planes."""
    if item.kind == "span":
        return list(_span(view, item, upright))
    if item.kind == "angle":
        return angle_offers(view, item)
    return list(_round(view, item, upright))


def _span(view: PlacedView, item: Item, upright: bool) -> Iterator[Offer]:
    axis = item.main.axis
    assert axis is not None
    one, other = (_anchors(view, end, axis) for end in item.main.ends)
    for outward in (a for a in range(3) if a != axis):
        third = 3 - axis - outward
        for level in sorted(_levels(one, third) | _levels(other, third)):
            ends = [_at(view, end, found, axis, third, level) for end, found in zip(item.main.ends, (one, other), strict=True)]
            if all(ends):
                for sign in (-1, 1):
                    p, q = (max(on, key=lambda anchor: _outwardness(anchor, outward, sign)) for on in ends)
                    yield from _beyond(view, item, (p, q), outward, sign, upright)


def _outwardness(anchor: Anchor, outward: int, sign: int) -> tuple[float, float]:
    return sign * anchor.point[outward] + anchor.reach(outward), anchor.reach(outward)


def _anchors(view: PlacedView, end: EndRef, axis: int) -> list[Anchor]:
    solid = view.view.solid
    first = solid.surfaces[end.surfaces[0]]
    if len(end.surfaces) > 1 or isinstance(first, Plane):
        return [Anchor((x, y, z)) for x, y, z in view.sight.anchors(end, axis).tolist()]
    turned = [k for k, surface in enumerate(solid.surfaces) if not isinstance(surface, Plane) and coaxial(first, surface)]
    found = []
    for rim in (rim for k in turned for rim in rims_of(view.sight, k)):
        if rim.share >= SEEN_SHARE:
            x, y, z = rim.centre.tolist()
            found.append(Anchor((x, y, z), tuple(rim.arms(CENTRE_OVERSHOOT / view.scale))))
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
    x, y, z = tip.tolist()
    return [Anchor((x, y, z), stem=np.stack([foot, tip]))]


def _levels(anchors: list[Anchor], axis: int) -> set[float]:
    return {round(anchor.point[axis], 5) for anchor in anchors}


def _at(view: PlacedView, end: EndRef, anchors: list[Anchor], axis: int, third: int, level: float) -> list[Anchor]:
    """Anchors at a level of the third axis; if there are none, points where the end's edges along that axis pass it."""
    on = [anchor for anchor in anchors if abs(anchor.point[third] - level) < 1e-4]
    if on or not isinstance(view.view.solid.surfaces[end.surfaces[0]], Plane):
        return on
    return [Anchor((x, y, z)) for x, y, z in view.sight.along(end, axis, third, level).tolist()]


def _beyond(
    view: PlacedView, item: Item, ends: tuple[Anchor, Anchor], outward: int, sign: int, upright: bool
) -> Iterator[Offer]:
    """Dimension lines at several distances along an axis from the two anchors."""
    scale = view.scale
    x, y = (view.vector(outward) / scale * sign).tolist()
    far = float(view.view.solid.size[outward]) if sign > 0 else 0.0
    near = max(_outwardness(anchor, outward, sign)[0] for anchor in ends)
    levels = [(far + (FIRST_TIER + NEXT_TIER * t) / scale, TIER * t) for t in range(TIERS)]
    levels += [(near + (FIRST_TIER - 1 + 4 * t) / scale, LOCAL + t) for t in range(3) if near + FIRST_TIER / scale < far - 1e-6]
    corners = view.paper(np.array([anchor.point for anchor in ends])).tolist()
    arms = [max(anchor.reach(outward) * scale - GAP, 0.0) for anchor in ends]
    starts = [(cx + arm * x, cy + arm * y) for (cx, cy), arm in zip(corners, arms, strict=True)]
    centres = tuple((*_vec(p), *_vec(q)) for anchor in ends for p, q in _centre_lines(view, anchor))
    for level, cost in levels:
        runs = [(level - sign * anchor.point[outward]) * scale for anchor in ends]
        if min(run - arm for run, arm in zip(runs, arms, strict=True)) < GAP + 1.0:
            continue
        a, b = ((cx + run * x, cy + run * y) for (cx, cy), run in zip(corners, runs, strict=True))
        length = sum(runs) - sum(arms)
        yield from Linear(a, b, (starts[0], starts[1]), (x, y), item.lines[0], upright, centres).offers(cost + REACH * length)


def _centre_lines(view: PlacedView, anchor: Anchor) -> list[Array]:
    """The centre lines of an anchor on the sheet, segments (2, 2)."""
    point = np.array(anchor.point)
    lines = [view.paper(np.stack([point - arm, point + arm])) for arm in anchor.arms]
    return lines if anchor.stem is None else [*lines, view.paper(anchor.stem)]


def _round(view: PlacedView, item: Item, upright: bool) -> Iterator[Offer]:
    for k in item.rounds:
        rims = [rim for rim in rims_of(view.sight, k) if rim.face in item.faces or not item.faces]
        for rim in rims:
            turns = np.radians(np.arange(7.5, 360.0, 15.0))
            arms = np.cos(turns)[:, None] * rim.a + np.sin(turns)[:, None] * rim.b
            yield from _pointing(view, item, k, rim.centre + arms, rim.centre, 3.0 * (1 - min(rim.share, 1.0)), upright)
        if not rims:
            points = seen_rim_points(view.sight, k)
            if len(points):
                some = points[:: max(1, len(points) // 24)]
                yield from _pointing(view, item, k, some, points.mean(axis=0), 1.0, upright)


def _pointing(
    view: PlacedView, item: Item, turned: int, tips: Array, middle: Array, cost: float, upright: bool
) -> Iterator[Offer]:
    """Leaders to those of the points ``tips`` (n, 3) of a round surface's edges that are seen, away from ``middle`` (3,)."""
    surface = view.view.solid.surfaces[turned]
    assert not isinstance(surface, Plane)
    axis = int(np.argmax(np.abs(surface.direction)))
    one, other = (_vec(view.vector(a) / view.scale) for a in range(3) if a != axis)
    flat, centre = view.paper(tips), view.paper(middle)[0]
    seen = on_seen_rim(view, turned, flat)
    for rank in np.flatnonzero(seen):
        way = flat[rank] - centre
        length = float(np.linalg.norm(way))
        if length > 0.1:
            yield from _leaders(item, _vec(flat[rank]), _vec(way / length), (one, other), cost + 0.01 * float(rank), upright)


def _vec(point: Array) -> tuple[float, float]:
    return float(point[0]), float(point[1])


def _leaders(
    item: Item, tip: tuple[float, float], way: tuple[float, float], plane: tuple[tuple[float, float], tuple[float, float]],
    cost: float, upright: bool,
) -> Iterator[Offer]:
    for level, other in (plane, plane[::-1]):
        if abs(level[0]) < 1e-9:
            continue                                     # an upright landing would stand the figures on end
        along, up = ((1.0, 0.0), (0.0, 1.0)) if upright else reading(level, other)
        for length in LEADER_LENGTHS:
            yield Leader(tip, way, length, item.lines, along, up).offer(cost + 0.12 * length)


def sight_arrow(view: PlacedView, letter: str) -> list[Offer]:
    """Ways to place the arrow that shows from where the front view is seen, with its letter at the tail."""
    along, across = view.vector(1) / view.scale, view.vector(0) / view.scale
    width, _, height = view.view.solid.size
    shares, lifts = (0.5, 0.3, 0.7, 0.0, 1.0), (0.5, 0.2, 0.8, -0.2)
    aims = view.paper(np.array([(share * width, 0.0, lift * height) for share in shares for lift in lifts])).tolist()
    dx, dy = along.tolist()
    found = []
    for away in (12.0, 20.0, 30.0, 42.0, 56.0, 72.0):
        for n, (x, y) in enumerate(aims):
            tip, tail = (x - away * dx, y - away * dy), (x - (away + 16.0) * dx, y - (away + 16.0) * dy)
            at = (tail[0] - 3.5 * dx, tail[1] - 3.5 * dy - TEXT_HEIGHT * 5 / 7)
            texts = (Text(letter, at, 5.0, anchor="middle"),)
            build = partial(_sight, tip, tail, texts, along, across)
            cost = 0.15 * away + 0.4 * (n // len(lifts)) + 0.4 * (n % len(lifts))
            found.append(Offer(((*tail, *tip),), (), cost, partial(tuple, texts), build, over=SIGHT_OVER))
    return found


def _sight(tip: Vec, tail: Vec, texts: tuple[Text, ...], along: Array, across: Array) -> Candidate:
    return Candidate((np.array([tail, tip]),), (), (Head(np.array(tip), along, across),), texts, bold=True)
