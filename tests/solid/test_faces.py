"""Faces: what of one surface hangs together."""

from __future__ import annotations

import numpy as np

from sheetgen.bank import load_bank
from sheetgen.problem import problem_of
from sheetgen.solid import faces_of
from tests import samples

BANK = load_bank()


def test_a_plain_step_has_eight_flat_faces(tmp_path):
    faces = faces_of(problem_of(samples.family_of(tmp_path, samples.STEP).sample(1)).solid)
    assert len(faces) == 8 and faces.plain.all()


def test_faces_of_one_plane_that_are_apart_are_two():
    solid = problem_of(BANK["slotted-angle"].sample(1)).solid
    faces = faces_of(solid)
    assert len(faces) > len(set(faces.surface.tolist()))
    assert np.array_equal(faces.surface[faces.of_facet], solid.owner)


def test_a_flat_face_that_runs_into_a_round_one_has_no_edge_there_and_is_not_plain():
    solid = problem_of(BANK["round-ended-link"].sample(1)).solid
    faces = faces_of(solid)
    smooth = {int(faces.of_facet[facet]) for facet in solid.edges.facets[solid.edges.tangent].ravel()}
    assert smooth and not faces.plain[list(smooth)].any()
