"""Facets of a flat face never lie folded over each other: through a hole one sees, whatever divided the face round it."""

import numpy as np
import pytest

from sheetgen.bank import features as f
from sheetgen.projection import view_of
from sheetgen.solid import Plane, build
from sheetgen.solid.folds import folded, smoothed

HOLE = ((101.0, 15.5), (101.0, 58.5))
FOOT = (      # whose upper face the operations divide with facets across the first hole
    f.Profile("foot", False, "top", (37.0, 0.0), (
        f.Piece((105.0, 0.0)), f.Piece((113.0, 8.0), None, (105.0, 8.0), "left"), f.Piece((113.0, 66.0)),
        f.Piece((105.0, 74.0), None, (105.0, 66.0), "left"), f.Piece((37.0, 74.0)),
        f.Piece((37.0, 0.0), None, (37.0, 37.0), "left"),
    ), (0.0, 16.0)),
    f.Cylinder("boss", False, "z", ((37.0, 37.0),), 56.0, (16.0, 56.0)),
    f.Rib("web", "front", (55.0, 16.0), (37.0, 25.907678913770003), (23.0, 51.0)),
    f.Hole("bore", "top", ((37.0, 37.0),), 18.0, 56.0, None, None, (40.0, 10.0)),
    f.Hole("holes", "top", HOLE, 7.0, 16.0),
)


def test_the_rim_of_a_hole_is_seen_whole_from_either_end():
    solid = build(FOOT)
    for name, flip in (("top", False), ("bottom", True)):
        lines = [np.asarray(line) for line in view_of(solid, name).visible]
        for u, v in HOLE:
            centre = np.array([u, 74.0 - v if flip else v])
            rims = [line for line in lines if np.hypot(*(line - centre).T).max() < 4]
            turned = sum(np.hypot(*np.diff(line, axis=0).T).sum() for line in rims)
            assert turned == pytest.approx(np.pi * 7.0, rel=1e-3)


def test_no_flat_face_of_the_solid_is_folded_and_its_area_is_that_of_the_outline():
    solid = build(FOOT)
    assert not folded(solid.normals, solid.surfaces, solid.edges).any()
    up = (solid.normals[:, 2] > 0.999) & np.isclose(solid.vertices[solid.triangles][:, :, 2], 16.0).all(axis=1)
    down = (solid.normals[:, 2] < -0.999) & np.isclose(solid.vertices[solid.triangles][:, :, 2], 16.0).all(axis=1)
    assert up.any() and not down.any()


def test_a_square_of_facets_that_cover_each_other_is_divided_anew():
    """A square whose diagonal runs outside: one facet stands on its head over the other."""
    corners = np.array([[0.0, 0, 0], [4, 0, 0], [1, 1, 0], [0, 4, 0]])
    flat = [Plane(np.array([0.0, 0, 1]), 0.0)]
    corners, triangles, owner = smoothed(corners, np.array([[0, 1, 3], [1, 2, 3]]), np.zeros(2, dtype=np.int64), flat)
    side = corners[triangles]
    assert len(corners) == 4
    areas = np.cross(side[:, 1] - side[:, 0], side[:, 2] - side[:, 0])[:, 2] / 2
    assert sorted(areas.tolist()) == [2.0, 2.0] and owner.tolist() == [0, 0]


def test_a_corner_that_only_folded_facets_had_is_gone():
    """A square in four facets about a point that lies outside it."""
    corners = np.array([[0.0, 0, 0], [4, 0, 0], [4, 4, 0], [0, 4, 0], [6, 2, 0]])
    fan = np.array([[0, 1, 4], [1, 2, 4], [2, 3, 4], [3, 0, 4]])
    corners, triangles, _ = smoothed(corners, fan, np.zeros(4, dtype=np.int64), [Plane(np.array([0.0, 0, 1]), 0.0)])
    assert corners[:, :2].tolist() == [[0, 0], [4, 0], [4, 4], [0, 4]]
    assert len(triangles) == 2
