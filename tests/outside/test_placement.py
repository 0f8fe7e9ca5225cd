"""Where the views stand: first and third angle, and the spacing worked by hand.

EA = NAVEDTRA 14069 (US public domain); NP, university lecture notes 112103019, lecture 14; ED, *Exploring Drafting*, 2012.
"""

from __future__ import annotations

import numpy as np
import pytest

from sheetgen.sheet import PAPERS, NoRoomError
from sheetgen.sheet.layout import Layout, layouts, views_asked
from tests.families import FAMILIES
from tests.outside.reader import Box
from tests.outside.sheets import Made, answer, problem

A3 = PAPERS["A3"]
NO_BLOCK = (410.0, 10.0, 410.0, 10.0)      # a title block of no size
BLOCK = (230.0, 10.0, 410.0, 46.0)         # 180 wide (ISO 7200:2004, from memory), 36 high


def placed(size, projection, side, block=NO_BLOCK) -> Layout:
    """The layout at the largest scale that fits."""
    return layouts(A3, np.array(size, dtype=float), projection, views_asked(side), block)[0]


def corner(layout: Layout, view: str) -> tuple[float, float]:
    """Lower left corner of a view in the drawing space, whose own corner is (20, 10) on the sheet."""
    x, y = layout.places[view]
    return (x - 20, y - 10)


# ISO 5456-2:1996 cl. 5 (from memory); first angle confirmed by a German teaching page, third by EA p. 5-5 and NP
@pytest.mark.parametrize(("projection", "side", "where"), [
    ("first", "left", "right"), ("first", "right", "left"), ("third", "left", "left"), ("third", "right", "right")])
def test_the_side_view_stands_on_the_far_side_in_first_angle_and_on_its_own_in_third(projection, side, where):
    layout = placed((80, 50, 60), projection, side)
    front, beside = layout.box("front"), layout.box(side)
    assert beside[0] > front[2] if where == "right" else beside[2] < front[0]
    assert (beside[1], beside[3]) == (front[1], front[3])


@pytest.mark.parametrize(("projection", "over"), [("first", False), ("third", True)])
def test_the_top_view_stands_below_the_front_view_in_first_angle_and_above_in_third(projection, over):
    # ISO 5456-2:1996 cl. 5 (from memory)
    layout = placed((80, 50, 60), projection, "left")
    front, top = layout.box("front"), layout.box("top")
    assert top[1] > front[3] if over else top[3] < front[1]
    assert (top[0], top[2]) == (front[0], front[2])


# the same two rules on finished paper, told by the titles under the views
@pytest.mark.parametrize(("projection", "side", "on_right"), [
    ("first", "left", True), ("first", "right", False), ("third", "right", True), ("third", "left", False)])
def test_on_paper_the_views_stand_where_the_projection_puts_them(projection, side, on_right):
    # ISO 5456-2:1996 cl. 5 (from memory)
    views = answer("stepped-block", 1, projection, side).sheet.views
    assert set(views) == {"front", "top", side}
    assert (views[side][0] > views["front"][2]) == on_right
    assert (views["top"][1] > views["front"][3]) == (projection == "third")


def _in(point, box: Box) -> bool:
    return bool(box[0] - 0.1 < point[0] < box[2] + 0.1 and box[1] - 0.1 < point[1] < box[3] + 0.1)


@pytest.mark.parametrize(("projection", "side", "near"), [("third", "right", True), ("first", "left", False)])
def test_the_near_side_of_a_view_faces_the_front_view_in_third_angle_and_the_far_side_in_first(projection, side, near):
    # follows from cl. 5: the counterbored block's low corner is at the front; both side views here stand right of the front view
    made = answer("counterbored-block", 1, projection)
    depth, run = made.problem.solid.size[1], next(m.value for m in made.problem.measures if "step.back" in m.words)
    box = made.sheet.views[side]
    upright = [line for line in made.sheet.lines if line.straight and abs(line.vector[0]) < 0.01 and _in(line.points[0], box)]
    levels = [float(line.points[0, 0] - box[0]) for line in upright if line.dash or abs(line.width - 0.5) < 1e-3]
    assert any(abs(level - (run if near else depth - run)) < 0.02 for level in levels)


