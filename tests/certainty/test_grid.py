"""Parts in cells between their levels."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh

from sheetgen.bank.features import Block, Hole
from sheetgen.certainty import Grid, grid_of
from sheetgen.refusals import RefusedError
from sheetgen.solid import build
from tests.certainty import brute
from tests.parts import PARTS, S1, S4


@pytest.mark.parametrize("part", [S1, S4])
def test_the_cells_of_a_part_fill_its_volume(part):
    solid = part.solid()
    grid = grid_of(solid)
    assert grid.volume == pytest.approx(solid.volume)
    assert [levels[-1] for levels in grid.levels] == pytest.approx(solid.size)


def test_levels_are_those_of_the_faces():
    grid = grid_of(S1.solid())
    assert [levels.tolist() for levels in grid.levels] == [[0, 20, 40, 60], [0, 12, 28, 40], [0, 15, 40]]


def test_the_surface_is_closed_and_looks_outwards():
    """By an independent reader of meshes, on parts drawn by lot."""
    draws = np.random.default_rng(3).random((400, 3, 2, 3)) < 0.6
    parts = [part for part in draws if brute.is_a_part(part)]
    assert len(parts) > 5
    for part in parts:
        grid = Grid((np.array([0.0, 2, 5, 6]), np.array([0.0, 3, 7]), np.array([0.0, 1, 3, 8])), part)
        mesh = trimesh.Trimesh(grid.vertices, grid.triangles, process=False)
        assert mesh.is_watertight and mesh.is_winding_consistent and mesh.volume == pytest.approx(grid.volume)


def test_boxes_fill_the_part_and_do_not_overlap():
    grid = grid_of(S1.solid())
    assert np.prod(grid.boxes[:, 1] - grid.boxes[:, 0], axis=1).sum() == pytest.approx(grid.volume)
    assert len(grid.boxes) < grid.filled.sum()


def test_a_part_without_a_level_that_bears_no_face_is_the_same_part():
    solid = S1.solid()
    grid = grid_of(solid)
    finer = Grid((np.array([0.0, 20, 30, 40, 60]), *grid.levels[1:]), grid.filled[[0, 1, 1, 2]])
    assert [a.tolist() for a in finer.tidied().levels] == [a.tolist() for a in grid.levels]
    assert (finer.tidied().filled == grid.filled).all()


@pytest.mark.parametrize("name", ["S2", "S3", "S5", "bracket"])
def test_parts_with_other_faces_are_refused(name):
    with pytest.raises(RefusedError, match="not all its faces are square to the views"):
        grid_of(PARTS[name].solid())


def test_a_bore_is_no_cell():
    with pytest.raises(RefusedError):
        grid_of(build([Block("base", False, (0, 30), (0, 30), (0, 30)), Hole("bore", "top", ((15, 15),), 10)]))
