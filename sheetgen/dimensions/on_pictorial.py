"""Where a size can stand on the isometric pictorial: the ways offered to the search. Sheet millimetres.

Dimension and extension lines run along the isometric axes, figures lie in the plane of both.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from sheetgen.dimensions.angles import angle_offers
from sheetgen.dimensions.candidate import FIRST_TIER, GAP, NEXT_TIER, TEXT_HEIGHT, Candidate, Head, Leader, Linear, Offer, reading
from sheetgen.dimensions.ends import EndRef
from sheetgen.dimensions.items import Item
from sheetgen.dimensions.placed import PlacedView
from sheetgen.ink import Text
from sheetgen.projection.centre import OVERSHOOT as CENTRE_OVERSHOOT
from sheetgen.solid import Plane, coaxial
from sheetgen.solid.surfaces import Array

TIERS = 4
REACH = 0.07             # cost per mm of extension line
TIER = 1.0               # cost per tier outwards
LOCAL = 1.5              # cost of a dimension line beside its feature, not beyond the part
LEADER_LENGTHS = (9.0, 13.0, 18.0, 24.0, 31.0, 39.0)
SEEN_SHARE = 0.3         # a rim of which less is seen does not show where its centre is

Anchor = tuple[tuple[float, float, float], float]
"""A point of the part and how far, in part mm, a centre line reaches from it (0 for a corner)."""


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
    for outward_axis in (a for a in range(3) if a != axis):
        third = 3 - axis - outward_axis
        for level in sorted(_levels(one, third) | _levels(other, third)):
            ends = [_at(view, end, found, axis, third, level) for end, found in zip(item.main.ends, (one, other), strict=True)]
            if all(ends):
                for sign in (-1, 1):
                    p, q = (max(on, key=lambda anchor: (sign * anchor[0][outward_axis] + anchor[1], anchor[1])) for on in ends)
                    yield from _beyond(view, item, (p, q), outward_axis, sign, upright)


def _anchors(view: PlacedView, end: EndRef, axis: int) -> list[Anchor]:
    solid = view.view.solid
    first = solid.surfaces[end.surfaces[0]]
    if len(end.surfaces) > 1 or isinstance(first, Plane):
        return [((x, y, z), 0.0) for x, y, z in view.sight.anchors(end, axis).tolist()]
    found = []
    for k, surface in enumerate(solid.surfaces):
        if isinstance(surface, Plane) or not coaxial(first, surface):
            continue
        for level, radius, share in view.sight.rims(k):
            if share >= SEEN_SHARE:
                x, y, z = (surface.point + level * surface.direction).tolist()
                found.append(((x, y, z), radius + CENTRE_OVERSHOOT / view.scale))
    return found


def _levels(anchors: list[Anchor], axis: int) -> set[float]:
    return {round(point[axis], 5) for point, _ in anchors}


def _at(view: PlacedView, end: EndRef, anchors: list[Anchor], axis: int, third: int, level: float) -> list[Anchor]:
    """Anchors at a level of the third axis; if there are none, points where the end's edges along that axis pass it."""
    on = [anchor for anchor in anchors if abs(anchor[0][third] - level) < 1e-4]
    if on or not isinstance(view.view.solid.surfaces[end.surfaces[0]], Plane):
        return on
    return [((x, y, z), 0.0) for x, y, z in view.sight.along(end, axis, third, level).tolist()]


