"""Centre lines of a pictorial: only what shows, and only where there is room for a chain line."""

from __future__ import annotations

import numpy as np
import pytest

from sheetgen.bank.features import Block, Cylinder
from sheetgen.projection import seen_segments, symmetry_trace, view_of
from sheetgen.solid import build

OPEN = (None, None)
STEPPED = build([Block("base", False, (0, 60), (0, 40), (0, 20)), Block("up", False, (0, 60), (10, 30), (20, 50))])


def test_a_line_on_a_face_shows_where_nothing_stands_before_it():
    # behind the upright part the step's top is hidden up to where that part ends
    view = view_of(STEPPED, "isometric")
    before, behind = np.array([[5.0, 5.0, 20.0], [55.0, 5.0, 20.0]]), np.array([[5.0, 35.0, 20.0], [30.0, 35.0, 20.0]])
    [shown] = seen_segments(view, [before], 1.0)
    assert np.hypot(*(shown[1] - shown[0])) == pytest.approx(50.0)
    assert seen_segments(view, [behind], 1.0) == []


def test_specks_of_a_line_are_left_out():
    view = view_of(STEPPED, "isometric")
    assert seen_segments(view, [np.array([[5.0, 5.0, 20.0], [6.5, 5.0, 20.0]])], 2.0) == []


def lengths(solid, axis, scale=1.0):
    return [float(np.hypot(*(line[1] - line[0]))) * scale for line in symmetry_trace(view_of(solid, "isometric"), axis, scale)]


def test_a_mid_plane_is_traced_where_a_chain_line_has_room():
    # the 10 mm on the base's end face are too short for dash, dot and dash
    low = build([Block("base", False, (0, 60), (0, 40), (0, 10)), Block("up", False, (20, 40), (0, 40), (10, 40))])
    assert sorted(lengths(low, 1)) == pytest.approx([20.0, 20.0, 30.0])


def test_where_none_has_room_the_longest_is_drawn():
    flat = build([Block("base", False, (0, 12), (0, 40), (0, 9))])
    assert lengths(flat, 1) == pytest.approx([12.0])


def test_no_trace_runs_along_a_round_side_where_it_would_read_as_an_edge():
    block, boss = Block("base", False, (0, 60), (0, 60), (0, 10)), Cylinder("boss", False, "z", ((30, 30),), 40.0, (10, 50))
    solid = build([block, boss])
    across = [line for axis in (0, 1) for line in symmetry_trace(view_of(solid, "isometric"), axis)]
    # on the base 10 mm at each side, on its ends 10: all too short for a chain; on the boss's top its diameter
    assert [float(np.hypot(*(line[1] - line[0]))) for line in across] == pytest.approx([40.0, 40.0])
