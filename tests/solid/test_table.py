"""Surfaces as columns say the same as the surfaces one by one."""

from __future__ import annotations

import numpy as np
import pytest

from sheetgen.solid import Cone, Cylinder, Plane
from sheetgen.solid.table import table_of

TILTED = np.array([0.6, 0.0, 0.8])
SURFACES = (
    Plane(np.array([0.0, 0, -1]), -12.0), Plane(TILTED, 5.0),
    Cylinder(np.array([3.0, 4, 0]), np.array([0.0, 0, 1]), 6.0), Cone(np.array([1.0, 0, 20]), np.array([0.0, 0, -1]), 0.5),
)
POINTS = np.array([[7.0, -2, 3], [12.5, 9, 1], [-4, 0.5, 8]])


@pytest.mark.parametrize("number", range(len(SURFACES)))
def test_normals_are_those_of_each_surface(number):
    which = np.full(len(POINTS), number)
    assert table_of(SURFACES).normals(which, POINTS) == pytest.approx(SURFACES[number].normals(POINTS))


def test_distances_are_reckoned_along_the_normals():
    table, which = table_of(SURFACES), np.arange(len(SURFACES))
    points = np.array([[9.0, 9, 9], [0, 0, 0], [13, 4, 7], [1, 0, 0]])
    # a plane 12 up that looks down; a slope 5 away; a cylinder of radius 6 round (3, 4); a cone 10 wide below its apex
    assert table.distances(which, points) == pytest.approx([3, -5, 4, -20 * 0.5 / np.hypot(1, 0.5)])


def test_a_plane_square_to_an_axis_stands_at_a_level():
    table = table_of(SURFACES)
    assert table.square.tolist() == [2, -1, -1, -1] and table.level[0] == 12.0
