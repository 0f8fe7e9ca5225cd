"""General notes: each is true of the part, and each thing is said once, by its name and direction."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from sheetgen.bank import load_bank
from sheetgen.placing import items_of
from sheetgen.problem import Problem, problem_of
from sheetgen.solid import Cylinder, far_ends, is_hollow
from tests.families import sample
from tests.parts import ENGLISH
from tests.samples import family_of

SEEDS = range(1, 7)
"""Of each family, enough for each of its forms."""

BLOCK = """\
title: Block
topics: [notes]
rung: 1
sizes:
  width: {one of: [80]}
features:
  - {add: block, name: base, x: [0, width], y: [0, 50], z: [0, 40]}
measures:
  - base.left to base.right
"""


def told(folder, *features: str, measures: str = "") -> list[str]:
    """The notes of a block with more features."""
    text = BLOCK.replace("measures:\n", "".join(f"  - {feature}\n" for feature in features) + "measures:\n" + measures)
    return lines(problem_of(family_of(folder, text).sample(1)))


def lines(problem: Problem) -> list[str]:
    return [ENGLISH.render(f"notes.{note.key}", **note.values) for note in problem.notes]


RAMP = "{cut: slant, name: ramp, plane: front, line: [[40, 40], [80, 20]], remove: above}"
SKEW = "{cut: slant, name: skew, plane: top, line: [[40, 0], [80, 30]], remove: below}"


@pytest.mark.parametrize(("features", "notes"), [
    (["{cut: slot, name: cut, x: [60, open], y: [20, 30]}"], ["THE SLOT RUNS RIGHT THROUGH"]),
    (["{cut: slot, name: cut, x: [60, open], y: [20, 30]}", "{cut: slot, name: other, x: [open, 20], y: [20, 30]}"],
     ["THE SLOTS RUN RIGHT THROUGH"]),
    (["{cut: open_slot, name: cut, plane: top, centre: [60, 25], width: 12, toward: left, foot: open}"],
     ["THE SLOT RUNS RIGHT THROUGH"]),
    (["{cut: closed_slot, name: cut, plane: top, centres: [[30, 25], [50, 25]], width: 12}"], ["THE SLOT RUNS RIGHT THROUGH"]),
    (["{cut: slot, name: cut, x: [30, 50], y: [20, 30]}"], ["THE SLOT RUNS RIGHT THROUGH"]),
    (["{cut: slot, name: cut, x: [30, 50], z: [20, 30]}"], ["THE TUNNEL RUNS RIGHT THROUGH"]),
    (["{cut: groove, name: cut, x: [30, 40], z: [30, open]}"], ["THE GROOVE RUNS RIGHT THROUGH"]),
    (["{cut: channel, name: cut, x: [30, 50], z: [open, 10]}"], ["THE CHANNEL RUNS RIGHT THROUGH"]),
    (["{cut: vee, name: cut, plane: front, tip: [40, 20], toward: up, angle: 90}"], ["THE GROOVE RUNS RIGHT THROUGH"]),
    (["{cut: dovetail, name: cut, plane: right, centre: [25, 30], width: 20, height: 10, angle: 60, toward: up}"],
     ["THE GROOVE RUNS RIGHT THROUGH"]),
    (["{cut: bore, name: cut, axis: y, at: [40, 0], diameter: 20}"], ["THE ROUND HOLLOW RUNS RIGHT THROUGH"]),
    (["{cut: step, name: cut, y: [35, open], z: [open, 10]}"], ["THE REBATE RUNS RIGHT THROUGH"]),
    (["{cut: hole, name: bore, mouth: front, at: [40, 20], diameter: 16}", "{cut: slot, name: key, x: [37, 43], z: [20, 32]}"],
     ["THE KEYWAY RUNS RIGHT THROUGH"]),
    (["{cut: profile, name: cut, plane: front, outline: [{start: [30, 10]}, {line: [50, 10]}, {line: [40, 30]}, {close: yes}]}"],
     ["THE TUNNEL RUNS RIGHT THROUGH"]),
    (["{cut: profile, name: cut, plane: front, outline: [{start: [30, 40]}, {line: [40, 20]}, {line: [50, 40]}, {close: yes}]}"],
     ["THE GROOVE RUNS RIGHT THROUGH"]),
])
def test_what_is_cut_right_through_is_called_by_its_name(tmp_path, features, notes):
    assert told(tmp_path, *features) == notes


@pytest.mark.parametrize("feature", [
    "{cut: step, name: cut, x: [60, open], z: [20, open]}",                       # a step in plain sight
    "{cut: notch, name: cut, x: [60, open], y: [open, 20]}",
    "{cut: step, name: cut, x: [60, open], y: [open, 20], z: [20, open]}",        # a corner
    "{cut: recess, name: cut, x: [30, 50], y: [20, 30], z: [30, open]}",
    "{cut: slot, name: cut, x: [60, open], y: [20, 30], z: [20, open]}",          # a slot with a floor and an end
    "{cut: bore, name: cut, axis: y, at: [40, 40], diameter: 20, y: [open, 20]}",
    "{cut: hole, name: bore, mouth: top, at: [40, 25], diameter: 10}",            # THROUGH stands at its size
    "{cut: slant, name: cut, plane: front, line: [[60, 40], [80, 30]], remove: above}",
    "{cut: profile, name: cut, plane: front, outline: [{start: [60, 50]}, {line: [60, 30]}, {line: [90, 20]}, {line: [90, 50]}, "
    "{close: yes}]}",
])
def test_nothing_is_said_of_what_does_not_run_through_or_plainly_does(tmp_path, feature):
    assert told(tmp_path, feature) == []


def test_where_one_slot_runs_through_and_another_does_not_no_note_speaks_of_the_slots(tmp_path):
    notes = told(tmp_path, "{cut: slot, name: cut, x: [60, open], y: [20, 30]}",
                 "{cut: slot, name: other, x: [open, 20], y: [20, 30], z: [20, open]}")
    assert notes == ["WHAT IS CUT OUT RUNS RIGHT THROUGH UNLESS ITS END IS SHOWN OR GIVEN"]


def test_of_two_hollows_the_one_that_runs_through_is_told_by_its_radius(tmp_path):
    notes = told(
        tmp_path, "{cut: bore, name: saddle, axis: y, at: [40, 40], diameter: 20}",
        "{cut: bore, name: recess, axis: y, at: [40, 40], diameter: 30, y: [open, 20]}",
        measures="  - radius of saddle\n  - radius of recess\n")
    assert notes == ["THE R10 ROUND HOLLOW RUNS RIGHT THROUGH", "R10 AND R15 HAVE ONE CENTRE"]


@pytest.mark.parametrize(("features", "notes"), [
    ([RAMP, "{cut: hole, name: bore, mouth: top, at: [60, 25], diameter: 10}"], ["THE HOLE IN THE SLOPING FACE IS VERTICAL"]),
    ([RAMP, "{cut: hole, name: bore, mouth: right, at: [25, 28], diameter: 8, depth: 35}"],
     ["THE HOLE IN THE SLOPING FACE IS HORIZONTAL, FROM LEFT TO RIGHT"]),
    ([SKEW, "{cut: hole, name: bore, mouth: front, at: [60, 20], diameter: 10}"],
     ["THE HOLE IN THE SLOPING FACE IS HORIZONTAL, FROM FRONT TO BACK"]),
    ([RAMP, "{cut: hole, name: bores, mouth: top, at: [[60, 12], [60, 38]], diameter: 10}"],
     ["THE HOLES IN THE SLOPING FACE ARE VERTICAL"]),
    ([RAMP, "{cut: slant, name: other, plane: front, line: [[0, 20], [30, 40]], remove: above}",
      "{cut: hole, name: bores, mouth: top, at: [[15, 25], [60, 25]], diameter: 10}"],
     ["THE HOLES IN THE SLOPING FACES ARE VERTICAL"]),
    ([RAMP, "{cut: hole, name: bore, mouth: top, at: [60, 12], diameter: 10}",
      "{cut: hole, name: pin, mouth: right, at: [38, 28], diameter: 8, depth: 35}"],
     ["THE Ø10 HOLE IN THE SLOPING FACE IS VERTICAL", "THE Ø8 HOLE IN THE SLOPING FACE IS HORIZONTAL, FROM LEFT TO RIGHT"]),
    ([RAMP, "{cut: closed_slot, name: cut, plane: top, centres: [[50, 25], [60, 25]], width: 12}"],
     ["THE SLOT RUNS RIGHT THROUGH", "THE SLOT IN THE SLOPING FACE IS VERTICAL"]),
])
def test_which_way_a_hole_in_a_sloping_face_goes_is_said(tmp_path, features, notes):
    assert told(tmp_path, *features) == notes


@pytest.mark.parametrize("features", [
    [RAMP, "{cut: hole, name: bore, mouth: top, at: [15, 25], diameter: 10}"],            # beside it
    [SKEW, "{cut: open_slot, name: tunnel, plane: right, centre: [38, 10], width: 16, toward: up, foot: open}"],
    [RAMP, "{add: boss, name: boss, axis: z, at: [60, 25], diameter: 20, z: [0, 50]}"],
])
def test_a_tunnel_or_a_boss_in_a_sloping_face_is_no_hole(tmp_path, features):
    assert not any("SLOPING" in note for note in told(tmp_path, *features))


@cache
def of_bank(family: str) -> list[Problem]:
    return [problem_of(load_bank()[family].sample(seed)) for seed in SEEDS]


@pytest.mark.parametrize("family", sample("notes"))
def test_where_each_hole_ends_is_said_at_its_size_once(family):
    """THROUGH, INTO a bore or hollow, or DEEP; and of nothing but holes."""
    for problem in of_bank(family):
        for item in items_of(problem.measures, ENGLISH, far_ends(problem.solid)):
            note = " ".join(item.lines)
            bores = [k for k in item.rounds if isinstance(problem.solid.surfaces[k], Cylinder) and is_hollow(problem.solid, k)]
            if item.main.kind == "diameter":
                first = item.lines[0]
                ends = first.count("THROUGH") + first.count(" INTO ") + first.count("DEEP")
                hole = bores or "C'BORE" in note or "CSK" in note
                assert ends == (1 if hole else 0), note
            else:
                assert "THROUGH" not in note


def is_through(problem: Problem, k: int) -> bool:
    """Whether one can look through a hole along its axis: no facet of the part stands in the way."""
    solid, bore = problem.solid, problem.solid.surfaces[k]
    assert isinstance(bore, Cylinder)
    one, other = np.delete(np.eye(3), int(np.argmax(np.abs(bore.direction))), axis=0)
    a, b, c = (solid.vertices[solid.triangles[:, i]] - bore.point - 1e-3 * one - 2e-3 * other for i in range(3))
    flat = [np.stack([p @ one, p @ other], axis=1) for p in (a, b, c)]
    turns = [p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0] for p, q in zip(flat, (*flat[1:], flat[0]), strict=True)]
    return not ((np.min(turns, axis=0) > 0) | (np.max(turns, axis=0) < 0)).any()


@pytest.mark.parametrize("family", sample("notes"))
def test_one_can_look_through_what_is_said_to_go_through_and_not_through_what_has_a_depth(family):
    for problem in of_bank(family):
        for item in items_of(problem.measures, ENGLISH, far_ends(problem.solid)):
            for k in item.main.rounds:
                said = item.lines[0]
                if item.main.kind == "diameter" and ("THROUGH" in said or "DEEP" in said) and is_hollow(problem.solid, k):
                    assert ("THROUGH" in item.lines[0]) == is_through(problem, k), item.lines


@pytest.mark.parametrize("family", sample("notes"))
def test_no_note_is_printed_twice(family):
    for problem in of_bank(family):
        notes = lines(problem)
        assert len(set(notes)) == len(notes)


# what a reader of the parts would call them, by hand
@pytest.mark.parametrize(("family", "seed", "notes"), [
    ("skew-ended-tunnel", 1, ["THE ROUND HOLLOW RUNS RIGHT THROUGH", "R10 AND R20 HAVE ONE CENTRE"]),
    ("slant-cut-spigot", 1, ["THE HOLE IN THE SLOPING FACE IS VERTICAL", "Ø18 AND Ø48 HAVE ONE CENTRE"]),
    ("trestle", 361303, ["THE TUNNEL RUNS RIGHT THROUGH"]),
    ("bevelled-block", 601700, ["THE GROOVE RUNS RIGHT THROUGH", "THE REBATE RUNS RIGHT THROUGH"]),
    ("bevelled-bracket", 1, ["THE SLOT RUNS RIGHT THROUGH"]),
    ("cross-drilled-boss", 1, ["THE SLOTS RUN RIGHT THROUGH"]),
    ("hinge-lug", 2, []),
    ("forked-foot", 1, []),
    ("shaft-support", 1, []),
    ("half-round-saddle", 4, ["THE R10 ROUND HOLLOW RUNS RIGHT THROUGH", "THE CHANNEL RUNS RIGHT THROUGH",
                              "R10 AND R14 HAVE ONE CENTRE"]),
    ("counterbored-block", 1, ["DRILL POINTS 120°"]),
])
def test_the_notes_of_parts_of_the_bank(family, seed, notes):
    assert lines(problem_of(load_bank()[family].sample(seed))) == notes


def test_what_a_family_says_is_the_same_whatever_its_features_are_called(tmp_path):
    assert told(tmp_path, "{cut: groove, name: tunnel, x: [30, 40], z: [30, open]}") == [
        "THE GROOVE RUNS RIGHT THROUGH"]
