"""The answer key: the answer's views, half as large with figures that can be read, and as many on a page as find room."""

from __future__ import annotations

from collections import Counter
from itertools import combinations

import numpy as np
import pytest

from sheetgen.bank import load_bank
from sheetgen.exercises import kinds
from sheetgen.exercises.drawing import drawing_reduced
from sheetgen.exercises.key import CLEAR, PLACED, reduced
from sheetgen.exercises.key_sheets import ABOVE, Entry, KeySheets
from sheetgen.ink import Page, Pen, Stroke, Text, stroke_length
from sheetgen.problem import problem_of
from sheetgen.projection import LineKind
from sheetgen.refusals import RefusedError
from sheetgen.sheet import PAPERS, Style, settings_of
from sheetgen.sheet.free import boxes_of
from tests import samples
from tests.sets.papers.printed import bytes_of, defects, sheets_of

FAMILIES = ("stepped-block", "bearing-support", "countersunk-plate", "conical-boss")


@pytest.fixture(scope="module", params=FAMILIES)
def drawing(request):
    """The marks of the answer's drawing and what the key has of it."""
    return drawn(request.param, 3, samples.SETTINGS)


def drawn(family, seed, settings):
    problem, kind = problem_of(load_bank()[family].sample(seed)), kinds()["views"]
    task = kind.shared(problem, settings)
    return task.drawing.marks, kind.answer(problem, settings, task)


def texts(marks):
    return Counter(mark.text for mark in marks if isinstance(mark, Text))


def lengths(marks, pen):
    return sorted(round(stroke_length(mark), 3) for mark in marks if isinstance(mark, Stroke) and mark.pen is pen)


def test_the_key_has_every_size_and_every_name_of_the_answer_and_no_other(drawing):
    marks, key = drawing
    assert texts(key.marks) == texts(marks) and sum(texts(marks).values()) > 5


def test_every_edge_is_half_as_long_and_drawn_with_the_same_pen(drawing):
    marks, key = drawing
    assert lengths(key.marks, Pen.OUTLINE) == pytest.approx([each / 2 for each in lengths(marks, Pen.OUTLINE)], abs=2e-3)
    assert len(lengths(key.marks, Pen.HIDDEN)) >= len(lengths(marks, Pen.HIDDEN)) / 2       # each has the dashes that fit


def test_figures_and_names_are_as_high_as_a_copier_keeps(drawing):
    # 2.5 mm (common practice, no source); a height of ISO 3098-0:1997 (from memory)
    assert {mark.height for mark in drawing[1].marks if isinstance(mark, Text)} == {2.5}


def test_nothing_on_a_page_of_the_key_is_in_the_way_of_anything_else(drawing):
    key = drawing[1]
    page = KeySheets("Week 3: answer key", [Entry(key.width, key.height, "a-1", "Sheet 1")] * 2, lambda _: key, samples.SETTINGS)
    for sheet in sheets_of(bytes_of(list(page))):
        assert list(defects(sheet)) == []


def test_where_a_size_finds_no_place_in_such_figures_the_answers_own_drawing_is_half_as_large():
    settings, found = settings_of(Style(paper="A4")), []
    for seed in range(1, 30):
        try:
            marks, key = drawn("vee-guide", seed, settings)
        except RefusedError:                                   # the answer itself
            continue
        assert texts(key.marks) == texts(marks)
        found += [{mark.height for mark in key.marks if isinstance(mark, Text)}]
        if found[-1] == {1.8}:
            whole = reduced(marks, 0.5)
            assert (whole.width, whole.height) == (key.width, key.height)
            assert [mark.at for mark in whole.marks if isinstance(mark, Text)] == [
                mark.at for mark in key.marks if isinstance(mark, Text)]
            break
    assert found[-1] == {1.8} and all(heights == {2.5} for heights in found[:-1])


@pytest.mark.parametrize("family", FAMILIES)
def test_views_still_stand_in_line_with_each_other(family):
    """Every edge of a view is moved from where it stood by the same; the top view's from left to right as the front view's, the
    side view's up and down."""
    problem, kind = problem_of(load_bank()[family].sample(3)), kinds()["views"]
    task = kind.shared(problem, samples.SETTINGS)
    edges = [[np.asarray(mark.points) for mark in marks if isinstance(mark, Stroke) and mark.pen is Pen.OUTLINE]
             for marks in (task.drawing.marks, kind.answer(problem, samples.SETTINGS, task).marks)]
    shifts = [2 * small - large for large, small in zip(*edges, strict=True)]
    moved = {}
    for view in task.drawing.views:
        own = np.concatenate([shifts.pop(0) for _ in view.lines(LineKind.VISIBLE)])
        assert np.ptp(own, axis=0) == pytest.approx([0, 0], abs=1e-6)
        moved[view.view.name] = own[0]
    assert not shifts and set(moved) == {"front", "top", "left"}
    for other, axis in (("top", 0), ("left", 1)):
        assert moved[other][axis] == pytest.approx(moved["front"][axis], abs=1e-6)


@pytest.mark.parametrize("family", FAMILIES)
def test_the_key_has_the_very_lines_of_the_answer(family):
    """However small it is drawn: neither is a short line left out, nor does a centre line reach further over its view."""
    problem = problem_of(load_bank()[family].sample(3))
    whole = kinds()["views"].shared(problem, samples.SETTINGS).drawing
    small = drawing_reduced(problem, samples.SETTINGS, whole, PLACED)
    for one, other in zip(whole.views, small.views, strict=True):
        assert other.scale == pytest.approx(PLACED * one.scale)
        for kind in LineKind:
            lines = [[line.points().tolist() for line in view.lines(kind)] for view in (one, other)]
            assert lines[0] == lines[1]