# the thirds rule, EA p. 5-8 and fig. 5-13, used both ways: gaps (390 - W - D) / 3 and (277 - H - D) / 3; corners worked by hand
@pytest.mark.parametrize(("size", "projection", "side", "front", "top", "beside"), [
    ((80, 50, 60), "third", "right", (86.67, 55.67), (86.67, 171.33), (253.33, 55.67)),
    ((80, 50, 60), "first", "left", (86.67, 161.33), (86.67, 55.67), (253.33, 161.33)),
    ((120, 60, 70), "third", "right", (70, 49), (70, 168), (260, 49)),
    ((120, 60, 70), "first", "left", (70, 158), (70, 49), (260, 158)),
    ((100, 80, 90), "third", "right", (70, 35.67), (70, 161.33), (240, 35.67)),
    ((100, 80, 90), "first", "left", (70, 151.33), (70, 35.67), (240, 151.33)),
])
def test_the_views_stand_where_the_thirds_rule_was_worked_to_put_them(size, projection, side, front, top, beside):
    layout = placed(size, projection, side)
    assert layout.scale == 1
    assert not layout.up.kept
    assert corner(layout, "front") == pytest.approx(front, abs=0.005)
    assert corner(layout, "top") == pytest.approx(top, abs=0.005)
    assert corner(layout, side) == pytest.approx(beside, abs=0.005)


@pytest.mark.parametrize(("projection", "order"), [("first", ("right", "front", "left")), ("third", ("left", "front", "right"))])
def test_with_both_side_views_four_stand_across_and_down_with_equal_gaps(projection, order):
    # worked: 80 x 50 x 60 on A3: (390 - 80 - 2 x 50) / 4 = 52.5 across, (277 - 60 - 50) / 3 = 55.67 down
    layout = placed((80, 50, 60), projection, "both")
    assert (layout.across.gap, layout.up.gap) == pytest.approx((52.5, 55.67), abs=0.005)
    row = [layout.box(view) for view in order]
    edges = [20.0, *(edge for box in row for edge in (box[0], box[2])), 410.0]
    assert np.diff(edges)[::2] == pytest.approx([layout.across.gap] * 4)
    assert len({box[1::2] for box in row}) == 1
    top = layout.box("top")
    assert (top[0], top[2]) == (layout.box("front")[0], layout.box("front")[2])
    assert (top[1] < row[0][1]) == (projection == "first")


def test_the_parts_of_the_bank_leave_27_mm_at_full_size_with_both_side_views():
    sizes = [problem(family, 1).solid.size for family in FAMILIES]
    fit = [layouts(A3, size, "first", views_asked("both"), NO_BLOCK)[0] for size in sizes]
    assert all(layout.scale == 1 and layout.across.gap >= 24 for layout in fit)


@pytest.mark.parametrize(("size", "gaps"), [
    ((80, 50, 60), (86.67, 55.67)), ((120, 60, 70), (70, 49)), ((100, 80, 90), (70, 35.67))])
def test_the_gaps_are_a_third_of_what_the_views_leave(size, gaps):
    # EA p. 5-8
    layout = placed(size, "first", "left")
    assert (layout.across.gap, layout.up.gap) == pytest.approx(gaps, abs=0.005)


def test_a_part_too_large_for_full_size_is_drawn_at_1_to_2():
    # worked: 220 x 120 x 130 leaves gaps of 16.67 and 9 at 1:1, refused below 25 (ED p. 218: 1 inch); at 1:2 73.33 and 50.67
    layout = placed((220, 120, 130), "third", "right")
    assert (layout.scale_name, layout.scale) == ("1:2", 0.5)
    assert (layout.across.gap, layout.up.gap) == pytest.approx((73.33, 50.67), abs=0.005)
    assert corner(layout, "front") == pytest.approx((73.33, 50.67), abs=0.005)
    assert corner(layout, "top") == pytest.approx((73.33, 166.33), abs=0.005)
    assert corner(layout, "right") == pytest.approx((256.67, 50.67), abs=0.005)


@pytest.mark.parametrize(("size", "names"), [
    ((80, 50, 60), ["1:1", "1:2", "1:5", "1:10"]), ((300, 200, 180), ["1:2", "1:5", "1:10"]), ((700, 400, 500), ["1:5", "1:10"]),
    ((1400, 800, 900), ["1:10"])])
