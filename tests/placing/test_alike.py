"""Centre marks on the pictorial: of holes alike all or none, in rims of which enough exists. Millimetres."""

from __future__ import annotations

import numpy as np
import pytest

from sheetgen.bank import Identity
from sheetgen.bank.features import Block, Cylinder, Hole
from sheetgen.exercises.picture import picture_of
from sheetgen.ink import Pen, Stroke
from sheetgen.placing import alike_marks, items_of
from sheetgen.placing.offers.pictorial_anchors import _whole_enough, anchors_of
from sheetgen.placing.weights import WEIGHTS
from sheetgen.problem import Problem
from sheetgen.projection import view_of
from sheetgen.sheet import Style, settings_of
from sheetgen.sight import PlacedView, Rim, Sight
from tests.parts import BRACKET, ENGLISH, Part, outer, size, span

PLATE = Block("base", False, (0, 90), (0, 60), (0, 14))
HOLES = Hole("holes", "top", ((20, 20), (70, 20), (45, 44)), 10)
TOLD = (*outer(), size("diameter", "holes"))


def marked(features, specs) -> set[tuple[float, ...]]:
    """The places of the part in which centre lines cross because of what is alike."""
    part = Part(tuple(features), tuple(specs), 0)
    view = PlacedView(Sight(view_of(part.solid(), "isometric")), 1.0, np.array([100.0, 100.0]))
    lines = alike_marks(view, items_of(part.measures(), ENGLISH))
    return {tuple(((one + other) / 2).round(6).tolist()) for one, other in lines}


def test_where_one_of_several_holes_alike_is_located_all_are_marked():
    assert marked((PLATE, HOLES), (*TOLD, span("base.left", "holes.1.axis"))) == {(20, 20, 14), (70, 20, 14), (45, 44, 14)}


def test_holes_that_symmetry_places_are_marked_too():
    assert marked((PLATE, HOLES), TOLD) == {(20, 20, 14), (70, 20, 14), (45, 44, 14)}
    assert marked((PLATE, Hole("bore", "top", ((45, 30),), 10)), (*outer(), size("diameter", "bore"))) == {(45, 30, 14)}


def test_a_hole_by_itself_gets_its_mark_with_its_size():
    one = Hole("bore", "top", ((20, 20),), 10)
    assert marked((PLATE, one), (*outer(), size("diameter", "bore"), span("base.left", "bore.axis"))) == set()


def test_the_mark_stands_in_the_whole_circle_not_over_the_slot_that_cuts_the_one_above_it():
    boss = Cylinder("boss", False, "z", ((45, 30),), 40, (14, 50))
    slot, bore = Block("slot", True, (None, None), (18, 42), (40, None)), Hole("bore", "top", ((45, 30),), 12)
    assert marked((PLATE, boss, slot, bore), (*outer(), size("diameter", "bore"))) == {(45, 30, 40)}


def test_one_that_is_not_seen_has_none():
    # a tall block stands before it
    wall = Block("wall", False, (0, 40), (0, 8), (14, 80))
    found = marked((PLATE, wall, HOLES), (*TOLD, span("base.left", "holes.2.axis")))
    assert (20, 20, 14) not in found and (70, 20, 14) in found


def test_they_are_on_the_question_for_all_three():
    part = Part((PLATE, HOLES), (*TOLD, span("base.left", "holes.1.axis")), 0)
    assert crossing_at(part, (20, 20, 14), (70, 20, 14), (45, 44, 14)) == 2


def middle_of_outlines(marks) -> np.ndarray:
    lines = [mark.points for mark in marks if isinstance(mark, Stroke) and mark.pen is Pen.OUTLINE and len(mark.points) == 2] \
        if isinstance(marks, list) else list(marks)
    points = np.concatenate(lines)
    return (points.min(axis=0) + points.max(axis=0)) / 2


def aside(line, point) -> float:
    """mm from a point to a line (2, 2), to its ends beyond them."""
    way = line[1] - line[0]
    share = np.clip((point - line[0]) @ way / (way @ way), 0, 1)
    return float(np.hypot(*(line[0] + share * way - point)))


