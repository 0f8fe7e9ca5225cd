"""Hint sheets as they are printed: folded they show one hint after the other, and nothing stands in the way of a fold."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sheetgen.bank import load_bank
from sheetgen.exercises import Particulars
from sheetgen.exercises.hints import hint_pages
from sheetgen.exercises.hints.lists import listed
from sheetgen.exercises.hints.pages import shown
from sheetgen.ink import Page, Pen, Stroke, Text, text_box
from sheetgen.problem import problem_of
from sheetgen.sheet import Style, settings_of
from tests.exercises.hints.bare import hinted
from tests.wordings import twice_as_long, wording_with

BANK = load_bank()
SHEETS = {
    "A3": ("bearing-support", Style()), "both sides": ("skew-ended-tunnel", Style(side="both")),
    "11 x 17": ("vee-guide", Style(paper="11x17", projection="third")),
    "elevations": ("pipe-clamp", Style(wording="en-elevations")),
}


def page_of(sort: str, long: bool = False, **said: str) -> Page:
    name, style = SHEETS[sort]
    settings = settings_of(style)
    settings = replace(settings, wording=twice_as_long()) if long else settings
    problem = problem_of(BANK[name].sample(1))
    [page] = hint_pages(problem, settings, hinted(problem, settings)[1], Particulars(**said))
    return page


def texts(page: Page) -> list[Text]:
    return [mark for mark in page.marks if isinstance(mark, Text)]


def folds(page: Page) -> list[float]:
    """Heights of the folds, from the foot."""
    return sorted({float(mark.points[0, 1]) for mark in page.marks if isinstance(mark, Stroke) and mark.pen is Pen.HIDDEN})


@pytest.mark.parametrize("sort", SHEETS)
def test_three_folds_make_panels_as_high_as_each_other_so_that_each_covers_the_next(sort):
    page = page_of(sort)
    found = folds(page)
    assert len(found) == 3
    assert np.allclose(np.diff([0.0, *found]), found[0], atol=1e-9)
    assert page.height - 4 * found[0] > found[0]                      # what stays open is more than what is folded


@pytest.mark.parametrize("long", [False, True])
@pytest.mark.parametrize("sort", SHEETS)
def test_no_text_stands_at_a_fold_beyond_the_margin_or_on_another_text(sort, long):
    page = page_of(sort, long)
    boxes = []
    for text in texts(page):
        corners = text_box(text)
        boxes.append((*corners.min(axis=0), *corners.max(axis=0)))
        at_fold = any(abs((corners[:, 1].min() + corners[:, 1].max()) / 2 - fold) < 0.1 for fold in folds(page))
        assert corners[:, 0].min() >= 10.0 and corners[:, 0].max() <= page.width - 10.0 and corners[:, 1].min() >= 5.0, text
        if not at_fold:                                               # but for the words that say that there is one
            assert all(corners[:, 1].min() > fold + 2.5 or corners[:, 1].max() < fold - 2.5 for fold in folds(page)), text
    for number, one in enumerate(boxes):
        for other in boxes[number + 1:]:
            assert one[0] >= other[2] or other[0] >= one[2] or one[1] >= other[3] or other[1] >= one[3], (one, other)


def panel_of(page: Page, text: Text) -> int:
    """Which panel a text stands in: 0 stays open, 1 is the first that is folded under."""
    edges = [*folds(page), 4 * folds(page)[0]]
    return sum(text.at[1] < edge for edge in edges)


@pytest.mark.parametrize("sort", SHEETS)
def test_each_hint_and_the_self_check_have_panels_of_their_own(sort):
    page = page_of(sort)
    say = settings_of(SHEETS[sort][1]).wording.render
    where = {mark.text: panel_of(page, mark) for mark in texts(page)}
    assert [where[say(f"hints.{key}")] for key in ("look", "begin", "missed")] == [0, 1, 2]
    assert where[say("hints.measure")] == where[say("hints.yours")] == 3
    assert next(panel for text, panel in where.items() if text.startswith(say("hints.check", scale="1:1")[:10])) == 3
    assert where[say("hints.right_lengths")] == 4               # what is right is still folded while one measures


@pytest.mark.parametrize("sort", SHEETS)
def test_all_sentences_counts_and_lengths_are_printed_in_their_order(sort):
    name, style = SHEETS[sort]
    settings = settings_of(style)
    _, hints = hinted(problem_of(BANK[name].sample(1)), settings)
    page = page_of(sort)
    printed = " ".join(mark.text for mark in texts(page))
    at = 0
    for sentence in (*hints.look, *hints.begin, *hints.missed):
        assert sentence in printed[at:], sentence
        at = printed.index(sentence, at) + len(sentence)
    rows = printed[at:]
    for each in hints.views:
        counts = " ".join(str(count) for count in (*each.counts.values(), each.lines))
        assert f"{settings.wording.render(f'views.{each.view}')} {counts}" in rows
    for number, length in enumerate(hints.lengths, 1):
        assert f"{number} {settings.wording.render(f'views.{length.view}')} {length.words}" in rows
    values = listed([shown(length) for length in hints.lengths], settings.wording)
    assert f"{settings.wording.render('hints.right_lengths')} {values}" in rows


def test_the_sheet_says_whose_it_is_where_each_student_has_a_part_of_their_own():
    said = [mark.text for mark in texts(page_of("A3", code="ABCDEF-GHJKLM-NPQRST", student="Ann Example"))]
    assert "HINTS: Bearing support (ABCDEF-GHJKLM-NPQRST)" in said and "Ann Example" in said


def test_it_is_on_a4_or_on_the_schools_own_paper_upright():
    assert [(page_of(sort).width, page_of(sort).height) for sort in ("A3", "11 x 17")] == [
        (210.0, 297.0), (pytest.approx(279.4), pytest.approx(431.8))]


def test_hints_in_a_wording_of_paragraphs_leave_out_what_would_never_end():
    name, style = SHEETS["both sides"]
    settings, problem = settings_of(style), problem_of(BANK[name].sample(1))
    shipped = settings.wording
    texts_long = {key: made.source for key, made in shipped.phrases.items()}
    for key in texts_long:
        if key.startswith(("pieces.", "hints.side_", "hints.edge_", "pieces.", "short.", "hints.lies", "hints.and")):
            texts_long[key] += " and so on" * ((230 - len(texts_long[key])) // 10)
    settings = replace(settings, wording=wording_with(texts_long))
    [page] = hint_pages(problem, settings, hinted(problem, settings)[1], Particulars())
    assert max(mark.at[1] for mark in texts(page)) < page.height and min(mark.at[1] for mark in texts(page)) > 0
