"""Surfaces as columns: normals at many points at once."""

import numpy as np
import pytest

from sheetgen.solid.surfaces import Cylinder
from sheetgen.solid.table import table_of

UP = np.array([0.0, 0.0, 1.0])


@pytest.mark.filterwarnings("error")
def test_a_round_surface_has_a_normal_everywhere_but_on_its_axis():
    table = table_of([Cylinder(np.array([5.0, 5.0, 0.0]), UP, 3.0)])
    points = np.array([[8.0, 5.0, 1.0], [5.0, 5.0, 1.0], [5.0, 2.0, 4.0]])
    assert table.normals(np.zeros(3, dtype=np.int64), points).tolist() == [[1, 0, 0], [0, 0, 0], [0, -1, 0]]
