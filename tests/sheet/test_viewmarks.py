"""Lines of a view as marks."""

from __future__ import annotations

import numpy as np
import pytest

from sheetgen.bank import load_bank
from sheetgen.bank.features import Block, Hole
from sheetgen.ink import Pen, dashed
from sheetgen.projection import Straight, view_of
from sheetgen.projection.lines import GLIMPSE
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView, Sight
from sheetgen.solid import build
from tests.parts import S1, S2, S4


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


def hidden_ends(part, name: str, scale: float = 1.0) -> dict[tuple[float, float], bool]:
    """The ends of the hidden lines of a view, and whether the dashes begin there with a gap."""
    view = PlacedView(Sight(view_of(part.solid(), name)), scale, np.zeros(2))
    found = {}
    for mark in view_marks(view):
        if mark.pen is Pen.HIDDEN:
            for point, gap in ((mark.points[0], mark.gap_first), (mark.points[-1], mark.gap_last)):
                key = tuple((point / scale).round(6).tolist())
                found[key] = found.get(key, False) or gap
    return found


@pytest.mark.parametrize("scale", [1.0, 0.5])
def test_a_hidden_line_that_goes_on_from_a_visible_one_begins_with_a_gap_and_no_other_does(scale):
    # US Navy manual p. 3-21; S4's slot: its sides show down to 20 and are hidden from there to 10
    ends = hidden_ends(S4, "front", scale)
    assert {end for end, gap in ends.items() if gap} == {(22, 20), (38, 20)}
    assert len(ends) == 4


def test_a_hidden_line_that_ends_at_a_line_across_it_begins_with_a_dash():
    assert not any(hidden_ends(S1, "front").values())
    assert not any(hidden_ends(S2, "top").values())


def test_the_gap_is_drawn():
    view = PlacedView(Sight(view_of(S4.solid(), "front")), 1.0, np.zeros(2))
    [side] = [mark for mark in dashed(view_marks(view)) if mark.pen is Pen.HIDDEN and np.ptp(mark.points[:, 0]) == 0
              and mark.points[0, 0] == 22]
    (dash, gap), reach = side.dash, 10.0
    begins_up = side.points[0, 1] > side.points[-1, 1]
    # where in the dashes the end at 20 lies: within a gap
    at = side.phase if begins_up else side.phase + reach
    assert gap == 0.75 and (at + (1 if begins_up else -1) * 0.3) % (dash + gap) > dash
