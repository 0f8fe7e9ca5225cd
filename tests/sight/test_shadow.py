"""The shadow of a part on the sheet: against the facets' areas joined by shapely."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from sheetgen.bank import load_bank
from sheetgen.projection import view_of
from sheetgen.projection.hidden import facing_of
from sheetgen.sight import PlacedView, Sight
from sheetgen.sight.shadow import CELL
from sheetgen.solid import build

BANK = load_bank()
FAMILIES = ("forked-foot", "cross-drilled-boss", "trestle", "pipe-saddle", "slotted-slide", "conical-boss")


def placed(family, name, scale=0.5):
    return PlacedView(Sight(view_of(build(BANK[family].sample(3).features), name)), scale, np.array([110.37, 95.21]))


def joined(view):
    solid = view.view.solid
    corners = view.view.flat[solid.triangles[facing_of(solid, view.view.frame) > 0]] * view.scale + view.origin
    area = shapely.union_all(shapely.polygons(np.round(corners, 6)), grid_size=1e-4)
    shapely.prepare(area)
    return area


@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("name", ["front", "top", "left", "isometric"])
def test_a_shadow_covers_what_the_facets_cover(family, name):
    view = placed(family, name)
    area = joined(view)
    steps = np.stack(np.meshgrid(np.arange(-5.0, 95.0, 0.71), np.arange(-5.0, 80.0, 0.83)), axis=-1).reshape(-1, 2)
    points = steps + np.array(area.bounds[:2])
    differ = view.shadow.over(points) != shapely.contains_xy(area, points[:, 0], points[:, 1])
    # A point is told by the middle of its cell, so only near the rim may the two differ.
    assert shapely.distance(area.boundary, shapely.points(points[differ])).max(initial=0.0) < CELL
    assert 0.02 < view.shadow.over(points).mean() < 0.9


def test_a_hole_through_the_part_throws_no_shadow():
    view = PlacedView(Sight(view_of(build(BANK["flanged-foot"].sample(3).features), "top")), 1.0, np.zeros(2))
    area = joined(view)
    # Facets are joined to a tenth of a micron, which leaves slivers between them.
    rings = [np.array(ring.centroid.coords[0]) for ring in map(shapely.Polygon, area.interiors) if ring.area > 1.0]
    assert rings
    assert not view.shadow.over(np.array(rings)).any()


def test_no_shadow_lies_outside_the_part_however_far_nor_where_there_is_no_place():
    view = placed("trestle", "front")
    x0, y0, x1, y1 = joined(view).bounds
    beyond = np.array([[x0 - 1, y0], [x1 + 1, y0], [x0, y1 + 1], [x0, -1e9], [1e9, y1], [np.nan, y0]])
    assert not view.shadow.over(beyond).any()
