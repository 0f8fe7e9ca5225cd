"""Sets of numbers made of intervals, worked by hand."""

from __future__ import annotations

import pytest

from sheetgen.geometry.intervals import joined, longer, minus


@pytest.mark.parametrize(("taken", "left"), [
    ([], [(2, 8)]),
    ([(0, 1)], [(2, 8)]), ([(0, 2)], [(2, 8)]), ([(8, 9)], [(2, 8)]), ([(8.5, 9)], [(2, 8)]), ([(9, 12)], [(2, 8)]),
    ([(0, 3)], [(3, 8)]), ([(7, 9)], [(2, 7)]), ([(2, 8)], []), ([(0, 9)], []),
    ([(3, 4), (6, 7)], [(2, 3), (4, 6), (7, 8)]), ([(0, 3), (7, 12)], [(3, 7)]), ([(0, 1), (3, 4), (10, 11)], [(2, 3), (4, 8)]),
])
def test_what_is_left_of_an_interval(taken, left):
    assert minus([(2, 8)], taken) == left


def test_intervals_that_touch_or_nearly_do_are_one():
    assert joined([(5, 6), (0, 1), (1, 2), (2.4, 3), (0.2, 0.7)], 0.5) == [(0, 3), (5, 6)]
    assert joined([(0, 9), (1, 2)], 0.0) == [(0, 9)]
    assert joined([], 1.0) == []


def test_short_ones_are_left_out():
    assert longer([(0, 1), (2, 4), (5, 5.5)], 1.0) == [(2, 4)]
