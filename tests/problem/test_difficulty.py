"""How hard a variant is: what is counted, and that the index puts parts in the order in which they are taught."""

from __future__ import annotations

import re
from dataclasses import fields
from pathlib import Path

import pytest

from sheetgen.bank import load_bank
from sheetgen.problem import problem_of
from sheetgen.problem.difficulty import AMOUNTS, COMBINED, IDEAS, STEPS, Difficulty, difficulty, median_rung, rung_of
from tests import samples

NOTHING = Difficulty(**{field.name: 0 for field in fields(Difficulty)})


def counted(folder, *features, measures=""):
    """The difficulty of a stepped block with more features."""
    text = samples.STEP.replace("measures:\n", "".join(features) + "measures:\n" + measures)
    return difficulty(problem_of(samples.family_of(folder, text).sample(1)))


SLANT = "  - {cut: slant, name: slope, plane: front, line: [[0, 30], [15, 40]], remove: above}\n"
HOLE = "  - {cut: hole, name: bore, mouth: top, at: [15, 15], diameter: 12}\n"
SUNK = HOLE.replace("diameter: 12", "diameter: 12, countersink: {diameter: 20, angle: 90}")
CORNER = "  - {cut: corner, name: bevel, through: [[0, 0, 25], [0, 12, 40], [14, 0, 40]], corner: [left, front, top]}\n"
CONE = "  - {add: cone, name: cone, axis: z, at: [15, 15], diameters: [24, 12], z: [40, 55]}\n"
BOSS = "  - {add: boss, name: boss, axis: z, at: [15, 15], diameter: 20, z: [40, 60]}\n"
ACROSS = "  - {cut: hole, name: across, mouth: front, at: [15, 50], diameter: 8}\n"


def test_faces_are_counted_by_kind(tmp_path):
    plain = counted(tmp_path)
    assert (plain.square, plain.inclined, plain.oblique, plain.round, plain.cones) == (8, 0, 0, 0, 0)
    assert counted(tmp_path, SLANT).inclined == 1
    assert counted(tmp_path, HOLE).round == 1
    assert counted(tmp_path, CORNER).oblique == 1


def test_a_countersink_is_a_part_of_its_hole_and_a_cone_that_stands_out_is_a_cone(tmp_path):
    sunk, cone = counted(tmp_path, SUNK), counted(tmp_path, CONE)
    assert (sunk.round, sunk.cones) == (2, 0)
    assert (cone.round, cone.cones) == (0, 1)


def test_lines_are_counted_in_the_front_top_and_side_view(tmp_path):
    """Front: six sides of an L. Top and left: a rectangle and the edge of the step, from the left hidden."""
    plain = counted(tmp_path)
    assert (plain.visible, plain.hidden, plain.partly_hidden) == (6 + 5 + 4, 1, 0)
    bored = counted(tmp_path, HOLE)
    assert (bored.visible - plain.visible, bored.hidden - plain.hidden) == (1, 4)


def test_round_faces_that_cross_leave_curves_and_round_faces_cut_askew_leave_ellipses(tmp_path):
    assert counted(tmp_path, BOSS, ACROSS).crossings > 0
    askew = counted(tmp_path, HOLE, SLANT.replace("[[0, 30], [15, 40]]", "[[0, 25], [28, 40]]"))
    assert (askew.crossings, askew.ellipses) == (0, 1)


def test_measures_and_what_the_pictorial_hides_are_counted(tmp_path):
    plain = counted(tmp_path)
    assert plain.measures == 5
    assert 0.15 < plain.occluded < 0.3


def test_whatever_is_added_makes_a_part_harder_and_a_new_idea_more_than_another_of_a_kind(tmp_path):
    plain = counted(tmp_path).index
    for feature, idea in ((SLANT, "inclined"), (HOLE, "round"), (CORNER, "oblique"), (CONE, "cones")):
        assert counted(tmp_path, feature).index > plain + IDEAS[idea]
    another = HOLE.replace("bore", "pin").replace("15, 15", "45, 15")
    once, twice = counted(tmp_path, HOLE).index, counted(tmp_path, HOLE, another).index
    assert once < twice < once + 1


def test_ideas_that_meet_in_one_part_add_more_than_each_by_itself(tmp_path):
    plain, slope, bore = (counted(tmp_path, *parts).index for parts in ((), (SLANT,), (HOLE,)))
    assert counted(tmp_path, SLANT, HOLE).index - plain > (slope - plain) + (bore - plain)
    assert COMBINED > 0


def test_the_rungs_follow_the_order_of_teaching(tmp_path):
    parts = ((), (SLANT,), (HOLE,), (SLANT, HOLE), (CORNER,), (BOSS, ACROSS), (CONE,))
    assert [counted(tmp_path, *features).rung for features in parts] == [1, 2, 3, 4, 5, 5, 5]


def test_a_step_belongs_to_the_rung_above_it():
    for rung, step in enumerate(STEPS, 1):
        assert (rung_of(step - 0.01), rung_of(step)) == (rung, rung + 1)


def test_one_odd_variant_does_not_move_a_family():
    easy, odd = NOTHING, Difficulty(**{field.name: 9 for field in fields(Difficulty)})
    assert median_rung([easy, odd, easy]) == (1, 0.0)


@pytest.mark.parametrize("rung", range(1, 6))
def test_at_least_six_families_stand_on_each_rung(rung):
    assert sum(family.rung == rung for family in load_bank().values()) >= 6


def test_the_page_on_difficulty_gives_the_weights_that_are_used():
    page = (Path(__file__).parents[2] / "docs" / "difficulty.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| .* \| `(\w+)` \| ([\d.-]+) \| ([\d.-]+) \|$", page, re.MULTILINE)
    given = {name: (first, each) for name, first, each in rows}
    names = {*IDEAS, *AMOUNTS}
    wanted = {name: tuple(f"{table[name]:g}" if name in table else "-" for table in (IDEAS, AMOUNTS)) for name in names}
    assert given == wanted
    assert f"adds {COMBINED:g} more" in page
    assert all(f"| {rung} | {step:g} |" in page for rung, step in enumerate(STEPS, 2))
    assert "common practice without a source" in page
