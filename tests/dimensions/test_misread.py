"""Extension lines on a pictorial that would be misread, in cases worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from sheetgen.bank.features import Block
from sheetgen.dimensions import PlacedView
from sheetgen.dimensions.misread import GOES_ON, HIDDEN_RUN, MOST_HIDDEN, SEEMS_EDGE, Runs
from sheetgen.projection import view_of
from sheetgen.solid import build

BASE = Block("base", False, (0, 100), (0, 60), (0, 30))
STEP = Block("step", False, (0, 50), (0, 60), (30, 60))
"""On the base, level with its front."""
TOWER = Block("tower", False, (20, 55), (5, 40), (30, 60))
"""On the base, back from its front: its front right edge stands, on paper, over the place 60 mm from the left on the base's."""


def runs(features, one, other, outward, sign, axis=0):
    view = PlacedView(view_of(build(features), "isometric"), 1.0, np.array([100.0, 100.0]))
    points = np.array([[one, other]], dtype=float)
    return Runs(view, points, np.array([outward]), np.array([float(sign)]), np.array([axis]))


def hidden(pair, run):
    return float(pair.hidden(np.array([0]), np.zeros((1, 2)), np.full((1, 2), float(run)))[0])


def test_an_extension_line_inside_the_part_seems_to_lie_on_the_face_before_it():
    # from the foot of the front, inwards: 20 mm under the base, for both ends
    assert hidden(runs((BASE,), (20, 0, 0), (60, 0, 0), 1, 1), 20) == pytest.approx(2 * 20 * HIDDEN_RUN, rel=0.02)
    assert hidden(runs((BASE,), (20, 0, 0), (60, 0, 0), 1, 1), 60) == MOST_HIDDEN


def test_one_on_a_face_or_out_of_the_part_is_not_hidden():
    assert hidden(runs((BASE,), (0, 0, 30), (100, 0, 30), 1, 1), 60) == 0.0
    assert hidden(runs((BASE,), (0, 0, 0), (100, 0, 0), 1, -1), 60) == 0.0


def test_an_extension_line_that_goes_on_over_a_face_where_an_edge_ends_seems_to_be_its_end():
    assert runs((BASE, STEP), (50, 0, 30), (100, 0, 30), 2, -1).seeming().tolist() == [GOES_ON]
    assert runs((BASE, STEP), (0, 0, 0), (100, 0, 0), 2, -1).seeming().tolist() == [0.0]      # out of the part, it does not


def test_an_extension_line_under_the_edge_of_another_feature_seems_to_come_from_that():
    assert runs((BASE, TOWER), (0, 0, 30), (60, 0, 30), 2, -1).seeming().tolist() == [SEEMS_EDGE]
    assert runs((BASE, TOWER), (0, 0, 30), (66, 0, 30), 2, -1).seeming().tolist() == [0.0]
