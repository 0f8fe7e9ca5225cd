"""The lines of a view as they are drawn and counted: counts worked out by hand, and that everybody counts the same."""

from __future__ import annotations

import numpy as np
import pytest

from sheetgen.bank import Identity, load_bank
from sheetgen.ink import Pen
from sheetgen.problem import Problem, problem_of
from sheetgen.problem.difficulty import VIEWS, difficulty
from sheetgen.projection import LineKind, lines_of, partly_hidden, view_of
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView
from tests.parts import S1, S2, S3, S4

BY_HAND = {
    # visible and hidden lines, listed by hand with their ends and found again from a point-in-solid test: a line that passes a
    # T-junction is not split, a hidden run under a visible line is none, an edge partly hidden is two
    ("S1", "front"): (6, 1), ("S1", "top"): (9, 0), ("S1", "right"): (7, 0), ("S1", "left"): (4, 3),
    ("S2", "front"): (9, 1), ("S2", "top"): (7, 2), ("S2", "right"): (9, 1), ("S2", "left"): (8, 2),
    ("S3", "front"): (4, 5), ("S3", "top"): (6, 0),
    ("S4", "front"): (8, 3), ("S4", "top"): (7, 0), ("S4", "right"): (6, 2), ("S4", "left"): (6, 2),
}
PARTS = {"S1": S1, "S2": S2, "S3": S3, "S4": S4}


@pytest.mark.parametrize(("part", "name"), BY_HAND)
def test_the_lines_of_a_view_are_as_many_as_were_counted_by_hand(part, name):
    view = view_of(PARTS[part].solid(), name)
    assert tuple(len(lines_of(view, kind)) for kind in (LineKind.VISIBLE, LineKind.HIDDEN)) == BY_HAND[part, name]


def test_a_bore_seen_end_on_is_a_circle_with_two_centre_lines_and_seen_from_the_side_has_one():
    for name, count in (("top", 2), ("front", 1)):
        assert len(lines_of(view_of(S3.solid(), name), LineKind.CENTRE)) == count


def test_walls_that_go_out_of_sight_behind_a_step_are_partly_hidden():
    # S4: the walls of the slot change from visible to hidden at z = 20
    found = partly_hidden(view_of(S4.solid(), "front"))
    assert sorted(tuple(np.round([*line.p, *line.q]).tolist()) for line in found) == [(22, 10, 22, 20), (38, 10, 38, 20)]


@pytest.mark.parametrize("name", ["counterbored-block", "bored-tee", "stepped-block"])
def test_difficulty_and_ink_count_the_very_lines(name):
    problem = problem_of(load_bank()[name].sample(1))
    found, views = difficulty(problem), [problem.view(view) for view in VIEWS]
    assert found.visible == sum(len(lines_of(view, LineKind.VISIBLE)) for view in views)
    assert found.hidden == sum(len(lines_of(view, LineKind.HIDDEN)) for view in views)
    assert found.partly_hidden == sum(len(partly_hidden(view)) for view in views)
    for view in VIEWS:
        marks = view_marks(PlacedView(problem.sights[view], 0.5, np.zeros(2)))
        for kind, pen in ((LineKind.VISIBLE, Pen.OUTLINE), (LineKind.HIDDEN, Pen.HIDDEN), (LineKind.CENTRE, Pen.CENTRE)):
            assert sum(mark.pen is pen for mark in marks) == len(lines_of(problem.view(view), kind, 0.5))


def test_a_picture_of_a_drawn_view_has_the_lines_of_that_whatever_its_own_scale():
    # centre lines stick out 4 mm on paper (3 to 6: print-reading textbook p. 20), so they are others at each scale
    problem = Problem(Identity("S3", 1), "Block", (), S3.solid(), S3.measures())
    view = PlacedView(problem.sights["top"], 0.4, np.zeros(2), lines_at=1.0)
    shown, drawn = view.lines(LineKind.CENTRE), problem.view("top").centre_lines_at(1.0)
    assert [line.length for line in shown] == [line.length for line in drawn]
    assert view.centre_lines == shown
