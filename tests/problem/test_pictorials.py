"""Which pictorial is asked from: one that can be read, and of two the one that misleads less. Millimetres."""

from __future__ import annotations

import pytest

from sheetgen.bank import Identity
from sheetgen.bank.features import Block, Feature, Slant
from sheetgen.measures import measures_of
from sheetgen.problem import Problem
from sheetgen.refusals import RefusedError
from sheetgen.sight import Sight, awkward_meetings, pictorial_faults
from sheetgen.solid import build
from tests.parts import outer

PLATE = Block("base", False, (0, 80), (0, 80), (0, 20))
POST = Block("post", False, (10, 50), (0, 20), (0, 70))
"""From the usual corner an edge of the plate goes out of sight just where a corner of the post is."""


def problem_of(*features: Feature) -> Problem:
    solid = build(features)
    return Problem(Identity("part", 1), "Part", (), solid, measures_of(solid, outer()))


def sides(sight: Sight) -> set[str]:
    return set(sight.view.frame.shows) - {"front", "top"}


def slope_at_the(side: str) -> tuple[Feature, ...]:
    """A block with a slope of 45 degrees at the top of one side: from the corner that looks along it, it is seen edge-on."""
    base = Block("base", False, (0, 60), (0, 60), (0, 60))
    line = ((0, 36), (24, 60)) if side == "left" else ((36, 60), (60, 36))
    return base, Slant(f"slope_{side}", "front", line, "above", (None, None))


def test_a_part_that_is_clear_from_both_corners_is_asked_from_the_usual_one_which_shows_its_right_side():
    assert [sides(sight) for sight in problem_of(PLATE).pictorials()] == [{"right"}, {"left"}]


def test_one_that_cannot_be_read_from_the_usual_corner_is_asked_from_the_other():
    # the isometric line of sight makes equal angles with the axes (ISO 5456-3 5.1, from memory)
    assert [sides(sight) for sight in problem_of(*slope_at_the("left")).pictorials()] == [{"left"}]
    assert sides(problem_of(*slope_at_the("right")).pictorial) == {"right"}


def test_and_one_that_can_be_read_from_neither_is_refused_with_what_is_wrong_from_each():
    base, left = slope_at_the("left")
    _, right = slope_at_the("right")
    with pytest.raises(RefusedError) as refused:
        _ = problem_of(base, left, right).pictorial
    assert [reason.what for reason in refused.value.reasons] == [
        "slope_left.face is seen edge-on in the pictorial", "slope_right.face is seen edge-on in the pictorial"]


def test_a_face_that_is_edge_on_from_both_corners_says_so_and_what_helps():
    """Equal legs at the back: both corners look along it, because they see depth and height under the same angle."""
    base, _ = slope_at_the("left")
    with pytest.raises(RefusedError) as refused:
        _ = problem_of(base, Slant("back", "right", ((36, 60), (60, 36)), "above", (None, None))).pictorial
    assert [reason.what for reason in refused.value.reasons] == [
        "back.face is seen edge-on in the pictorial from both sides; a slope with unequal legs would show"]
    assert problem_of(base, Slant("back", "right", ((48, 60), (60, 36)), "above", (None, None))).pictorial


def test_of_two_that_can_be_read_the_one_with_fewer_awkward_meetings_comes_first():
    part = problem_of(PLATE, POST)
    counts = [awkward_meetings(sight) for sight in part.pictorials()]
    assert not any(pictorial_faults(sight) for sight in part.pictorials())
    assert counts == [0, 1]
    assert sides(part.pictorial) == {"left"}
