"""Areas: what the visible lines of a view bound."""

from __future__ import annotations

import pytest
import shapely

from sheetgen.bank import load_bank
from sheetgen.problem import problem_of
from sheetgen.projection import areas_of
from sheetgen.solid import faces_of
from tests.families import sample

BANK = load_bank()


@pytest.mark.parametrize("name", sample("areas"))
def test_the_areas_of_a_view_leave_nothing_of_the_part_out_and_do_not_overlap(name):
    problem = problem_of(BANK[name].sample(3))
    faces = faces_of(problem.solid)
    for view in (problem.pictorial.view, *map(problem.view, ("front", "top", "left"))):
        facets = shapely.polygons(view.flat[problem.solid.triangles[view.facing > 0]])
        shadow = shapely.union_all(shapely.make_valid(facets), grid_size=1e-4)
        polygons = [area.polygon for area in areas_of(view, faces)]
        assert sum(polygon.area for polygon in polygons) == pytest.approx(shadow.area, rel=1e-3)      # chords of curves
        assert shapely.union_all(polygons).area == pytest.approx(shadow.area, rel=1e-3)


def test_what_shows_through_a_hole_that_goes_through_is_no_area():
    problem = problem_of(BANK["countersunk-plate"].sample(1))
    top = problem.view("top")
    polygons = [area.polygon for area in areas_of(top, faces_of(problem.solid))]
    box = shapely.box(*shapely.union_all(polygons).bounds)
    assert shapely.difference(box, shapely.union_all(polygons)).area > 20.0
