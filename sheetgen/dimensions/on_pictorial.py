"""Where a size can stand on the isometric pictorial: the ways offered to the search. Sheet millimetres.

Dimension and extension lines run along the isometric axes, figures lie in the plane of both.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from sheetgen.dimensions.angles import angle_candidates
from sheetgen.dimensions.candidate import FIRST_TIER, GAP, NEXT_TIER, TEXT_HEIGHT, Candidate, Head, leader, linear, reading
from sheetgen.dimensions.ends import EndRef
from sheetgen.dimensions.items import Item
from sheetgen.dimensions.placed import PlacedView
from sheetgen.ink import Text
from sheetgen.projection.centre import OVERSHOOT as CENTRE_OVERSHOOT
from sheetgen.solid import Plane, coaxial
from sheetgen.solid.surfaces import Array

TIERS = 5
REACH = 0.07             # cost per mm of extension line
TIER = 1.0               # cost per tier outwards
LOCAL = 1.5              # cost of a dimension line beside its feature, not beyond the part
LEADER_LENGTHS = (9.0, 13.0, 18.0, 24.0, 31.0, 39.0)
SEEN_SHARE = 0.3         # a rim of which less is seen does not show where its centre is


def pictorial_candidates(view: PlacedView, item: Item, *, upright: bool = False) -> list[Candidate]:
    """All ways to put an item on the pictorial. ``upright``: figures stand upright instead of lying in the isometric planes."""
    if item.kind == "span":
        return list(_span(view, item, upright))
    if item.kind == "angle":
        return angle_candidates(view, item)
    return list(_round(view, item, upright))


def _span(view: PlacedView, item: Item, upright: bool) -> Iterator[Candidate]:
    axis = item.main.axis
    assert axis is not None
    one, other = (_anchors(view, end, axis) for end in item.main.ends)
    for outward_axis in (a for a in range(3) if a != axis):
        third = 3 - axis - outward_axis
        for level in sorted(_levels(one, third) & _levels(other, third)):
            for sign in (-1, 1):
                p = _farthest(one, third, level, outward_axis, sign)
                q = _farthest(other, third, level, outward_axis, sign)
                yield from _at(view, item, (p, q), axis, outward_axis, sign, upright)


Anchor = tuple[Array, float]
"""A point (3,) and how far, in part mm, a centre line reaches from it (0 for a corner)."""


def _anchors(view: PlacedView, end: EndRef, axis: int) -> list[Anchor]:
    solid = view.view.solid
    first = solid.surfaces[end.surfaces[0]]
    if len(end.surfaces) > 1 or isinstance(first, Plane):
        return [(point, 0.0) for point in view.sight.anchors(end, axis)]
    found = []
    for k, surface in enumerate(solid.surfaces):
        if isinstance(surface, Plane) or not coaxial(first, surface):
            continue
        for level, radius, share in view.sight.rims(k):
            if share >= SEEN_SHARE:
                # Levels of coaxial surfaces count from their own points.
                found.append((surface.point + level * surface.direction, radius + CENTRE_OVERSHOOT / view.scale))
    return found


def _levels(anchors: list[Anchor], axis: int) -> set[float]:
    return {round(float(point[axis]), 5) for point, _ in anchors}


def _farthest(anchors: list[Anchor], third: int, level: float, outward: int, sign: int) -> Anchor:
    on = [anchor for anchor in anchors if abs(float(anchor[0][third]) - level) < 1e-4]
    return max(on, key=lambda anchor: (sign * float(anchor[0][outward]) + anchor[1], anchor[1]))


def _at(
    view: PlacedView, item: Item, ends: tuple[Anchor, Anchor], axis: int, outward_axis: int, sign: int, upright: bool
) -> Iterator[Candidate]:
    direction = view.vector(outward_axis) / view.scale * sign
    far = float((view.view.solid.size if sign > 0 else np.zeros(3))[outward_axis])
    near = max(sign * float(point[outward_axis]) + reach for point, reach in ends)
    beyond = [(sign * far + (FIRST_TIER + NEXT_TIER * t) / view.scale, TIER * t) for t in range(TIERS)]
    local = [(near + (FIRST_TIER - 1 + 4 * t) / view.scale, LOCAL + t) for t in range(3) if near + FIRST_TIER / view.scale < sign * far - 1e-6]
    centres = [centre for point, reach in ends if reach > 0 for centre in _centre_cross(view, point, reach, axis)]
    for level, cost in (*beyond, *local):
        points = []
        for point, _ in ends:
            on_line = point.copy()
            on_line[outward_axis] = sign * level
            points.append(view.paper(on_line)[0])
        starts = [
            view.paper(point)[0] + (max(reach * view.scale - GAP, 0.0)) * direction if reach > 0 else view.paper(point)[0]
            for point, reach in ends
        ]
        length = sum(float((p - s) @ direction) for p, s in zip(points, starts, strict=True))
        if min(float((p - s) @ direction) for p, s in zip(points, starts, strict=True)) < GAP:
            continue
        yield from linear(
            points[0], points[1], (starts[0], starts[1]), direction, item.lines[0], cost + REACH * length, upright=upright,
            centres=centres,
        )


def _centre_cross(view: PlacedView, centre: Array, reach: float, axis: int) -> list[Array]:
    """The two centre lines of a rim, in its plane, as far as ``reach`` part mm."""
    del axis
    solid = view.view.solid
    for surface in solid.surfaces:
        if not isinstance(surface, Plane) and float(np.linalg.norm(np.cross(centre - surface.point, surface.direction))) < 1e-6:
            k = int(np.argmax(np.abs(surface.direction)))
            middle = view.paper(centre)[0]
            arms = [view.vector(a) * reach for a in range(3) if a != k]
            return [np.stack([middle - arm, middle + arm]) for arm in arms]
    return []


def _round(view: PlacedView, item: Item, upright: bool) -> Iterator[Candidate]:
    solid = view.view.solid
    lines = shapely.union_all([shapely.LineString(points) for points in view.visible])
    for k in item.rounds:
        surface = solid.surfaces[k]
        assert not isinstance(surface, Plane)
        axis = int(np.argmax(np.abs(surface.direction)))
        one, other = (view.vector(a) / view.scale for a in range(3) if a != axis)
        for level, radius, share in view.sight.rims(k):
            centre = surface.point + level * surface.direction
            for rank, angle in enumerate(np.arange(7.5, 360.0, 15.0)):
                arm = np.cos(np.radians(angle)) * one + np.sin(np.radians(angle)) * other
                tip = view.paper(centre)[0] + radius * view.scale * arm
                if shapely.distance(lines, shapely.Point(tip)) > 0.03:
                    continue
                yield from _leaders(item, tip, arm / np.linalg.norm(arm), (one, other), 3.0 * (1 - min(share, 1.0)) + 0.01 * rank, upright)


def _leaders(item: Item, tip: Array, way: Array, plane: tuple[Array, Array], cost: float, upright: bool) -> Iterator[Candidate]:
    for level, other in ((plane[0], plane[1]), (plane[1], plane[0])):
        if abs(float(level[0])) < 1e-9:
            continue                                     # an upright landing would stand the figures on end
        along, up = reading(level, other)
        if upright:
            along, up = np.array([1.0, 0.0]), np.array([0.0, 1.0])
        for length in LEADER_LENGTHS:
            yield leader(tip, way, length, item.lines, cost + 0.12 * length, landing=along, up=up, across=np.array([-way[1], way[0]]))


def sight_arrow(view: PlacedView, letter: str) -> list[Candidate]:
    """Ways to place the arrow that shows from where the front view is seen, with its letter at the tail."""
    direction = view.vector(1) / view.scale
    found = []
    width, _, height = view.view.solid.size
    across = view.vector(0) / view.scale
    for away in (12.0, 20.0, 30.0, 42.0):
        for i, share in enumerate((0.5, 0.35, 0.65, 0.2, 0.8, 0.0, 1.0)):
            for j, lift in enumerate((0.5, 0.25, 0.0, 0.75, 1.0, -0.25)):
                aim = view.paper(np.array([share * width, 0.0, lift * height]))[0]
                tip = aim - away * direction
                tail = tip - 16.0 * direction
                at = tail - 3.5 * direction - np.array([0.0, TEXT_HEIGHT * 5 / 7])
                text = Text(letter, tuple(at.tolist()), 5.0, anchor="middle")
                cost = 0.15 * away + 0.4 * i + 0.4 * j
                found.append(Candidate.of([np.stack([tail, tip])], [], [Head(tip, direction, across)], [text], cost, bold=True))
    return found