def _beyond(
    view: PlacedView, item: Item, ends: tuple[Anchor, Anchor], outward_axis: int, sign: int, upright: bool
) -> Iterator[Offer]:
    """Dimension lines at several distances along an axis from the two anchors."""
    scale = view.scale
    x, y = (view.vector(outward_axis) / scale * sign).tolist()
    far = float(view.view.solid.size[outward_axis]) if sign > 0 else 0.0
    near = max(sign * point[outward_axis] + reach for point, reach in ends)
    levels = [(far + (FIRST_TIER + NEXT_TIER * t) / scale, TIER * t) for t in range(TIERS)]
    levels += [(near + (FIRST_TIER - 1 + 4 * t) / scale, LOCAL + t) for t in range(3) if near + FIRST_TIER / scale < far - 1e-6]
    corners = view.paper(np.array([point for point, _ in ends])).tolist()
    arms = [max(reach * scale - GAP, 0.0) for _, reach in ends]
    starts = [(cx + arm * x, cy + arm * y) for (cx, cy), arm in zip(corners, arms, strict=True)]
    centres = tuple(line for point, reach in ends if reach > 0 for line in _centre_cross(view, np.array(point), reach))
    for level, cost in levels:
        runs = [(level - sign * point[outward_axis]) * scale for point, _ in ends]
        if min(run - arm for run, arm in zip(runs, arms, strict=True)) < GAP + 1.0:
            continue
        a, b = ((cx + run * x, cy + run * y) for (cx, cy), run in zip(corners, runs, strict=True))
        length = sum(runs) - sum(arms)
        yield from Linear(a, b, (starts[0], starts[1]), (x, y), item.lines[0], upright, centres).offers(cost + REACH * length)


def _centre_cross(view: PlacedView, centre: Array, reach: float) -> list[Array]:
    """The two centre lines of a rim, in its plane, as far as ``reach`` part mm."""
    for surface in view.view.solid.surfaces:
        if not isinstance(surface, Plane) and float(np.linalg.norm(np.cross(centre - surface.point, surface.direction))) < 1e-6:
            k = int(np.argmax(np.abs(surface.direction)))
            middle = view.paper(centre)[0]
            arms = [view.vector(a) * reach for a in range(3) if a != k]
            return [np.stack([middle - arm, middle + arm]) for arm in arms]
    return []


def _round(view: PlacedView, item: Item, upright: bool) -> Iterator[Offer]:
    solid = view.view.solid
    turns = np.radians(np.arange(7.5, 360.0, 15.0))
    for k in item.rounds:
        surface = solid.surfaces[k]
        assert not isinstance(surface, Plane)
        axis = int(np.argmax(np.abs(surface.direction)))
        one, other = (view.vector(a) / view.scale for a in range(3) if a != axis)
        for level, radius, share in view.sight.rims(k):
            centre = view.paper(surface.point + level * surface.direction)[0]
            arms = np.cos(turns)[:, None] * one + np.sin(turns)[:, None] * other
            tips = centre + radius * view.scale * arms
            seen = shapely.distance(view.visible_lines, shapely.points(tips)) < 0.03
            for rank in np.flatnonzero(seen):
                way = arms[rank] / np.linalg.norm(arms[rank])
                cost = 3.0 * (1 - min(share, 1.0)) + 0.01 * float(rank)
                yield from _leaders(item, _vec(tips[rank]), _vec(way), (_vec(one), _vec(other)), cost, upright)


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
    direction, across = view.vector(1) / view.scale, view.vector(0) / view.scale
    width, _, height = view.view.solid.size
    found = []
    shares, lifts = (0.5, 0.35, 0.65, 0.2, 0.8, 0.0, 1.0), (0.5, 0.25, 0.0, 0.75, 1.0, -0.25)
    aims = view.paper(np.array([(share * width, 0.0, lift * height) for share in shares for lift in lifts]))
    for away in (12.0, 20.0, 30.0, 42.0):
        for n, aim in enumerate(aims):
            cost = 0.15 * away + 0.4 * (n // len(lifts)) + 0.4 * (n % len(lifts))
            found.append(_sight_offer(aim - away * direction, direction, across, letter, cost))
    return found


def _sight_offer(tip: Array, direction: Array, across: Array, letter: str, cost: float) -> Offer:
    tail = tip - 16.0 * direction

    def build(total: float) -> Candidate:
        at = tail - 3.5 * direction - np.array([0.0, TEXT_HEIGHT * 5 / 7])
        text = Text(letter, _vec(at), 5.0, anchor="middle")
        return Candidate.of([np.stack([tail, tip])], [], [Head(tip, direction, across)], [text], total, bold=True)

    return Offer(((*_vec(tail), *_vec(tip)),), (), cost, build)
