"""Where a length might be shown: lanes, in which its extension lines run side by side to a dimension line across them.

On a view from the side a lane runs one of two ways across it, and all that shows of an end lies in it; on the pictorial lanes run
along the axes of the part, one for each level at which both ends show. Millimetres of the part at full size.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np

from sheetgen.measures import EndRef, Measure
from sheetgen.projection.centre import OVERSHOOT, STICKS_OUT
from sheetgen.sight import PlacedView
from sheetgen.sight.anchors import Rail
from sheetgen.sight.rims import seen_rim_points
from sheetgen.solid import Plane
from sheetgen.units import EDGE_ON, SAME_LEVEL, SAME_POINT

Key = tuple[tuple[int, ...], int]
"""The surfaces of an end, and the axis along which it is measured."""

NOWHERE = (0.0, 0.0, 0.0)
"""Reach of a point without centre lines."""

MIDWAY = 4.0
"""mm that it is worth that an extension line starts midway along an edge, as no corner is level with the other end."""

SIDE_AXIS = 4.0
"""mm that it is worth that an axis is located where its circle does not show."""


class Start(NamedTuple):
    """Where an extension line can start: its place along the lane; how far a centre line goes on from it to either side; its
    price."""

    at: float
    arm: float = 0.0
    price: float = 0.0


class LaneEnd(NamedTuple):
    """An end in a lane: where extension lines can start, and the edges, from where to where, that an arrow can touch. ``corner``
    is its place 0 on the drawing."""

    starts: Sequence[Start]
    edges: Sequence[tuple[float, float]]
    corner: tuple[float, float]


class Lane(NamedTuple):
    """Both ends, and the part from ``low`` to ``high``; ``way``: a millimetre of it on the drawing."""

    one: LaneEnd
    other: LaneEnd
    low: float
    high: float
    way: tuple[float, float]


class _Shown(NamedTuple):
    """An end on the pictorial: points (x, y, z) from which extension lines can start, each with how far its centre lines reach
    along x, y and z; and its seen straight edges along x, y and z."""

    points: Sequence[tuple[Sequence[float], Sequence[float]]]
    edges: Sequence[Sequence[Rail]] = ((), (), ())


@dataclass(frozen=True, eq=False)
class Showing:
    """A view, and what it shows of ends, each worked out once."""

    view: PlacedView
    _on_view: dict[Key, LaneEnd | None] = field(default_factory=dict)
    _on_pictorial: dict[Key, _Shown] = field(default_factory=dict)

    def in_lane(self, end: EndRef, axis: int, way: int) -> LaneEnd | None:
        """An end in the one lane of a view from the side, of which ``way`` is the axis of the sheet measured along."""
        key = end.surfaces, axis
        if key not in self._on_view:
            surface = self.view.view.solid.surfaces[end.surfaces[0]]
            flat = isinstance(surface, Plane)
            self._on_view[key] = _flat_end(self.view, end, axis, way) if flat else _axis_end(self.view, end, way)
        return self._on_view[key]

    def on_pictorial(self, end: EndRef, axis: int) -> _Shown:
        """An end on the pictorial."""
        key = end.surfaces, axis
        if key not in self._on_pictorial:
            surface = self.view.view.solid.surfaces[end.surfaces[0]]
            flat = isinstance(surface, Plane)
            self._on_pictorial[key] = _flat_shown(self.view, end, axis) if flat else _axis_shown(self.view, end.surfaces[0])
        return self._on_pictorial[key]


def lanes_on_view(showing: Showing, length: Measure) -> Iterator[Lane]:
    """The lane of a length on a view from the side; none where it is seen end-on, or an end is hidden."""
    view, axis = showing.view, length.axis
    assert axis is not None
    across, up = (abs(run) for run in view.unit(axis))
    if across + up < EDGE_ON:
        return
    way = 0 if across > up else 1
    one, other = (showing.in_lane(end, axis, way) for end in length.ends)
    if one is not None and other is not None:
        yield Lane(one, other, view.box[1 - way], view.box[3 - way], (0.0, 1.0) if way == 0 else (1.0, 0.0))


def _flat_end(view: PlacedView, end: EndRef, axis: int, way: int) -> LaneEnd | None:
    points = view.paper(view.sight.anchors(end, axis))
    if not len(points):
        return None
    at, edges = float(points[0, way]), view.edges_at(points, way)
    starts = {*points[:, 1 - way].tolist(), *(place for edge in edges for place in edge)}
    return LaneEnd([Start(place) for place in sorted(starts)], edges, (at, 0.0) if way == 0 else (0.0, at))


def _axis_end(view: PlacedView, end: EndRef, way: int) -> LaneEnd:
    """An axis: from the centre marks where it is seen as a circle, else from where its centre line ends."""
    solid, number = view.view.solid, end.surfaces[0]
    surface = solid.surfaces[number]
    assert not isinstance(surface, Plane)
    reach = view.paper(solid.vertices[solid.triangles[solid.owner == number]].reshape(-1, 3))[:, 1 - way]
    low, high, at = float(reach.min()), float(reach.max()), view.paper(surface.point)[0].tolist()
    if math.hypot(*view.view.frame.flat_vectors(surface.direction).tolist()) < EDGE_ON:
        starts = [Start(at[1 - way], (high - low) / 2 + OVERSHOOT)]
    else:
        starts = [Start(place, OVERSHOOT, SIDE_AXIS) for place in (low, high)]
    return LaneEnd(starts, (), (at[0], 0.0) if way == 0 else (0.0, at[1]))


def lanes_on_pictorial(showing: Showing, length: Measure) -> Iterator[Lane]:
    """The lanes of a length on the pictorial; none where an end does not show."""
    view, axis = showing.view, length.axis
    assert axis is not None
    shown = [showing.on_pictorial(end, axis) for end in length.ends]
    for outward in (k for k in range(3) if k != axis):
        third, levels = 3 - axis - outward, list[float]()
        for level in sorted(level for end in shown for level in _levels(end, outward, third)):
            if not levels or level > levels[-1] + SAME_LEVEL:
                levels.append(level)
        for level in levels:
            one, other = (_at_level(view, of, end, (axis, outward, third), level)
                          for of, end in zip(shown, length.ends, strict=True))
            if (one.starts or one.edges) and (other.starts or other.edges):
                yield Lane(one, other, 0.0, float(view.view.solid.size[outward]), view.unit(outward))


def _flat_shown(view: PlacedView, end: EndRef, axis: int) -> _Shown:
    points = [(point, NOWHERE) for point in view.sight.anchors(end, axis).tolist()]
    return _Shown(points, [view.sight.rails([(end, axis)], along)[0] if along != axis else () for along in range(3)])


def _axis_shown(view: PlacedView, number: int) -> _Shown:
    """An axis: its centre in the foremost rim, or the end of a centre line that comes out of the part towards the reader."""
    surface = view.view.solid.surfaces[number]
    assert not isinstance(surface, Plane)
    turned = view.view.solid.about_axis_of(number).surfaces
    rims = [rim for k in turned for rim in view.sight.rims[k]]
    toward = surface.direction * np.sign(float(surface.direction @ view.view.frame.toward))
    if rims:
        foremost = max(rims, key=lambda rim: float(rim.centre @ toward))
        reach = np.zeros(3)
        for arm in np.abs(foremost.arms(OVERSHOOT)):
            along = int(arm.argmax())
            reach[along] = max(reach[along], arm[along] if arm.sum() - arm[along] < SAME_POINT else 0.0)
        return _Shown([(foremost.centre.tolist(), reach.tolist())])
    points = np.concatenate([seen_rim_points(view.sight, k) for k in turned])
    if not len(points) or not toward.any():
        return _Shown(())
    out = float(((points - surface.point) @ toward).max()) + STICKS_OUT
    return _Shown([((surface.point + out * toward).tolist(), NOWHERE)])


def _levels(end: _Shown, outward: int, third: int) -> Iterator[float]:
    yield from (point[third] for point, _ in end.points)
    yield from (point[third] for point, _, _ in end.edges[outward])


def _at_level(view: PlacedView, shown: _Shown, end: EndRef, axes: tuple[int, int, int], level: float) -> LaneEnd:
    """What an end has at a level of the third axis: corners there; else the places where edges pass it."""
    axis, outward, third = axes
    starts = [Start(point[outward], reach[outward]) for point, reach in shown.points if abs(point[third] - level) < SAME_LEVEL]
    if not starts:
        starts = [Start(point[outward], 0.0, MIDWAY) for point, low, high in shown.edges[third] if low < level < high]
    edges = [(low, high) for point, low, high in shown.edges[outward] if abs(point[third] - level) < SAME_LEVEL]
    along, across = view.unit(axis), view.unit(third)
    at = float(end.point[axis])
    return LaneEnd(starts, edges, (at * along[0] + level * across[0], at * along[1] + level * across[1]))
