"""What is drawn of the kind ``pictorial``: thin lines clear of others, circles with theirs, the arrow of sight, the title."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from sheetgen.bank import features as f
from sheetgen.exercises import Particulars, Role
from sheetgen.exercises.kinds.pictorial.built import steps_of
from sheetgen.exercises.kinds.pictorial.circles import circles_of
from sheetgen.exercises.kinds.pictorial.shown import clear_at
from sheetgen.exercises.kinds.pictorial.thin import clear_of_ink
from sheetgen.ink import EARLIER, Fill, Pen, Stroke, Text, flattened, width_of
from sheetgen.projection import Arc, view_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import DRAWN
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sight import PlacedView, Sight
from sheetgen.solid import build
from tests.exercises.pictorials import KIND, made, settings_with, task_of, words_on


@pytest.mark.parametrize("drawn", DRAWN)
@pytest.mark.parametrize("family", ["corner-block", "counterbored-block", "round-ended-link"])
def test_thin_lines_make_the_box_but_for_where_an_outline_lies_on_it_or_beside_it(family, drawn):
    _, _, task = task_of(family, 1, drawn=drawn)
    figure = task.figure
    lines = shapely.union_all([shapely.LineString(line) for line in figure.view.visible])
    corners = np.concatenate([stroke.points for stroke in figure.box])
    hull = shapely.MultiPoint(corners).convex_hull.buffer(1e-6)
    assert hull.covers(lines) and len(figure.box) == 9
    whole = shapely.union_all([lines.buffer(1.02), *(shapely.LineString(stroke.points).buffer(0.05) for stroke in figure.thin)])
    assert all(whole.covers(shapely.LineString(stroke.points)) for stroke in figure.box)          # no edge of it is lacking
    for stroke in figure.thin:
        assert stroke.pen is Pen.CONSTRUCTION
        assert shapely.LineString(stroke.points).intersection(lines.buffer(0.3)).length < 1e-6


def runs_beside(line, other):
    """mm of white between two straight lines that run beside each other for more than half a millimetre; else endless."""
    (start, stop), ends = line.points, other.points
    way = (stop - start) / np.hypot(*(stop - start))
    along, off = (ends - start) @ way, (ends - start) @ np.array([-way[1], way[0]])
    if np.ptp(off) > 0.02 * np.ptp(along) or min(along.max(), np.hypot(*(stop - start))) - max(along.min(), 0.0) < 0.5:
        return np.inf
    return float(np.abs(off).max()) - (width_of(line.pen) + width_of(other.pen)) / 2


@pytest.mark.parametrize(("family", "seed", "drawn"), [
    ("standing-cross", 6401, "isometric"), ("stepped-bridge", 7203, "cabinet"), ("webbed-spacer", 7203, "cavalier"),
    ("counterbored-block", 7201, "isometric")])
def test_thin_lines_leave_white_beside_every_line_that_runs_their_way(family, seed, drawn):
    # at least 0.7 mm between parallel lines (ISO 128-2, from memory)
    exercise = made(family, seed, (Role.ANSWER, Role.CONSTRUCTION, Role.PROJECTORS), drawn=drawn)
    settings = settings_with(drawn=drawn)
    foot = titleblock_box(settings.block, settings.paper)[3]
    for page in (page for pages in exercise.sheets.values() for page in pages):
        straight = [mark for mark in page.marks if isinstance(mark, Stroke) and len(mark.points) == 2 and not mark.curved
                    and mark.pen in (*EARLIER, *EARLIER.values(), Pen.CONSTRUCTION) and mark.points[:, 1].min() > foot]
        thin = [mark for mark in straight if mark.pen is Pen.CONSTRUCTION]
        assert thin
        for line in thin:
            assert all(runs_beside(line, other) > 0.69 for other in straight if other is not line)


def test_a_thin_line_gives_way_only_for_as_far_as_the_other_runs_beside_it():
    thin = [Stroke(np.array([[0.0, 0.0], [60.0, 0.0]]), Pen.CONSTRUCTION)]
    beside = [Stroke(np.array([[20.0, y], [40.0, y]]), Pen.OUTLINE) for y in (0.8, 1.1)]
    for outline, left in zip(beside, ([[0.0, 20.0], [40.0, 60.0]], [[0.0, 60.0]]), strict=True):
        assert [mark.points[:, 0].round(3).tolist() for mark in clear_of_ink(thin, [outline])] == left
    across = Stroke(np.array([[30.0, -9.0], [31.0, 9.0]]), Pen.OUTLINE)
    assert sum(float(np.ptp(mark.points[:, 0])) for mark in clear_of_ink(thin, [across])) > 59.0


def test_circles_that_are_seen_whole_have_centre_lines_along_the_axes_and_a_rhombus():
    _, settings, task = task_of("counterbored-block", 1)
    figure = task.figure
    assert len(figure.centres) == 4 and settings.wording.render("pictorial.centre_lines") in task.lines
    axes = [np.array(figure.view.unit(axis)) for axis in range(3)]
    for mark in figure.centres:
        way = mark.points[-1] - mark.points[0]
        assert min(abs(way[0] * axis[1] - way[1] * axis[0]) for axis in axes) < 1e-6 * np.hypot(*way)
    [answer] = made("counterbored-block", 1).sheets[Role.ANSWER]
    assert "FROM FOUR CENTRES" in words_on(answer)
    _, _, plain = task_of("corner-block", 1)
    assert not plain.figure.centres and not plain.figure.rhombi


def test_in_an_oblique_drawing_a_circle_that_faces_the_front_has_no_rhombus():
    _, settings, task = task_of("slotted-slide", 5, drawn="cavalier")
    assert settings.wording.render("pictorial.circles_oblique") in task.lines
    facing = [mark for mark in task.figure.lines if isinstance(mark, Stroke) and mark.closed]
    assert facing
    for mark in facing:
        wide, high = np.ptp(mark.points[::3], axis=0)
        assert wide == pytest.approx(high, abs=1e-6)
        assert not any(shapely.LineString(line.points).distance(shapely.LineString(mark.points[::3])) < 0.3
                       for line in task.figure.rhombi)


@pytest.mark.parametrize("drawn", DRAWN)
def test_the_arrow_of_sight_points_along_the_depth_of_the_part(drawn):
    _, _, task = task_of("stepped-block", 1, drawn=drawn)
    [shaft] = [mark for mark in task.figure.arrow if isinstance(mark, Stroke)]
    [head] = [mark for mark in task.figure.arrow if isinstance(mark, Fill)]
    tail = max((shaft.points[0], shaft.points[-1]), key=lambda end: np.hypot(*(end - head.points.mean(axis=0))))
    tip, one, other = head.points
    assert float((tip - (one + other) / 2) @ (one - other)) == pytest.approx(0.0, abs=1e-9)      # the head is not sheared
    assert np.hypot(*(shaft.points[-1] - tip)) > 2.0                                              # nor blunted by the shaft
    way, depth = head.points.mean(axis=0) - tail, task.figure.view.vector(1)
    assert float(way @ depth) / np.hypot(*way) / np.hypot(*depth) == pytest.approx(1.0, abs=1e-3)
    assert [mark.text for mark in task.figure.arrow if isinstance(mark, Text)] == ["F"]


@pytest.mark.parametrize("drawn", DRAWN)
@pytest.mark.parametrize("family", ["stepped-block", "standing-cross", "slotted-slide"])
def test_the_title_stands_under_the_pictorial_and_its_arrow_of_sight(family, drawn):
    settings = settings_with(drawn=drawn)
    [answer] = made(family, 7201, (Role.ANSWER,), drawn=drawn).sheets[Role.ANSWER]
    named = settings.wording.render(f"views.{drawn}")
    [title] = [mark for mark in answer.marks if isinstance(mark, Text) and mark.text == named]
    [letter] = [mark for mark in answer.marks if isinstance(mark, Text) and mark.text == "F" and mark.height == 5.0]
    lines = [mark.points for mark in answer.marks if isinstance(mark, Stroke) and mark.pen in (Pen.OUTLINE, Pen.CONSTRUCTION)]
    foot = titleblock_box(settings.block, settings.paper)[3]
    top = title.at[1] + title.height
    assert top < letter.at[1] - 4.0
    assert top < min(line[:, 1].min() for line in lines if line[:, 1].min() > foot) - 5.0


@pytest.mark.parametrize(("family", "drawn"), [
    ("standing-cross", "isometric"), ("counterbored-block", "cavalier"), ("shaft-support", "cabinet")])
def test_one_page_has_the_pictorial_with_the_thin_lines_of_all_its_stages(family, drawn):
    problem, settings, task = task_of(family, 1, drawn=drawn)
    [page] = KIND.sheets(problem, settings, Particulars("C"), [Role.PROJECTORS])[Role.PROJECTORS]
    assert "and those of its pieces" in words_on(page) and settings.wording.render(f"views.{drawn}") in words_on(page)
    strokes = [mark for mark in page.marks if isinstance(mark, Stroke)]
    assert not any(mark.pen in EARLIER.values() and mark.pen is not Pen.EARLIER_OUTLINE for mark in strokes)
    there = shapely.union_all([shapely.LineString(flattened(mark)) for mark in strokes]).buffer(1.05)
    for step in steps_of(problem, settings, task):
        for stroke in (*step.thin, *step.own):
            assert shapely.difference(shapely.LineString(stroke.points), there).length < 1.0


def test_a_circle_too_narrow_to_be_drawn_is_refused():
    solid = build([f.Block("block", False, (0, 60), (0, 60), (0, 60)), f.Hole("a", "right", ((30, 30),), 8)])
    sight = Sight(view_of(solid, "cabinet"))
    [ellipse] = [line for line in sight.view.visible_lines if isinstance(line, Arc) and line.closed]
    narrow = 2 * min(np.hypot(*ellipse.a), np.hypot(*ellipse.b))
    assert clear_at([sight], 0.5) is sight and narrow * 0.5 > 1.2
    with pytest.raises(RefusedError, match="a circle is too narrow to be drawn"):
        clear_at([sight], 0.4)


def test_circles_that_touch_from_within_on_the_drawing_are_refused():
    # depths are drawn half as long: a floor 8 mm behind the mouth stands 4 mm aside, by which a circle of radius 11 reaches past
    # one of 7
    def sight(deep):
        bore = f.Hole("a", "front", ((30, 30),), 14, counterbore=(22, deep))
        return Sight(view_of(build([f.Block("block", False, (0, 60), (0, 30), (0, 60)), bore]), "cabinet"))

    clear = sight(14)
    assert clear_at([clear], 1.0) is clear
    with pytest.raises(RefusedError, match="two curves meet so slowly that they print as one"):
        clear_at([sight(8)], 1.0)


def test_a_rhombus_too_flat_to_be_read_is_left_out():
    solid = build([f.Block("block", False, (0, 60), (0, 60), (0, 20)), f.Hole("a", "top", ((30, 30),), 8)])
    views = [PlacedView(Sight(view_of(solid, name)), 1.0, np.zeros(2)) for name in ("isometric", "cavalier", "cabinet")]
    assert [len(circles_of(view)) for view in views] == [1, 1, 0]
