"""A symmetry that a sheet would claim is found on the solid, or the family is at fault."""

from __future__ import annotations

import re

import pytest

from sheetgen.bank import BankError
from sheetgen.bank.features import Block, Hole
from sheetgen.measures import MeasureError, check_symmetry
from sheetgen.problem import problem_of
from sheetgen.solid import build
from tests import samples

ALL = (None, None)
ROOM = Block("base", False, (0, 60), (0, 40), (0, 30))


def test_a_part_with_a_hole_in_its_middle_is_symmetric_and_with_one_beside_it_is_not():
    check_symmetry(build([ROOM, Hole("bore", "top", ((30, 12),), 10)]), 0)
    with pytest.raises(MeasureError, match=re.escape("bore.axis has no mirror image along y")):
        check_symmetry(build([ROOM, Hole("bore", "top", ((30, 12),), 10)]), 1)


def test_a_slot_is_no_mirror_image_of_what_stands_between_two_notches_though_their_faces_lie_in_the_same_planes():
    # each plane has its image: x 15 and x 45, y 15 and y 25 their own; only where they end tells them apart
    features = [ROOM, Block("slot", True, (None, 15), (15, 25), ALL),
                Block("near", True, (45, None), (None, 15), ALL), Block("far", True, (45, None), (25, None), ALL)]
    with pytest.raises(MeasureError, match="has no mirror image along x"):
        check_symmetry(build(features), 0)
    check_symmetry(build(features), 1)


def test_a_deep_hole_is_no_mirror_image_of_a_shallow_one_that_ends_level_with_a_step():
    # the floors, at z 10 and at z 20, lie in the planes of steps that are symmetrical
    steps = [Block(f"step{z}", True, ALL, (40 - y, None), (z, None)) for y, z in ((6, 10), (12, 20))]
    holes = [Hole("deep", "top", ((15, 12),), 10, depth=20), Hole("shallow", "top", ((45, 12),), 10, depth=10)]
    check_symmetry(build([ROOM, *steps]), 0)
    with pytest.raises(MeasureError, match=r"the edge of .* has no mirror image along x"):
        check_symmetry(build([ROOM, *steps, *holes]), 0)


def test_a_family_that_claims_a_symmetry_it_has_not_is_at_fault(tmp_path):
    family = samples.family_of(tmp_path, samples.STEP.replace("rung: 1", "rung: 1\nsymmetry: [x]"))
    with pytest.raises(BankError) as caught:
        problem_of(family.sample(1))
    [fault] = caught.value.faults
    assert (fault.field, fault.found) == ("symmetry", "x, but step.left has no mirror image along x")
