"""Widths and dashes. Lengths of elements: ISO 128-20:1996 Table 3 / ISO 128-2:2020, from memory."""

import math
from itertools import cycle

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from sheetgen.ink import EARLIER, Fill, Pen, Stroke, Text, arc_curve, circle, dashed, stroke_length, width_of

D = 0.25   # mm, the narrow line
lengths = st.floats(0.2, 500.0)


def line(length, pen, **ends):
    return Stroke(np.array([[10.0, 20.0], [10.0 + length, 20.0]]), pen, **ends)


def inked(stroke, length):
    """Return the inked stretches (start, end) in mm along a stroke, as a reader of the dash array paints them."""
    if not stroke.dash:
        return [(0.0, length)]
    stretches, at, ink = [], -stroke.phase, True
    elements = cycle(stroke.dash)
    while at < length:
        element = next(elements)
        if ink and at + element > 0:
            stretches.append((max(at, 0.0), min(at + element, length)))
        at, ink = at + element, not ink
    return stretches


def only(marks):
    (mark,) = marks
    return mark


def test_an_outline_is_twice_as_wide_as_a_narrow_line():
    # ISO 128-24 cl. 4, from memory: wide to narrow is 2 to 1
    for narrow in (Pen.HIDDEN, Pen.CENTRE, Pen.DIMENSION, Pen.TABLE):
        assert width_of(Pen.OUTLINE) == 2 * width_of(narrow)


def test_what_stands_back_has_the_next_narrower_group_and_its_own_dashes():
    # ISO 128-20:1996 cl. 4.1 and Table 3, from memory: 0.35 and 0.18 after 0.5 and 0.25; dashes of 12 and gaps of 3 widths
    assert [width_of(pen) for pen in EARLIER.values()] == [0.35, 0.18, 0.18, 0.35, 0.18] and width_of(Pen.CONSTRUCTION) == 0.13
    assert only(dashed([line(12 * 0.18 + 7 * 15 * 0.18, Pen.EARLIER_HIDDEN)])).dash == pytest.approx((12 * 0.18, 3 * 0.18))
    assert len(only(dashed([line(40.0, Pen.EARLIER_CENTRE)])).dash) == 4
    assert only(dashed([line(40.0, Pen.EARLIER_OUTLINE)])).dash == ()


def test_every_pen_has_a_width_of_the_series():
    # ISO 128-20:1996 cl. 4.1, from memory
    assert {width_of(pen) for pen in Pen} <= {0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0}


def test_a_hidden_line_of_whole_periods_has_nominal_dashes_and_gaps():
    stroke = only(dashed([line(7 * 15 * D + 12 * D, Pen.HIDDEN)]))
    assert stroke.dash == (12 * D, 3 * D)
    assert stroke.phase == 0


@given(length=lengths)
def test_a_hidden_line_begins_and_ends_with_a_dash(length):
    stretches = inked(only(dashed([line(length, Pen.HIDDEN)])), length)
    assert stretches[0][0] == 0
    assert stretches[-1][1] == pytest.approx(length)
    assert stretches[-1][1] - stretches[-1][0] > 0.45 * 12 * D or length < 12 * D


@given(length=lengths)
def test_dashes_stay_between_half_and_one_and_a_half_of_nominal_and_gaps_stay(length):
    stroke = only(dashed([line(length, Pen.HIDDEN)]))
    if length < 15 * D:
        assert stroke.dash == ()   # too short for two dashes: one
    else:
        dash, gap = stroke.dash
        assert 0.5 * 12 * D <= dash <= 1.5 * 12 * D
        assert gap == 3 * D


@given(length=st.floats(3.0, 500.0))
def test_a_hidden_line_that_continues_a_visible_one_begins_with_a_gap(length):
    stretches = inked(only(dashed([line(length, Pen.HIDDEN, gap_first=True)])), length)
    assert stretches[0][0] == pytest.approx(3 * D)
    assert stretches[-1][1] == pytest.approx(length)


@given(length=st.floats(3.0, 500.0))
def test_a_hidden_line_between_two_visible_ones_has_a_gap_at_either_end_and_no_speck_after_it(length):
    stretches = inked(only(dashed([line(length, Pen.HIDDEN, gap_first=True, gap_last=True)])), length)
    assert stretches[0][0] == pytest.approx(3 * D)
    assert length - stretches[-1][1] == pytest.approx(3 * D, abs=0.05)
    assert min(end - start for start, end in stretches) > 0.5


@given(length=st.floats(0.01, 3.0))
def test_even_the_shortest_line_after_a_visible_one_keeps_its_gap(length):
    stretches = inked(only(dashed([line(length, Pen.HIDDEN, gap_first=True)])), length)
    assert stretches[0][0] >= length / 4 - 0.001
    assert stretches[-1][1] - stretches[0][0] >= length / 2


def test_a_line_of_no_length_has_no_dashes():
    for pen in (Pen.HIDDEN, Pen.CENTRE):
        for ends in ({}, {"gap_first": True}, {"closed": True}):
            assert all(stroke.dash == () for stroke in dashed([line(0.0, pen, **ends)]))