def anchors(features, *specs):
    part = Part(tuple(features), specs, 0)
    view = PlacedView(Sight(view_of(part.solid(), "isometric")), 1.0, np.array([100.0, 100.0]))
    ends = {(end.surfaces, measure.axis): end for measure in part.measures() for end in measure.ends}
    solid = view.view.solid
    return {round(anchor.point[2], 6): anchor for key, several in anchors_of(view, ends, WEIGHTS).items() if len(key[0]) == 1
            and solid.names_of(key[0][0])[0].startswith("post") for anchor in several if anchor.arms}


ROUND = Cylinder("post", False, "z", ((45, 30),), 24, (14, 40))


def test_centre_lines_do_not_cross_in_a_rim_of_which_too_little_is_there_if_another_is_whole():
    # a block leaves a sixth of the upper rim: a mark there would hang in the air (judgement)
    cut = Block("cut", True, (None, None), (22, None), (30, None))
    told = span("base.left", "post.axis")
    whole, little = anchors((PLATE, ROUND), told), anchors((PLATE, ROUND, cut), told)
    assert set(whole) == {40.0, 14.0}
    assert 40.0 not in little
    assert 30.0 in little


def rim(there: float, shown: float) -> Rim:
    """A rim of which so much exists, and of that so much shows."""
    return Rim(np.zeros(3), np.array([5.0, 0, 0]), np.array([0, 5.0, 0]), there * shown, shown, True, 0)


@pytest.mark.parametrize(("rims", "kept"), [
    ([(0.2, 1.0), (1.0, 0.4)], [1]), ([(0.29, 1.0), (0.31, 1.0)], [1]), ([(0.2, 1.0)], [0]), ([(0.1, 1.0), (0.2, 0.5)], [0, 1]),
    ([(1.0, 0.1), (0.5, 1.0)], [0, 1])])
def test_of_rims_about_one_axis_those_count_of_which_three_tenths_exist_or_all_if_none_has_so_much(rims, kept):
    # whether they show is another matter
    several = [rim(*each) for each in rims]
    assert _whole_enough(several) == [several[k] for k in kept]


def test_what_the_part_hides_does_not_erase_centre_lines_on_the_pictorial():
    # worked: (y, z) = (45, 15) falls on the paper line of (30, 30): the groove's hidden edge lies under the bore's centre line
    base = Block("base", False, (0, 80), (0, 60), (0, 30))
    groove = Block("groove", True, (None, None), (45, 55), (None, 15))
    specs = (*outer(), span("base.left", "bore.axis"), span("base.front", "bore.axis"), size("diameter", "bore"))
    part = Part((base, groove, Hole("bore", "top", ((40, 30),), 16)), specs, 0)
    assert crossing_at(part, (40, 30, 30)) == 2


def crossing_at(part, *places) -> int:
    """How many centre lines on the question run through each of some places of a part."""
    problem = Problem(Identity("part", 1), "Part", (), part.solid(), part.measures())
    picture, _ = picture_of(problem, settings_of(Style()), lambda _: ["Draw."])
    chains = [mark.points for mark in picture.marks if isinstance(mark, Stroke) and mark.pen is Pen.CENTRE]
    shift = middle_of_outlines(picture.marks) - middle_of_outlines(picture.view.visible_straights)
    at = [picture.view.paper(np.array(place, dtype=float))[0] + shift for place in places]
    [count] = {sum(aside(line, point) < 1e-3 for line in chains) for point in at}
    return count


@pytest.mark.parametrize("features", [BRACKET.features])
def test_marks_reach_4_past_their_rims(features):
    part = Part(features, (*outer(), size("diameter", "holes"), span("base.left", "holes.1.axis")), 0)
    view = PlacedView(Sight(view_of(part.solid(), "isometric")), 1.0, np.array([100.0, 100.0]))
    lines = alike_marks(view, items_of(part.measures(), ENGLISH))
    assert lines
    assert [float(np.linalg.norm(other - one)) for one, other in lines] == pytest.approx([12 + 8] * len(lines))
