"""Lines of a view as marks."""

from __future__ import annotations

import numpy as np

from sheetgen.bank import load_bank
from sheetgen.dimensions import PlacedView
from sheetgen.projection import Straight, view_of
from sheetgen.sheet.viewmarks import GLIMPSE, view_marks
from sheetgen.solid import build


def pictorial(family: str, seed: int) -> PlacedView:
    solid = build(load_bank()[family].sample(seed).features)
    return PlacedView(view_of(solid, "isometric"), 1.0, np.zeros(2))


def test_a_glimpse_of_a_curve_in_the_ink_of_another_line_is_not_drawn_on_it():
    # lines on paper are not drawn over one another (common practice, no source)
    views = [pictorial("counterbored-block", seed) for seed in range(40)]
    short = [sum(not isinstance(shape, Straight) and shape.length < GLIMPSE for shape in view.view.visible_lines) for view in views]
    missing = [len(view.view.visible_lines) - len(view_marks(view, hidden=False, centres=False)) for view in views]
    assert sum(missing) > 0, "no seed shows the far rim of a bore just behind its counterbore's: look for another"
    assert all(gone <= glimpses for gone, glimpses in zip(missing, short, strict=True))


def test_all_other_lines_of_a_view_are_drawn_once():
    for family in ("stepped-block", "bearing-support"):
        view = pictorial(family, 5)
        assert len(view_marks(view, hidden=False, centres=False)) == len(view.view.visible_lines)
