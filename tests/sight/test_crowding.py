"""What would run together in print is named and refused; what stands clear is not. Distances worked by hand. Millimetres.

In an isometric drawing at full size edges along x lie z + y apart, edges along y z - x, and upright ones x + y, each times the
cosine of 30 degrees (from the directions of its axes: ISO 5456-3, from memory). The far rim of a hole of diameter d right through
a plate of thickness t comes out from under the near one by d / root 2 - t: the least half-axis of the ellipse is d / (2 root 2).
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from sheetgen.bank import Identity
from sheetgen.bank.features import Block, Cylinder, Feature, Hole, Slant
from sheetgen.exercises import sheets_of
from sheetgen.measures import measures_of
from sheetgen.problem import Problem
from sheetgen.projection import view_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Style, settings_of
from sheetgen.sight import PlacedView, Sight, crowded_pictorial, crowded_views
from sheetgen.solid import build
from tests.parts import outer, span

OPEN = (None, None)
BASE = Block("base", False, (0, 80), (0, 60), (0, 60))
BAR, SLIVER, CORNER = "run so near each other that they print as one", "a sliver", "ends of lines lie so near"


def placed(features, name: str, scale: float = 1.0) -> PlacedView:
    return PlacedView(Sight(view_of(build(features), name)), scale, np.zeros(2))


def of_pictorial(*features: Feature, scale: float = 1.0) -> list[str]:
    return [reason.what for reason in crowded_pictorial(placed(features, "isometric", scale))]


def of_views(*features: Feature, scale: float = 1.0) -> list[str]:
    return [str(reason) for reason in crowded_views([placed(features, name, scale) for name in ("front", "top", "left")])]


def shelf(level: float) -> tuple[Feature, ...]:
    """A step at the left, its edge 30 below the level at which it would fall in line with the top's."""
    return BASE, Block("step", True, (None, 30), OPEN, (level, None))


@pytest.mark.parametrize(("level", "apart"), [(30.005, 0.0), (30.5, 0.43), (31, 0.87)])
def test_edges_less_than_nine_tenths_apart_on_the_pictorial_are_one_bar(level, apart):
    assert (level - 30) * math.cos(math.radians(30)) == pytest.approx(apart, abs=0.01)
    assert any(BAR in found for found in of_pictorial(*shelf(level)))


def test_edges_that_leave_white_between_them_are_two():
    assert of_pictorial(*shelf(31.5)) == []          # 1.3 apart


def test_what_is_clear_at_full_size_may_be_a_bar_at_half():
    assert of_pictorial(*shelf(31.5), scale=0.5) != []
    assert of_pictorial(*shelf(34), scale=0.5) == []


def bored(thick: float) -> list[str]:
    """A plate with a hole of 20 from above; its far rim would come out by 14.14 less the thickness."""
    return of_pictorial(Block("base", False, (0, 80), (0, 60), (0, thick)), Hole("hole", "top", ((40, 30),), 20))


@pytest.mark.parametrize("thick", [13.3, 13.6])
def test_a_far_rim_that_shows_as_a_sliver_is_named(thick):
    assert any(SLIVER in found for found in bored(thick))


@pytest.mark.parametrize("thick", [12, 14.1, 15])
def test_a_far_rim_that_shows_well_or_lies_in_the_ink_or_is_hidden_is_no_sliver(thick):
    assert bored(thick) == []


@pytest.mark.parametrize(("radius", "slivers"), [(14.5, 0), (15.8, 1), (18, 0)])
def test_a_spigot_that_just_peeps_over_a_flange_is_a_sliver(radius, slivers):
    # over the flange's left edge, at z - x = 60 - 10, rises what is 35 + radius high at x = 0: 0.8 times cos 30 at 15.8
    flange, bore = Block("flange", False, (10, 22), (0, 70), (0, 60)), Hole("bore", "right", ((35, 35),), 12)
    found = of_pictorial(flange, Cylinder("spigot", False, "x", ((35, 35),), 2 * radius, (0, 10)), bore)
    assert [SLIVER in what for what in found] == [True] * slivers


def test_a_corner_that_just_comes_out_behind_something_is_a_short_line_and_no_sliver():
    # a boss hides all of the plate's back corner but a few tenths: nothing is shut in, and the boss is as it seems
    plate = Block("base", False, (0, 80), (0, 60), (0, 10))
    bosses = [Cylinder("boss", False, "z", ((14, 40),), 24, (10, 10 + high)) for high in np.arange(20, 50, 0.7)]
    assert not any(SLIVER in what for boss in bosses for what in of_pictorial(plate, boss))


def test_lines_of_a_view_that_print_as_one_are_refused_at_the_scale_drawn():
    shelves = (BASE, Block("step", True, (None, 30), OPEN, (30, None)), Block("slot", True, (50, None), OPEN, (31.5, None)))
    assert of_views(*shelves) == []
    reasons = of_views(*shelves, scale=0.5)
    assert any(reason.startswith("in the left view") and BAR in reason for reason in reasons)


def test_ends_of_slanting_lines_that_nearly_meet_those_of_level_ones_are_refused():
    # a slope that ends 0.35 below a step's level: seen from the left both end on the back edge
    def with_slope(end: float) -> list[str]:
        return of_views(BASE, Block("step", True, (40, None), OPEN, (24, None)),
                        Slant("slope", "right", ((30, 60), (60, end)), "above", (None, 40)))

    assert any(CORNER in reason for reason in with_slope(23.65))
    assert with_slope(21) == []


def test_no_sheet_is_made_of_a_part_whose_views_would_run_together():
    features = (BASE, Block("step", True, (None, 30), OPEN, (40, None)), Block("slot", True, (50, None), OPEN, (40.5, None)))
    solid = build(features)
    specs = (*outer(), span("base.left", "step.right"), span("base.bottom", "step.bottom"), span("slot.left", "base.right"),
             span("base.bottom", "slot.bottom"))
    problem = Problem(Identity("shelves", 1), "Shelves", (), solid, measures_of(solid, specs))
    with pytest.raises(RefusedError, match="print as one"):
        sheets_of(problem, settings_of(Style()))


def test_no_pictorial_is_offered_in_which_two_edges_print_as_one():
    solid = build(shelf(31))
    specs = (*outer(), span("base.left", "step.right"), span("base.bottom", "step.bottom"))
    problem = Problem(Identity("shelf", 1), "Shelf", (), solid, measures_of(solid, specs))
    # the other corner sees the step from its open side
    assert all(sight.view.frame.shows is not None for sight in problem.pictorials())
    assert next(problem.pictorials()) is not problem.sights.isometric
