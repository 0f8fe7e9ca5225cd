"""No question claims a symmetry that the part has not, and none is left out that the proof counts on."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
from OCP.BRepGProp import BRepGProp
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt, gp_Trsf
from OCP.GProp import GProp_GProps

from sheetgen.bank import load_bank
from sheetgen.exercises.kinds.views.question import lines_of
from sheetgen.measures import check_symmetry
from sheetgen.problem import Problem, problem_of
from sheetgen.sheet import Style, settings_of
from sheetgen.sheet.layout import layouts, views_asked
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.solid import Plane
from sheetgen.templating import wording_names
from tests.families import sample
from tests.outside.kernel import reference_solid

SOME = sample("symmetry")
SEEDS = (1, 2)
CLAIMS = {
    "en": {"left and right halves": "x", "front and rear halves": "y"},
    "en-elevations": {"left and right halves": "x", "front and rear halves": "y"},
}
"""What a question says of a part that a plane square to an axis divides into like halves (common practice, no source)."""

LEFT_OVER = 0.5
"""mm3 of a part outside its mirror image: the least feature of the bank has 100 times more."""


@cache
def problem(family: str, seed: int) -> Problem:
    return problem_of(load_bank()[family].sample(seed))


@cache
def asked(family: str, seed: int, wording: str) -> list[str]:
    """What a question says beside the pictorial."""
    settings, of = settings_of(Style(wording=wording)), problem(family, seed)
    block = titleblock_box(settings.block, settings.paper)
    layout = layouts(settings.paper, of.solid.size, settings.projection, views_asked(settings.side), block)[0]
    return lines_of(of, settings, layout, layout.scale_name)


def claimed(lines: list[str], wording: str) -> set[str]:
    return {axis for words, axis in CLAIMS[wording].items() if any(words in line for line in lines)}


@cache
def left_over(family: str, seed: int, axis: str) -> float:
    """mm3 of a part that lie outside its mirror image, by the independent kernel."""
    solid = reference_solid(load_bank()[family].sample(seed).features)
    low, high = solid.bounds
    mirror = gp_Trsf()
    mirror.SetMirror(gp_Ax2(gp_Pnt(*((np.array(low) + np.array(high)) / 2).tolist()), gp_Dir(*[float(axis == a) for a in "xyz"])))
    image = BRepBuilderAPI_Transform(solid.shape, mirror, True).Shape()
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(BRepAlgoAPI_Cut(solid.shape, image).Shape(), properties)
    return abs(properties.Mass())


def is_symmetric(family: str, axis: str) -> bool:
    """Whether our own check finds it."""
    try:
        check_symmetry(problem(family, 1).solid, "xyz".index(axis))
    except ValueError:
        return False
    return True


@pytest.mark.parametrize("wording", wording_names())
@pytest.mark.parametrize("family", SOME)
def test_a_question_claims_the_symmetries_that_the_proof_counts_on_and_no_other(family, wording):
    for seed in SEEDS:
        assert claimed(asked(family, seed, wording), wording) == set(problem(family, seed).symmetry)


@pytest.mark.parametrize("family", SOME)
def test_a_part_has_the_symmetries_that_its_question_claims(family):
    for seed in SEEDS:
        for axis in claimed(asked(family, seed, "en"), "en"):
            assert left_over(family, seed, axis) < LEFT_OVER


@pytest.mark.parametrize("family", SOME)
def test_our_check_of_symmetry_and_the_kernel_agree(family):
    for axis in "xyz":
        assert is_symmetric(family, axis) == (left_over(family, 1, axis) < LEFT_OVER)


@pytest.mark.parametrize("family", SOME)
def test_each_line_of_a_question_says_something_else(family):
    lines = [line for line in asked(family, 1, "en") if line]
    assert len(set(lines)) == len(lines)


@pytest.mark.parametrize("family", SOME)
def test_a_round_part_and_a_symmetric_one_ask_for_centre_lines_and_no_other(family):
    of = problem(family, 1)
    wanted = bool(of.symmetry) or not all(isinstance(surface, Plane) for surface in of.solid.surfaces)
    assert ("Draw all centre lines." in asked(family, 1, "en")) == wanted
