"""Directions of sight: which faces of the part each shows."""

from __future__ import annotations

import numpy as np
import pytest

from sheetgen.projection.frames import CORNERS, PRINCIPAL, frame_of

SIZE = np.array([40.0, 30.0, 20.0])


@pytest.mark.parametrize("name", PRINCIPAL)
def test_a_principal_view_shows_the_faces_it_is_named_after(name):
    assert frame_of(name, SIZE).shows == (name,)


@pytest.mark.parametrize("corner", CORNERS)
def test_an_isometric_shows_the_two_faces_of_its_corner_and_the_top(corner):
    assert set(frame_of("isometric", SIZE, corner).shows) == {*corner.split("-"), "top"}