def test_reductions_are_those_of_the_standard_the_largest_that_fits_first(size, names):
    # ISO 5455 cl. 5.1, whole table seen: 1:2, 1:5, 1:10; 1:2.5 and 1:4 are none of its
    found = layouts(A3, np.array(size, dtype=float), "first", views_asked("left"), NO_BLOCK)
    assert [layout.scale_name for layout in found] == names


@pytest.mark.parametrize(("paper", "size", "names"), [
    ("A2", (70, 50, 40), ["2:1", "1:1"]),       # worked: 400 - 50 - 40 leaves gaps of 103.3 at full size, and 73.3 enlarged
    ("A2", (70, 52, 50), ["1:1"]),              # 99.3 at full size
    ("A3", (70, 50, 40), ["1:1"]),
    ("A3", (20, 12, 10), ["1:1"])])             # 277 - 12 - 10 leaves 85
def test_a_small_part_on_large_paper_is_drawn_twice_its_size(paper, size, names):
    # ISO 5455 cl. 5.1, whole table seen: 2:1, 5:1, 10:1 enlarge
    found = layouts(PAPERS[paper], np.array(size, dtype=float), "first", views_asked("left"), NO_BLOCK)
    assert [layout.scale_name for layout in found if layout.scale >= 1] == names


def test_a_part_too_large_for_the_smallest_scale_is_refused_with_its_sizes():
    with pytest.raises(NoRoomError, match="3000 x 2000 x 2500"):
        placed((3000, 2000, 2500), "first", "left")


def test_in_third_angle_a_side_view_over_the_title_block_moves_up_clear_of_it():
    # worked: 100 x 80 x 90 would stand 35.67 above the frame at x = 240, over a block 36 high
    layout = placed((100, 80, 90), "third", "right", BLOCK)
    assert layout.up.kept
    assert layout.box("right")[1] >= BLOCK[3] + 18      # room for one row of sizes: 10 + 8 (dimensioning chapter)
    assert layout.box("top")[3] <= 287 - 18


def test_in_first_angle_the_left_view_leaves_the_title_blocks_quarter_free():
    # worked: with the left view on the right, nothing stands in the lower right quarter
    layout = placed((100, 80, 90), "first", "left", BLOCK)
    assert not layout.up.kept
    assert all(layout.box(view)[2] < 229 or layout.box(view)[1] > 64 for view in layout.places)


@pytest.mark.parametrize("projection", ["first", "third"])
@pytest.mark.parametrize("side", ["left", "right"])
def test_no_view_comes_nearer_than_18_mm_to_another_or_to_the_frame(projection, side):
    # one row of sizes needs 10 + 8 (dimensioning chapter: 10 to the first, 8 beyond)
    for size in [(80, 50, 60), (120, 60, 70), (100, 80, 90), (110, 75, 95), (220, 120, 130)]:
        boxes = [placed(size, projection, side, BLOCK).box(view) for view in ("front", "top", side)]
        for k, (x0, y0, x1, y1) in enumerate(boxes):
            assert min(x0 - 20, y0 - 10, 410 - x1, 287 - y1) >= 18
            for other in boxes[k + 1:]:
                assert max(other[0] - x1, x0 - other[2], other[1] - y1, y0 - other[3]) >= 18


@pytest.mark.parametrize("family", ["counterbored-block", "bearing-support"])
def test_first_and_third_angle_hold_the_same_pictures(family):
    # the pictures are alike, only the places differ (textbook page on relative positions of views)
    first, third = answer(family, 1, "first", "left"), answer(family, 1, "third", "left")
    assert first.problem.identity == third.problem.identity
    for view in ("front", "top", "left"):
        assert picture(first, view) == picture(third, view)


def picture(made: Made, view: str) -> list[tuple[float, ...]]:
    """The visible and hidden lines of a view as it stands alone, mm from its lower left corner."""
    box = made.sheet.views[view]
    lines = [line for line in made.sheet.lines if (len(line.dash) == 2 or abs(line.width - 0.5) < 1e-3)
             and _in(line.points[0], box) and _in(line.points[-1], box)]
    return sorted((*(np.round(line.points[[0, -1]] - box[:2], 2) + 0.0).ravel().tolist(), len(line.dash)) for line in lines)
