"""Hatching (US Navy manual p. 3-68; European Patent Office guidelines A-IX 7.3.2: evenly spaced, broken for text, never across
an outline)."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from sheetgen.ink import Pen
from sheetgen.ink.pens import width_of
from sheetgen.sheet.hatching import CLEAR, hatching, slope_for, spacing_for

PLATE = shapely.box(0, 0, 60, 40).difference(shapely.Point(30, 20).buffer(8))


def lines_of(strokes):
    return shapely.MultiLineString([stroke.points for stroke in strokes])


def outlines(*points):
    return np.array([[a, b] for a, b in zip(points, (*points[1:], points[0]), strict=True)], dtype=float)


def test_hatching_is_thin_and_keeps_within_the_faces():
    strokes = hatching(PLATE, 45.0, 3.0)
    assert all(stroke.pen is Pen.HATCHING for stroke in strokes) and width_of(Pen.HATCHING) == 0.25
    assert PLATE.buffer(1e-6).covers(lines_of(strokes))


def test_its_lines_are_evenly_spaced_over_all_of_the_face():
    strokes = hatching(PLATE, 45.0, 3.0)
    across = np.array([-math.sin(math.pi / 4), math.cos(math.pi / 4)])
    levels = np.unique(np.round([stroke.points[0] @ across for stroke in strokes], 6))
    assert np.allclose(np.diff(levels), 3.0)
    # A strip of half a space to either side of each line covers all but corners: the area of the faces is that of the hatching.
    assert sum(3.0 * math.dist(*stroke.points) for stroke in strokes) == pytest.approx(PLATE.area, rel=0.02)


def test_it_is_broken_round_figures():
    figure = np.array([(10.0, 10.0), (20.0, 10.0), (20.0, 14.0), (10.0, 14.0)])
    broken = lines_of(hatching(PLATE, 45.0, 2.5, [figure]))
    assert broken.distance(shapely.Polygon(figure)) == pytest.approx(CLEAR, abs=1e-6)


@pytest.mark.parametrize(("corners", "slope"), [
    (((0, 0), (60, 0), (60, 40), (0, 40)), 45.0),
    (((0, 0), (60, 0), (60, 20), (40, 40), (0, 40)), 30.0),           # an outline at 45 degrees, square to the hatching
    (((0, 0), (60, 0), (20, 40), (0, 40)), 30.0),
    (((0, 0), (60, 0), (60, 40), (2, 40), (0, 38)), 45.0),            # two millimetres of it are no main outline
], ids=["square", "bevelled", "roof", "chamfered"])
def test_it_runs_at_45_degrees_to_the_main_outlines_or_at_30_where_these_do(corners, slope):
    assert slope_for(outlines(*corners)) == slope


def test_larger_faces_are_hatched_wider_between_two_and_four_millimetres():
    spaces = [spacing_for(area) for area in (50.0, 300.0, 1500.0, 3000.0, 9000.0)]
    assert spaces == sorted(spaces) and spaces[0] == 2.0 and spaces[-1] == 4.0
