"""Which segments and figures meet: against shapely, and in cases worked by hand."""

from __future__ import annotations

import numpy as np
import shapely

from sheetgen.geometry.segments import SLICE, distances, edges_of, in_line, neighbours, segments_of, touched, touching


def segments(*rows):
    return np.array(rows, dtype=float).reshape(-1, 4)


def some(seed, count, size=60.0):
    """Segments (count, 4) strewn over a sheet, the same every time."""
    steps = np.arange(1, 4 * count + 1) * (np.sqrt(2) + seed)
    return ((steps % 1.0) * size + 20.0).reshape(-1, 4)


def sheared(seed, count):
    """Boxes (count, 4, 2), each a parallelogram as figures in an isometric plane have."""
    corner = some(seed, count)[:, :2]
    run, rise = np.array([9.0 * np.cos(np.pi / 6), 4.5]), np.array([0.0, 4.0])
    return np.stack([corner, corner + run, corner + run + rise, corner + rise], axis=1)


def as_set(pairs):
    return set(zip(*(one.tolist() for one in pairs), strict=True))


def crossings(one, other):
    found = neighbours(one, other, 1.0)
    return found.i[found.crossing()], found.j[found.crossing()]


def besides(one, other, distance, **words):
    found = neighbours(one, other, distance)
    which = found.beside(distance, **words)
    return found.i[which], found.j[which]


def test_lines_cross_where_shapely_says_they_do():
    one, other = some(0.1, 60), some(0.7, 80)
    lines = [shapely.linestrings(each.reshape(-1, 2, 2)) for each in (one, other)]
    expected = {(i, j) for i in range(60) for j in range(80) if shapely.crosses(lines[0][i], lines[1][j])}
    assert len(expected) > 100
    assert as_set(crossings(one, other)) == expected


def test_a_line_that_starts_on_another_does_not_cross_it():
    assert as_set(crossings(segments((0, 0, 10, 0)), segments((0, -5, 0, 5), (10, 0, 10, 9)))) == set()


def test_a_line_that_ends_within_another_is_crossed_by_it():
    # T: the upright stands on the level line, which it cuts
    assert as_set(crossings(segments((0, 0, 10, 0)), segments((5, 0, 5, 8)))) == {(0, 0)}


def test_lines_run_beside_each_other_if_parallel_near_and_side_by_side():
    level = segments((0, 0, 20, 0))
    others = segments((0, 3, 20, 3), (0, 6, 20, 6), (25, 3, 40, 3), (0, 3, 20, 9), (19.5, 3, 40, 3))
    assert as_set(besides(level, others, 5.0)) == {(0, 0)}


def test_a_line_in_one_with_another_is_not_beside_it_if_that_is_asked():
    level = segments((0, 0, 20, 0))
    others = segments((5, 0, 30, 0), (5, 1, 30, 1))
    assert as_set(besides(level, others, 2.0)) == {(0, 0), (0, 1)}
    assert as_set(besides(level, others, 2.0, least=0.05)) == {(0, 1)}


def test_a_line_that_lies_on_another_for_a_millimetre_is_found_if_that_is_asked():
    # an overshoot that runs into an outline of the same line
    end, outline = segments((0, 14, 0, -1)), segments((0, 0, 0, -16))
    assert as_set(besides(end, outline, 0.6)) == set()
    assert as_set(besides(end, outline, 0.6, over=0.2)) == {(0, 0)}


def test_links_of_a_chain_lie_in_one_line_and_share_an_end():
    one = segments(*[(0, 0, 10, 0)] * 4)
    other = segments((10, 0, 25, 0), (12, 0, 25, 0), (8, 0, 25, 0), (10, 1, 25, 1))
    assert in_line(one, other).tolist() == [True, True, False, False]


def test_figures_are_touched_by_the_lines_that_shapely_says_they_are():
    boxes, lines = sheared(0.3, 70), some(0.9, 90)
    areas, strings = shapely.polygons(boxes), shapely.linestrings(lines.reshape(-1, 2, 2))
    expected = {(i, j) for i in range(70) for j in range(90) if shapely.intersects(areas[i], strings[j])}
    assert len(expected) > 100
    assert as_set(touched(boxes, lines)) == expected


def test_a_line_within_the_box_of_figures_touches_them():
    box = np.array([[[0, 0], [10, 0], [10, 5], [0, 5]]], dtype=float)
    assert as_set(touched(box, segments((2, 2, 8, 2), (2, 6, 8, 6)))) == {(0, 0)}


