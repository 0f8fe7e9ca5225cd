"""Where a size can stand on the front, top and side views: the ways offered to the search. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.arrays import IntArray
from sheetgen.placing.candidate import FIRST_TIER, NEXT_TIER, SHORT_EXTENSION, STEP, Vec, unit_at
from sheetgen.placing.columns import Table, stacked
from sheetgen.placing.items import Item
from sheetgen.placing.offers.angles import angle_offers
from sheetgen.placing.offers.leaders import Leaders, leader_offers, leaders_from
from sheetgen.placing.offers.linear import DimensionLines, Lettering
from sheetgen.placing.offers.touching import Measured, touching_lines
from sheetgen.placing.offers.view_ends import SIDES, Key, Shown, ends_shown, extents_of, outermost, way_of
from sheetgen.placing.table import Offer, Offers, gathered, table_of
from sheetgen.placing.weights import WEIGHTS, Weights
from sheetgen.sight import PlacedView
from sheetgen.sight.rims import near_the_end
from sheetgen.solid import Cylinder, Plane, Solid
from sheetgen.units import EDGE_ON, SAME_COSINE, SAME_DIRECTION, SAME_PLACE

TIERS = 5
"""Dimension lines side by side on one side of a view: more would be no drawing."""

WELL_INSIDE = 4.0        # mm from the view's edge that a dimension line within its box keeps

LEADER_ANGLES = (45.0, 135.0, 315.0, 225.0, 60.0, 120.0, 300.0, 240.0, 30.0, 150.0, 330.0, 210.0, 75.0, 105.0, 285.0, 255.0)
LEADER_WAYS = np.array([unit_at(angle) for angle in LEADER_ANGLES])
ROUND = np.argsort(LEADER_ANGLES)
"""Their numbers in the order in which they go round."""

ALONG_HATCHING = 10.0    # degrees between a leader and hatching along which it seems to run

LEADER_LENGTHS = (8.0, 12.0, 17.0, 23.0, 30.0, 38.0, 47.0)


@dataclass(frozen=True, eq=False)
class _Numbered:
    """An item and its number, and the number of the view it is to stand on."""

    number: int
    item: Item
    view: int


class _Footing(NamedTuple):
    """As a row of ``Footings``."""

    item: int
    cost: float
    view: int
    axis: int
    way: int
    side: int
    edge: float
    starts: tuple[Vec, Vec]
    longer: tuple[float, float]


@dataclass(frozen=True, eq=False)
class Footings(Table):
    """What dimension lines stand on at one side of a view, one a row (n,).

    ``item``; ``cost``; the number of the ``view``; the ``axis`` of the part measured along, -1 for none; along which axis of the
    sheet, ``way`` 0 or 1; on which ``side``, 1 or -1; the view's ``edge`` there; ``starts`` (n, 2, 2): of the extension lines;
    ``longer`` (n, 2): mm that centre lines can be drawn on from there.
    """

    item: IntArray
    cost: Array
    view: IntArray
    axis: IntArray
    way: IntArray
    side: Array
    edge: Array
    starts: Array
    longer: Array


def view_offers(
    views: Sequence[PlacedView], items: Sequence[Item], *, upright: bool = False, weights: Weights = WEIGHTS,
    slopes: Mapping[int, float] | None = None,
) -> Offers:
    """All ways to put items on any of the views. ``upright``: the unidirectional method; ``slopes``: of views that are hatched,
    by their numbers, in which direction, degrees."""
    single, leaders, footings, within = list[Offer](), list[Leaders](), list[_Footing](), list[Measured]()
    faces = [faces_measured(views[0].view.solid, item) if item.kind == "span" else [] for item in items]
    ends = {
        (end.surfaces, axis): end for item in items if item.kind == "span" and (axis := item.main.axis) is not None
        for end in item.main.ends}
    extents = {solid: extents_of(solid, ends) for solid in dict.fromkeys(view.view.solid for view in views)}
    edge_on = [shown_edge_on(view) for view in views]
    shown = [ends_shown(view, ends, extents[view.view.solid], weights) for view in views]
    for number, item in enumerate(items):
        for k, view in enumerate(views):
            size = _Numbered(number, item, k)
            if item.kind == "span":
                shape = _shape_cost(edge_on[k], faces[number], weights)
                footings += _span(view, size, shown[k], shape, weights)
                within += _within(size, shown[k], shape, weights)
            elif item.kind == "angle":
                single += angle_offers(view, item, number, weights, k)
            else:
                leaders += _round(view, size, weights, (slopes or {}).get(k))
                footings += _across(view, size, weights)
    lettering = Lettering([item.lines[0] for item in items], upright)
    return gathered([
        lettering.offers(stacked([_levels(_table(footings), weights), touching_lines(views, within, shown, weights)]), weights),
        leader_offers(leaders, [item.lines for item in items], LEADER_LENGTHS, weights),
        table_of(single, weights.over),
    ])


def _span(view: PlacedView, size: _Numbered, shown: Mapping[Key, Shown], shape: float, weights: Weights) -> list[_Footing]:
    """What dimension lines of a length can stand on, where both its ends show; ``shape``: the cost of the view."""
    axis = size.item.main.axis
    assert axis is not None
    way, ends = way_of(view, axis), [shown.get((end.surfaces, axis)) for end in size.item.main.ends]
    one, other = ends
    if way is None or one is None or other is None:
        return []
    cost = one.cost + other.cost + shape + weights.later_view * size.view
    return [
        _footing(
            view, size, way, side, (one.starts[k], other.starts[k]), cost + (one.costs[k] + other.costs[k]),
            (one.longer[k], other.longer[k]))
        for k, side in enumerate(SIDES)
    ]


def _within(size: _Numbered, shown: Mapping[Key, Shown], shape: float, weights: Weights) -> list[Measured]:
    """A length that may be measured within the view, where both its ends show."""
    axis = size.item.main.axis
    assert axis is not None
    one, other = ((end.surfaces, axis) for end in size.item.main.ends)
    if one not in shown or other not in shown:
        return []
    return [Measured(size.number, shape + weights.later_view * size.view, axis, size.view, (one, other))]


def faces_measured(solid: Solid, item: Item) -> list[int]:
    """The surfaces of the feature measured: the smaller of those that make the two ends."""
    owners = [owner for end in item.main.ends for k in end.surfaces for owner in solid.features[k]]
    faces = {owner: [k for k, names in enumerate(solid.features) if owner in names] for owner in owners}
    return min(faces.values(), key=len, default=[])


def shown_edge_on(view: PlacedView) -> list[bool]:
    """Of each surface whether the view shows its shape: planes seen edge-on, round ones along their axis. A section shows
    nothing of those that it draws no line of."""
    surfaces = view.view.solid.surfaces
    along = np.array([surface.normal if isinstance(surface, Plane) else surface.direction for surface in surfaces])
    cosine = np.abs(along @ view.view.frame.toward)
    flat = np.array([isinstance(surface, Plane) for surface in surfaces])
    shown: list[bool] = np.where(flat, cosine < EDGE_ON, cosine > 1 - SAME_COSINE).tolist()
    return [told and view.sight.draws(k) for k, told in enumerate(shown)]


def _shape_cost(edge_on: Sequence[bool], faces: Sequence[int], weights: Weights) -> float:
    """Cost of a view that does not show the shape of the feature measured: the share of its faces that are not seen edge-on
    (US school lists, trade rule: where its shape shows best)."""
    return weights.shape * (1 - sum(edge_on[k] for k in faces) / max(1, len(faces)))


def _round(view: PlacedView, size: _Numbered, weights: Weights, slope: float | None) -> list[Leaders]:
    """Leaders to a circle or arc, where the round surface is seen along its axis; ``slope``: of the view's hatching."""
    found = []
    hatched = np.zeros(len(LEADER_ANGLES))
    if slope is not None:                                      # a leader that runs along hatching reads as one of its lines
        off = np.abs((np.array(LEADER_ANGLES) - slope + 90.0) % 180.0 - 90.0)
        hatched = np.where(off < ALONG_HATCHING, weights.near_line, 0.0)
    for turned in size.item.rounds:
        surface = view.view.solid.surfaces[turned]
        assert not isinstance(surface, Plane)
        if abs(abs(float(surface.direction @ view.view.frame.toward)) - 1) > SAME_COSINE:
            continue
        centre = view.paper(surface.point)[0]
        radii = [surface.radius] if isinstance(surface, Cylinder) else _cone_radii(view, turned, size.item)
        for radius in radii:
            tips = centre + radius * view.scale * LEADER_WAYS
            on = view.on_seen_rim(turned, tips)
            if not on.any():
                continue
            last = np.zeros(len(on))
            last[ROUND] = weights.arc_end * near_the_end(on[ROUND])
            seen = np.flatnonzero(on)
            cost = weights.view_turn * seen + last[seen] + hatched[seen]
            found.append(leaders_from(tips[seen], LEADER_WAYS[seen], size.number, cost, size.view))
    return found


