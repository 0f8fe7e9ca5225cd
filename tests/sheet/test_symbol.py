"""The projection symbol. The law of its two halves is derived in the module; the picture is ISO 5456-2, from memory."""

import pytest

from sheetgen.ink import Pen
from sheetgen.sheet.symbol import symbol_marks, symbol_width
from tests.extent import bounds


def parts(projection):
    marks = symbol_marks(projection, (100.0, 50.0), 10.0)
    frustum = marks[0].points
    circles = [mark for mark in marks if mark.curved]
    return frustum, circles


def height_at(frustum, x):
    ends = [y for at, y in frustum.tolist() if at == x]
    return max(ends) - min(ends)


@pytest.mark.parametrize("projection", ["first", "third"])
def test_circles_lie_beside_the_large_end_in_first_angle_and_the_small_end_in_third(projection):
    frustum, circles = parts(projection)
    middle = circles[0].points[:, 0].mean()
    near, far = sorted({frustum[:, 0].min(), frustum[:, 0].max()}, key=lambda x: abs(x - middle))
    larger_near = height_at(frustum, near) > height_at(frustum, far)
    assert larger_near is (projection == "first")


def test_in_first_angle_the_frustum_stands_on_the_left():
    frustum, circles = parts("first")
    assert frustum[:, 0].max() < min(circle.points[:, 0].min() for circle in circles)


@pytest.mark.parametrize("projection", ["first", "third"])
def test_the_circles_are_as_large_as_the_ends_of_the_frustum(projection):
    frustum, circles = parts(projection)
    ends = sorted(height_at(frustum, x) for x in set(frustum[:, 0].tolist()))
    diameters = sorted(float(circle.points[:, 0].max() - circle.points[:, 0].min()) for circle in circles)
    assert diameters == pytest.approx(ends)


@pytest.mark.parametrize("projection", ["first", "third"])
def test_the_symbol_fills_the_box_it_is_given(projection):
    left, bottom, right, top = bounds(symbol_marks(projection, (100.0, 50.0), 10.0))
    assert (left + right) / 2 == pytest.approx(100) and (bottom + top) / 2 == pytest.approx(50)
    assert top - bottom == pytest.approx(10.0, abs=0.26)
    assert right - left == pytest.approx(symbol_width(10.0), abs=0.26)     # ink is a line width more


def test_both_views_have_centre_lines_that_do_not_run_on_between_them():
    lines = [mark for mark in symbol_marks("first", (0.0, 0.0), 10.0) if mark.pen is Pen.CENTRE]
    level = [line for line in lines if line.points[0, 1] == line.points[1, 1]]
    assert len(lines) == 3 and len(level) == 2
    assert level[1].points[:, 0].min() - level[0].points[:, 0].max() > 0.7
