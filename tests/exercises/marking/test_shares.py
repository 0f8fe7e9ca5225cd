"""Half marks shared out: they add up, in proportion, and what is right makes marks step by step."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.exercises.marking.shares import ladder, shared

WEIGHTS = st.lists(st.one_of(st.just(0.0), st.floats(0.1, 1000.0)), min_size=1, max_size=12).filter(any)


@given(halves=st.integers(1, 400), weights=WEIGHTS)
def test_shares_add_up_and_what_weighs_nothing_has_nothing(halves, weights):
    found = shared(halves, weights)
    assert sum(found) == halves and min(found) >= 0
    assert all(part == 0 for part, weight in zip(found, weights, strict=True) if weight == 0)


@given(halves=st.integers(1, 400), weights=WEIGHTS)
def test_whatever_weighs_anything_has_a_half_at_least_where_there_are_enough(halves, weights):
    if halves >= sum(weight > 0 for weight in weights):
        assert all(part >= 1 for part, weight in zip(shared(halves, weights), weights, strict=True) if weight > 0)


@given(halves=st.integers(12, 400), weights=st.lists(st.integers(1, 3), min_size=2, max_size=4))
def test_a_share_is_its_quota_rounded_up_or_down(halves, weights):
    # the quota rule of the method of the largest remainder (Hamilton's; Balinski and Young 1982, from memory)
    for part, weight in zip(shared(halves, weights), weights, strict=True):
        assert abs(part - Fraction(halves * weight, sum(weights))) < 1


def test_seats_are_shared_out_as_in_a_worked_example():
    # 10 seats for 47, 16, 15.8, 12, 6.1 and 3.1 thousand votes, quotas 4.7, 1.6, 1.58, 1.2, 0.61, 0.31 (a widely printed example
    # of the largest remainder, from memory, that gives 5, 2, 1, 1, 1, 0); here the least too has one, as there are enough
    votes = [47_000, 16_000, 15_800, 12_000, 6_100, 3_100]
    assert shared(10, votes) == (4, 2, 1, 1, 1, 1)
    assert shared(5, votes) == (2, 1, 1, 1, 0, 0)


@given(count=st.integers(1, 60), halves=st.integers(1, 60), most=st.integers(1, 12))
def test_a_ladder_ends_with_all_right_and_full_marks_and_never_goes_down(count, halves, most):
    found = ladder(count, halves, most)
    assert found[-1] == (count, halves) and len(found) <= most
    assert all(a < c and b < d for (a, b), (c, d) in pairwise(found))


@given(count=st.integers(1, 60), halves=st.integers(1, 60), most=st.integers(1, 12))
def test_so_many_right_make_marks_in_proportion_halves_not_reached_left_out(count, halves, most):
    # marks in proportion to the work done (CBSE, India, all years)
    assert all(marks == halves * right // count for right, marks in ladder(count, halves, most))


@pytest.mark.parametrize(("count", "halves", "steps"), [
    (4, 6, ((1, 1), (2, 3), (3, 4), (4, 6))),              # 4 things, 3 marks: 0.75 each
    (14, 4, ((4, 1), (7, 2), (11, 3), (14, 4))),           # 14 lines, 2 marks: 3.5 lines a half
    (2, 2, ((1, 1), (2, 2))),
])
def test_ladders_as_a_marker_would_write_them(count, halves, steps):
    assert ladder(count, halves, 8) == steps
