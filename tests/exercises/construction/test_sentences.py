"""What the sentences of construction sheets say, as a student reads them beside the drawing."""

from __future__ import annotations

import re
from functools import cache

import pytest

from sheetgen.exercises.construction import Part
from sheetgen.exercises.pieces import pieces_of
from sheetgen.sheet import Style
from tests import samples
from tests.exercises.construction.made import Built, built

ROUNDED_PLATE = """\
title: Plate with a block
topics: [rounded corners]
rung: 2
sizes:
  width: {from: 90, to: 110, step: 5}
features:
  - add: profile
    name: plate
    plane: top
    outline:
      - {start: [10, 0]}
      - {line: [width - 10, 0], side: front}
      - {arc: [width, 10], centre: [width - 10, 10], turn: left, side: corner_1}
      - {line: [width, 60], side: right}
      - {arc: [width - 10, 70], centre: [width - 10, 60], turn: left, side: corner_2}
      - {line: [10, 70], side: back}
      - {arc: [0, 60], centre: [10, 60], turn: left, side: corner_3}
      - {line: [0, 10], side: left}
      - {arc: [10, 0], centre: [10, 10], turn: left, side: corner_4}
    z: [0, 16]
  - {add: block, name: block, x: [width/2 - 18, width/2 + 18], y: [20, 50], z: [16, 46]}
symmetry: [x, y]
measures:
  - plate.left to plate.right
  - plate.front to plate.back
  - plate.bottom to block.top
  - plate.bottom to plate.top
  - radius of plate.corner_1, plate.corner_2, plate.corner_3 and plate.corner_4
  - block.left to block.right
  - block.front to block.back
"""
"""A family whose plate has all four corners rounded."""


@cache
def made(family: str, seed: int, projection: str = "first", side: str = "left") -> Built:
    return built(family, seed, Style(projection=projection, side=side))


def told(one: Built, part: Part, view: str = "") -> list[str]:
    """The sentences of all stages of a part of the work, in one view if it is named."""
    return [text for step in one.stages if step.part is part and view in ("", step.view) for text in step.sentences]


def test_features_are_called_as_the_hints_call_them():
    one = made("sloped-arm", 2)
    front = [text.split(":")[0] for text in told(one, Part.VIEW, "front") if ":" in text]
    say = one.settings.wording
    assert front == [piece.called(say, first=True) for piece in pieces_of(one.problem) if not piece.cut]
    assert front == ["The block", "The foot", "The sloping arm"]


def test_holes_of_several_sizes_are_told_apart_by_their_diameters():
    hidden = told(made("twin-ribbed-bracket", 3), Part.HIDDEN)
    assert [text.split(":")[0] for text in hidden if "hole" in text] == ["The Ø14 hole", "The Ø10 holes"]


def test_of_two_sloping_lines_alike_one_is_told_and_its_mirror_image():
    [groove] = [text for text in told(made("vee-guide", 1), Part.VIEW, "front") if "vee groove" in text]
    assert groove.endswith("in the middle of the width, and its mirror image about the centre line.")
    tongue = " ".join(told(made("dovetail-tongue", 1), Part.VIEW, "top"))
    assert "and its mirror images about both centre lines." in tongue


def test_circles_about_one_centre_are_told_together():
    [hole] = [text for text in told(made("hinge-lug", 5), Part.VIEW, "top") if "countersunk" in text]
    assert re.fullmatch(r"The countersunk hole: draw circles Ø18 and Ø10 about one centre \d+ from the left and in the middle of "
                        r"the depth\.", hole)


def test_an_end_that_the_view_has_already_is_not_carried():
    slot = [text for text in told(made("sloped-arm", 2), Part.VIEW, "top") if "sloping line" in text]
    assert len(slot) == 1 and "carried" not in slot[0]


def test_what_is_the_same_in_both_side_views_is_told_once():
    one = made("conical-boss", 2, "third", "both")
    hidden = " ".join(told(one, Part.HIDDEN))
    assert "in both side views, carried across from the front view" in hidden and "side view from" not in hidden
    [curves, *_] = told(one, Part.CURVES)
    assert curves == "The slot: plot the curves in both side views."


@pytest.mark.parametrize(("family", "seed", "view", "says"), [
    ("slotted-wedge", 6, "right", "The slot: draw a horizontal line, carried across from the front view."),
    ("flanged-foot", 1, "front", "The rib: draw a vertical line, carried up from the top view."),
])
def test_a_line_at_a_level_that_no_size_has_waits_for_the_view_that_tells_it(family, seed, view, says):
    # a draughtsman finds such a level in the view where it shows, and does not work it out (common practice, no source)
    one = made(family, seed, "first" if view == "front" else "third", "left" if view == "front" else view)
    steps = [step for step in one.stages if step.view == view]
    assert steps[-1].sentences[0] == says
    between = one.stages[one.stages.index(steps[-2]) + 1:one.stages.index(steps[-1])]
    assert any(step.view != view for step in between)


def test_an_arc_of_a_printed_diameter_is_told_by_it():
    cone = " ".join(told(made("conical-boss", 2, "third", "both"), Part.VIEW, "top"))
    assert "an arc Ø46" in cone and "R23" not in cone


def test_arcs_that_round_off_all_corners_of_a_box_need_no_centres(tmp_path):
    one = built(samples.family_of(tmp_path, ROUNDED_PLATE), 1)
    [plate] = [text for text in told(one, Part.VIEW, "top") if "rounded corners" in text]
    assert plate == "The plate: draw lines along all edges of the box; the rounded corners, four arcs R10."


def test_arcs_that_round_off_two_corners_of_a_box_are_told_with_their_centres():
    [plate] = [text for text in told(made("countersunk-plate", 1), Part.VIEW, "top") if "rounded corners" in text]
    assert "two arcs R10 with their centres 75 from the left and 50 apart" in plate