def _across(view: PlacedView, size: _Numbered, weights: Weights) -> list[_Footing]:
    """A diameter given across the two outlines of a cylinder seen from the side, where both are visible."""
    item = size.item
    surface = view.view.solid.surfaces[item.rounds[0]]
    if item.main.kind != "diameter" or len(item.rounds) > 1 or len(item.lines) > 1 or not isinstance(surface, Cylinder):
        return []
    flat = np.abs(view.view.frame.flat_vectors(surface.direction))
    if float(flat.min()) > SAME_DIRECTION or float(flat.max()) < EDGE_ON:
        return []
    if not (view.view.solid.owner == item.rounds[0]).any():    # it was cut away
        return []
    way = int(np.argmin(flat))                                 # the sheet's axis square to the cylinder's
    centre = view.paper(surface.point)[0]
    limbs = []
    for side in (-1, 1):
        level = float(centre[way]) + side * surface.radius * view.scale
        lines = view.visible_straights
        on = lines[np.abs(lines[:, :, way] - level).max(axis=1) < SAME_PLACE]
        if not len(on):
            return []
        limbs.append(on.reshape(-1, 2).tolist())
    one, other = limbs
    return [
        _footing(
            view, size, way, side,
            (outermost(view, one, way, side, edge=True)[0], outermost(view, other, way, side, edge=True)[0]),
            weights.along_cylinder)
        for side in SIDES
    ]


