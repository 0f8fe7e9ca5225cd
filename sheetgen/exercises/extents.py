"""How far features reach along the axes of their part, as a description tells it. Millimetres, part frame."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from sheetgen.bank.features import (
    NORMAL_AXIS,
    PLANE_AXES,
    Block,
    Cone,
    Corner,
    Cylinder,
    Dovetail,
    Feature,
    Hole,
    Lug,
    Obround,
    Point,
    Profile,
    Rib,
    Slant,
    Span,
    Vee,
)
from sheetgen.solid import Plane, Solid
from sheetgen.units import SAME_DIRECTION, SAME_POINT

AXES = ("x", "y", "z")

Box = Mapping[str, tuple[float, float]]
"""From, to along each axis; infinite where nothing is said."""

OPEN = (-math.inf, math.inf)


class Extents:
    """The boxes of the ``features`` of a part, and the levels that the part has in truth."""

    def __init__(self, features: Sequence[Feature], solid: Solid) -> None:
        self._boxes = {id(feature): _box(feature) for feature in features}
        self._added = [feature for feature in features if not _cut(feature)]
        self._order = {id(feature): number for number, feature in enumerate(features)}
        self.whole = _union([self._boxes[id(feature)] for feature in self._added])
        self._levels = {axis: _levels(solid, number, self.whole[axis]) for number, axis in enumerate(AXES)}

    def of(self, feature: Feature) -> Box:
        """How far a feature reaches; one that is cut no farther than what it meets."""
        box = self._boxes[id(feature)]
        if not _cut(feature):
            return {axis: (max(box[axis][0], self.whole[axis][0]), min(box[axis][1], self.whole[axis][1])) for axis in AXES}
        met = [shared for other in self._met(feature) if (shared := _shared(box, other))]
        return _union(met) if met else _shared(box, self.whole) or self.whole

    def _met(self, feature: Feature) -> list[Box]:
        """The boxes of what was there before a feature is cut, as far as it meets them."""
        box = self._boxes[id(feature)]
        before = [self._boxes[id(other)] for other in self._added if self._order[id(other)] < self._order[id(feature)]]
        return [other for other in before if _shared(box, other)]

    def through(self, feature: Feature) -> list[str]:
        """The axes along which a feature is cut right through all that it meets."""
        box, met = self._boxes[id(feature)], self._met(feature)
        if not met:
            return []
        whole = _union(met)
        return [axis for axis in AXES
                if box[axis][0] <= whole[axis][0] + SAME_POINT and box[axis][1] >= whole[axis][1] - SAME_POINT]

    def is_base(self, feature: Feature, box: Box) -> bool:
        """Whether it is what other features stand on: the whole part from above, and lower than it."""
        return (len(self._added) > 1 and all(self.full(box, axis) for axis in ("x", "y")) and not self.full(box, "z")
                and _near(box["z"][0], self.whole["z"][0]))

    def full(self, box: Box, axis: str) -> bool:
        """Whether it reaches from one end of the part to the other."""
        return _near(box[axis][0], self.whole[axis][0]) and _near(box[axis][1], self.whole[axis][1])

    def end(self, box: Box, axis: str) -> int | None:
        """The end of the part that it reaches: 0 the low one, 1 the high one; None if it reaches none, or both."""
        low, high = (_near(box[axis][end], self.whole[axis][end]) for end in (0, 1))
        return None if low == high else int(high)

    def off_middle(self, box: Box, axis: str) -> float:
        """How far its middle lies from that of the part, in parts of the part's extent."""
        low, high = self.whole[axis]
        return (sum(box[axis]) - low - high) / 2 / (high - low)

    def size(self, box: Box, axis: str) -> float | None:
        """How far it reaches along an axis; None unless the part has both its ends."""
        low, high = box[axis]
        known = self._levels[axis]
        return round(high - low, 6) if all(any(_near(end, level) for level in known) for end in (low, high)) else None


def mouth_axis(mouth: str) -> tuple[str, bool]:
    """The axis of a hole, and whether its mouth is at the low end."""
    return {"left": ("x", True), "right": ("x", False), "front": ("y", True), "back": ("y", False), "bottom": ("z", True),
            "top": ("z", False)}[mouth]


def _cut(feature: Feature) -> bool:
    return bool(getattr(feature, "cut", isinstance(feature, Hole | Vee | Slant | Corner)))


def _near(a: float, b: float) -> bool:
    return abs(a - b) <= SAME_POINT


def _levels(solid: Solid, axis: int, whole: tuple[float, float]) -> list[float]:
    """Where the part has a plane square to an axis, and where it ends."""
    shift = whole[0]                                   # the solid begins at 0
    found = [surface.offset * float(np.sign(surface.normal[axis])) + shift for surface in solid.surfaces
             if isinstance(surface, Plane) and abs(surface.normal[axis]) > 1 - SAME_DIRECTION]
    return [*found, *whole]


def _shared(a: Box, b: Box) -> dict[str, tuple[float, float]] | None:
    """What two boxes have in common."""
    found = {axis: (max(a[axis][0], b[axis][0]), min(a[axis][1], b[axis][1])) for axis in AXES}
    return found if all(high - low > SAME_POINT for low, high in found.values()) else None


def _union(boxes: Sequence[Box]) -> dict[str, tuple[float, float]]:
    def finite(axis: str, end: int) -> list[float]:
        return [box[axis][end] for box in boxes if math.isfinite(box[axis][end])] or [0.0]
    return {axis: (min(finite(axis, 0)), max(finite(axis, 1))) for axis in AXES}


