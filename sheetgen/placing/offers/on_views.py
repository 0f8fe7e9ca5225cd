"""Where a size can stand on the front, top and side views: the ways offered to the search. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from sheetgen.geometry import Array
from sheetgen.measures import EndRef
from sheetgen.placing.candidate import FIRST_TIER, GAP, NEXT_TIER, Vec, unit_at
from sheetgen.placing.items import Item
from sheetgen.placing.offers.angles import angle_offers
from sheetgen.placing.offers.leaders import Leaders
from sheetgen.placing.offers.linear import Lines, Row
from sheetgen.placing.table import Offer, Offers, gathered, table_of
from sheetgen.sight import PlacedView
from sheetgen.sight.rims import AT_END, near_the_end
from sheetgen.solid import Cylinder, Plane, Solid

TIERS = 5
"""Dimension lines side by side on one side of a view: more would be no drawing."""

HIDDEN_END = 60.0        # cost of measuring to a hidden line: a last resort
SIDE_AXIS = 12.0         # cost of locating an axis where it is not seen as a circle
REACH = 0.06             # cost per mm of extension line
TIER = 1.2               # cost per tier outwards
LATER = 0.5              # cost of the top view instead of the front view, of the side view instead of the top view
SHAPE = 6.0              # cost of a view that shows nothing of the feature's shape
LONGITUDINAL = 7.0       # cost of a diameter across a cylinder's side, not at its circle
WELL_INSIDE = 4.0        # mm from the view's edge that a dimension line within its box keeps
STEP = 4.0               # mm between dimension lines tried within the view's box
STRANGER = 30.0          # cost of an axis' extension line that starts past an edge, an edge's past a centre line: it seems theirs
INNER = 9.0              # cost of a dimension line within the view's own box

LEADER_ANGLES = (45.0, 135.0, 315.0, 225.0, 60.0, 120.0, 300.0, 240.0, 30.0, 150.0, 330.0, 210.0, 75.0, 105.0, 285.0, 255.0)
LEADER_WAYS = np.array([unit_at(angle) for angle in LEADER_ANGLES])
ROUND = np.argsort(LEADER_ANGLES)
"""Their numbers in the order in which they go round."""

LEADER_LENGTHS = (8.0, 12.0, 17.0, 23.0, 30.0, 38.0, 47.0)


@dataclass(frozen=True, eq=False)
class _Numbered:
    """An item and its number, and the number of the view it is to stand on; ``faces``: surfaces of the feature it measures."""

    number: int
    item: Item
    view: int
    faces: Sequence[int]


@dataclass(frozen=True, eq=False)
class _Ends:
    """Where ends show in a view, found once for all sizes that have them: by surfaces and axis."""

    view: PlacedView
    points: dict[tuple[tuple[int, ...], int], tuple[Array, float] | None] = field(default_factory=dict)
    starts: dict[tuple[tuple[int, ...], int, int], tuple[Vec, float]] = field(default_factory=dict)

    def at(self, end: EndRef, axis: int) -> tuple[Array, float] | None:
        """Points (m, 2) on the sheet where an end shows, and the cost of using them; None if it does not show."""
        key = (end.surfaces, axis)
        if key not in self.points:
            self.points[key] = _end_points(self.view, end, axis)
        return self.points[key]

    def start(self, end: EndRef, axis: int, way: int, side: int) -> tuple[Vec, float]:
        """Where the extension line from an end that shows starts, and its cost."""
        key = (end.surfaces, axis, side)
        if key not in self.starts:
            shown = self.at(end, axis)
            assert shown is not None
            edge = isinstance(self.view.view.solid.surfaces[end.surfaces[0]], Plane)
            start, past_stranger = _outermost(self.view, shown[0], way, side, edge=edge)
            self.starts[key] = start, STRANGER if past_stranger else 0.0
        return self.starts[key]


def view_offers(views: Sequence[PlacedView], items: Sequence[Item], *, upright: bool = False) -> Offers:
    """All ways to put items on any of the views. ``upright``: the unidirectional method."""
    lines, single = Lines([item.lines[0] for item in items], upright), list[Offer]()
    leaders = Leaders([item.lines for item in items], LEADER_LENGTHS)
    hangs, ends = list[Row](), [_Ends(view) for view in views]
    for number, item in enumerate(items):
        faces = _faces_measured(views[0].view.solid, item) if item.kind == "span" else []
        for k, view in enumerate(views):
            size = _Numbered(number, item, k, faces)
            if item.kind == "span":
                hangs += _span(ends[k], size)
            elif item.kind == "angle":
                single += angle_offers(view, item, number)
            else:
                _round(view, size, leaders)
                hangs += _across(view, size)
    lines.tables.append(_levels(np.array(hangs, dtype=float).reshape(-1, 11)))
    return gathered([lines.offers(), leaders.offers(), table_of(single)])


def _span(ends: _Ends, size: _Numbered) -> list[Row]:
    view, axis, (one, other) = ends.view, size.item.main.axis, size.item.main.ends
    assert axis is not None
    across, up = (abs(run) for run in view.unit(axis))
    if across + up < 1e-9:
        return []
    way = 0 if across > up else 1                              # measured along the sheet's x or y
    shown = ends.at(one, axis), ends.at(other, axis)
    if shown[0] is None or shown[1] is None:
        return []
    cost = shown[0][1] + shown[1][1] + _shape_cost(view, size.faces) + LATER * size.view
    found = []
    for side in (1, -1):
        starts = [ends.start(end, axis, way, side) for end in (one, other)]
        found.append(_hung(view, size, way, side, [place for place, _ in starts], cost + sum(price for _, price in starts)))
    return found


def _faces_measured(solid: Solid, item: Item) -> list[int]:
    """The surfaces of the feature measured: the smaller of those that make the two ends."""
    owners = [owner for end in item.main.ends for k in end.surfaces for owner in solid.features[k]]
    faces = {owner: [k for k, names in enumerate(solid.features) if owner in names] for owner in owners}
    return min(faces.values(), key=len, default=[])


def _shape_cost(view: PlacedView, faces: Sequence[int]) -> float:
    """Cost of a view that does not show the shape of the feature measured: the share of its faces that are not seen edge-on
    (US school lists, trade rule: where its shape shows best)."""
    solid, toward = view.view.solid, view.view.frame.toward
    edge_on = 0
    for surface in (solid.surfaces[k] for k in faces):
        along = surface.normal if isinstance(surface, Plane) else surface.direction
        cosine = abs(float(along @ toward))
        edge_on += cosine < 1e-9 if isinstance(surface, Plane) else cosine > 1 - 1e-9
    return SHAPE * (1 - edge_on / max(1, len(faces)))


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
        # All of a face square to the axis is an end; of an edge its own points are.
        if len(end.surfaces) == 1:
            points = view.holds(end.surfaces[0], seen=seen)
        else:
            points = view.paper(view.sight.anchors(end, axis, seen=seen))
            points = points[view.at_a_line_end(points)] if seen else points
        if len(points):
            return points, cost
    return None


def _outermost(view: PlacedView, points: Array, way: int, side: int, *, edge: bool) -> tuple[Vec, bool]:
    """The anchor from which an extension line of an ``edge`` or an axis starts: the farthest out, past any line that it would run
    along; and whether that is one of the other kind."""
    k = int(np.argmax(side * points[:, 1 - way]))
    at, start = float(points[k, way]), side * float(points[k, 1 - way])
    past_stranger = False
    for run in view.runs_between(1 - way, at - 1e-6, at + 1e-6):
        end = side * (run.high if side > 0 else run.low)
        # A centre line that sticks out of an edge belongs to it: half a bore.
        begin = end if run.edge else side * (run.low if side > 0 else run.high)
        past_stranger |= run.edge != edge and begin > start + GAP
        start = max(start, end)
    # It does not begin on a line that lies across its way just there, but past it.
    near, far = sorted((side * (start + 1e-6), side * (start + 2 * GAP - 1e-6)))
    ahead = [side * run.level for run in view.runs_between(way, near, far) if run.low < at < run.high]
    start = max([start, *ahead])
    return ((at, side * start) if way == 0 else (side * start, at)), past_stranger


def _round(view: PlacedView, size: _Numbered, leaders: Leaders) -> None:
    """Leaders to a circle or arc, where the round surface is seen along its axis."""
    for turned in size.item.rounds:
        surface = view.view.solid.surfaces[turned]
        assert not isinstance(surface, Plane)
        if abs(abs(float(surface.direction @ view.view.frame.toward)) - 1) > 1e-9:
            continue
        centre = view.paper(surface.point)[0]
        radii = [surface.radius] if isinstance(surface, Cylinder) else _cone_radii(view, turned, size.item)
        for radius in radii:
            tips = centre + radius * view.scale * LEADER_WAYS
            on = view.on_seen_rim(turned, tips)
            last = np.zeros(len(on))
            last[ROUND] = AT_END * near_the_end(on[ROUND])
            seen = np.flatnonzero(on)
            leaders.add(size.number, 0.2 * seen + last[seen], tips[seen], LEADER_WAYS[seen])


def _across(view: PlacedView, size: _Numbered) -> list[Row]:
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
    return [
        _hung(view, size, way, side, [_outermost(view, points, way, side, edge=True)[0] for points in limbs], LONGITUDINAL)
        for side in (1, -1)
    ]


def _hung(view: PlacedView, size: _Numbered, way: int, side: int, starts: Sequence[Vec], cost: float) -> Row:
    """Where dimension lines can stand on one side of the view, in 11 numbers: item; cost; along which axis of the sheet it is
    measured; on which side, 1 or -1; the view's edge there; where its extension lines start (two places); the axis measured
    along; the view."""
    one, other = sorted(starts, key=lambda start: start[way])
    axis = -1 if size.item.main.axis is None else size.item.main.axis
    return (size.number, cost, way, side, view.box[3 - way if side > 0 else 1 - way], *one, *other, axis, size.view)


def _levels(hangs: Array) -> Array:
    """Dimension lines, rows (m, 21) of ``Lines``, for ``hangs`` (n, 11): in tiers outside the view, and nearer ones where the
    feature lies deep inside."""
    way, side, edge, starts = hangs[:, 2].astype(np.int64), hangs[:, 3:4], hangs[:, 4:5], hangs[:, 5:9].reshape(-1, 2, 2)
    each = np.arange(len(hangs))
    out = side * starts[each, :, 1 - way]                                              # (n, 2) outwards
    edge, nearest = side * edge, out.max(axis=1, keepdims=True)
    tier, step = np.arange(TIERS), np.arange(3)
    level = np.hstack([edge + FIRST_TIER + NEXT_TIER * tier, nearest + FIRST_TIER - 1 + STEP * step])
    extra = np.concatenate([TIER * tier, INNER + step])
    inner = np.repeat([False, True], [TIERS, len(step)])
    of, which = np.nonzero(~inner | ((edge - nearest > FIRST_TIER) & (edge - level > WELL_INSIDE)))
    level = level[of, which]
    ends = starts[of].copy()
    ends[np.arange(len(of)), :, 1 - way[of]] = side[of] * level[:, None]
    outward = np.zeros((len(of), 2))
    outward[np.arange(len(of)), 1 - way[of]] = side[of, 0]
    cost = hangs[of, 1] + extra[which] + REACH * np.abs(level[:, None] - out[of]).sum(axis=1)
    none, untold = np.full((len(of), 1), -1.0), np.full((len(of), 6), np.nan)
    lines = ends.reshape(-1, 4), starts[of].reshape(-1, 4), outward
    return np.hstack([hangs[of, :1], cost[:, None], *lines, none, hangs[of, 9:], untold])


def _cone_radii(view: PlacedView, turned: int, item: Item) -> list[float]:
    """The radius of the rim of a cone that an item speaks of, if it is seen."""
    return [float(np.linalg.norm(rim.a)) for rim in view.sight.rims[turned] if rim.face in item.faces]
