"""Lines of a view as marks."""

from __future__ import annotations

import numpy as np

from sheetgen.bank import load_bank
from sheetgen.bank.features import Block, Hole
from sheetgen.projection import Straight, view_of
from sheetgen.sheet.viewmarks import GLIMPSE, view_marks
from sheetgen.sight import PlacedView, Sight
from sheetgen.solid import build


def pictorial(features) -> PlacedView:
    return PlacedView(Sight(view_of(build(features), "isometric")), 1.0, np.zeros(2))


def test_a_glimpse_of_a_curve_in_the_ink_of_another_line_is_not_drawn_on_it():
    # A hole 20 wide and 14.1 deep (its upper rim is 14.14 high on paper) shows 1.8 mm of its lower rim, 0.04 from the upper.
    # Lines are not drawn over one another (common practice, no source).
    view = pictorial([
        Block(name="base", cut=False, x=(0.0, 85.0), y=(0.0, 65.0), z=(0.0, 60.0)),
        Hole(name="hole", mouth="top", at=((30.0, 45.0),), diameter=20.0, depth=14.1),
    ])
    [glimpse] = [shape for shape in view.view.visible_lines if not isinstance(shape, Straight) and shape.length < GLIMPSE]
    drawn = view_marks(view, hidden=False, centres=False)
    assert len(drawn) == len(view.view.visible_lines) - 1
    assert not any(np.allclose(mark.points[0], glimpse.points()[0]) and len(mark.points) == 4 for mark in drawn)


def test_all_other_lines_of_a_view_are_drawn():
    for family in ("stepped-block", "bearing-support"):
        view = pictorial(load_bank()[family].sample(5).features)
        assert len(view_marks(view, hidden=False, centres=False)) == len(view.view.visible_lines)
