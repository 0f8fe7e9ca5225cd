"""Numbers in rings: where their leaders end, and what they keep clear of. Sheet millimetres."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from sheetgen.exercises.rings import LEAST_TURN, NEAR, Target, rings
from sheetgen.ink import Pen, Stroke, Text

AREA = (0.0, 0.0, 200.0, 120.0)
LINE = np.array([(50.0, 50.0), (90.0, 50.0)])


def leader_of(drawn, target):
    found = rings([target], drawn, AREA, [])
    [ring] = [mark for mark in found if isinstance(mark, Stroke) and mark.closed]
    [leader] = [mark.points for mark in found if isinstance(mark, Stroke) and not mark.closed]
    return ring, leader


@pytest.mark.parametrize("off", [0.0, 0.8, -0.8, 1.3])
def test_a_leader_ends_where_no_other_line_could_be_meant(off):
    other = np.array([(70.0 + off, 40.0), (70.0 + off, 60.0)])
    _, leader = leader_of([Stroke(LINE, Pen.OUTLINE), Stroke(other, Pen.OUTLINE)], Target.of_line(LINE))
    assert leader[0][1] == 50.0 and shapely.LineString(other).distance(shapely.Point(leader[0])) > NEAR


def test_a_leader_turns_off_its_line():
    rows = [Stroke(LINE + np.array((0.0, step)), Pen.OUTLINE) for step in (0.0, 4.0, -4.0, 8.0, -8.0, 12.0, -12.0)]
    _, leader = leader_of(rows, Target.of_line(LINE))
    along = (leader[1] - leader[0]) / np.hypot(*(leader[1] - leader[0]))
    assert abs(along[1]) >= LEAST_TURN


def test_the_ring_of_a_text_stands_beside_it_and_touches_nothing():
    text = Text("110", (100.0, 60.0), 3.5, anchor="middle")
    wall = Stroke(np.array([(106.0, 40.0), (106.0, 80.0)]), Pen.OUTLINE)
    ring, leader = leader_of([text, wall], Target.of_text(text))
    whole = shapely.Polygon(ring.points[::3])
    assert whole.distance(shapely.LineString(wall.points)) > 0.8 and not shapely.box(94.0, 60.0, 106.0, 63.5).intersects(whole)
    assert shapely.LineString(leader).distance(whole) < 0.5


def test_where_a_ring_finds_no_place_there_is_none():
    assert rings([Target.of_line(LINE)], [Stroke(LINE, Pen.OUTLINE)], (45.0, 45.0, 95.0, 52.0), []) is None
