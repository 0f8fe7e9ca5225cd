"""Isometric drawing against the figures of the trade.

ID = NAVEDTRA 14276 (US public domain); GED, a British geometric and engineering drawing textbook; EDL, lecture notes on
engineering drawing, ch. 5. "Worked" figures were worked by hand and by a rotation matrix, apart from this program.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from sheetgen.bank import features as f
from sheetgen.projection import CORNERS, Arc, frame_of, view_of
from sheetgen.solid import build
from tests.outside.bodies import GOLDEN
from tests.outside.sheets import SOME, question

A = "front-right"     # the front on the reader's left, the right side on the right
B = "left-front"      # the left side on the reader's left, the front on the right
SIZE = np.array([60.0, 40.0, 40.0])
EXACT = 1e-9


def drawn(point, corner=A):
    """Where a point of the part falls on the isometric drawing."""
    return frame_of("isometric", SIZE, corner).flat(np.array([point], dtype=float))[0]


def direction(vector, corner=A):
    """Angle from level, degrees in [0, 180), and length on the drawing of a vector of the part."""
    u, v = frame_of("isometric", SIZE, corner).flat_vectors(np.array(vector, dtype=float))
    return math.degrees(math.atan2(v, u)), math.hypot(u, v)


@pytest.mark.parametrize(("axis", "angle"), [((1, 0, 0), -30), ((0, 1, 0), 30), ((0, 0, 1), 90)])
def test_the_axes_run_at_30_degrees_and_upright_and_keep_their_length(axis, angle):
    # ID p. 6-20; ISO 5456-3:1996 cl. 5.1 (from memory): axes 120 degrees apart, two of them at 30 to the horizontal
    assert direction(axis) == pytest.approx((angle, 1.0), abs=EXACT)


@pytest.mark.parametrize("corner", CORNERS)
def test_from_every_corner_the_three_axes_stand_120_degrees_apart(corner):
    # ID p. 6-20
    lines = sorted(direction(axis, corner)[0] % 180 for axis in np.eye(3))
    assert lines == pytest.approx([30, 90, 150], abs=EXACT)
    assert [direction(axis, corner)[1] for axis in np.eye(3)] == pytest.approx([1, 1, 1], abs=EXACT)


def test_the_drawing_is_larger_than_the_true_projection_by_the_root_of_one_and_a_half():
    # GED: isometric scale 0.8165, so the drawing is 1 / 0.8165 = 1.2247 of the projection (EDL 5.3.2: 22.5 % larger)
    axes, toward = frame_of("isometric", SIZE).axes, frame_of("isometric", SIZE).toward
    assert np.linalg.norm(axes, axis=1) == pytest.approx([math.sqrt(1.5)] * 2, abs=EXACT)
    assert axes @ toward == pytest.approx([0, 0], abs=EXACT)
    assert toward * math.sqrt(3) == pytest.approx([1, -1, 1], abs=EXACT)


# worked checks: points, boxes, a sloping edge, a face's diagonals, a cube
@pytest.mark.parametrize(("corner", "point", "place"), [
    (A, (60, 0, 0), (51.962, -30)),
    (A, (0, 40, 0), (34.641, 20)),
    (A, (0, 0, 40), (0, 40)),
    (A, (60, 40, 40), (86.603, 30)),
    (A, (25, 15, 10), (34.641, 5)),
    (B, (25, 15, 10), (8.660, 30)),
    (B, (60, 40, 40), (17.321, 90)),
])
def test_a_point_falls_where_it_was_worked_to_fall(corner, point, place):
    assert drawn(point, corner) == pytest.approx(place, abs=5e-4)


@pytest.mark.parametrize(("size", "extent"), [((60, 40, 40), (86.603, 90)), ((120, 80, 90), (173.205, 190))])
def test_a_block_fills_width_plus_depth_across_and_half_of_them_plus_height_up(size, extent):
    # worked: (W + D) cos 30 by (W + D) / 2 + H
    block = build([f.Block("block", False, *((0.0, float(side)) for side in size))])
    points = np.concatenate(view_of(block, "isometric").visible)
    assert np.ptp(points, axis=0) == pytest.approx(extent, abs=5e-4)


def test_a_sloping_edge_is_not_true_and_lies_where_its_two_ends_put_it():
    # worked: (36,0,40)-(60,0,16), true 33.941, is drawn 41.569 long at -60 degrees; only axes measure true (ID p. 6-20)
    assert direction((24, 0, -24)) == pytest.approx((-60, 41.569), abs=5e-4)


def test_the_diagonals_of_a_square_face_are_drawn_root_3_and_1():
    # worked
    assert [direction((1, 1, 0))[1], direction((1, -1, 0))[1]] == pytest.approx([math.sqrt(3), 1], abs=EXACT)


def test_a_cubes_outline_is_a_regular_hexagon():
    # worked: cube of 40
    cube = build([f.Block("block", False, (0, 40), (0, 40), (0, 40))])
    corners = [(0, 0), (34.641, -20), (69.282, 0), (69.282, 40), (34.641, 60), (0, 40)]
    ends = np.concatenate(view_of(cube, "isometric").visible)
    for corner in corners:
        assert np.linalg.norm(ends - corner, axis=1).min() < 5e-4
    sides = np.linalg.norm(np.diff([*corners, corners[0]], axis=0), axis=1)
    assert sides == pytest.approx([40] * 6, abs=1e-3)


@pytest.mark.parametrize(("face", "true", "angle", "length"), [
    ("top", 30, -8.794, 1.1971), ("top", 45, 0, 1.2247), ("top", 60, 8.794, 1.1971), ("top", 90, 30, 1), ("top", 135, 90, 0.7071),
    ("front", 30, 5.104, 0.7530), ("front", 45, 30, 0.7071), ("front", 60, 54.896, 0.7530), ("front", 90, 90, 1),
    ("front", 135, 120, 1.2247),
    ("right", 30, 51.206, 1.1971), ("right", 45, 60, 1.2247), ("right", 60, 68.794, 1.1971), ("right", 90, 90, 1),
    ("right", 135, 150, 0.7071),
])
def test_an_angle_in_a_face_is_drawn_at_another_angle(face, true, angle, length):
    # worked: true angle in the face from its level axis; never to be measured on the drawing (ID p. 6-20)
    along, up = {"top": (0, 1), "front": (0, 2), "right": (1, 2)}[face]
    vector = np.zeros(3)
    vector[along], vector[up] = math.cos(math.radians(true)), math.sin(math.radians(true))
    assert direction(vector) == pytest.approx((angle, length), abs=6e-4)


def rim(plane, corner):
    """The drawn rim of a hole of 40 in the middle of a face of a cube, seen from ``corner``."""
    mouth = {"top": "top", "front": "front", "side": "right" if corner == A else "left"}[plane]
    cube = build([f.Block("block", False, (0, 60), (0, 60), (0, 60)), f.Hole("hole", mouth, ((30, 30),), 40)])
    return next(shape for shape in view_of(cube, "isometric", corner).visible_lines if isinstance(shape, Arc) and shape.closed)


@pytest.mark.parametrize("corner", [A, B])
@pytest.mark.parametrize("plane", ["top", "front", "side"])
def test_a_circle_of_40_is_an_ellipse_of_48_990_by_28_284(plane, corner):
    # ISO 5456-3:1996 cl. 5.1 figures (from memory): 1.22 d by 0.71 d; worked: root 3/2 and root 1/2 of the diameter
    ellipse = rim(plane, corner)
    axes = sorted(2 * float(np.linalg.norm(axis)) for axis in (ellipse.a, ellipse.b))
    assert axes == pytest.approx([28.284, 48.990], abs=5e-4)
    assert axes == pytest.approx([40 * math.sqrt(0.5), 40 * math.sqrt(1.5)], abs=1e-9)


@pytest.mark.parametrize(("plane", "corner", "angle"), [
    ("top", A, 0), ("front", A, 120), ("side", A, 60), ("top", B, 0), ("front", B, 60), ("side", B, 120),
])
def test_the_long_axis_stands_square_to_the_axis_missing_from_the_face(plane, corner, angle):
    # worked; two how-to pages: along the long diagonal of the rhombus
    ellipse = rim(plane, corner)
    long = max((ellipse.a, ellipse.b), key=lambda axis: float(np.linalg.norm(axis)))
    turned = math.degrees(math.atan2(long[1], long[0])) % 180
    assert min(abs(turned - angle), 180 - abs(turned - angle)) < 1e-6


def test_the_rims_of_a_counterbore_are_ellipses_about_their_own_levels():
    # worked: rims of 30 and 20 of S3 about A(25,25,30) = (43.301, 30) and A(25,25,20) = (43.301, 20)
    found = {(round(float(2 * np.linalg.norm(arc.a)), 3), round(float(2 * np.linalg.norm(arc.b)), 3), *np.round(arc.centre, 3))
             for arc in view_of(build(GOLDEN["S3"]), "isometric").visible_lines if isinstance(arc, Arc)}
    assert {(36.742, 21.213, 43.301, 30.0), (24.495, 14.142, 43.301, 20.0)} <= found


@pytest.fixture(scope="module", params=SOME)
def asked(request):
    """The question sheet of some families."""
    return question(request.param, 1)


def test_on_the_question_every_length_measures_true_along_an_isometric_axis(asked):
    # ID p. 6-14 and 6-20: dimension lines lie along the axes, where lengths can be measured; one scale for the whole pictorial
    assert [told for told in asked.sizes.stray if told.endswith("lines")] == [], "a length that stands at no dimension line"
    assert asked.sizes.linear
    ratios = [size.distance / size.number for size in asked.sizes.linear]
    assert ratios == pytest.approx([ratios[0]] * len(ratios), rel=1e-4)
    assert ratios[0] == pytest.approx(min((1.0, 0.5, 0.2, 0.1), key=lambda scale: abs(scale - ratios[0])), rel=1e-4)
    for size in asked.sizes.linear:
        turned = math.degrees(math.atan2(size.line.unit[1], size.line.unit[0])) % 180
        assert min(abs(turned - axis) for axis in (30, 90, 150)) < 0.01


def test_on_the_question_every_extension_line_runs_along_an_isometric_axis(asked):
    # ID p. 6-14: in the plane of the face, never square to the paper's dimension line
    tips = [(arrow.tip, size.line) for size in asked.sizes.linear for arrow in size.arrows]
    found = [line for line in asked.sheet.thin if line.straight and any(_touches(line, tip, own) for tip, own in tips)]
    assert found
    for line in found:
        turned = math.degrees(math.atan2(line.unit[1], line.unit[0])) % 180
        assert min(abs(turned - axis) for axis in (30, 90, 150)) < 0.01


def _touches(line, tip, dimension_line) -> bool:
    """True if another line than the dimension line runs through an arrowhead's tip."""
    return line is not dimension_line and line.off(tip) < 0.02 and -0.02 < line.along(tip) < line.length + 0.02
