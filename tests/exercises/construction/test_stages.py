"""How an answer is built: each line once, from what stands there already, with sizes of the part and no others."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import groupby

import numpy as np
import pytest

from sheetgen.exercises.construction import Part, Stage, stages_of
from sheetgen.ink import Pen, Stroke
from sheetgen.sheet import Style
from sheetgen.solid import Cone
from tests.exercises.construction.made import Built, built, crooked, line_keys, missing, odd_numbers, stage_keys, strays
from tests.families import sample

STYLES = [Style(projection=projection, side=side) for projection in ("first", "third") for side in ("left", "right", "both")]
SOME = sample("stages")


@cache
def made(family: str) -> Built:
    """Of each family one: those of the sample in one of the looks in turn, so that all of them come, others in the first."""
    return built(family, 1, STYLES[SOME.index(family) % len(STYLES) if family in SOME else 0])


def stage(of: Built, part: Part, view: str = "") -> Stage:
    return next(one for one in of.stages if one.part is part and one.view == view)


@pytest.mark.parametrize("family", SOME)
def test_every_line_of_the_answer_is_introduced_in_exactly_one_stage(family):
    assert stage_keys(made(family)) == line_keys(made(family))


@pytest.mark.parametrize("family", SOME)
def test_all_stages_together_draw_the_answer_and_nothing_else(family):
    assert list(missing(made(family))) == []


@pytest.mark.parametrize("family", SOME)
def test_every_projector_starts_on_something_drawn_and_ends_on_a_line_end_a_tangent_point_or_a_point_of_a_curve(family):
    assert list(strays(made(family))) == []


@pytest.mark.parametrize("family", SOME)
def test_projectors_are_level_and_upright_and_depths_turn_on_the_mitre_line(family):
    assert list(crooked(made(family))) == []


@pytest.mark.parametrize("family", SOME)
def test_each_number_in_a_sentence_is_a_size_of_the_part(family):
    assert list(odd_numbers(made(family))) == []


@pytest.mark.parametrize("family", SOME)
def test_no_projector_is_drawn_twice(family):
    paths = [tuple(np.round(projector.path.ravel(), 2)) for one in made(family).stages for projector in one.projectors]
    assert len(paths) == len(set(paths))


@pytest.mark.parametrize("family", SOME)
def test_stages_come_in_the_order_of_the_board(family):
    order = [Part.BOXES, Part.VIEW, Part.MITRE, Part.VIEW, Part.HIDDEN, Part.VIEW, Part.CURVES, Part.CENTRES, Part.SIZES]
    parts = [part for part, _ in groupby(one.part for one in made(family).stages)]
    found = iter(order)
    assert all(part in found for part in parts), parts
    views = list(dict.fromkeys(one.view for one in made(family).stages if one.part is Part.VIEW))
    sides = [name for name in ("left", "right") if any(placed.view.name == name for placed in made(family).task.drawing.views)]
    assert views == ["front", "top", *sides]


@pytest.mark.parametrize("family", SOME)
def test_a_stage_tells_what_it_draws(family):
    for one in made(family).stages:
        assert one.heading and one.sentences
        assert one.new or one.construction


def test_what_is_carried_is_introduced_before_it_is_used_again():
    for one in made("bored-tee"), made("stepped-bridge"):
        known = set()
        for step in one.stages:
            assert all(id(projector) in known for projector in step.again)
            known |= {id(projector) for projector in step.projectors}


def test_the_boxes_are_those_of_the_views():
    one = made("stepped-block")
    drawn = [mark.points for mark in stage(one, Part.BOXES).construction]
    boxes = sorted(tuple(np.round([*points.min(axis=0), *points.max(axis=0)], 6)) for points in drawn)
    assert boxes == sorted(tuple(np.round(placed.box, 6)) for placed in one.task.drawing.views)


def test_a_step_is_told_by_the_sizes_that_the_question_gives():
    one = built("stepped-block", 7)
    sizes = one.problem.sizes
    [body, step, *_] = [sentence for sentence in stage(one, Part.VIEW, "front").sentences if not sentence.startswith("Where")]
    assert body == "The block: draw lines along all edges of the box."
    assert step.startswith("The step: draw a vertical line ") and "a horizontal line " in step
    printed = {measure.figures for measure in one.problem.measures}
    assert {word.rstrip(";.,") for word in step.split() if word[0].isdigit()} <= printed, sizes


def test_new_lines_have_the_answers_own_pens_and_thin_lines_that_of_construction():
    for one in made("bored-tee"), made("dovetail-guide"):
        for step in one.stages:
            assert {mark.pen for mark in step.construction} <= {Pen.CONSTRUCTION}
            pens = {mark.pen for mark in step.new if isinstance(mark, Stroke)}
            if step.part is not Part.SIZES:
                assert pens <= {Pen.OUTLINE, Pen.HIDDEN, Pen.CENTRE}


def test_a_curve_of_intersection_is_built_from_points_in_three_views():
    one = built("bored-tee", 1)
    curves = stage(one, Part.CURVES)
    assert curves.lines and all(line.curve for line in curves.lines)
    pairs = {frozenset((projector.source, projector.target)) for projector in curves.projectors}
    assert pairs == {frozenset(("front", "top")), frozenset(("front", "left")), frozenset(("top", "left"))}
    # the mouth of the branch, a circle in the top view, meets the body, a circle in the side view
    lowest = min(curves.points, key=lambda point: (round(point[1], 1), point[0]))
    assert len(curves.points) >= 9 and lowest is not None


def test_points_of_a_curve_lie_on_both_surfaces_that_meet_in_it():
    # the branch and the body are cylinders: at the curve's points the sums of squares hold, from the sizes alone
    one = built("bored-tee", 1)
    body, boss = (next(float(measure.value) for measure in one.problem.measures if measure.kind == "diameter" and
                       measure.side.feature == name) / 2 for name in ("body", "branch"))
    front = next(placed for placed in one.task.drawing.views if placed.view.name == "front")
    [line] = [line for line in stage(one, Part.CURVES).lines if line.view == "front" and line.kind == "visible"]
    knots = line.shape.points()
    middle = (knots[0, 0] + knots[-1, 0]) / 2
    axis = next(group for group in one.problem.solid.axis_groups if abs(group.direction[0]) > 0.9 and group.radius >= body)
    x, z = knots[:, 0] - middle, knots[:, 1] - axis.point[2]
    assert np.abs(z**2 - (body**2 - (boss**2 - x**2))).max() < 0.02 * body * front.scale


def test_a_point_on_a_cone_gets_its_height_from_a_circle_about_the_axis():
    # descriptive geometry: a cut square to the axis is a circle, whose radius is read off the outline at its height
    one = built("conical-boss", 1)
    curves = stage(one, Part.CURVES)
    [top, front] = (next(placed for placed in one.task.drawing.views if placed.view.name == name) for name in ("top", "front"))
    arcs = [mark for mark in curves.construction if mark.curved]
    level = [projector for projector in curves.projectors if projector.source == projector.target == "front"]
    cone = next(surface for surface in one.problem.solid.surfaces if isinstance(surface, Cone))
    assert arcs and level
    for arc in arcs:
        ends = (arc.points[[0, -1]] - top.origin) / top.scale - cone.point[:2]
        radii = np.hypot(*ends.T)
        assert radii[0] == pytest.approx(radii[1]) and abs(ends[1, 1]) < 1e-6
        heights = [(projector.path[0, 1] - front.origin[1]) / front.scale for projector in level]
        assert min(abs(abs(height - cone.point[2]) * cone.slope - radii[0]) for height in heights) < 0.01


@pytest.mark.parametrize("projection", ["first", "third"])
def test_in_either_projection_the_mitre_line_stands_where_top_and_side_view_are_both_missed(projection):
    one = built("stepped-block", 3, Style(projection=projection))
    boxes = {placed.view.name: placed.box for placed in one.task.drawing.views}
    mitre = next(mark.points for mark in stage(one, Part.MITRE).construction
                 if np.abs(np.abs(np.diff(mark.points, axis=0)[0]) @ [1, -1]) < 1e-6)
    x, y = mitre.mean(axis=0)
    assert boxes["left"][0] < x < boxes["left"][2] and boxes["top"][1] < y < boxes["top"][3]
    assert (y > boxes["front"][3]) == (projection == "third") and (x < boxes["front"][0]) == (projection == "third")


def test_both_sides_have_a_mitre_line_each():
    one = built("stepped-block", 3, Style(side="both"))
    runs = [np.ptp(mark.points, axis=0) for mark in stage(one, Part.MITRE).construction]
    assert sum(abs(across - up) < 1e-6 for across, up in runs) == 2


def test_the_same_answer_is_built_the_same_way_every_time():
    one = built("pipe-clamp", 2)
    again = stages_of(one.problem, one.settings, one.task.drawing)
    assert [step.sentences for step in again] == [step.sentences for step in one.stages]


def test_the_other_usage_calls_views_by_its_own_names():
    one = built("stepped-block", 7)
    told = stages_of(one.problem, built("stepped-block", 7, Style(wording="en-elevations")).settings, one.task.drawing)
    texts = " ".join(sentence for step in told for sentence in step.sentences)
    assert "front elevation" in texts and "the plan" in texts and "view" not in texts


def test_a_stage_can_be_shown_alone():
    one = built("stepped-block", 7)
    assert all(replace(step, again=()) for step in one.stages)
