"""Blind holes: drilled ones have a point, which the question tells of; flat floors are said to be flat."""

from __future__ import annotations

import pytest

from sheetgen.bank import BankError, Family, load_bank
from sheetgen.bank.features import Hole
from sheetgen.exercises import Role, sheets_of
from sheetgen.ink import Text
from sheetgen.problem import problem_of
from sheetgen.sheet import Style, settings_of
from sheetgen.solid import Plane
from tests.bank.samples import changed
from tests.samples import family_of

BLOCK = """\
title: Drilled block
topics: [holes]
rung: 1
sizes:
  width: {from: 60, to: 90, step: 1}
features:
  - {add: block, name: base, x: [0, width], y: [0, 40], z: [0, 30]}
  - {cut: hole, name: pit, mouth: top, at: [20, 15], diameter: 10, depth: 14, point: 120}
measures:
  - base.left to base.right
  - base.front to base.back
  - base.bottom to base.top
  - base.left to pit.axis
  - base.front to pit.axis
  - diameter of pit
  - depth of pit
"""


def printed(family: Family, role: Role) -> list[str]:
    sheets = sheets_of(problem_of(family.sample(1)), settings_of(Style()), [role])
    return [mark.text for page in sheets[role] for mark in page.marks if isinstance(mark, Text)]


def test_the_question_of_a_drilled_part_tells_the_angle_of_its_points(tmp_path):
    texts = printed(family_of(tmp_path, BLOCK), Role.QUESTION)
    assert "DRILL POINTS 120°" in texts and "Ø10 × 14 DEEP" in texts


@pytest.mark.parametrize("role", [Role.QUESTION, Role.ANSWER])
def test_a_part_with_flat_floors_says_so_at_their_depth_and_tells_of_no_points(tmp_path, role):
    texts = printed(family_of(tmp_path, changed(BLOCK, (", point: 120", ""))), role)
    assert "Ø10 × 14 DEEP FLAT" in texts and not any("DRILL" in text for text in texts)


def test_a_point_of_another_angle_than_the_note_tells_is_a_fault_of_the_file(tmp_path):
    family = family_of(tmp_path, changed(BLOCK, ("point: 120", "point: 118")))
    with pytest.raises(BankError, match=r"118 degrees.*120") as caught:
        problem_of(family.sample(1))
    assert [fault.line for fault in caught.value.faults] == [8]


def has_blind_holes(variant):
    return any(isinstance(feature, Hole) and (feature.depth or feature.point_angle) for feature in variant.features)


def test_every_blind_hole_of_the_bank_ends_in_a_point_or_is_said_to_be_flat():
    seen = set()
    for family in load_bank().values():
        for variant in filter(has_blind_holes, map(family.sample, range(4))):
            problem = problem_of(variant)
            flat = {measure.side.feature for measure in problem.measures if measure.flat}
            for feature in variant.features:
                floor = problem.solid.sides.get(f"{feature.name}.floor", problem.solid.sides.get(f"{feature.name}.1.floor"))
                if isinstance(feature, Hole) and floor is not None:
                    assert isinstance(problem.solid.surfaces[floor], Plane) and feature.name in flat, feature
                    seen.add("flat")
                if isinstance(feature, Hole) and feature.point_angle:
                    assert [note.key for note in problem.notes].count("drill_points") == 1
                    seen.add("drilled")
    assert seen == {"flat", "drilled"}
