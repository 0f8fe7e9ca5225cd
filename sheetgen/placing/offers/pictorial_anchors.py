"""Where extension lines may begin on the isometric pictorial: corners, and crossings of centre lines. Millimetres of the part."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

import numpy as np

from sheetgen.geometry import Array
from sheetgen.measures import EndRef
from sheetgen.placing.weights import Weights
from sheetgen.projection import seen_points
from sheetgen.projection.centre import OVERSHOOT as CENTRE_OVERSHOOT
from sheetgen.projection.centre import STICKS_OUT
from sheetgen.sight import PlacedView, Rim
from sheetgen.sight.rims import seen_rim_points
from sheetgen.solid import AxisGroup, Plane
from sheetgen.solid.surfaces import Round
from sheetgen.units import EDGE_ON, EXACT, SAME_POINT

LEAST_OF_CIRCLE = 0.3    # of a whole turn: what is left of a rim must show where its centre is (judgement)
ALL_SEEN = 0.99          # of a rim: nothing stands before it
SHOWN = 2.0              # mm on paper of a centre line's end that must show for an extension line to start there

Point = tuple[float, float, float]
Line = tuple[Array, Array]
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


def anchors_of(view: PlacedView, ends: Mapping[Key, EndRef], weights: Weights) -> dict[Key, list[Anchor]]:
    """The anchors of each end; of rims that are hidden in places it is told where extension lines would start behind the part."""
    return _with_covered(view, {key: _anchors(view, end, key[1], weights) for key, end in ends.items()}, weights)


def _marked(rim: Rim, over: float, cost: float) -> Anchor:
    """An anchor where centre lines cross: they reach along an axis of the part if they run along it."""
    arms, reach = rim.arms(over), [0.0, 0.0, 0.0]
    for x, y, z in (arm.tolist() for arm in arms):
        for axis, (along, *aside) in enumerate(((x, y, z), (y, x, z), (z, x, y))):
            if math.hypot(*aside) < EXACT:
                reach[axis] = max(reach[axis], abs(along))
    x, y, z = reach
    return Anchor(_point(rim.centre), tuple(arms), (x, y, z), None, cost, in_part=rim.part < ALL_SEEN)


def _anchors(view: PlacedView, end: EndRef, axis: int, weights: Weights) -> list[Anchor]:
    solid = view.view.solid
    first = solid.surfaces[end.surfaces[0]]
    if len(end.surfaces) > 1 or isinstance(first, Plane):
        seams = view.sight.tangent_ends
        return [Anchor((x, y, z), seam=seams.get((x, y, z), -1)) for x, y, z in view.sight.anchors(end, axis).tolist()]
    turned = solid.about_axis_of(end.surfaces[0]).surfaces
    rims = _whole_enough([rim for k in turned for rim in view.sight.rims[k]])
    if not rims:
        return _stems(view, first, turned)
    # Centre lines belong in the foremost rim: in one behind it they run through what stands before them.
    depth = _depths(view, first.direction, rims)
    return [
        _marked(rim, CENTRE_OVERSHOOT / view.scale, 0.0 if far > max(depth) - SAME_POINT else weights.rear_rim)
        for rim, far in zip(rims, depth, strict=True)
    ]


def _whole_enough(rims: list[Rim]) -> list[Rim]:
    """Rims of which enough exists that a centre mark in them does not hang in the air; all, if of none."""
    return [rim for rim in rims if rim.share / rim.part >= LEAST_OF_CIRCLE] or rims


def _depths(view: PlacedView, direction: Array, rims: Sequence[Rim]) -> list[float]:
    """How far towards the reader rims about one axis lie, along its ``direction`` (3,)."""
    sense = np.sign(direction @ view.view.frame.toward)
    return [float(rim.centre @ direction * sense) for rim in rims]


def marks_of_alike(view: PlacedView, groups: Iterable[tuple[Sequence[int], bool]], located: Collection[int]) -> list[Line]:
    """The centre lines (2, 3) of holes and bosses, of all that are alike or of none. ``groups``: the round surfaces of each, and
    whether it has a diameter; ``located``: those of which the axis is an end of a size, which marks one of the group."""
    found = list[Line]()
    for group, has_diameter in groups:
        axes = [view.view.solid.about_axis_of(k) for k in group]
        marked = any(k in located for axis in axes for k in axis.surfaces)
        # A single one that is located has its mark with that size. Of several one has, and the rest are to be like it.
        if (has_diameter or marked) and not (marked and len(group) == 1):
            found += [line for axis in axes for line in _mark_of(view, axis)]
    return found


def _mark_of(view: PlacedView, axis: AxisGroup) -> list[Line]:
    """The centre lines (2, 3) in the foremost rim about an axis, the smallest there, of those that are whole circles if there are
    any: in one that a slot cuts they would hang in the air over it. None if no rim shows."""
    rims = _whole_enough([rim for turned in axis.surfaces for rim in view.sight.rims[turned]])
    rims = [rim for rim in rims if rim.share / rim.part > ALL_SEEN] or rims
    if not rims:
        return []
    depth = _depths(view, axis.direction, rims)
    front = [rim for rim, far in zip(rims, depth, strict=True) if far > max(depth) - SAME_POINT]
    rim = min(front, key=lambda rim: float(rim.a @ rim.a))
    return [(rim.centre - arm, rim.centre + arm) for arm in rim.arms(CENTRE_OVERSHOOT / view.scale)]


def _with_covered(view: PlacedView, anchors: dict[Key, list[Anchor]], weights: Weights) -> dict[Key, list[Anchor]]:
    """The anchors, and of rims that are hidden in places where extension lines would start behind the part."""
    doubtful = [anchor for several in anchors.values() for anchor in several if anchor.in_part]
    if not doubtful:
        return anchors
    ways = [(axis, sign) for axis in range(3) for sign in (-1, 1)]
    unit, shorts = np.eye(3), (0.0, SHOWN / view.scale)
    away = [
        [np.zeros(3), *(sign * max(anchor.reach[axis] - short, 0.0) * unit[axis] for short in shorts for axis, sign in ways)]
        for anchor in doubtful]
    places = np.array([np.array(anchor.point) + aside for anchor, aside in zip(doubtful, away, strict=True)])
    shown = seen_points(view.view, places.reshape(-1, 3)).reshape(len(places), -1)
    both = shown[:, 1:1 + len(ways)] & shown[:, 1 + len(ways):]
    shows: Iterator[list[bool]] = iter(np.hstack([shown[:, :1], both]).tolist())

    def known(anchor: Anchor) -> Anchor:
        if not anchor.in_part:
            return anchor
        centre, *ends = next(shows)
        covered = frozenset(way for way, seen in zip(ways, ends, strict=True) if not seen)
        return anchor._replace(covered=covered, cost=anchor.cost + (0.0 if centre else weights.unmarked))

    return {key: [known(anchor) for anchor in several] for key, several in anchors.items()}


def _stems(view: PlacedView, surface: Round, turned: Sequence[int]) -> list[Anchor]:
    """An axis that comes out of the part through no flat face is drawn out towards the reader; its end is the anchor."""
    points = np.concatenate([seen_rim_points(view.sight, k) for k in turned])
    sight = float(surface.direction @ view.view.frame.toward)
    if not len(points) or abs(sight) < EDGE_ON:
        return []
    way = surface.direction * np.sign(sight)
    foot = surface.point + float(((points - surface.point) @ way).max()) * way
    tip = foot + STICKS_OUT / view.scale * way
    return [Anchor(_point(tip), stem=np.stack([foot, tip]))]

def _point(place: Array) -> Point:
    x, y, z = place.tolist()
    return x, y, z