def test_only_what_bears_different_labels_is_compared_if_that_is_asked():
    level, upright = segments((0, 0, 10, 0), (0, 1, 10, 1)), segments((5, -5, 5, 5))
    labels = np.array([7, 8]), np.array([7])
    assert as_set((neighbours(level, upright, 1.0, labels).i, neighbours(level, upright, 1.0, labels).j)) == {(1, 0)}
    assert as_set(touched(sheared(0.3, 1), edges_of(sheared(0.3, 1)), (np.zeros(1), np.zeros(4)))) == set()


def test_points_are_as_far_from_lines_as_shapely_says():
    points, lines = some(0.3, 40)[:, :2], some(0.9, 30)
    rim = shapely.multilinestrings(shapely.linestrings(lines.reshape(-1, 2, 2)))
    assert np.allclose(distances(points, lines), shapely.distance(rim, shapely.points(points)), atol=1e-9)


def test_a_polyline_has_a_segment_fewer_than_points_and_none_between_lines():
    rows = segments_of([np.array([[0, 0], [1, 0], [1, 1]], dtype=float), np.array([[5, 5], [6, 5]], dtype=float)])
    assert rows.tolist() == [[0, 0, 1, 0], [1, 0, 1, 1], [5, 5, 6, 5]]


def test_a_box_has_four_sides():
    box = np.array([[[0, 0], [10, 0], [10, 5], [0, 5]]], dtype=float)
    assert sorted(map(tuple, edges_of(box).tolist())) == sorted([(0, 0, 10, 0), (10, 0, 10, 5), (10, 5, 0, 5), (0, 5, 0, 0)])


def test_some_may_look_farther_round_than_others():
    level = segments((0, 0, 10, 0), (0, 20, 10, 20))
    others = segments((0, 3, 10, 3), (0, 23, 10, 23))
    found = neighbours(level, others, np.array([5.0, 1.0]))
    assert as_set((found.i, found.j)) == {(0, 0)}


def test_an_end_that_comes_near_a_line_is_told():
    level = segments((0, 0, 10, 0))
    others = segments((5, 0.8, 5, 9), (5, 1.5, 5, 9), (10.7, 0, 20, 4), (11.5, 0, 20, 4))
    found = neighbours(level, others, 2.0)
    assert as_set((found.i[found.end_at(1.2)], found.j[found.end_at(1.2)])) == {(0, 0), (0, 2)}


def test_pairs_are_found_in_order_and_none_is_lost_where_there_are_too_many_for_one_slice():
    one, other = some(0.1, 900), some(0.7, 200)
    assert len(one) * len(other) > SLICE
    lines = [shapely.linestrings(each.reshape(-1, 2, 2)) for each in (one, other)]
    expected = np.argwhere(shapely.crosses(lines[0][:, None], lines[1]))
    found = np.stack(crossings(one, other), axis=1)
    assert np.array_equal(found, expected)
    assert as_set(crossings(other, one)) == {(j, i) for i, j in expected.tolist()}


def test_a_line_starts_or_ends_on_another_where_shapely_says_it_is_that_near():
    one, other = some(0.3, 60), some(0.9, 80)
    found = neighbours(one, other, 2.0)
    lines = shapely.linestrings(other.reshape(-1, 2, 2))
    for which, ends in zip(found.ends_on(1.5), (one[:, :2], one[:, 2:]), strict=True):
        away = shapely.distance(shapely.points(ends)[:, None], lines)
        assert as_set((found.i[which], found.j[which])) == as_set(np.nonzero(away <= 1.5)) != set()


def test_a_line_that_ends_short_of_another_ends_on_it_if_the_gap_is_small():
    found = neighbours(segments((0, 0, 10, 0)), segments((10.5, -4, 10.5, 4), (12, -4, 12, 4), (5, -4, 5, 4)), 2.0)
    starts, ends = found.ends_on(0.6)
    assert starts.tolist() == [] and found.j[ends].tolist() == [0]


def test_each_figure_is_held_against_its_own_line():
    boxes, lines = sheared(0.2, 40), some(0.6, 40)
    lines[::3] = np.hstack([boxes[::3, 0] - 1.0, boxes[::3, 2] + 1.0])      # along a diagonal and past its ends
    shapes, drawn = shapely.polygons(boxes), shapely.linestrings(lines.reshape(-1, 2, 2))
    assert touching(boxes, lines).tolist() == np.flatnonzero(shapely.intersects(shapes, drawn)).tolist()
