"""The proof that a question can be solved: what is printed, and what the drawing shows, fixes the part once and truly."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest

from sheetgen.bank import load_bank
from sheetgen.bank.features import Block, Hole, Slant
from sheetgen.measures import MeasureError, measures_of, prove
from sheetgen.measures.equations import printed_equations, shown_equations
from sheetgen.measures.system import system_of
from sheetgen.measures.unknowns import Unknowns
from sheetgen.problem import problem_of
from sheetgen.solid import build
from tests.families import sample
from tests.parts import PARTS, S1, S2, S3, S5, outer, size, span

SOME = sample("proof")


def missing(name: str, number: int):
    """What is free if one measure of a part is not printed."""
    solid, measures = PARTS[name].solid(), PARTS[name].measures()
    return prove(solid, measures[:number] + measures[number + 1:])


@pytest.mark.parametrize("name", PARTS)
def test_as_many_sizes_as_a_marking_scheme_counts_fix_the_part(name):
    # counts worked by hand: degrees of freedom of the shape
    part = PARTS[name]
    proof = prove(part.solid(), part.measures())
    assert len(part.specs) == part.needed
    assert proof.holds, proof.faults()
    assert proof.error < 1e-9


@pytest.mark.parametrize("family", SOME)
@pytest.mark.parametrize("seed", [0, 1, 2])
def test_families_of_the_bank_print_what_fixes_their_part_and_no_more(family, seed):
    problem = problem_of(load_bank()[family].sample(seed))
    assert prove(problem.solid, problem.measures, problem.symmetry).faults() == []


@pytest.mark.parametrize(("name", "number"), [(name, k) for name, part in PARTS.items() for k in range(len(part.specs))])
def test_any_measure_left_out_leaves_what_it_told_free(name, number):
    proof = missing(name, number)
    assert len(proof.free) == max(1, len(PARTS[name].measures()[number].rounds))     # 2 x diameter 12 told two sizes
    assert not proof.holds
    assert [str(fault) for fault in proof.faults()] == [f"nothing fixes {free}" for free in proof.free]


@pytest.mark.parametrize(("name", "measure", "free"), [
    ("S1", span("slot.front", "slot.back"), r"where slot\.(front|back) is"),
    ("S1", span("base.bottom", "base.top"), r"where (base|slot)\.top is"),
    ("S1", span("up.left", "up.right"), r"where up\.right is"),
    ("S2", span("slot.left", "slot.right"), r"where slot\.(left|right) is"),
    ("S2", span("base.left", "ramp.face & base.top"), r"(where ramp\.face is|how ramp\.face slopes)"),
    ("S3", size("diameter", "bore"), r"how large bore(\.wall|\.axis)? is"),
    ("S3", size("diameter", "bore.counterbore"), r"how large bore\.counterbore is"),
    ("S3", size("depth", "bore.counterbore"), r"where bore\.shoulder is"),
    ("S3", span("base.left", "bore.axis"), r"where the axis of bore(\.counterbore)? is along x"),
    ("S5", span("base.left", "cut.face & base.top & base.front", "x"), r"(where cut\.face is|how cut\.face slopes)"),
])
def test_what_is_left_free_is_named_by_its_feature_and_side(name, measure, free):
    [told] = missing(name, PARTS[name].specs.index(measure)).free
    assert re.fullmatch(free, told), told


@pytest.mark.parametrize(("part", "extra"), [
    (S1, span("slot.back", "base.back")),             # closes the chain 12 + 16 + 12 across the depth
    (S1, span("base.left", "slot.left")),             # closes 40 + 20 across the width
    (S2, span("groove.back", "base.back")),
    (S3, span("bore.axis", "base.right")),
    (S5, span("cut.face & base.top & base.front", "base.right", "x")),
])
def test_a_chain_closed_by_one_more_size_is_found_doubled(part, extra):
    solid = part.solid()
    measures = measures_of(solid, [*part.specs, extra])
    proof = prove(solid, measures)
    assert not proof.holds
    assert measures[-1] in proof.doubled
    assert f"the measure `{measures[-1].words}` follows from the others" in map(str, proof.faults())
    assert len(proof.doubled) >= 2, "every link of the closed chain follows from the rest"


def test_a_measure_printed_twice_is_found_doubled():
    solid, measures = S1.solid(), S1.measures()
    assert prove(solid, (*measures, measures[4])).doubled == (measures[4],) * 2


@pytest.mark.parametrize("name", PARTS)
def test_a_false_figure_gives_another_part(name):
    solid, measures = PARTS[name].solid(), PARTS[name].measures()
    for k, measure in enumerate(measures):
        false = replace(measure, figures=f"{measure.value + 1:g}")
        assert false.text != measure.text
        proof = prove(solid, [*measures[:k], false, *measures[k + 1:]])
        assert proof.error > 0.3, f"{measure.words} printed as {false.text} goes unnoticed"
        assert not proof.holds


def test_a_figure_that_is_rounded_away_is_told_with_how_far_it_leads_astray():
    features = (Block("base", False, (0, 60), (0, 40), (0, 15.004)), Block("slot", True, (40, None), (12, 28), (None, None)))
    solid = build(features)
    measures = measures_of(solid, [*outer(), span("slot.left", "base.right"), span("base.front", "slot.front"),
                                   span("slot.front", "slot.back")])
    assert prove(solid, measures).holds            # 4 microns: 15 is true enough
    wrong = [replace(measure, figures="14.9") if measure.value == 15.004 else measure for measure in measures]
    assert [str(fault) for fault in prove(solid, wrong).faults()] == ["the printed numbers give a shape that is 0.104 mm off"]


@pytest.mark.parametrize(("off", "holds"), [(0.004, True), (0.02, False), (0.06, False), (-0.02, False)])
def test_the_printed_numbers_are_held_to_a_hundredth_of_a_millimetre(off, holds):
    # what a rule and a sharp eye cannot tell on paper is five times that (common practice, no source)
    solid, measures = S1.solid(), S1.measures()
    false = replace(measures[4], figures=f"{measures[4].value + off:g}")
    proof = prove(solid, [*measures[:4], false, *measures[5:]])
    assert proof.error == pytest.approx(abs(off), abs=1e-6)
    assert proof.holds is holds


@pytest.mark.parametrize(("axis", "at"), [("x", (31, 20)), ("y", (30, 21))])
def test_a_symmetry_that_the_part_has_not_is_told_with_what_has_no_mirror_image(axis, at):
    solid = build((Block("base", False, (0, 60), (0, 40), (0, 20)), Hole("bore", "top", (at,), 12)))
    measures = measures_of(solid, [*outer(), size("diameter", "bore"), span("base.left", "bore.axis"),
                                   span("base.front", "bore.axis")])
    with pytest.raises(MeasureError, match=f"bore.axis has no mirror image along {axis}"):
        prove(solid, measures, (axis,))


def test_nor_is_a_part_symmetric_whose_faces_lie_so_but_not_its_holes_sizes():
    holes = (Hole("left", "top", ((15, 20),), 10), Hole("right", "top", ((45, 20),), 10.5))
    solid = build((Block("base", False, (0, 60), (0, 40), (0, 20)), *holes))
    with pytest.raises(MeasureError, match=r"(left|right)\.axis has no mirror image along x"):
        prove(solid, measures_of(solid, outer()), ("x",))


@pytest.mark.parametrize("cuts", [
    # at the front of the left side and at the back of the right: the faces mirror each other, the part does not
    (Block("one", True, (None, 10), (None, 20), (None, None)), Block("two", True, (50, None), (20, None), (None, None))),
    (Block("one", True, (None, 10), (None, 20), (None, 12)), Block("two", True, (50, None), (None, 20), (12, None))),
    # as deep from above on the left as from below on the right
    (Hole("one", "top", ((15, 20),), 10, depth=10), Hole("two", "bottom", ((45, 20),), 10, depth=10)),
])
def test_nor_one_whose_faces_all_have_mirror_images_but_do_not_meet_so(cuts):
    solid = build((Block("base", False, (0, 60), (0, 40), (0, 20)), *cuts))
    with pytest.raises(MeasureError, match="has no mirror image along x"):
        prove(solid, measures_of(solid, outer()), ("x",))


def test_a_constant_hidden_in_a_feature_is_caught():
    # a hole 7 deep that no size gives
    features = (Block("base", False, (0, 50), (0, 40), (0, 20)), Hole("pit", "top", ((20, 15),), 10, depth=7))
    solid = build(features)
    told = [*outer(), span("base.left", "pit.axis"), span("base.front", "pit.axis"), size("diameter", "pit")]
    [free] = prove(solid, measures_of(solid, told)).free
    assert free == "where pit.floor is"
    assert prove(solid, measures_of(solid, [*told, size("depth", "pit")])).holds


def drilled(angle: float):
    """A block with a drilled hole, and its measures but for the depth, then with it."""
    pit = Hole("pit", "top", ((20, 15),), 10, depth=7, point_angle=angle)
    solid = build((Block("base", False, (0, 50), (0, 40), (0, 20)), pit))
    told = [*outer(), span("base.left", "pit.axis"), span("base.front", "pit.axis"), size("diameter", "pit")]
    return solid, measures_of(solid, told), measures_of(solid, [*told, size("depth", "pit")])


def test_a_note_tells_the_angle_of_all_drill_points_so_that_a_depth_is_enough():
    solid, without, measures = drilled(120)
    assert prove(solid, measures).holds
    assert prove(solid, without).free == ("how deep pit.point goes",)


def test_a_drill_point_of_another_angle_than_the_note_says_is_caught():
    solid, _, measures = drilled(118)
    [fault] = prove(solid, measures).faults()
    assert "mm off" in str(fault)


def test_a_chamfer_given_by_one_leg_is_not_enough_unless_its_angle_is_told():
    chamfer = Slant("chamfer", "front", ((50, 30), (60, 20)), "above", (None, None))
    solid = build((Block("base", False, (0, 60), (0, 40), (0, 30)), chamfer))
    one = [*outer(), span("base.left", "chamfer.face & base.top")]
    assert len(prove(solid, measures_of(solid, one)).free) == 1
    angle = replace(size("angle", "chamfer.face"), b=size("angle", "base.top").a)
    assert prove(solid, measures_of(solid, [*one, angle])).holds


@pytest.mark.parametrize("axis", ["x", "y"])
def test_a_centre_line_of_symmetry_stands_for_the_place_of_what_lies_in_the_middle(axis):
    features = (Block("base", False, (0, 60), (0, 40), (0, 20)), Hole("bore", "top", ((30, 20),), 12))
    solid = build(features)
    other = span("base.front", "bore.axis") if axis == "x" else span("base.left", "bore.axis")
    measures = measures_of(solid, [*outer(), size("diameter", "bore"), other])
    assert len(prove(solid, measures).free) == 1
    assert prove(solid, measures, (axis,)).holds


def test_a_size_that_the_symmetry_gives_already_is_doubled():
    features = (Block("base", False, (0, 60), (0, 40), (0, 20)), Hole("bore", "top", ((30, 20),), 12))
    solid = build(features)
    places = (span("base.front", "bore.axis"), span("base.left", "bore.axis"))
    measures = measures_of(solid, [*outer(), size("diameter", "bore"), *places])
    assert "base.left to bore.axis" in [measure.words for measure in prove(solid, measures, ("x",)).doubled]
    assert prove(solid, measures).holds


def test_with_nothing_printed_everything_is_free():
    solid = S1.solid()
    assert len(prove(solid, ()).free) == S1.needed


def told_together(name: str) -> list[set[str]]:
    """What has to be solved together, in trade words."""
    unknowns = Unknowns(PARTS[name].solid())
    equations = [*printed_equations(unknowns, PARTS[name].measures()), *shown_equations(unknowns)]
    system = system_of(unknowns, equations, np.zeros((0, unknowns.count)))
    return [{unknowns.words(column) for column in block.columns} for block in system.blocks]


def test_depths_heights_and_widths_are_settled_apart_unless_a_slanting_face_ties_them():
    assert {"where slot.front is", "where slot.back is", "where up.front is", "where up.back is"} in told_together("S1")
    assert len(told_together("S1")) == 3
    depths, = (words for words in told_together("S2") if "where base.front is" in words)
    assert depths == {"where base.front is", "where base.back is", "where groove.front is", "where groove.back is"}
    assert len(told_together("S2")) == 2          # the ramp ties heights to widths
    assert len(told_together("S5")) == 1          # the oblique face ties all three
