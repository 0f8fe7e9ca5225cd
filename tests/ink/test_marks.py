"""Arcs, circles, moving, and how far marks reach."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.ink import Fill, Pen, Stroke, Text, arc_curve, circle, flattened, moved, stroke_length
from sheetgen.ink.curves import MOST_CHORDS
from tests.extent import bounds


def bezier(curve, per_span=33):
    t = np.linspace(0, 1, per_span)[:, None]
    spans = [curve[i:i + 4] for i in range(0, len(curve) - 1, 3)]
    return np.vstack([(1 - t)**3 * p + 3 * t * (1 - t)**2 * q + 3 * t * t * (1 - t) * r + t**3 * s for p, q, r, s in spans])


@given(t0=st.floats(-7, 7), turn=st.floats(0.01, 2 * math.pi), radius=st.floats(0.5, 300))
def test_an_arc_keeps_its_radius_to_one_part_in_a_hundred_thousand(t0, turn, radius):
    curve = arc_curve(np.array([3.0, 4.0]), np.array([radius, 0]), np.array([0, radius]), t0, t0 + turn)
    assert np.hypot(*(bezier(curve) - [3, 4]).T) == pytest.approx(np.full(33 * (len(curve) // 3), radius), rel=1e-5)


def test_an_arc_begins_and_ends_where_it_is_told_either_way_round():
    for t0, t1 in ((0.3, 2.0), (2.0, 0.3)):
        curve = arc_curve(np.zeros(2), np.array([5.0, 0]), np.array([0, 5.0]), t0, t1)
        assert curve[0] == pytest.approx([5 * math.cos(t0), 5 * math.sin(t0)])
        assert curve[-1] == pytest.approx([5 * math.cos(t1), 5 * math.sin(t1)])
        assert stroke_length(Stroke(curve, Pen.OUTLINE, curved=True)) == pytest.approx(5 * 1.7, rel=1e-5)


def test_an_isometric_circle_lies_within_its_rhombus_and_touches_it():
    # the ellipse of a circle in an isometric plane touches the middles of the rhombus's sides
    right, up = np.array([math.cos(math.pi / 6), -0.5]) * 20, np.array([0.0, 20.0])
    at = bezier(arc_curve(np.zeros(2), right, up, 0, 2 * math.pi))
    s, t = np.linalg.solve(np.column_stack([right, up]), at.T)
    assert max(abs(s).max(), abs(t).max()) == pytest.approx(1, abs=1e-5)


def test_a_circle_is_closed_exactly():
    ring = circle((50.0, 60.0), 7.3, Pen.OUTLINE)
    assert ring.curved and ring.closed
    assert ring.points[0].tolist() == ring.points[-1].tolist() == [57.3, 60.0]


@given(radius=st.floats(0.1, 400), error=st.sampled_from([0.1, 0.01, 0.001]))
def test_chords_leave_the_curve_by_no_more_than_the_error(radius, error):
    chords = flattened(circle((0, 0), radius, Pen.OUTLINE), error)
    middles = (chords[1:] + chords[:-1]) / 2
    assert np.hypot(*middles.T).min() >= radius - error - 1e-5 * radius
    assert len(chords) <= 8 * MOST_CHORDS


def test_a_closed_polyline_comes_back_to_its_start_once():
    box = np.array([[0.0, 0.0], [4.0, 0.0], [4.0, 3.0]])
    assert flattened(Stroke(box, Pen.OUTLINE, closed=True)).tolist() == [*box.tolist(), [0, 0]]
    again = np.vstack([box, box[:1]])
    assert flattened(Stroke(again, Pen.OUTLINE, closed=True)).tolist() == again.tolist()
    assert stroke_length(Stroke(box, Pen.OUTLINE, closed=True)) == stroke_length(Stroke(again, Pen.OUTLINE, closed=True)) == 12


def test_marks_move_together_and_the_first_ones_stay():
    marks = [circle((0, 0), 5, Pen.HIDDEN), Fill(np.array([[0.0, 0], [-3, 0.4], [-3, -0.4]])), Text("40", (1.0, 2.0), 3.5)]
    ring, head, text = moved(marks, 10, -3)
    assert ring.points[0].tolist() == [15, -3]
    assert head.points[0].tolist() == [10, -3]
    assert text.at == (11, -1)
    assert marks[2].at == (1, 2) and marks[0].points[0].tolist() == [5, 0]


def test_bounds_count_the_width_of_lines_and_the_box_of_lettering():
    ring, text = circle((50, 50), 10, Pen.OUTLINE), Text("H", (70, 50), 7.0)
    assert bounds([ring]) == pytest.approx((39.75, 39.75, 60.25, 60.25), abs=0.01)
    assert bounds([ring, text])[3] == pytest.approx(60.25, abs=0.01)
    left, bottom, _, top = bounds([text])
    assert (left, bottom, top) == (70, 50, 57)
    assert bounds([Fill(np.array([[1.0, 2], [3, 4], [5, 0]]))]) == (1, 0, 5, 4)