@given(length=st.floats(9.1, 500.0))
def test_a_centre_line_has_an_odd_number_of_long_dashes_and_crosses_in_the_middle_of_one(length):
    stroke = only(dashed([line(length, Pen.CENTRE)]))
    if not stroke.dash:
        assert length < 10.5
        return
    long_dash, gap, dot, _ = stroke.dash
    longs = [s for s in inked(stroke, length) if s[1] - s[0] > 2 * dot]
    assert len(longs) % 2 == 1
    assert longs[0][0] == 0
    assert longs[-1][1] == pytest.approx(length)
    assert sum(longs[len(longs) // 2]) / 2 == pytest.approx(length / 2, abs=0.05)
    assert (gap, dot) == (3 * D, 0.5 * D)
    assert (0.6 - 0.03) * 24 * D <= long_dash <= 1.5 * 24 * D or len(longs) == 3


def test_a_short_centre_line_is_one_dash():
    assert only(dashed([line(8.0, Pen.CENTRE)])).dash == ()


@pytest.mark.parametrize("radius", [3.5, 5.0, 7.5, 10.0, 24.0, 61.0])
def test_a_pitch_circle_meets_its_centre_lines_on_long_dashes(radius):
    stroke = only(dashed([circle((50, 50), radius, Pen.CENTRE)]))
    around = 2 * math.pi * radius
    for quarter in range(4):
        at = quarter * around / 4
        assert any(start <= at <= end and end - start > 1 for start, end in inked(stroke, around))
    assert around % sum(stroke.dash) == pytest.approx(0, abs=0.1) or around % sum(stroke.dash) > sum(stroke.dash) - 0.1


@given(radius=st.floats(0.8, 100.0))
@example(radius=0.890625)          # between one period and two
def test_a_hidden_circle_has_a_whole_number_of_periods(radius):
    stroke = only(dashed([circle((0, 0), radius, Pen.HIDDEN)]))
    periods = 2 * math.pi * radius / sum(stroke.dash)
    assert periods == pytest.approx(round(periods), rel=1e-3)
    assert 0.5 * 12 * D <= stroke.dash[0] <= 1.6 * 12 * D


def test_the_corner_of_a_hidden_polyline_is_two_dashes_that_touch():
    corner = Stroke(np.array([[0.0, 0.0], [17.0, 0.0], [17.0, 29.0]]), Pen.HIDDEN, gap_first=True, gap_last=True)
    first, second = dashed([corner])
    assert inked(first, 17.0)[-1][1] == pytest.approx(17.0)
    assert inked(second, 29.0)[0][0] == 0
    assert first.gap_first and not first.gap_last
    assert second.gap_last and not second.gap_first


def test_a_hidden_rectangle_has_dashes_in_its_four_corners():
    box = np.array([[0.0, 0.0], [30.0, 0.0], [30.0, 20.0], [0.0, 20.0]])
    sides = dashed([Stroke(box, Pen.HIDDEN, closed=True)])
    assert sorted(round(stroke_length(side)) for side in sides) == [20, 20, 30, 30]
    assert not any(side.closed for side in sides)


def test_a_closed_hidden_line_is_cut_at_its_corners_wherever_it_begins():
    half = np.linspace(0, math.pi, 60)
    cap = np.column_stack([10 * np.cos(half), 10 * np.sin(half)])
    for turn in (0, 20, 59):
        outline = Stroke(np.roll(cap, turn, axis=0), Pen.HIDDEN, closed=True)
        chord, arc = sorted(dashed([outline]), key=stroke_length)
        assert stroke_length(arc) == pytest.approx(10 * math.pi, rel=1e-3)
        assert stroke_length(chord) == pytest.approx(20)


def test_chords_of_a_circle_are_not_corners():
    t = np.linspace(0, 2 * math.pi, 48)
    ring = Stroke(np.column_stack([np.cos(t), np.sin(t)]) * 9, Pen.HIDDEN, closed=True)
    assert only(dashed([ring])).closed


def test_dashing_twice_changes_nothing():
    marks = [line(37.0, Pen.HIDDEN, gap_last=True), line(41.0, Pen.CENTRE), circle((0, 0), 9, Pen.HIDDEN)]
    once = dashed(marks)
    assert [(s.dash, s.phase) for s in dashed(once)] == [(s.dash, s.phase) for s in once]


def test_a_mirrored_line_has_the_same_dashes():
    there = line(23.7, Pen.HIDDEN)
    back = Stroke(there.points[::-1], Pen.HIDDEN)
    assert only(dashed([there])).dash == only(dashed([back])).dash


def test_solid_lines_lettering_and_fills_pass_untouched():
    marks = [line(30, Pen.OUTLINE), Text("40", (0, 0), 3.5), Fill(np.zeros((3, 2)))]
    assert all(a is b for a, b in zip(dashed(marks), marks, strict=True))


def test_a_hidden_ellipse_is_measured_along_the_curve():
    # Ramanujan's second formula for the perimeter, good to 1e-5 for this ellipse (from memory)
    a, b = 20.0, 20.0 * math.tan(math.radians(35.264))
    h = ((a - b) / (a + b)) ** 2
    perimeter = math.pi * (a + b) * (1 + 3 * h / (10 + math.sqrt(4 - 3 * h)))
    curve = arc_curve(np.zeros(2), np.array([a, 0]), np.array([0, b]), 0, 2 * math.pi)
    assert stroke_length(Stroke(curve, Pen.HIDDEN, curved=True, closed=True)) == pytest.approx(perimeter, rel=2e-5)
