"""What an examiner's slip would do to the sizes of a part: one left out, doubled, false, or a constant that no size tells.

The proof must catch each single one (a doubled or missing dimension is a fault on any drawing: machine drawing textbook p. 30).
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from sheetgen.bank import load_bank
from sheetgen.bank.features import Hole
from sheetgen.measures import measures_of, prove
from sheetgen.problem import Problem, problem_of
from sheetgen.solid import build
from tests.families import sample

SOME = sample("mutations")
variant = cache(lambda family: load_bank()[family].sample(3))
LEAST_SHIFT = 0.01       # mm: what the proof says it holds the part to


@pytest.fixture(scope="module", params=SOME)
def problem(request) -> Problem:
    """One part of each of some families."""
    return problem_of(variant(request.param))


@pytest.fixture(scope="module", params=SOME)
def family(request) -> str:
    """Each of them."""
    return request.param


def proof_of(problem: Problem, measures):
    return prove(problem.solid, measures, problem.symmetry)


def test_the_sizes_as_they_are_fix_the_part_once(problem):
    assert proof_of(problem, problem.measures).faults() == []


def test_any_size_left_out_is_missed(problem):
    for k, measure in enumerate(problem.measures):
        assert proof_of(problem, problem.measures[:k] + problem.measures[k + 1:]).free, f"{measure.words} is not missed"


def test_any_size_doubled_is_found(problem):
    for measure in problem.measures:
        proof = proof_of(problem, (*problem.measures, measure))
        assert measure in proof.doubled, f"{measure.words} twice is not found"


def test_any_false_figure_gives_another_part(problem):
    for k, measure in enumerate(problem.measures):
        assert measure.figures == f"{measure.value:g}" and measure.figures in measure.text
        false = replace(measure, figures=f"{measure.value + 1:g}")
        proof = proof_of(problem, (*problem.measures[:k], false, *problem.measures[k + 1:]))
        assert proof.error > LEAST_SHIFT, f"{measure.words} printed as {false.text} goes unnoticed"
        assert not proof.holds


def test_a_hole_whose_depth_and_place_no_size_tells_is_found(family):
    part = variant(family)
    pit = Hole(name="pit", mouth="bottom", at=(_in_the_underside(part.features),), diameter=3.0, depth=3.0)
    solid = build((*part.features, pit))
    free = prove(solid, measures_of(solid, part.measure_specs)).free          # the pit leaves no part symmetrical
    assert any("pit" in told for told in free), free


def _in_the_underside(features) -> tuple[float, float]:
    """A point well inside the face on which the part stands."""
    solid = build(features)
    facets = solid.triangles[(solid.normals[:, 2] < -0.999) & (solid.vertices[solid.triangles, 2].max(axis=1) < 1e-9)]
    corners = solid.vertices[facets]
    one, other = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    sides = np.linalg.norm(corners - np.roll(corners, 1, axis=1), axis=2)
    inner = np.linalg.norm(np.cross(one, other), axis=1) / sides.sum(axis=1)        # radius of the circle within
    a, b, c = corners[int(np.argmax(inner))]
    weights = np.array([np.linalg.norm(b - c), np.linalg.norm(c - a), np.linalg.norm(a - b)])
    x, y, _ = (weights @ np.stack([a, b, c]) / weights.sum()).tolist()
    return x, y
