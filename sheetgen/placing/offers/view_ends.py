"""Where the ends of sizes show on the front, top and side views, and where extension lines start from them. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np

from sheetgen.geometry import Array
from sheetgen.measures import EndRef
from sheetgen.placing.candidate import GAP, Vec
from sheetgen.placing.offers.prolonged import prolonged
from sheetgen.placing.weights import Weights
from sheetgen.sight import PlacedView
from sheetgen.solid import Plane, Solid
from sheetgen.units import EDGE_ON, SAME_PLACE

Key = tuple[tuple[int, ...], int]
"""The surfaces of an end, and the axis along which it is measured."""

SIDES = (1, -1)
"""Of a view: towards greater and lesser places on the sheet."""


class Shown(NamedTuple):
    """Where an end shows in a view: for each of SIDES where the extension line from it starts, and the cost of that; the axis of
    the sheet measured along, ``way``; its ``points`` (m, 2) there, whether they are ``seen``, and of an ``edge``, not an axis;
    of that, for each of SIDES, how many mm ``longer`` its centre line can be drawn."""

    starts: tuple[Vec, Vec]
    costs: tuple[float, float]
    cost: float
    way: int
    points: Array
    seen: bool
    edge: bool
    longer: tuple[float, float] = (0.0, 0.0)


def way_of(view: PlacedView, axis: int) -> int | None:
    """The axis of the sheet, 0 or 1, along which a size along an axis of the part is measured; None if that is seen end-on."""
    across, up = (abs(run) for run in view.unit(axis))
    if across + up < EDGE_ON:
        return None
    return 0 if across > up else 1


def extents_of(solid: Solid, ends: Mapping[Key, EndRef]) -> dict[int, Array]:
    """Of round surfaces that are ends, the ends (2, 3) of their axes; none of one that was cut away."""
    found = {}
    for surfaces, _ in ends:
        surface = solid.surfaces[surfaces[0]]
        if len(surfaces) == 1 and not isinstance(surface, Plane) and surfaces[0] not in found:
            k = int(np.argmax(np.abs(surface.direction)))
            along = solid.vertices[solid.triangles[solid.owner == surfaces[0]], k]
            if not len(along):
                continue
            axis = np.stack([surface.point, surface.point])
            axis[:, k] = along.min(), along.max()
            found[surfaces[0]] = axis
    return found


def ends_shown(
    view: PlacedView, ends: Mapping[Key, EndRef], extents: Mapping[int, Array], weights: Weights
) -> dict[Key, Shown]:
    """Where the ends of spans show that are measured along an axis which the view shows; ``extents``: of round ones."""
    ways, found = [way_of(view, axis) for axis in range(3)], {}
    for (surfaces, axis), end in ends.items():
        way = ways[axis]
        at = None if way is None else _end_points(view, end, axis, extents, weights)
        if way is None or at is None:
            continue
        edge, points = isinstance(view.view.solid.surfaces[surfaces[0]], Plane), at[0].tolist()
        (one, past_one), (other, past_other) = (outermost(view, points, way, side, edge=edge) for side in SIDES)
        costs = weights.past_stranger * past_one, weights.past_stranger * past_other
        found[surfaces, axis] = Shown((one, other), costs, at[1], way, at[0], at[1] < weights.hidden_end, edge)
    return _with_longer(view, found)


def _with_longer(view: PlacedView, found: dict[Key, Shown]) -> dict[Key, Shown]:
    """The same, of axes with how far their centre lines can be drawn on."""
    axes = [key for key, end in found.items() if not end.edge]
    if not axes:
        return found
    starts = np.array([found[key].starts for key in axes])
    ways = np.zeros_like(starts)
    for k, key in enumerate(axes):
        ways[k, :, 1 - found[key].way] = SIDES
    longer = prolonged(view, starts.reshape(-1, 2), ways.reshape(-1, 2))[:, 0].reshape(-1, 2).tolist()
    return found | {key: found[key]._replace(longer=(one, other)) for key, (one, other) in zip(axes, longer, strict=True)}


def _end_points(
    view: PlacedView, end: EndRef, axis: int, extents: Mapping[int, Array], weights: Weights
) -> tuple[Array, float] | None:
    """Points (m, 2) on the sheet where an end shows, and the cost of using them; None if it does not show."""
    surface = view.view.solid.surfaces[end.surfaces[0]]
    if len(end.surfaces) == 1 and not isinstance(surface, Plane):
        if end.surfaces[0] not in extents or not view.sight.draws(end.surfaces[0]):
            return None
        along = view.view.frame.flat_vectors(surface.direction)
        if float(np.linalg.norm(along)) < EDGE_ON:
            return view.paper(surface.point), 0.0
        return view.paper(extents[end.surfaces[0]]), weights.side_axis
    for seen, cost in ((True, 0.0), (False, weights.hidden_end)):
        # All of a face square to the axis is an end; of an edge its own points are.
        if len(end.surfaces) == 1:
            points = view.holds(end.surfaces[0], seen=seen)
        else:
            points = view.paper(view.sight.anchors(end, axis, seen=seen))
            points = points[view.at_a_line_end(points)] if seen else points
        if len(points):
            return points, cost
    return None


def outermost(view: PlacedView, points: Sequence[Sequence[float]], way: int, side: int, *, edge: bool) -> tuple[Vec, bool]:
    """The anchor from which an extension line of an ``edge`` or an axis starts: the farthest out, past any line that it would run
    along; and whether that is one of the other kind."""
    farthest = max(points, key=lambda point: side * point[1 - way])
    at, start = farthest[way], side * farthest[1 - way]
    past_stranger = False
    for run in view.runs_between(1 - way, at - SAME_PLACE, at + SAME_PLACE):
        end = side * (run.high if side > 0 else run.low)
        # A centre line that sticks out of an edge belongs to it: half a bore.
        begin = end if run.edge else side * (run.low if side > 0 else run.high)
        past_stranger |= run.edge != edge and begin > start + GAP
        start = max(start, end)
    # It does not begin on a line that lies across its way just there, but past it.
    near, far = sorted((side * (start + SAME_PLACE), side * (start + 2 * GAP - SAME_PLACE)))
    ahead = [side * run.level for run in view.runs_between(way, near, far) if run.low < at < run.high]
    start = max([start, *ahead])
    return ((at, side * start) if way == 0 else (side * start, at)), past_stranger
