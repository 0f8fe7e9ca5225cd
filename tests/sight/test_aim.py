"""Where an arrow of sight stands beside the isometric of the L-block S1, 60 wide, 40 deep and 40 high. Sheet millimetres."""

from __future__ import annotations

import numpy as np
import pytest

from sheetgen.projection import view_of
from sheetgen.sight import PlacedView, Sight, heights_before
from tests.parts import S1

VIEW = PlacedView(Sight(view_of(S1.solid(), "isometric")), 1.0, np.array([200.0, 100.0]))


@pytest.mark.parametrize("height", [-15.0, 0.0, 25.0])
@pytest.mark.parametrize("aside", [-20.0, 30.0])
def test_a_point_thought_in_the_front_of_the_box_is_as_high_as_it_is_drawn_there(aside, height):
    points = VIEW.paper(np.array([[aside, 0.0, height]]))
    assert heights_before(VIEW, points, np.array(VIEW.unit(1))) == pytest.approx(height * np.hypot(*VIEW.vector(2)))


def test_seen_from_the_right_it_is_the_right_face_that_counts():
    points = VIEW.paper(np.array([[60.0, 10.0, 7.0], [60.0, 50.0, -7.0]]))
    found = heights_before(VIEW, points, -np.array(VIEW.unit(0)))
    assert found == pytest.approx(np.array([7.0, -7.0]) * np.hypot(*VIEW.vector(2)))