def test_no_strip_across_the_drawing_is_free_for_more_than_its_views_are_apart(drawing):
    boxes = boxes_of(drawing[1].marks)
    for axis in (0, 1):
        reached = 0.0
        for low, high in sorted(boxes[:, [axis, axis + 2]].tolist()):
            assert low - reached <= CLEAR + 1e-6
            reached = max(reached, high)


def test_a_drawing_fills_its_page_and_no_more(drawing):
    boxes, key = boxes_of(drawing[1].marks), drawing[1]
    assert boxes.min(axis=0)[:2] == pytest.approx([0, 0], abs=1e-6)
    assert boxes.max(axis=0)[2:] == pytest.approx([key.width, key.height], abs=1e-6)


def sheets(sizes, settings=samples.SETTINGS, about="Sheet 1: Plain step"):
    """A key of rectangles of these sizes, called a-1, a-2 and so on."""
    def drawn(number):
        wide, high = sizes[number]
        return Page(wide, high, [Stroke(np.array([(0, 0), (wide, 0), (wide, high), (0, high)]), Pen.OUTLINE, closed=True)])

    entries = [Entry(wide, high, f"a-{number}", about) for number, (wide, high) in enumerate(sizes, 1)]
    return KeySheets("Week 3: answer key", entries, drawn, settings)


def test_nothing_on_a_page_overlaps_whatever_the_sizes():
    sizes = [(40 + 37 * k % 150, 30 + 53 * k % 110) for k in range(40)]
    for page in sheets(sizes):
        entries = [mark for mark in page.marks if (isinstance(mark, Stroke) and mark.pen is Pen.OUTLINE)
                   or (isinstance(mark, Text) and mark.text.startswith(("a-", "Sheet 1:", "Week", "Each", "Sheet")))]
        for one, other in combinations(boxes_of(entries), 2):
            apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
            assert apart, (one, other)


def test_all_answers_come_once_and_in_order_inside_the_frame():
    sizes, paper = [(90.0, 70.0)] * 23, PAPERS["A3"]
    key = sheets(sizes)
    said = [mark.text for page in key for mark in page.marks if isinstance(mark, Text) and mark.text.startswith("a-")]
    assert said == [f"a-{number}" for number in range(1, 24)] and len(key) == 4
    for page in key:
        boxes = boxes_of([mark for mark in page.marks if isinstance(mark, Stroke) and mark.pen is Pen.OUTLINE])
        assert (boxes[:, :2] >= [paper.x0, paper.y0]).all() and (boxes[:, 2:] <= [paper.x1, paper.y1]).all()


def test_the_largest_drawing_of_a_sheet_has_a_page_of_the_key():
    largest = ((PAPERS["A2"].x1 - PAPERS["A2"].x0) / 2, (PAPERS["A2"].y1 - PAPERS["A2"].y0) / 2)
    [page] = sheets([largest])
    [box] = boxes_of([mark for mark in page.marks if isinstance(mark, Stroke) and mark.pen is Pen.OUTLINE])
    paper = PAPERS["A3"]
    assert box[0] >= paper.x0 and box[2] <= paper.x1 and box[1] >= paper.y0 and box[3] <= paper.y1


def test_a_school_with_paper_in_inches_has_its_key_on_it():
    [page] = sheets([(90.0, 70.0)], settings_of(Style(paper="11x17")))
    assert (page.width, page.height) == (PAPERS["11x17"].width, PAPERS["11x17"].height)


def test_a_long_name_beneath_a_drawing_takes_two_lines_and_is_cut_only_if_they_are_too_short():
    for times, whole in ((12, True), (40, False)):
        [page] = sheets([(60.0, 40.0)], about="Sheet 3: " + "Wolfe " * times)
        [place] = [k for k, mark in enumerate(page.marks) if isinstance(mark, Text) and mark.text.startswith("Sheet 3")]
        first, second = page.marks[place:place + 2]
        assert first.at[0] == second.at[0] and first.at[1] - second.at[1] >= 1.4 * second.height
        assert f"{first.text} {second.text}".count("Wolfe") == times if whole else second.text.endswith("...")
        left, right = boxes_of([page.marks[place - 1]])[0][0], boxes_of([second])[0][2]
        assert right <= left + 62.0                            # boxes are a little larger than their ink


def test_two_lines_beneath_a_drawing_stand_clear_of_the_row_below():
    [page] = sheets([(180.0, 65.0)] * 6, about="Sheet 3: " + "Wolfe " * 40)               # a page that is full
    bases = sorted({mark.at[1] for mark in page.marks if isinstance(mark, Text) and mark.text.endswith("...")}, reverse=True)
    boxes = boxes_of([mark for mark in page.marks if isinstance(mark, Stroke) and mark.pen is Pen.OUTLINE])
    tops = sorted({round(box[3], 3) for box in boxes}, reverse=True)
    assert len(bases) == len(tops) == 3
    assert min(base - top for base, top in zip(bases, tops[1:], strict=False)) >= ABOVE + 0.9     # and 0.1 for the pen


def test_the_answers_of_another_student_begin_a_row():
    begins = {3, 5}
    entries = [Entry(60.0, 40.0, f"a-{number}", "Sheet 1: Ann", number in begins) for number in range(7)]
    [page] = KeySheets("Key", entries, lambda _: Page(60.0, 40.0, []), samples.SETTINGS)
    heights = [mark.at[1] for mark in page.marks if isinstance(mark, Text) and mark.text.startswith("a-")]
    assert [heights.count(height) for height in dict.fromkeys(heights)] == [3, 2, 2] and heights == sorted(heights, reverse=True)