def _span(span: Span) -> tuple[float, float]:
    return (-math.inf if span[0] is None else span[0], math.inf if span[1] is None else span[1])


def _box(feature: Feature) -> dict[str, tuple[float, float]]:
    """The box of a feature as it is written."""
    if isinstance(feature, Block):
        return {"x": _span(feature.x), "y": _span(feature.y), "z": _span(feature.z)}
    if isinstance(feature, Hole):
        axis, low = mouth_axis(feature.mouth)
        across = [one for one in AXES if one != axis]
        return {axis: _bored(feature, low), **_around(across, feature.at, feature.diameter / 2)}
    if isinstance(feature, Cylinder):
        return {feature.axis: _span(feature.along), **_around(_across(feature.axis), feature.at, feature.diameter / 2)}
    if isinstance(feature, Cone):
        return {feature.axis: _span(feature.along), **_around(_across(feature.axis), (feature.at,), max(feature.diameters) / 2)}
    if isinstance(feature, Corner):
        return dict.fromkeys(AXES, OPEN)
    u, v = _flat(feature)
    first, second = PLANE_AXES[feature.plane]
    return {NORMAL_AXIS[feature.plane]: _span(feature.along), first: u, second: v}


def _bored(hole: Hole, low: bool) -> tuple[float, float]:
    """How far a hole reaches along its axis; not told where its mouth is the outermost."""
    if hole.level is None or hole.depth is None:
        return OPEN if hole.level is None else (hole.level, math.inf) if low else (-math.inf, hole.level)
    return (hole.level, hole.level + hole.depth) if low else (hole.level - hole.depth, hole.level)


def _across(axis: str) -> list[str]:
    return [one for one in AXES if one != axis]


def _around(axes: Sequence[str], at: Sequence[Point], radius: float) -> dict[str, tuple[float, float]]:
    return {axis: (min(point[n] for point in at) - radius, max(point[n] for point in at) + radius) for n, axis in enumerate(axes)}


def _flat(feature: Profile | Lug | Obround | Rib | Vee | Slant | Dovetail) -> tuple[tuple[float, float], tuple[float, float]]:
    """How far a feature reaches in the plane that it is drawn in."""
    if isinstance(feature, Slant):
        return OPEN, OPEN
    if isinstance(feature, Profile):
        return _outline(feature)
    if isinstance(feature, Lug):
        return _tongue(feature)
    if isinstance(feature, Obround):
        half = feature.width / 2
        (u0, v0), (u1, v1) = feature.centres
        return (min(u0, u1) - half, max(u0, u1) + half), (min(v0, v1) - half, max(v0, v1) + half)
    if isinstance(feature, Rib):
        (u, v), (du, dv) = feature.corner, feature.legs
        return (min(u, u + du), max(u, u + du)), (min(v, v + dv), max(v, v + dv))
    return _opening(feature)


def _opening(feature: Vee | Dovetail) -> tuple[tuple[float, float], tuple[float, float]]:
    """A vee or a dovetail, which widen or narrow the way they open."""
    if isinstance(feature, Vee):
        (u, v), half, far = feature.tip, math.inf, math.inf
    else:
        (u, v), far = feature.centre, feature.height
        half = feature.width / 2
    low, high = {"up": (0.0, far), "right": (0.0, far), "down": (-far, 0.0), "left": (-far, 0.0)}[feature.toward]
    if isinstance(feature, Dovetail) and not feature.cut:          # a tongue is told by its crest, and stands below it
        low, high = -high, -low
    along = feature.toward in ("up", "down")
    return ((u - half, u + half), (v + low, v + high)) if along else ((u + low, u + high), (v - half, v + half))


def _tongue(lug: Lug) -> tuple[tuple[float, float], tuple[float, float]]:
    half = lug.width / 2
    (u, v), foot = lug.centre, lug.foot
    low, high = (-math.inf, math.inf) if foot is None else (foot, foot)
    reach = {"left": (u - half, high), "right": (low, u + half), "down": (v - half, high), "up": (low, v + half)}[lug.toward]
    return (reach, (v - half, v + half)) if lug.toward in ("left", "right") else ((u - half, u + half), reach)


def _outline(profile: Profile) -> tuple[tuple[float, float], tuple[float, float]]:
    """A profile with its arcs: where they bulge, as far as they go."""
    points = [profile.start]
    for piece in profile.pieces:
        if piece.centre is not None:
            points += _bulge(points[-1], piece.end, piece.centre, piece.turn == "left")
        points.append(piece.end)
    us, vs = zip(*points, strict=True)
    return (min(us), max(us)), (min(vs), max(vs))


def _bulge(start: Point, end: Point, centre: Point, left: bool) -> list[Point]:
    """The points of an arc that lie farthest out along the plane's axes."""
    first, last = (math.atan2(point[1] - centre[1], point[0] - centre[0]) for point in (start, end))
    if not left:
        first, last = last, first
    sweep = (last - first) % (2 * math.pi)
    radius = math.dist(start, centre)
    quarters = [number * math.pi / 2 for number in range(4)]
    return [(centre[0] + radius * math.cos(turn), centre[1] + radius * math.sin(turn))
            for turn in quarters if (turn - first) % (2 * math.pi) < sweep]
