"""Extension lines on a pictorial that would be misread, in cases worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from sheetgen.bank.features import Block, Hole
from sheetgen.placing.costs.misread import Runs
from sheetgen.placing.weights import WEIGHTS, Weights
from sheetgen.projection import view_of
from sheetgen.sight import PlacedView, Sight
from sheetgen.solid import build

BASE = Block("base", False, (0, 100), (0, 60), (0, 30))
STEP = Block("step", False, (0, 50), (0, 60), (30, 60))
"""On the base, level with its front."""
TOWER = Block("tower", False, (20, 55), (5, 40), (30, 60))
"""On the base, back from its front: its front right edge stands, on paper, over the place 60 mm from the left on the base's."""
PRICES = Weights(hidden_run=1.5, most_hidden=70.0, goes_on=7.0, seems_edge=11.0, strange_centre=23.0)
"""Of this test, so that what is found here does not hang on what things cost on sheets."""


@pytest.mark.parametrize("what", ["hidden_run", "most_hidden", "goes_on", "seems_edge", "strange_centre"])
def test_on_sheets_what_misleads_costs_more_than_a_tier(what):
    # an extension line that leads astray is worse than one that is longer (judgement)
    assert getattr(WEIGHTS, what) > WEIGHTS.tier >= 1.0


def runs(features, one, other, outward, sign, axis=0):
    view = PlacedView(Sight(view_of(build(features), "isometric")), 1.0, np.array([100.0, 100.0]))
    points = np.array([[one, other]], dtype=float)
    both = np.ones((1, 2), dtype=bool)
    return Runs(view, points, np.array([outward]), np.array([float(sign)]), np.array([axis]), both, PRICES)


def hidden(pair, run):
    return float(pair.hidden(np.array([0]), np.zeros((1, 2)), np.full((1, 2), float(run)))[0])


def test_an_extension_line_inside_the_part_seems_to_lie_on_the_face_before_it():
    # from the foot of the front, inwards: 20 mm under the base, for both ends
    assert hidden(runs((BASE,), (20, 0, 0), (60, 0, 0), 1, 1), 20) == pytest.approx(2 * 20 * 1.5, rel=0.02)
    assert hidden(runs((BASE,), (20, 0, 0), (60, 0, 0), 1, 1), 60) == 70.0


def test_one_on_a_face_or_out_of_the_part_is_not_hidden():
    assert hidden(runs((BASE,), (0, 0, 30), (100, 0, 30), 1, 1), 60) == 0.0
    assert hidden(runs((BASE,), (0, 0, 0), (100, 0, 0), 1, -1), 60) == 0.0


def test_an_extension_line_that_goes_on_over_a_face_where_an_edge_ends_seems_to_be_its_end():
    assert runs((BASE, STEP), (50, 0, 30), (100, 0, 30), 2, -1).seeming().tolist() == [7.0]
    assert runs((BASE, STEP), (0, 0, 0), (100, 0, 0), 2, -1).seeming().tolist() == [0.0]      # out of the part, it does not


def test_an_extension_line_under_the_edge_of_another_feature_seems_to_come_from_that():
    assert runs((BASE, TOWER), (0, 0, 30), (60, 0, 30), 2, -1).seeming().tolist() == [11.0]
    assert runs((BASE, TOWER), (0, 0, 30), (66, 0, 30), 2, -1).seeming().tolist() == [0.0]


def test_an_extension_line_through_the_centre_of_another_hole_seems_to_measure_that():
    # from the front 60 mm from the left, upwards on paper over the top: over a hole 40 mm from the left and 20 from the front
    def through(x, run):
        pair = runs((BASE, Hole("bore", "top", ((40, 20),), 10)), (0, 0, 30), (x, 0, 30), 2, 1)
        return float(pair.through_centres(np.array([0]), np.zeros((1, 2)), np.full((1, 2), float(run)))[0])

    assert through(60, 40) == 23.0
    assert through(60, 10) == 0.0                    # it ends before it
    assert through(66, 40) == 0.0                    # it runs past it


def test_but_not_in_line_with_a_hole_at_its_own_level():
    pair = runs((BASE, Hole("bore", "top", ((40, 20),), 10)), (0, 0, 30), (40, 0, 30), 1, 1)
    assert pair.through_centres(np.array([0]), np.zeros((1, 2)), np.full((1, 2), 40.0)).tolist() == [0.0]
