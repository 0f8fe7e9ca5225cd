"""Frame, centring marks and grid references. The figures are those of ISO 5457:1999, from memory."""

import numpy as np
import pytest

from sheetgen.ink import Fill, Pen, Stroke, Text
from sheetgen.sheet import PAPERS
from sheetgen.sheet.paper import centring_marks, field_lines, frame_marks
from tests.extent import bounds


def strokes(marks, pen):
    return [mark for mark in marks if isinstance(mark, Stroke) and mark.pen is pen]


def letters(marks):
    return [mark for mark in marks if isinstance(mark, Text)]


def test_the_frame_of_a3_leaves_20_mm_for_filing_and_10_mm_elsewhere():
    frame = strokes(frame_marks(PAPERS["A3"]), Pen.FRAME)[0]
    assert frame.closed
    assert frame.points.min(axis=0).tolist() == [20.0, 10.0]
    assert frame.points.max(axis=0).tolist() == [410.0, 287.0]


@pytest.mark.parametrize(("name", "width", "height"), [("A2", 594, 420), ("A3", 420, 297), ("A4", 297, 210)])
def test_papers_lie_landscape_in_iso_216_sizes(name, width, height):
    assert (PAPERS[name].width, PAPERS[name].height) == (width, height)


def test_paper_of_11_by_17_inch_has_the_frame_that_the_other_sizes_have():
    """20 mm for filing and 10 mm elsewhere."""
    paper = PAPERS["11x17"]
    assert (paper.width / 25.4, paper.height / 25.4) == pytest.approx((17, 11))
    assert paper.frame == pytest.approx((20, 10, 431.8 - 10, 279.4 - 10))


@pytest.mark.parametrize("name", PAPERS)
def test_no_field_is_so_narrow_that_its_letter_has_no_room_and_all_but_those_at_the_corners_are_50_mm_long(name):
    paper = PAPERS[name]
    for start, end, centre in ((paper.x0, paper.x1, paper.width / 2), (paper.y0, paper.y1, paper.height / 2)):
        lines = field_lines(start, end, centre)
        assert centre in lines and np.diff(lines) == pytest.approx(50)
        assert 25 <= lines[0] - start <= 75 and 25 <= end - lines[-1] <= 75


@pytest.mark.parametrize(("name", "columns", "rows"), [("A2", 12, 8), ("A3", 8, 6), ("A4", 6, 4), ("11x17", 8, 6)])
def test_the_grid_has_as_many_fields_as_iso_5457_says(name, columns, rows):
    texts = {mark.text for mark in letters(frame_marks(PAPERS[name]))}
    assert texts == {str(number) for number in range(1, columns + 1)} | set("ABCDEFGH"[:rows])


def test_the_grid_lines_of_a3_stand_50_mm_apart_from_the_centring_marks():
    lines = strokes(frame_marks(PAPERS["A3"]), Pen.GRID)[1:]
    top = sorted(line.points[0, 0] for line in lines if line.points[0, 1] == 287.0)
    left = sorted(line.points[0, 1] for line in lines if line.points[0, 0] == 15.0)
    assert top == [60, 110, 160, 260, 310, 360]       # at 210 the centring mark is the line
    assert left == [48.5, 98.5, 198.5, 248.5]


def test_rows_are_lettered_from_the_top_and_columns_numbered_from_the_left():
    marks = letters(frame_marks(PAPERS["A3"]))
    left = sorted((mark for mark in marks if mark.at[0] < 20), key=lambda mark: -mark.at[1])
    top = sorted((mark for mark in marks if mark.at[1] > 287), key=lambda mark: mark.at[0])
    assert "".join(mark.text for mark in left) == "ABCDEF"
    assert "".join(mark.text for mark in top) == "12345678"


def test_a4_has_references_on_its_top_and_right_side_only():
    assert all(mark.at[1] > 200 or mark.at[0] > 287 for mark in letters(frame_marks(PAPERS["A4"])))


def test_eight_rows_of_a2_go_without_the_letter_i():
    tall = letters(frame_marks(PAPERS["A2"]))
    assert {"I", "O"}.isdisjoint(mark.text for mark in tall)


def test_centring_marks_stand_on_the_axes_of_the_trimmed_sheet():
    marks = strokes(centring_marks(PAPERS["A3"]), Pen.FRAME)
    ends = sorted(tuple(map(tuple, mark.points.tolist())) for mark in marks)
    assert ends == [((15, 148.5), (30, 148.5)), ((210, 5), (210, 20)), ((210, 292), (210, 277)), ((415, 148.5), (400, 148.5))]


def test_a_centring_mark_does_not_run_into_the_title_block():
    marks = strokes(centring_marks(PAPERS["A4"], clear=[(107, 10, 287, 47)]), Pen.FRAME)
    lower = next(mark for mark in marks if mark.points[0, 1] == 5)
    assert lower.points.tolist() == [[148.5, 5], [148.5, 10]]
    assert len(marks) == 4
    assert all(np.linalg.norm(np.diff(mark.points, axis=0)) == 15 for mark in marks if mark is not lower)


@pytest.mark.parametrize("name", PAPERS)
def test_nothing_but_trimming_marks_comes_near_the_edge_where_printers_do_not_reach(name):
    paper = PAPERS[name]
    left, bottom, right, top = bounds([*frame_marks(paper), *centring_marks(paper)])
    assert min(left, bottom, paper.width - right, paper.height - top) >= 4.6    # 5 mm less half the widest line


def test_trimming_marks_are_two_rectangles_of_10_by_5_in_every_corner():
    marks = [mark for mark in frame_marks(PAPERS["A3"], trimming=True) if isinstance(mark, Fill)]
    sizes = sorted(tuple(np.ptp(mark.points, axis=0).tolist()) for mark in marks)
    assert sizes == [(5, 10)] * 4 + [(10, 5)] * 4
    assert bounds(marks) == (0, 0, 420, 297)
