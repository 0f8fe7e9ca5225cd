"""What is chosen as marks, in cases worked by hand: which line is drawn where two would lie on one another. Sheet millimetres."""

from __future__ import annotations

import numpy as np
import pytest

from sheetgen.ink import Pen, Stroke
from sheetgen.placing.candidate import Arrowhead, Candidate
from sheetgen.placing.draw import joined_segments, marks_of
from sheetgen.placing.search import Placement


def line(*values) -> np.ndarray:
    return np.array(values, dtype=float).reshape(2, 2)


def drawn(extensions=(), chains=(), traces=(), lines=()) -> dict[Pen, list[tuple[float, ...]]]:
    """What is drawn of some lines, by pen, each from its lower left end."""
    candidate = Candidate((), tuple(extensions), (), (), chains=tuple(chains))
    marks = marks_of([Placement(0, 0, candidate)], traces, lines)
    strokes = [mark for mark in marks if isinstance(mark, Stroke)]
    rows = [(mark.pen, tuple(np.round(sorted(mark.points.tolist()), 6).ravel().tolist())) for mark in strokes]
    return {pen: sorted(row for other, row in rows if other is pen) for pen in (Pen.DIMENSION, Pen.CENTRE)}


def test_no_extension_line_is_drawn_over_a_centre_line_which_serves_in_its_stead():
    # centre lines may be used as extension lines (SP 46 and ISO 129-1, from memory); one leaves off 1 mm before the other begins
    found = drawn([line(10, 0, 10, 50)], traces=[line(10, -20, 10, 30)])
    assert found == {Pen.DIMENSION: [(10, 31, 10, 50)], Pen.CENTRE: [(10, -20, 10, 30)]}


def test_one_that_a_centre_line_covers_is_not_drawn_at_all():
    assert drawn([line(10, 0, 10, 20)], traces=[line(10, -20, 10, 30)])[Pen.DIMENSION] == []
    assert drawn([line(10, 0, 10, 31.5)], traces=[line(10, -20, 10, 30)])[Pen.DIMENSION] == []          # a speck would be left


def test_nor_over_a_centre_line_drawn_on_for_another_size():
    found = drawn([line(0, 5, 60, 5)], chains=[line(20, 5, 40, 5)])
    assert found == {Pen.DIMENSION: [(0, 5, 19, 5), (41, 5, 60, 5)], Pen.CENTRE: [(20, 5, 40, 5)]}


@pytest.mark.parametrize("aside", [0.1, 3.0])
def test_one_beside_it_is(aside):
    assert drawn([line(10, 0, 10, 50)], traces=[line(10 + aside, -20, 10 + aside, 30)])[Pen.DIMENSION] == [(10, 0, 10, 50)]


def test_and_one_that_crosses_it():
    assert drawn([line(0, 10, 50, 10)], traces=[line(20, 0, 20, 40)])[Pen.DIMENSION] == [(0, 10, 50, 10)]


def test_a_centre_line_is_not_drawn_over_an_outline():
    # precedence: visible before centre (ISO 128:1982, from memory)
    found = drawn(traces=[line(10, 0, 10, 50)], lines=[line(10, 10, 10, 20)])
    assert found[Pen.CENTRE] == [(10, 0, 10, 9), (10, 21, 10, 50)]


def test_a_centre_line_and_what_it_is_drawn_on_by_are_one_line():
    assert drawn(chains=[line(30, 5, 50, 5)], traces=[line(10, 5, 30, 5)])[Pen.CENTRE] == [(10, 5, 50, 5)]


def test_lines_that_several_sizes_share_are_drawn_once():
    found = joined_segments([line(0, 0, 0, 20), line(0, 5, 0, 30), line(1, 0, 1, 20), line(0, 40, 0, 50)])
    assert sorted(tuple(each.ravel().tolist()) for each in found) == [(0, 0, 0, 30), (0, 40, 0, 50), (1, 0, 1, 20)]


def test_a_dimension_line_ends_within_its_arrowheads_so_that_their_tips_stay_sharp():
    heads = (Arrowhead(np.array([0.0, 0.0]), np.array([-1.0, 0.0]), np.array([0.0, 1.0])),
             Arrowhead(np.array([40.0, 0.0]), np.array([1.0, 0.0]), np.array([0.0, 1.0])))
    marks = marks_of([Placement(0, 0, Candidate((line(0, 0, 40, 0),), (), heads, ()))])
    [mark] = [mark for mark in marks if isinstance(mark, Stroke)]
    assert mark.points.tolist() == [[1.5, 0], [38.5, 0]]
