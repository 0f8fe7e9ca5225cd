"""Whether a pictorial can be read: what misleads is named. Angles and places by hand. Millimetres."""

from __future__ import annotations

import math

import pytest

from sheetgen.bank.features import Block, Cylinder, Feature, Hole, Slant
from sheetgen.projection import view_of
from sheetgen.sight import Sight, awkward_meetings, pictorial_faults
from sheetgen.solid import build

BASE = Block("base", False, (0, 60), (0, 60), (0, 60))


def faults(*features: Feature) -> list[str]:
    return [str(fault) for fault in pictorial_faults(Sight(view_of(build(features), "isometric")))]


def sloped_at(angle: float) -> tuple[Feature, ...]:
    """A block with a slope at the top left that makes an angle with the level."""
    run = 24 / math.tan(math.radians(angle))
    return BASE, Slant("slope", "front", ((0, 36), (run, 60)), "above", (None, None))


def test_a_plain_block_can_be_read():
    assert faults(BASE) == []


def test_a_slope_of_45_degrees_that_looks_away_is_seen_edge_on():
    # the isometric line of sight makes equal angles with the axes (ISO 5456-3 5.1, from memory): it runs along that slope
    assert faults(*sloped_at(45)) == ["slope.face is seen edge-on in the pictorial"]


@pytest.mark.parametrize("angle", [40, 43])
def test_a_slope_a_few_degrees_flatter_is_a_sliver(angle):
    # sine of the angle to the line of sight: (cos a - sin a) / sqrt 3; less than that of 5 degrees is refused
    assert (math.cos(math.radians(angle)) - math.sin(math.radians(angle))) / math.sqrt(3) < math.sin(math.radians(5))
    assert faults(*sloped_at(angle)) == ["slope.face is seen nearly edge-on in the pictorial"]


@pytest.mark.parametrize("angle", [20, 30, 35])
def test_a_flatter_slope_shows(angle):
    assert faults(*sloped_at(angle)) == []


@pytest.mark.parametrize("angle", [47, 60])
def test_a_steeper_slope_turns_away_and_does_not_show(angle):
    assert faults(*sloped_at(angle)) == []


def test_a_feature_of_which_nothing_shows_is_named():
    assert faults(BASE, Hole("bore", "back", ((30, 30),), 20, depth=12)) == ["nothing of bore shows in the pictorial"]


def test_corners_apart_in_space_that_fall_on_one_another_are_named():
    # a point moved as far to the right, to the front and up falls on the same spot of an isometric drawing
    plate = Block("plate", False, (0, 60), (0, 60), (0, 20))
    far, near = Block("far", False, (0, 20), (40, 60), (0, 40)), Block("near", False, (40, 60), (0, 20), (0, 60))
    assert any("corners that are apart fall on one another" in fault for fault in faults(plate, far, near))
    taller = Block("near", False, (40, 60), (0, 20), (0, 66))
    assert not any("corners that are apart" in fault for fault in faults(plate, far, taller))


def test_an_edge_that_disappears_just_at_a_strangers_corner_is_counted():
    # the plate's back edge goes out of sight where the post's top corner is, 40 to the left, 40 back and 40 down from it
    plate = Block("plate", False, (0, 80), (0, 80), (0, 20))
    met, clear = (Block("post", False, (20, 60), (0, depth), (0, 60)) for depth in (40, 34))
    counts = [awkward_meetings(Sight(view_of(build((plate, post)), "isometric"))) for post in (met, clear)]
    assert counts[0] > counts[1]


def test_the_outline_of_a_boss_in_one_line_with_an_edge_beyond_it_is_named():
    # places that are as far to the right and back together lie under one another: 40 + 70, and 80 + 47 less 12 times root 2
    plate, tower = Block("plate", False, (0, 110), (0, 80), (0, 10)), Block("tower", False, (10, 40), (50, 70), (10, 60))
    level = 80 + 47 - 12 * math.sqrt(2)
    assert level == pytest.approx(40 + 70, abs=0.1)
    boss = Cylinder("boss", False, "z", ((80, 47),), 24, (10, 50))
    assert any("fall on one line" in fault for fault in faults(plate, tower, boss))
    assert faults(plate, tower, Cylinder("boss", False, "z", ((83, 47),), 24, (10, 50))) == []
