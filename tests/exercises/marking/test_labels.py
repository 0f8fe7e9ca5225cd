"""Numbers beside lines: each so that it is plain which line it means."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
import shapely

from sheetgen.bank import load_bank
from sheetgen.exercises.drawing import Drawing, drawing_of
from sheetgen.exercises.marking.labels import number_marks
from sheetgen.exercises.numbering import Numbered, numbered
from sheetgen.ink import Mark, Pen, Stroke, Text, text_box
from sheetgen.problem import problem_of
from sheetgen.projection import LineKind, Straight
from sheetgen.sheet import Style, settings_of

FAMILIES = ("bored-tee", "counterbored-block", "countersunk-plate", "shaft-support", "stepped-block")
AREA = (26.0, 16.0, 568.0, 404.0)


def drawing(name: str) -> Drawing:
    return drawing_of(problem_of(load_bank()[name].sample(1)), settings_of(Style(paper="A2")))


def told(marks: list[Mark], lines: list[Numbered]) -> list[tuple[int, Text, Stroke | None]]:
    """Of each number the place of its line among ``lines``, its text, and its leader if it has one."""
    found = []
    for mark, after in pairwise([*marks, None]):
        if isinstance(mark, Text):
            leader = after if isinstance(after, Stroke) else None
            assert leader is None or leader.pen is Pen.DIMENSION
            found.append((len(found), mark, leader))
    assert [text.text for _, text, _ in found] == [str(line.number) for line in lines]
    return found


@pytest.mark.parametrize("name", FAMILIES)
def test_a_number_stands_nearest_to_its_own_line_or_has_a_leader_from_it(name):
    views = drawing(name).views
    lines = [numbered(view) for view in views]
    placed = number_marks(views, lines, [], AREA, 3.5)
    assert placed is not None
    flat = [line for those in lines for line in those]
    ink = [shapely.LineString(line.shape.points() * view.scale + view.origin)
           for view, those in zip(views, lines, strict=True) for line in those]
    for k, text, leader in told(placed[0], flat):
        if leader is not None:
            assert shapely.distance(ink[k], shapely.Point(leader.points[0])) < 0.01
            continue
        away = shapely.distance(shapely.Polygon(text_box(text)), np.array(ink))
        others = np.delete(away, k)
        assert 0.8 < away[k] < 1.1 and others.min() > away[k] + 0.9


def test_numbers_keep_off_boxes_that_are_taken_and_in_their_area():
    views = drawing("stepped-block").views
    lines = [numbered(view) for view in views]
    x0, y0, x1, _ = views[0].box
    taken = (x0 - 30, y0 - 30, x1 + 30, y0 - 1)                           # all under the front view
    placed = number_marks(views, lines, [taken], AREA, 3.5)
    assert placed is not None
    for text in (mark for mark in placed[0] if isinstance(mark, Text)):
        box = shapely.Polygon(text_box(text))
        assert shapely.distance(box, shapely.box(*taken)) > 0.8 and shapely.box(*AREA).contains(box)


def test_where_there_is_no_room_nothing_is_numbered():
    views = drawing("stepped-block").views
    assert number_marks(views, [numbered(view) for view in views], [], (0.0, 0.0, 10.0, 10.0), 3.5) is None


@pytest.mark.parametrize("name", FAMILIES)
def test_lines_are_numbered_by_sorts_each_from_left_to_right(name):
    for view in drawing(name).views:
        lines = numbered(view)
        assert [line.number for line in lines] == list(range(1, len(lines) + 1))
        sorts = list(dict.fromkeys(line.sort for line in lines))
        assert sorts == [sort for sort in ("outlines", "curves", "hidden", "centre") if sort in sorts]
        assert all(isinstance(line.shape, Straight) == (line.sort == "outlines") for line in lines
                   if line.sort in ("outlines", "curves"))
        for sort in sorts:
            middles = [np.mean([line.shape.points()[:, 0].min(), line.shape.points()[:, 0].max()])
                       for line in lines if line.sort == sort]
            assert all(a <= b + 0.001 for a, b in pairwise(middles))
        assert sum(line.sort == "hidden" for line in lines) == len(view.lines(LineKind.HIDDEN))