def _footing(
    view: PlacedView, size: _Numbered, way: int, side: int, starts: tuple[Vec, Vec], cost: float,
    longer: tuple[float, float] = (0.0, 0.0),
) -> _Footing:
    """What dimension lines can stand on at one side of the view."""
    if starts[0][way] > starts[1][way]:
        starts, longer = starts[::-1], longer[::-1]
    axis = -1 if size.item.main.axis is None else size.item.main.axis
    edge = view.box[3 - way if side > 0 else 1 - way]
    return _Footing(size.number, cost, size.view, axis, way, side, edge, starts, longer)


def _table(footings: Sequence[_Footing]) -> Footings:
    columns = list(zip(*footings, strict=True)) or [()] * len(_Footing._fields)
    item, view, axis, way = (np.array(columns[k], dtype=np.int64) for k in (0, 2, 3, 4))
    cost, side, edge, starts, longer = (np.array(columns[k], dtype=float) for k in (1, 5, 6, 7, 8))
    return Footings(item, cost, view, axis, way, side, edge, starts.reshape(-1, 2, 2), longer.reshape(-1, 2))


def _levels(footings: Footings, weights: Weights) -> DimensionLines:
    """Dimension lines on each footing: in tiers outside the view, and nearer ones where the feature lies deep inside."""
    side, starts = footings.side[:, None], footings.starts
    out = side * starts[np.arange(len(footings)), :, 1 - footings.way]                 # (n, 2) outwards
    edge, nearest = side * footings.edge[:, None], np.maximum(*out.T)[:, None]
    tier, step = np.arange(TIERS), np.arange(3)
    level = np.hstack([edge + FIRST_TIER + NEXT_TIER * tier, nearest + FIRST_TIER - 1 + STEP * step])
    extra = np.concatenate([weights.view_tier * tier, weights.inside_view + weights.inside_step * step])
    inner = np.repeat([False, True], [TIERS, len(step)])
    of, which = np.nonzero(~inner | ((edge - nearest > FIRST_TIER) & (edge - level > WELL_INSIDE)))
    rows, each, level = footings.take(of), np.arange(len(of)), level[of, which]
    ends, outward = rows.starts.copy(), np.zeros((len(of), 2))
    ends[each, :, 1 - rows.way] = side[of] * level[:, None]
    outward[each, 1 - rows.way] = rows.side
    run = level[:, None] - out.take(of, axis=0)                                        # (m, 2) mm from start to dimension line
    chain = np.where(run - rows.longer >= SHORT_EXTENSION, rows.longer, 0.0)
    starts = rows.starts + chain[:, :, None] * outward[:, None]
    cost = rows.cost + extra[which] + weights.view_reach * np.add(*np.abs(run).T)
    none, untold = np.full(len(of), -1), np.full((len(of), 2, 3), np.nan)
    return DimensionLines(rows.item, cost, ends, starts, outward, none, rows.axis, rows.view, untold, chain)


def _cone_radii(view: PlacedView, turned: int, item: Item) -> list[float]:
    """The radius of the rim of a cone that an item speaks of, if it is seen."""
    return [float(np.linalg.norm(rim.a)) for rim in view.sight.rims[turned] if rim.face in item.faces]
