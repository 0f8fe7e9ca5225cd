"""Where a size can stand on the front, top and side views: the ways offered to the search. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.dimensions.angles import angle_offers
from sheetgen.dimensions.candidate import FIRST_TIER, GAP, NEXT_TIER, Vec, unit_at
from sheetgen.dimensions.ends import EndRef
from sheetgen.dimensions.items import Item
from sheetgen.dimensions.leaders import Leader, Leaders
from sheetgen.dimensions.linear import Linear, Lines
from sheetgen.dimensions.offers import Offer, Offers, gathered, table_of
from sheetgen.dimensions.placed import PlacedView
from sheetgen.dimensions.rims import on_seen_rim, rims_of
from sheetgen.solid import Cylinder, Plane
from sheetgen.solid.surfaces import Array

TIERS = 5
"""Dimension lines side by side on one side of a view: more would be no drawing."""

HIDDEN_END = 60.0        # cost of measuring to a hidden line: a last resort
SIDE_AXIS = 12.0         # cost of locating an axis where it is not seen as a circle
REACH = 0.06             # cost per mm of extension line
TIER = 1.2               # cost per tier outwards
SHAPE = 6.0              # cost of a view that shows nothing of the feature's shape
LONGITUDINAL = 7.0       # cost of a diameter across a cylinder's side, not at its circle
WELL_INSIDE = 4.0        # mm from the view's edge that a dimension line within its box keeps
INNER = 9.0              # cost of a dimension line within the view's own box

LEADER_ANGLES = (45.0, 135.0, 315.0, 225.0, 60.0, 120.0, 300.0, 240.0, 30.0, 150.0, 330.0, 210.0, 75.0, 105.0, 285.0, 255.0)
LEADER_LENGTHS = (8.0, 12.0, 17.0, 23.0, 30.0, 38.0, 47.0)


@dataclass(frozen=True, eq=False)
class _Numbered:
    """An item and its number."""

    number: int
    item: Item


def view_offers(views: Sequence[PlacedView], items: Sequence[Item], *, upright: bool = False) -> Offers:
    """All ways to put items on any of the views. ``upright``: the unidirectional method."""
    lines, leaders, single = Lines(upright), Leaders(), list[Offer]()
    for number, item in enumerate(items):
        size = _Numbered(number, item)
        for view in views:
            if item.kind == "span":
                lines.rows.extend(_span(view, size))
            elif item.kind == "angle":
                single += angle_offers(view, item, number)
            else:
                leaders.rows.extend(_round(view, size))
                lines.rows.extend(_across(view, size))
    return gathered([lines.offers(), leaders.offers(), table_of(single)])


def _span(view: PlacedView, size: _Numbered) -> list[Linear]:
    axis = size.item.main.axis
    assert axis is not None
    across = view.vector(axis)
    if float(np.linalg.norm(across)) < 1e-9:
        return []
    way = 0 if abs(across[0]) > abs(across[1]) else 1          # measured along the sheet's x or y
    ends = [_end_points(view, end, axis) for end in size.item.main.ends]
    if any(points is None for points in ends):
        return []
    (one, cost_one), (other, cost_other) = (end for end in ends if end is not None)
    return _between(view, size, (one, other), way, cost_one + cost_other + _shape_cost(view, size.item))


def _shape_cost(view: PlacedView, item: Item) -> float:
    """Cost of a view that does not show the shape of the feature measured: the share of its faces that are not seen edge-on.

    The feature is the smaller of those that make the two ends (US school lists, trade rule: where its shape shows best).
    """
    solid, toward = view.view.solid, view.view.frame.toward
    owners = [owner for end in item.main.ends for k in end.surfaces for owner in solid.features[k]]
    faces = {owner: [k for k, names in enumerate(solid.features) if owner in names] for owner in owners}
    mine = min(faces.values(), key=len, default=[])
    edge_on = 0
    for surface in (solid.surfaces[k] for k in mine):
        along = surface.normal if isinstance(surface, Plane) else surface.direction
        cosine = abs(float(along @ toward))
        edge_on += cosine < 1e-9 if isinstance(surface, Plane) else cosine > 1 - 1e-9
    return SHAPE * (1 - edge_on / max(1, len(mine)))


def _levels(edge: float, starts: Sequence[Vec], k: int, side: int) -> list[tuple[float, float]]:
    """Where the dimension line may stand: tiers outside the view, and nearer ones where the feature lies deep inside."""
    levels = [(edge + side * (FIRST_TIER + NEXT_TIER * tier), TIER * tier) for tier in range(TIERS)]
    nearest = max(side * start[k] for start in starts) * side
    if side * (edge - nearest) > FIRST_TIER:
        inner = [(nearest + side * (FIRST_TIER - 1 + 4 * step), INNER + step) for step in range(3)]
        levels += [(level, cost) for level, cost in inner if side * (edge - level) > WELL_INSIDE]
    return levels


def _end_points(view: PlacedView, end: EndRef, axis: int) -> tuple[Array, float] | None:
    """Points (m, 2) on the sheet where an end shows, and the cost of using them; None if it does not show."""
    solid = view.view.solid
    surface = solid.surfaces[end.surfaces[0]]
    if len(end.surfaces) == 1 and not isinstance(surface, Plane):
        along = view.view.frame.flat_vectors(surface.direction)
        if float(np.linalg.norm(along)) < 1e-9:
            return view.paper(surface.point), 0.0
        k = int(np.argmax(np.abs(surface.direction)))
        group = solid.vertices[np.unique(solid.triangles[solid.owner == end.surfaces[0]])]
        ends = np.stack([surface.point, surface.point])
        ends[:, k] = group[:, k].min(), group[:, k].max()
        return view.paper(ends), SIDE_AXIS
    for seen, cost in ((True, 0.0), (False, HIDDEN_END)):
        points = view.sight.anchors(end, axis, seen=seen)
        if len(points):
            return view.paper(points), cost
    return None


def _outermost(view: PlacedView, points: Array, way: int, side: int) -> Vec:
    """The anchor from which an extension line starts: the farthest out, past any line that it would run along."""
    k = 1 - way
    start = points[int(np.argmax(side * points[:, k]))].copy()
    lines = view.straights
    along = lines[np.abs(lines[:, :, way] - start[way]).max(axis=1) < 1e-6]
    if len(along):
        start[k] = side * max(side * float(start[k]), float((side * along[:, :, k]).max()))
    # It does not begin on a line that lies across its way just there, but past it.
    level, reach = side * lines[:, :, k], np.sort(lines[:, :, way], axis=1)
    across = (np.ptp(level, axis=1) < 1e-6) & (reach[:, 0] < start[way]) & (reach[:, 1] > start[way])
    ahead = level[across, 0] - side * start[k]
    near = ahead[(ahead > 1e-6) & (ahead < 2 * GAP)]
    if len(near):
        start[k] += side * float(near.max())
    return float(start[0]), float(start[1])


def _round(view: PlacedView, size: _Numbered) -> list[Leader]:
    """Leaders to a circle or arc, where the round surface is seen along its axis."""
    found = []
    for turned_surface in size.item.rounds:
        surface = view.view.solid.surfaces[turned_surface]
        assert not isinstance(surface, Plane)
        if abs(abs(float(surface.direction @ view.view.frame.toward)) - 1) > 1e-9:
            continue
        radii = [surface.radius] if isinstance(surface, Cylinder) else _cone_radii(view, turned_surface, size.item)
        for radius in radii:
            found += _leaders(view, turned_surface, radius * view.scale, size)
    return found


def _across(view: PlacedView, size: _Numbered) -> list[Linear]:
    """A diameter given across the two outlines of a cylinder seen from the side, where both are visible."""
    item = size.item
    surface = view.view.solid.surfaces[item.rounds[0]]
    if item.main.kind != "diameter" or len(item.rounds) > 1 or len(item.lines) > 1 or not isinstance(surface, Cylinder):
        return []
    flat = np.abs(view.view.frame.flat_vectors(surface.direction))
    if float(flat.min()) > 1e-9 or float(flat.max()) < 1e-9:
        return []
    way = int(np.argmin(flat))                                 # the sheet's axis square to the cylinder's
    centre = view.paper(surface.point)[0]
    limbs = []
    for side in (-1, 1):
        level = float(centre[way]) + side * surface.radius * view.scale
        lines = view.visible_straights
        on = lines[np.abs(lines[:, :, way] - level).max(axis=1) < 1e-6]
        if not len(on):
            return []
        limbs.append(on.reshape(-1, 2))
    return _between(view, size, limbs, way, LONGITUDINAL)


def _between(view: PlacedView, size: _Numbered, ends: Sequence[Array], way: int, cost: float) -> list[Linear]:
    """Dimension lines on either side of the view between two ends, each given by the points (m, 2) where it shows."""
    found = []
    for side in (1, -1):
        one, other = sorted((_outermost(view, points, way, side) for points in ends), key=lambda start: start[way])
        outward = (0.0, float(side)) if way == 0 else (float(side), 0.0)
        edge = view.box[(3 if side > 0 else 1) if way == 0 else (2 if side > 0 else 0)]
        for level, extra in _levels(edge, (one, other), 1 - way, side):
            a, b = ((start[0], level) if way == 0 else (level, start[1]) for start in (one, other))
            reach = abs(level - one[1 - way]) + abs(level - other[1 - way])
            found.append(Linear(size.number, cost + extra + REACH * reach, a, b, (one, other), outward, size.item.lines[0]))
    return found


def _cone_radii(view: PlacedView, turned: int, item: Item) -> list[float]:
    """The radius of the rim of a cone that an item speaks of, if it is seen."""
    return [float(np.linalg.norm(rim.a)) for rim in rims_of(view.sight, turned) if rim.face in item.faces]


def _leaders(view: PlacedView, turned: int, radius: float, size: _Numbered) -> list[Leader]:
    surface = view.view.solid.surfaces[turned]
    assert not isinstance(surface, Plane)
    centre = view.paper(surface.point)[0]
    ways = np.array([unit_at(angle) for angle in LEADER_ANGLES])
    tips = centre + radius * ways
    found = []
    for rank in np.flatnonzero(on_seen_rim(view, turned, tips)):
        tip, way = (float(tips[rank, 0]), float(tips[rank, 1])), (float(ways[rank, 0]), float(ways[rank, 1]))
        for length in LEADER_LENGTHS:
            found.append(Leader(size.number, 0.2 * float(rank) + 0.12 * length, tip, way, length, size.item.lines))
    return found
