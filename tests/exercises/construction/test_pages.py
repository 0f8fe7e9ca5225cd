"""Construction sheets and projectors as they are printed: widths, sentences clear of all drawing, and never a refusal."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
import shapely

from sheetgen.bank import load_bank
from sheetgen.exercises import ASKED, ONCE, WORKED, Exercise, Role, make_exercise
from sheetgen.exercises.construction import construction_pages, projector_pages
from sheetgen.exercises.construction.thin import clear_of_lines, clear_of_texts
from sheetgen.ink import EARLIER, Page, Pen, Stroke, Text, flattened, page_text, text_box, width_of
from sheetgen.sheet import Style, settings_of
from sheetgen.sheet.titleblock_ink import titleblock_box
from tests.exercises.construction.made import built, mark_key
from tests.wordings import doubled, wording_with

BANK = load_bank()
SHEETS = {
    "first angle": ("bored-tee", Style()),
    "first angle, from the right": ("slant-cut-spigot", Style(side="right", title_block="quarry")),
    "third angle": ("dovetail-guide", Style(projection="third", wording="en-elevations")),
    "both sides": ("hinge-lug", Style(side="both")),
    "third angle, both sides": ("stepped-bridge", Style(projection="third", side="both", title_block="quarry")),
    "A4": ("countersunk-plate", Style(paper="A4", title_block="quarry")),
    "A2": ("conical-boss", Style(paper="A2", projection="third", side="right")),
    "depths that turn where the title block stands": ("two-way-steps", Style(title_block="quarry")),
}
DRAWN = (Pen.OUTLINE, Pen.HIDDEN, Pen.CENTRE, Pen.DIMENSION, Pen.CONSTRUCTION, *EARLIER.values())
BEFORE = tuple(EARLIER.values())


@cache
def made(sort: str) -> Exercise:
    family, style = SHEETS[sort]
    return make_exercise(BANK[family], 1, settings_of(style), (*ASKED, Role.BLANK, *WORKED))


def strokes(page: Page, *pens: Pen) -> list[Stroke]:
    return [mark for mark in page.marks if isinstance(mark, Stroke) and mark.pen in pens]


def told(page: Page, *sheets: Page) -> list[Text]:
    """The sentences: long lines that other sheets of the exercise have not."""
    others = {mark.text for sheet in sheets for mark in sheet.marks if isinstance(mark, Text)}
    others |= {"Construction sheet", "CONSTRUCTION SHEET"}
    return [mark for mark in page.marks if isinstance(mark, Text) and len(mark.text) > 15 and mark.text not in others]


def test_widths_step_down_by_the_series_and_nothing_is_grey():
    # ISO 128-20:1996 cl. 4.1, from memory: each width of the series is the next by the root of two
    assert [width_of(pen) for pen in (Pen.OUTLINE, Pen.EARLIER_OUTLINE)] == [0.5, 0.35]
    assert [width_of(pen) for pen in (Pen.HIDDEN, Pen.EARLIER_HIDDEN, Pen.CONSTRUCTION)] == [0.25, 0.18, 0.13]
    assert width_of(Pen.EARLIER_CENTRE) == 0.18


@pytest.mark.parametrize("sort", SHEETS)
def test_what_is_new_on_a_page_was_on_none_before_and_all_that_was_is_still_there(sort):
    before: set[object] = set()
    [blank] = made(sort).sheets[Role.BLANK]
    symbol = {mark_key(mark) for mark in strokes(blank, *EARLIER)}            # of projection, in the title block
    for page in made(sort).sheets[Role.CONSTRUCTION][:-1]:
        new = {(EARLIER[mark.pen], *mark_key(mark)[2:]) for mark in strokes(page, *EARLIER) if mark_key(mark) not in symbol}
        old = {(mark.pen, *mark_key(mark)[2:]) for mark in strokes(page, *BEFORE)}
        assert new.isdisjoint(before) and old == before
        before |= new


@pytest.mark.parametrize("sort", SHEETS)
def test_types_of_line_stay_what_they_are_when_they_stand_back(sort):
    page = made(sort).sheets[Role.CONSTRUCTION][-2]
    for pen in (Pen.HIDDEN, Pen.CENTRE):
        for mark in strokes(page, EARLIER[pen]):
            assert len(mark.dash) in (0, 2 if pen is Pen.HIDDEN else 4)


@pytest.mark.parametrize("sort", SHEETS)
def test_the_last_page_is_the_answer_without_thin_lines(sort):
    last, [answer] = made(sort).sheets[Role.CONSTRUCTION][-1], made(sort).sheets[Role.ANSWER]
    assert not strokes(last, Pen.CONSTRUCTION, *BEFORE)
    pens = Pen.OUTLINE, Pen.HIDDEN, Pen.CENTRE, Pen.DIMENSION
    ours, theirs = (Counter(map(mark_key, strokes(page, *pens))) for page in (last, answer))
    # the answer has a small pictorial too, which has outlines and no other lines
    assert not ours - theirs and {pen for _, pen, *_ in theirs - ours} <= {Pen.OUTLINE}
    figures = {mark_key(mark) for mark in answer.marks
               if isinstance(mark, Text) and mark.height == 3.5 and "sheet" not in mark.text.lower()}
    assert figures <= {mark_key(mark) for mark in last.marks if isinstance(mark, Text)}


@pytest.mark.parametrize("sort", SHEETS)
def test_no_line_comes_near_a_sentence(sort):
    others = *made(sort).sheets[Role.BLANK], *made(sort).sheets[Role.ANSWER]
    for page in made(sort).sheets[Role.CONSTRUCTION]:
        lines = shapely.union_all([shapely.LineString(flattened(mark, 0.1)) for mark in strokes(page, *DRAWN)])
        boxes = [shapely.Polygon(text_box(mark, 0.0)) for mark in told(page, *others)]
        assert boxes and all(shapely.distance(lines, box) > 1.0 for box in boxes)


@pytest.mark.parametrize("sort", SHEETS)
def test_thin_lines_keep_clear_of_the_title_block_or_there_is_none(sort):
    settings = settings_of(SHEETS[sort][1])
    x0, y0, x1, y1 = titleblock_box(settings.block, settings.paper)
    for page in (*made(sort).sheets[Role.CONSTRUCTION], *made(sort).sheets[Role.PROJECTORS]):
        inside = [mark for mark in strokes(page, Pen.CONSTRUCTION) if shapely.box(x0, y0, x1, y1).intersects(
            shapely.LineString(mark.points))]
        if inside:
            texts = [mark.text for mark in page.marks if isinstance(mark, Text)]
            assert not strokes(page, Pen.TABLE) or sort.startswith("depths")
            assert any(made(sort).particulars.code in text for text in texts)
            assert settings.wording.render("notice") in texts


def test_where_depths_turn_in_its_place_the_title_block_gives_way():
    pages = made("depths that turn where the title block stands").sheets[Role.CONSTRUCTION]
    named = [any(isinstance(mark, Text) and mark.text == "QUESTION" for mark in page.marks) for page in pages]
    bare = [not strokes(page, Pen.BORDER) for page in pages]
    assert any(bare) and not all(bare) and not any(named)


@pytest.mark.parametrize("sort", SHEETS)
def test_no_thin_line_runs_along_another_line(sort):
    for page in (*made(sort).sheets[Role.CONSTRUCTION], *made(sort).sheets[Role.PROJECTORS]):
        others = [mark.points for mark in strokes(page, Pen.OUTLINE, Pen.HIDDEN, Pen.CENTRE, *BEFORE) if not mark.curved]
        for mark in strokes(page, Pen.CONSTRUCTION):
            line = shapely.LineString(mark.points)
            for other in others:
                shared = shapely.intersection(line, shapely.LineString(other).buffer(0.02, cap_style="flat"))
                assert shared.length < 1.2                    # an arm of the cross at a point of a slope at 45°


@pytest.mark.parametrize("sort", SHEETS)
def test_projectors_break_for_figures_and_names(sort):
    [page] = made(sort).sheets[Role.PROJECTORS]
    assert strokes(page, Pen.CONSTRUCTION) and strokes(page, Pen.OUTLINE) and not strokes(page, *BEFORE)
    lines = shapely.union_all([shapely.LineString(mark.points) for mark in strokes(page, Pen.CONSTRUCTION)])
    boxes = [shapely.Polygon(text_box(mark, 0.0)) for mark in page.marks if isinstance(mark, Text)]
    assert all(shapely.distance(lines, box) > 0.8 for box in boxes)


@pytest.mark.parametrize("family", ("bored-tee", "conical-boss", "bevelled-block"))
def test_question_and_answer_are_the_same_with_construction_sheets_and_without(family):
    settings = settings_of(Style(side="both"))
    alone, more = (make_exercise(BANK[family], 3, settings, roles) for roles in (ASKED, (*ASKED, *ONCE)))
    assert alone.particulars == more.particulars
    for role in ASKED:
        assert [page_text(page) for page in alone.sheets[role]] == [page_text(page) for page in more.sheets[role]]


@pytest.mark.parametrize(("family", "style"), [
    ("bearing-support", Style(side="both")), ("countersunk-plate", Style(paper="A4", side="both")), ("bored-tee", Style())])
def test_sentences_twice_as_long_find_their_place_too_or_have_a_page_of_their_own(family, style):
    one = built(family, 1, style)
    shipped = one.settings.wording.phrases
    wording = wording_with({key: doubled(phrase.source) if key.startswith("construction.") else phrase.source
                            for key, phrase in shipped.items()})
    settings = replace(one.settings, wording=wording)
    pages = construction_pages(one.problem, settings, one.task.drawing, made("A4").particulars)
    assert len(pages) >= len(one.stages)
    for page in pages:
        paper = shapely.box(0, 0, page.width, page.height)
        assert all(paper.contains(shapely.Polygon(text_box(mark, 0.0))) for mark in page.marks if isinstance(mark, Text))


def test_a_thin_line_leaves_out_what_runs_along_a_dashed_line_and_breaks_for_a_text():
    thin = [Stroke(np.array([[0.0, 0.0], [100.0, 0.0]]), Pen.CONSTRUCTION)]
    dashed = [Stroke(np.array([[20.0, 0.1], [40.0, 0.1]]), Pen.HIDDEN), Stroke(np.array([[50.0, -9.0], [50.0, 9.0]]), Pen.HIDDEN)]
    assert [mark.points[:, 0].round(3).tolist() for mark in clear_of_lines(thin, dashed)] == [[0.0, 20.0], [40.0, 100.0]]
    [before, after] = clear_of_texts(thin, [Text("48", (60.0, -1.0), 3.5)])
    assert before.points[1, 0] < 60.0 and after.points[0, 0] > 64.0


def test_all_projectors_of_all_stages_stand_on_one_page():
    one = built("two-way-steps", 1, Style(projection="third"))
    [page] = projector_pages(one.problem, one.settings, one.task.drawing, made("A4").particulars)
    ink = shapely.union_all([shapely.LineString(flattened(mark, 0.1)) for mark in strokes(page, *DRAWN)]).buffer(0.45)
    texts = shapely.union_all([shapely.Polygon(text_box(mark, 1.0)) for mark in page.marks if isinstance(mark, Text)])
    for stage in one.stages:
        for projector in stage.projectors:
            path = shapely.difference(shapely.LineString(projector.path), texts.buffer(1.2))
            assert shapely.difference(path, ink).length < 0.5
