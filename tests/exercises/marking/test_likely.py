"""The errors that are likely, found from the part's geometry: parts of which a teacher can see it."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
import shapely

from sheetgen.bank import Identity, load_bank
from sheetgen.bank.features import Block, Hole
from sheetgen.exercises.drawing import drawing_of
from sheetgen.exercises.marking import scheme_of, usual_marking
from sheetgen.exercises.marking.likely import Likely, likely_errors, same_linework
from sheetgen.exercises.missed import smooth_joins
from sheetgen.problem import Problem, problem_of
from sheetgen.projection import view_of
from sheetgen.sheet import Settings, Style, settings_of
from sheetgen.solid import build
from tests.parts import BRACKET, S1, S4, Part, outer, size, span

SETTINGS = settings_of(Style())

REAR_PIT = Part(
    (Block("base", False, (0, 80), (0, 50), (0, 40)), Block("pit", True, (30, 50), (35, None), (12, 28))),
    (*outer(), span("base.left", "pit.left"), span("pit.left", "pit.right"), span("pit.front", "base.back"),
     span("base.bottom", "pit.bottom"), span("pit.bottom", "pit.top")), 8)
"""A pocket in the rear face, of which a pictorial that shows front, right side and top shows nothing."""

BORED = Part(
    (Block("base", False, (0, 80), (0, 50), (0, 40)), Hole(name="bore", mouth="top", at=((30.0, 25.0),), diameter=20.0)),
    (*outer(), span("base.left", "bore.axis"), span("base.front", "bore.axis"), size("diameter", "bore.wall")), 6)


@cache
def likely(part: Part, settings: Settings = SETTINGS) -> tuple[Likely, dict[str, dict[int, str]]]:
    """The errors, and of each view the sorts of its lines by their numbers."""
    problem = Problem(Identity("block", 1), "Block", (), part.solid(), part.measures())
    drawing = drawing_of(problem, settings)
    lines = scheme_of(drawing, settings.side, usual_marking()).lines
    found = likely_errors(problem, settings, drawing, problem.view("isometric"), lines)
    return found, {view: {line.number: line.sort for line in those} for view, those in lines.items()}


def test_what_the_pictorial_shows_nothing_of_is_easily_missed_in_every_view():
    found, sorts = likely(REAR_PIT)
    hidden = {view: tuple(number for number, sort in those.items() if sort == "hidden") for view, those in sorts.items()}
    assert {view: len(numbers) for view, numbers in hidden.items()} == {"front": 4, "top": 3, "left": 3}
    assert {view: reasons["unseen"] for view, reasons in found.missed.items()} == hidden


def test_a_bore_whose_rim_shows_in_the_pictorial_is_not_among_what_it_shows_nothing_of():
    found, sorts = likely(BORED)
    assert list(sorts["front"].values()).count("hidden") == 2
    assert found.missed == {}


def test_an_edge_that_goes_on_hidden_is_easily_missed():
    found, _ = likely(S4)
    assert len(found.missed["front"]["partly"]) == 2                    # the walls of the slot below z = 20
    assert not found.missed.get("top")                                  # nothing is hidden there


def test_a_round_end_that_runs_into_a_flat_has_a_smooth_join_where_none_draws_a_line():
    # no line at a tangent join (common practice, no source)
    solid = build(BRACKET.features)
    assert smooth_joins(view_of(solid, "left"), 1.0)
    for name in ("front", "top", "left", "right", "rear"):
        view = view_of(solid, name)
        drawn = shapely.multilinestrings([
            shapely.LineString(shape.points()) for shape in (*view.visible_lines, *view.hidden_lines)])
        for points in smooth_joins(view, 1.0):
            assert np.ptp(points, axis=0).max() > 3
            assert shapely.distance(drawn, shapely.Point(points.mean(axis=0))) > 0.03


def test_a_block_without_round_surfaces_has_no_smooth_joins():
    found, _ = likely(S1)
    assert found.joins == {}


def test_the_side_view_from_the_other_side_is_shown_where_it_is_another_picture():
    assert likely(S1)[0].other_side == "right"
    assert likely(S1, settings_of(Style(side="right")))[0].other_side == "left"
    assert likely(BORED)[0].other_side is None and likely(BORED)[0].alike


def test_views_with_the_same_outline_and_other_hidden_lines_are_not_alike():
    left, right = (view_of(S1.solid(), name) for name in ("left", "right"))
    assert not same_linework(left, right) and same_linework(left, left)


def test_a_line_that_runs_from_edge_to_edge_makes_another_picture():
    # its ends lie on lines that both views show
    plain = view_of(build([Block("block", False, (0, 60), (0, 40), (0, 40))]), "right")
    stepped = view_of(S1.solid(), "right")
    assert not same_linework(plain, stepped) and not same_linework(stepped, plain)


def test_overall_sizes_invite_to_be_given_twice_and_a_hidden_depth_does_not():
    found, _ = likely(BORED)
    told = {doubled.text: {doubled.view, *doubled.others} for doubled in found.doubled}
    # width shows in front and top, height in front and side, depth in top and side
    assert told["80"] == {"front", "top"} and told["40"] == {"front", "left"} and told["50"] == {"top", "left"}
    pit, _ = likely(REAR_PIT)
    assert "15" not in {doubled.text for doubled in pit.doubled}        # of the pocket's ends, every view hides one


@pytest.mark.parametrize("name", ["angle-bracket-bored", "shaft-support"])
def test_a_size_is_told_as_doubled_only_with_views_on_which_it_does_not_stand(name):
    problem = problem_of(load_bank()[name].sample(1))
    drawing = drawing_of(problem, SETTINGS)
    lines = scheme_of(drawing, "left", usual_marking()).lines
    for doubled in likely_errors(problem, SETTINGS, drawing, problem.pictorial.view, lines).doubled:
        assert doubled.others and doubled.view not in doubled.others
