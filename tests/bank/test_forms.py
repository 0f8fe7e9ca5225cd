"""Forms of one family: its options chosen, and its mirror image."""

from __future__ import annotations

import numpy as np
import pytest

from sheetgen.bank import Form, forms_of, load_bank, load_text
from sheetgen.bank.mirror import other_words
from sheetgen.measures import MeasureError
from sheetgen.measures.symmetry import check_symmetry
from sheetgen.problem import problem_of
from sheetgen.projection.shapes import Straight
from sheetgen.solid import SolidError

BANK = load_bank()
PAIRS = {"front": "front", "top": "top", "left": "right", "right": "left"}
"""Of each view, which one of the mirror image is its mirror image."""


def lines(view, across=None):
    """The straight lines of a view, seen in a mirror if it is so wide, and how long the others are together."""
    found = []
    for kind in ("visible", "hidden", "centre"):
        every = getattr(view, f"{kind}_lines")
        curved = sum(line.length for line in every if not isinstance(line, Straight))
        ends = [[line.p, line.q] for line in every if isinstance(line, Straight)]
        turned = [[(across - u if across else u, v) for u, v in pair] for pair in ends]
        found.append((sorted(sorted(tuple(np.round(end, 3) + 0.0) for end in pair) for pair in turned),
                      len(every), pytest.approx(curved, abs=1e-3)))
    return found


def check_image(family, seed=1):
    """See that a variant's other hand is its mirror image, in every view; return both problems."""
    one, other = (problem_of(each.sample(seed)) for each in (family, Form(family.name, mirrored=True).of(family)))
    assert other.solid.volume == pytest.approx(one.solid.volume, rel=1e-9)
    for view, theirs in PAIRS.items():
        seen = one.view(view)
        low, high = seen.extent
        assert lines(seen, across=float(low[0] + high[0])) == lines(other.view(theirs)), view
    return one, other


@pytest.mark.parametrize("name", sorted(BANK)[::3])
def test_the_other_hand_of_every_family_is_its_mirror_image_and_as_fully_dimensioned(name):
    _, other = check_image(BANK[name])
    other.check()


def test_in_the_other_hand_left_and_right_change_places_in_what_is_measured():
    family = BANK["stepped-block"]
    one, other = family.sample(3), Form("stepped-block", mirrored=True).of(family).sample(3)
    assert one.sizes == other.sizes
    assert [spec.a.sides + spec.b.sides for spec in other.measure_specs] == [
        tuple(map(other_words, spec.a.sides + spec.b.sides)) for spec in one.measure_specs]
    assert other.measure_specs[3].a.sides == ("step.right",) and other.measure_specs[3].b.sides == ("base.left",)


def test_a_family_has_a_form_for_each_choice_of_its_options_in_both_hands():
    assert [str(form) for form in forms_of(BANK["hinge-lug"])] == [
        "hinge-lug, kind solid", "hinge-lug, kind solid, mirrored", "hinge-lug, kind forked", "hinge-lug, kind forked, mirrored"]
    assert [str(form) for form in forms_of(BANK["stepped-block"])] == ["stepped-block", "stepped-block, mirrored"]


def test_a_family_that_is_its_own_mirror_image_has_one_hand():
    symmetrical = [family for family in BANK.values() if "x" in family.symmetry]
    assert len(symmetrical) > 3
    for family in symmetrical:
        assert not any(form.mirrored for form in forms_of(family))
        check_symmetry(problem_of(family.sample(1)).solid, 0)


def test_a_part_that_has_no_symmetry_is_another_in_the_other_hand():
    with pytest.raises(MeasureError):
        check_symmetry(problem_of(BANK["stepped-block"].sample(1)).solid, 0)


@pytest.mark.parametrize("kind", ["solid", "forked"])
def test_all_variants_of_a_form_have_its_options(kind):
    formed = Form("hinge-lug", (("kind", kind),)).of(BANK["hinge-lug"])
    assert {formed.sample(seed).sizes["kind"] for seed in range(12)} == {kind}
    assert {BANK["hinge-lug"].sample(seed).sizes["kind"] for seed in range(12)} == {"solid", "forked"}


EVERYTHING = """\
title: All that is drawn in a plane
topics: [steps]
rung: 1
sizes:
  width: {from: 100, to: 120, step: 5}
features:
  - add: block
    name: base
    x: [0, width]
    y: [0, 80]
    z: [0, 60]
%s
measures:
  - base.left to base.right
"""
"""With a feature that the shipped bank may not have in each plane."""


@pytest.mark.parametrize("feature", [
    "cut: closed_slot\n    name: slot\n    plane: top\n    centres: [[20, 40], [60, 40]]\n    width: 12",
    "cut: closed_slot\n    name: slot\n    plane: right\n    centres: [[20, 30], [60, 30]]\n    width: 12",
    "cut: hole\n    name: bore\n    mouth: left\n    at: [40, 30]\n    diameter: 20\n    depth: 30",
    "cut: step\n    name: step\n    x: [60, open]\n    z: [20, open]\n  - cut: hole\n    name: bore\n    mouth: right\n"
    "    at: [[20, 40], [60, 40]]\n    diameter: 10\n    level: 60\n    depth: 30",
    "add: cone\n    name: cone\n    axis: x\n    at: [40, 30]\n    diameters: [40, 20]\n    x: [width, width + 30]",
    "cut: vee\n    name: vee\n    plane: right\n    tip: [40, 40]\n    toward: up\n    angle: 90\n    x: [50, open]",
    "cut: vee\n    name: vee\n    plane: front\n    tip: [70, 40]\n    toward: right\n    angle: 60\n    y: [50, open]",
])
def test_every_feature_is_mirrored_whichever_way_it_lies(feature):
    check_image(load_text(EVERYTHING % f"  - {feature}", "trial"))


@pytest.mark.parametrize("name", [name for name, family in sorted(BANK.items()) if family.sections])
def test_the_cutting_planes_of_the_other_hand_take_away_the_mirror_image_of_what_they_take_away(name):
    one, other = (problem_of(each.sample(2)) for each in (BANK[name], Form(name, mirrored=True).of(BANK[name])))
    pairs = list(zip(one.planes, other.planes, strict=True))
    assert pairs
    for plane, theirs in pairs:
        drawn = {"front": "front", "top": "top", "side": "left"}[plane.view]
        if plane.sort != "half" or plane.along != 0:                # of a half section the right half is cut in either hand
            assert left_by(plane, one, drawn) == left_by(theirs, other, PAIRS[drawn]), plane


def left_by(plane, problem, drawn):
    """The volume that a cutting plane leaves, or that it cannot be drawn."""
    try:
        return round(plane.cut(problem.solid, drawn).solid.volume, 3)
    except SolidError:
        return None
