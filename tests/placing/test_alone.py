"""What an offer costs in its surroundings, in cases worked by hand. Sheet millimetres.

What may never be is told by HARD; what is merely dear must cost something, whatever the price.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
import pytest
import shapely

from sheetgen.placing.columns import Elements, stacked
from sheetgen.placing.costs.alone import Surroundings
from sheetgen.placing.offers.leaders import leader_offers, leaders_from
from sheetgen.placing.offers.linear import DimensionLines, Lettering
from sheetgen.placing.table import Offers
from sheetgen.placing.weights import HARD, WEIGHTS

AREA = (-200.0, -200.0, 400.0, 400.0)
NOWHERE = np.full((1, 2, 3), np.nan)


@dataclass(frozen=True)
class Strip:
    """A part that covers what lies between two places across the sheet."""

    low: float
    high: float

    def at(self, x, y):
        return (x > self.low) & (x < self.high)


def offers(a, b, starts, *, chain=(0.0, 0.0), view=0, text="50") -> Offers:
    """A size with its arrows at ``a`` and ``b``, drawn out upwards; figures midway are the first offer."""
    row = DimensionLines(
        np.array([0]), np.zeros(1), np.array([[a, b]], dtype=float), np.array([starts], dtype=float), np.array([[0.0, 1.0]]),
        np.array([-1]), np.array([0]), np.array([view]), NOWHERE, np.array([chain]))
    return Lettering([text], upright=False).offers(stacked([row]), WEIGHTS)


SIZE = ((0, 20), (50, 20), ((0, 1), (50, 1)))
"""Over an edge at the level 0, whose ends are measured."""


def cost(*lines, size=SIZE, thin=(), shadows=(), **more) -> float:
    """What the size costs more with lines of the part about it than on an empty sheet."""
    made = offers(*size, **more)
    with_lines, without = (
        Surroundings([np.array(line, dtype=float) for line in visible], [np.array(line, dtype=float) for line in hidden], [],
                     AREA, shadows).line_costs(made, WEIGHTS)
        for visible, hidden in ((lines, thin), ((), ())))
    return float(sum(part[0] for part in with_lines) - sum(part[0] for part in without))


def test_beside_nothing_it_costs_nothing_more():
    assert cost() == 0.0
    assert cost(((0, 0), (50, 0))) == 0.0


@pytest.mark.parametrize("away", [1.0, 2.0, 3.0, 4.0, -2.0, -4.0, 0.0])
def test_a_dimension_line_beside_a_line_of_the_part_nearer_than_5_mm_may_not_be(away):
    # it would read as one of them (common practice, no source)
    assert cost(((10, 20 + away), (40, 20 + away))) >= HARD
    assert (cost(thin=[((10, 20 + away), (40, 20 + away))]) >= HARD) is (abs(away) < 4)      # a centre line: 4 will do


def test_but_one_farther_off_may_and_so_may_one_that_is_not_beside_it():
    assert cost(((10, 25.5), (40, 25.5))) == 0.0
    assert cost(((60, 21), (90, 21))) == 0.0


@pytest.mark.parametrize("aside", [0.0, 0.3, -0.3])
def test_an_extension_line_on_a_line_of_the_part_may_not_be(aside):
    assert cost(((aside, 5), (aside, 15))) >= HARD
    assert cost(thin=[((50 + aside, 5), (50 + aside, 15))]) >= HARD


def test_an_extension_line_close_beside_a_line_for_long_is_dear_and_one_well_aside_is_not():
    assert 1.0 <= cost(((1.5, 5), (1.5, 15))) < HARD
    assert cost(((3.0, 5), (3.0, 15))) == 0.0
    assert cost(((1.5, 5), (1.5, 8))) == 0.0                       # a short while


def test_what_a_dimension_line_crosses_is_dear_and_dearer_than_what_an_extension_line_does():
    through_line, through_extension = cost(((25, 10), (25, 30))), cost(((-5, 8), (5, 12)))
    assert through_line > 10 * through_extension > 10.0
    assert 0.0 < cost(thin=[((25, 10), (25, 30))]) < through_extension
    arc = [(20 + 10 * np.cos(t), 12 + 10 * np.sin(t)) for t in np.linspace(0, np.pi, 9)]
    assert cost(arc) > through_line


def test_an_extension_line_that_ends_on_a_strangers_line_is_dear():
    # its end, 2 past the arrow, lies on a level edge
    assert cost(((-10, 22), (10, 22)), thin=()) >= 10.0
    assert cost(((-10, 2.3), (10, 2.3))) >= 10.0                   # and its start, 1 from what is measured


def test_an_arrow_that_seems_to_end_at_a_strangers_line_is_dear_but_not_one_that_touches_what_it_measures():
    slanting = Surroundings([np.array([(-4.0, 16.0), (4.0, 24.0)])], [], [], AREA, [])
    strange, own = (
        slanting.line_costs(offers((0, 20), (50, 20), (start, (50, 1))), WEIGHTS)[1][0] for start in ((0, 1), (0, 20)))
    assert strange >= 1.0
    assert own == 0.0


def length_over(start: float, stop: float, *shadows) -> float:
    """mm of a level line that are found to lie over the part."""
    ground = Surroundings([], [], [], AREA, shadows)
    return float(ground._over(np.array([[start, 0.0, stop, 0.0]]))[0])


@pytest.mark.parametrize(("stop", "covered"), [(30, 10), (12, 2), (60, 10), (9, 0)])
def test_what_lies_over_the_part_is_measured_in_equal_strides_from_the_start(stop, covered):
    assert length_over(0, stop, Strip(10, 20)) == pytest.approx(covered, abs=1.5)


def test_of_two_lines_that_start_alike_the_longer_one_lies_over_the_part_for_no_less():
    # sampled by shares of its length, the same line seemed longer and shorter by chance
    strips = (Strip(3.1, 4.2), Strip(7.7, 9.9), Strip(13.0, 13.9))
    found = [length_over(0, stop, *strips) for stop in np.arange(1.0, 40.0, 0.37)]
    assert all(later >= before for before, later in pairwise(found))
    assert found[-1] > 2.0


def test_it_is_never_longer_over_the_part_than_it_is():
    for stop in np.arange(0.1, 5.0, 0.1):
        assert length_over(0, stop, Strip(-1, 100)) <= stop + 1e-12


def test_a_line_right_across_the_part_is_dearer_by_the_mm_and_dearer_still_where_it_is_long():
    weights = replace(WEIGHTS, long_way_view=15.0)
    tops, ground = (6, 10, 14, 20, 24), Surroundings([], [], [], AREA, [Strip(-5, 5)])
    prices = [ground.line_costs(offers((0, top), (50, top), ((0, 1), (50, 1))), weights)[0][0] for top in tops]
    steps = np.diff(prices) / np.diff(tops)
    assert (steps > 0.1).all()
    assert steps[-1] > 3 * steps[0]                                # to begin with it runs over it for less than 15


@pytest.mark.parametrize("place", [(25, 24), (25, 22), (25, 21.2)])
def test_figures_on_a_line_or_too_near_it_may_not_be(place):
    made = offers(*SIZE)
    x, y = place
    ground = Surroundings([np.array([(x - 20, y), (x + 20, y)], dtype=float)], [], [], AREA, [])
    assert ground.text_costs(made, WEIGHTS)[0] >= HARD


def test_figures_close_to_an_outline_cost_something_and_farther_off_nothing():
    made = offers(*SIZE)
    for level, cost in ((25.4, WEIGHTS.figures_near_line), (26.4, WEIGHTS.figures_near_line), (26.6, 0.0)):
        line = [np.array([(5.0, level), (45.0, level)])]
        assert Surroundings(line, [], [], AREA, []).text_costs(made, WEIGHTS)[0] == cost
        assert Surroundings([], line, [], AREA, []).text_costs(made, WEIGHTS)[0] == 0.0      # a centre line is no outline


def test_figures_keep_four_tenths_from_lines_of_their_own_size():
    # those that are drawn with it: a centre line drawn on, an arc's extension line
    made, ground = offers(*SIZE), Surroundings([], [], [], AREA, [])
    box = made.boxes.shapes[0]                                     # round the figures with 0.8 to spare
    low, right = box[:, 1].min(), box[:, 0].max()
    for away, forbidden in ((0.9, False), (0.45, False), (0.35, True), (0.25, True), (0.1, True)):
        line = np.array([[right - 0.8 + away, low - 5, right - 0.8 + away, low + 15]])
        own = replace(made, own=np.ones(len(made), dtype=bool), extensions=Elements(line, np.array([0])))
        assert bool(ground.text_costs(own, WEIGHTS)[0] >= HARD) is forbidden, away


@pytest.mark.parametrize(("away", "price"), [(1.0, WEIGHTS.turns_near_line), (2.0, WEIGHTS.turns_near_line), (2.3, 0.0)])
def test_a_leaders_bend_close_to_an_outline_costs_something(away, price):
    # it runs up to the right, bends at (10, 10) and goes on level
    way = np.array([[0.6, 0.8]])
    leaders = leaders_from(np.array([[4.0, 2.0]]), way, 0, np.zeros(1), 0)
    made = leader_offers([leaders], [("Ø8",)], (10.0,), WEIGHTS)
    line = np.array([(10.0 - 3, 10.0 + away), (10.0 + 0.1, 10.0 + away)])     # an edge that ends over the bend
    ends = [Surroundings(*lines, [], AREA, []).line_costs(made, WEIGHTS)[1][0] for lines in (([line], []), ([], [line]))]
    assert ends == [price, 0.0]                                               # a centre line there is none


def test_a_dimension_line_keeps_5_mm_from_an_edge_beside_it_and_4_from_a_centre_line():
    for away, edge, axis in ((3.0, True, True), (4.5, True, False), (5.5, False, False)):
        line = ((0, 20 + away), (50, 20 + away))
        assert (cost(line) >= HARD) is edge and (cost(thin=[line]) >= HARD) is axis


def arc(radius, centre=(25.0, 0.0), turns=24):
    turn = np.linspace(0.0, 2 * np.pi, turns + 1)
    return [(centre[0] + radius * float(np.cos(t)), centre[1] + radius * float(np.sin(t))) for t in turn]


@pytest.mark.parametrize(("radius", "brushed"), [(19.6, True), (12.0, False)])
def test_a_dimension_line_that_runs_along_the_top_of_a_circle_reads_as_one_line_with_it(radius, brushed):
    free = replace(WEIGHTS, brushes_curve=0.0)
    made, ground = offers(*SIZE), Surroundings([np.array(arc(radius))], [], [], AREA, ())
    dear, cheap = (ground.line_costs(made, weights)[0][0] for weights in (WEIGHTS, free))
    assert dear - cheap == pytest.approx(WEIGHTS.brushes_curve if brushed else 0.0)


@pytest.mark.parametrize(("corner", "passed"), [((7.0, 6.9), True), ((7.0, 9.0), False), ((4.6, 2.8), False)])
def test_a_leader_keeps_off_corners_but_that_which_it_comes_from(corner, passed):
    # it runs up to the right from (4, 2) to (10, 10)
    leaders = leaders_from(np.array([[4.0, 2.0]]), np.array([[0.6, 0.8]]), 0, np.zeros(1), 0)
    made = leader_offers([leaders], [("Ø8",)], (10.0,), WEIGHTS)
    x, y = corner
    edges = [np.array([(x, y), (x - 9, y + 9)]), np.array([(x, y), (x - 9, y)])]
    free = replace(WEIGHTS, passes_corner=0.0)
    dear, cheap = (Surroundings(edges, [], [], AREA, ()).line_costs(made, weights)[0][0] for weights in (WEIGHTS, free))
    assert dear - cheap == pytest.approx(WEIGHTS.passes_corner if passed else 0.0)


@pytest.mark.parametrize(("corner", "passed"), [((25.0, 19.75), True), ((25.0, 18.0), False), ((1.0, 19.75), False)])
@pytest.mark.parametrize("view", [0, -1])
def test_a_dimension_line_keeps_off_corners_but_those_at_its_arrows(corner, passed, view):
    # a dovetail's corner 0.25 mm under the dimension line, which lies from 0 to 50 at the level 20
    x, y = corner
    edges = [np.array([(x, y), (x - 4, y - 9)]), np.array([(x, y), (x + 4, y - 9)])]
    free = replace(WEIGHTS, passes_corner=0.0)
    made = offers(*SIZE, view=view)
    dear, cheap = (Surroundings(edges, [], [], AREA, ()).line_costs(made, weights)[0][0] for weights in (WEIGHTS, free))
    assert dear - cheap == pytest.approx(WEIGHTS.passes_corner if passed else 0.0)


@pytest.mark.parametrize(("begins", "dear"), [(20.0, False), (0.0, True), (-3.0, True), (-6.0, False)])
def test_a_dimension_line_in_line_with_an_outline_that_begins_where_it_ends_reads_as_one_with_it(begins, dear):
    # the dimension line lies from 0 to 50 at the level 20; an outline at that level ends before it
    edge = ((-40, 20), (begins, 20)) if begins <= 0 else ((-40, 60), (begins, 60))
    assert (cost(edge) >= WEIGHTS.goes_on_as_line) is dear


@pytest.mark.parametrize(("view", "top", "covers", "dear"), [
    (-1, 0.0, True, True),            # an edge below ends where the extension line from (0, 1) begins
    (-1, 0.0, False, False),          # which runs beside the part
    (-1, -6.0, True, False),          # the edge ends long before it
    (0, 0.0, True, False),            # views show what is edge and what is not
])
def test_on_a_pictorial_an_extension_line_that_goes_on_from_an_edge_over_the_part_reads_as_that_edge(view, top, covers, dear):
    edge, free = [np.array([(0.0, -30.0), (0.0, top)])], replace(WEIGHTS, edge_goes_on=0.0)
    ground = Surroundings(edge, [], [], AREA, (Strip(-5.0, 5.0),) if covers else ())
    with_price, without = (ground.line_costs(offers(*SIZE, view=view), weights)[0][0] for weights in (WEIGHTS, free))
    assert with_price - without == pytest.approx(WEIGHTS.edge_goes_on if dear else 0.0)


def test_no_dimension_line_crosses_a_reference_line_and_an_extension_line_only_at_a_price():
    made = offers(*SIZE)

    def costs_more(line) -> float:
        with_line, bare = (Surroundings([], [], [], AREA, (), uncrossed).line_costs(made, WEIGHTS)[0][0]
                           for uncrossed in ([np.array(line, dtype=float)], []))
        return float(with_line - bare)

    assert costs_more(((25, 10), (25, 30))) >= HARD
    assert costs_more(((-5, 10), (5, 10))) == pytest.approx(WEIGHTS.cross_barred)
    assert costs_more(((25, 30), (25, 40))) == 0.0


def test_no_centre_line_is_drawn_on_into_a_blocked_area():
    made = offers((0, 20), (50, 20), ((0, 8), (50, 1)), chain=(8.0, 0.0))
    free, blocked = (Surroundings([], [], areas, AREA, ()).first_costs(made, WEIGHTS)[0]
                     for areas in ([], [shapely.box(-3, 2, 3, 6)]))
    assert free < HARD <= blocked
