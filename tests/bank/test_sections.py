"""Cutting planes in family files: what is read, and what is told of what cannot be."""

from __future__ import annotations

import pytest

from sheetgen.bank import BankError, load_text
from sheetgen.problem import problem_of
from sheetgen.problem.cutting import CuttingPlane

PLATE = """\
title: Drilled plate
topics: [holes]
rung: 2
sizes:
  width: {from: 80, to: 80, step: 5}
  depth: {from: 50, to: 50, step: 5}
symmetry: [x]
features:
  - add: plate
    name: base
    x: [0, width]
    y: [0, depth]
    z: [0, 20]
  - cut: hole
    name: holes
    mouth: top
    at: [[20, 15], [60, 15]]
    diameter: 12
  - cut: hole
    name: cross
    mouth: right
    at: [38, 10]
    diameter: 6
measures:
  - base.left to base.right
sections:
"""


def planes(*lines):
    family = load_text(PLATE + "".join(f"  {line}\n" for line in lines), "plate")
    return problem_of(family.sample(1)).planes


def told(*lines):
    with pytest.raises(BankError) as error:
        planes(*lines)
    return str(error.value)


def test_a_plane_goes_through_an_axis_or_stands_at_a_formula():
    assert planes("- section: full", "  view: front", "  through: holes.1.axis") == (CuttingPlane("full", "front", (15.0,)),)
    assert planes("- section: full", "  view: side", "  through: width/2 + 1") == (CuttingPlane("full", "side", (41.0,)),)


def test_an_offset_plane_goes_through_several_and_a_half_section_ends_in_the_middle():
    assert planes("- section: offset", "  view: front", "  through: [holes.1.axis, cross.axis]", "  turns: 40") == (
        CuttingPlane("offset", "front", (15.0, 38.0), (40.0,)),)
    assert planes("- section: half", "  view: front", "  through: holes.2.axis") == (
        CuttingPlane("half", "front", (15.0,), (40.0,)),)


def test_a_plane_may_count_for_some_variants_only():
    assert {plane.view for plane in planes("- section: full", "  view: top", "  through: cross.axis", "  when: width > 90")} == {
        "front", "side"}                                                    # none is declared then, and some are found


@pytest.mark.parametrize(("lines", "says"), [
    (("- section: full", "  view: rear", "  through: 10"), "one of front, top, side"),
    (("- section: third", "  view: front", "  through: 10"), "one of full, half, offset"),
    (("- section: full", "  view: front"), "through"),
    (("- section: full", "  view: front", "  through: [10, 20]"), "only an offset section has more"),
    (("- section: offset", "  view: front", "  through: 10"), "two places or more"),
    (("- section: offset", "  view: front", "  through: [10, 20]"), "one turn between each two places"),
    (("- section: full", "  view: front", "  through: hole.axis"), "holes"),
    (("- section: full", "  view: front", "  through: breadth/2"), "breadth"),
    (("- section: full", "  view: front", "  through: base.top"), "no axis of the part"),
    (("- section: full", "  view: side", "  through: cross.axis"), "runs across the plane"),
    (("- section: full", "  view: front", "  through: 50"), "within the part"),
    (("- section: offset", "  view: front", "  through: [10, 20]", "  turns: 90"), "turns in order"),
    (("- section: half", "  view: side", "  through: 30"), "symmetry: [y]"),
], ids=lambda value: value if isinstance(value, str) else "")
def test_what_is_no_plane_is_told_with_its_line(lines, says):
    text = told(*lines)
    assert says in text and "plate.yaml:" in text and "sections[1]" in text
