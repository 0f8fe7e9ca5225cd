"""Marking sheets and overlays as they are printed: what stands on them, and that no number stands on a line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
import shapely

from sheetgen.bank import load_bank
from sheetgen.exercises import ASKED, FOR_MARKERS, Exercise, Particulars, Role, make_exercise
from sheetgen.exercises.drawing import drawing_of
from sheetgen.exercises.marking import Marking, pages, scheme_of, usual_marking
from sheetgen.exercises.marking.pages import MarkingError
from sheetgen.ink import Mark, Page, Pen, Stroke, Text, flattened, page_text, text_box, text_width
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Settings, Style, settings_of
from sheetgen.templating import load_marking

BANK = load_bank()
LINES = (Pen.OUTLINE, Pen.HIDDEN, Pen.CENTRE)
SHEETS = {
    "first angle": ("bored-tee", Style()),
    "third angle, from the right": ("counterbored-block", Style(projection="third", side="right")),
    "both sides": ("angle-bracket-bored", Style(side="both", paper="A2")),
    "third angle, both sides": ("stepped-block", Style(projection="third", side="both")),
    "A4": ("slotted-wedge", Style(paper="A4")),
    "A4, third angle, dense": ("countersunk-plate", Style(paper="A4", projection="third", title_block="quarry")),
}
CLEAR = 0.6
"""mm at least between a number and any line: more than an outline is thick."""


@cache
def made(sort: str, scheme: str = "by-parts", marks: float = 20.0) -> Exercise:
    name, style = SHEETS[sort]
    said = Particulars(marking=Marking.of(marks, load_marking(scheme)))
    return make_exercise(BANK[name], 1, settings_of(style), (*ASKED, *FOR_MARKERS), particulars=said)


def texts(pages: Sequence[Page]) -> list[str]:
    return [mark.text for page in pages for mark in page.marks if isinstance(mark, Text)]


def strokes(page: Page, *pens: Pen) -> list[Stroke]:
    return [mark for mark in page.marks if isinstance(mark, Stroke) and mark.pen in pens]


def drawing_space(page: Page, marks: Sequence[Mark]) -> list[Mark]:
    """Marks without those of frame and title block, which have no lines of a view."""
    return [mark for mark in marks if not (isinstance(mark, Text) and mark.at[1] > page.height - 12)]


@pytest.mark.parametrize("sort", SHEETS)
def test_no_number_stands_on_a_line_or_on_another_number(sort):
    for page in made(sort).sheets[Role.MARKING]:
        lines = [shapely.LineString(flattened(mark, 0.1)) for mark in strokes(page, *LINES)]
        numbers = [shapely.Polygon(text_box(mark)) for mark in drawing_space(page, page.marks)
                   if isinstance(mark, Text) and mark.text.isdigit() and mark.anchor == "middle"]
        if not numbers:
            continue                                                    # the table's page of two
        far = shapely.distance(np.array(numbers)[:, None], np.array(lines)[None])
        assert float(far.min()) > CLEAR
        apart = shapely.distance(np.array(numbers)[:, None], np.array(numbers)[None])[np.triu_indices(len(numbers), 1)]
        assert float(apart.min()) > 1.0


@pytest.mark.parametrize("sort", SHEETS)
def test_every_line_of_every_view_has_its_number_on_the_pictures(sort):
    _, style = SHEETS[sort]
    exercise, settings = made(sort), settings_of(style)
    scheme = scheme_of(drawing_of(exercise.problem, settings), settings.side, usual_marking())
    wanted = sorted(str(line.number) for lines in scheme.lines.values() for line in lines)
    found = [text for text in texts(exercise.sheets[Role.MARKING]) if text.isdigit()]
    for number in wanted:
        assert found.count(number) >= wanted.count(number)


@pytest.mark.parametrize("sort", SHEETS)
def test_the_sheet_tells_marks_tolerance_views_and_what_is_wrong(sort):
    _, style = SHEETS[sort]
    said = " ".join(texts(made(sort).sheets[Role.MARKING]))
    assert "MARKING: 20 MARKS" in said and "TOTAL" in said
    # dimension mistakes up to 1 mm are ignored (CBSE, India, all years)
    assert "within ±1 mm of its place on the paper" in said
    other = {"first": "third", "third": "first"}[style.projection]
    assert "WRONG:" in said and f"{other} angle" in said


def test_in_first_angle_the_top_view_belongs_below_and_in_third_above():
    # ISO 5456-2:1996 clause 5 (from memory)
    assert "TOP VIEW below" in " ".join(texts(made("first angle").sheets[Role.MARKING]))
    third = " ".join(texts(made("third angle, from the right").sheets[Role.MARKING]))
    assert "TOP VIEW above" in third and "SIDE VIEW FROM THE RIGHT on the right" in third


def test_marks_that_are_taken_off_are_told_with_the_most_that_a_part_loses():
    said = " ".join(texts(made("first angle", "by-deductions", 100.0).sheets[Role.MARKING]))
    assert "2 each, at most" in said and "WRONG: SIDE VIEW FROM THE RIGHT, 5 off" in said


@pytest.mark.parametrize("sort", ["first angle", "A4"])
def test_question_and_answer_are_the_same_whether_or_not_there_is_a_marking_sheet(sort):
    name, style = SHEETS[sort]
    alone, marked = make_exercise(BANK[name], 1, settings_of(style), ASKED), made(sort)
    assert alone.problem.identity == marked.problem.identity
    for role in ASKED:
        for one, other in zip(alone.sheets[role][0].marks, marked.sheets[role][0].marks, strict=True):
            assert type(one) is type(other)
            assert not isinstance(one, Text) or one == other


def test_the_same_command_gives_the_same_marking_sheet():
    name, style = SHEETS["first angle"]
    again = make_exercise(BANK[name], 1, settings_of(style), FOR_MARKERS, particulars=made("first angle").particulars)
    for role in FOR_MARKERS:
        assert [*map(page_text, again.sheets[role])] == [*map(page_text, made("first angle").sheets[role])]


def test_a_marking_sheet_without_room_is_told_and_no_other_variant_is_printed_in_its_stead(monkeypatch):
    monkeypatch.setattr(pages, "picture_in", lambda *_: None)
    monkeypatch.setattr(pages, "picture_on_its_own", lambda *_: None)
    monkeypatch.setattr(pages, "pictures_one_by_one", lambda *_: None)
    assert not issubclass(MarkingError, RefusedError)
    with pytest.raises(MarkingError, match="stepped-block-1: marking sheet: found no room on A3 for the numbers of the lines"):
        make_exercise(BANK["stepped-block"], 1, settings_of(Style()), (Role.MARKING,))


def test_lines_too_dense_for_one_picture_have_a_page_for_each_view(monkeypatch):
    monkeypatch.setattr(pages, "picture_in", lambda *_: None)
    monkeypatch.setattr(pages, "picture_on_its_own", lambda *_: None)
    found = make_exercise(BANK["stepped-block"], 1, settings_of(Style()), (Role.MARKING,)).sheets[Role.MARKING]
    titles = [{"FRONT VIEW", "TOP VIEW", "SIDE VIEW FROM THE LEFT"} & set(texts([page])) for page in found[-3:]]
    assert titles == [{"FRONT VIEW"}, {"TOP VIEW"}, {"SIDE VIEW FROM THE LEFT"}]


def test_errors_that_are_too_many_for_a_page_of_a4_take_two_and_none_is_left_out():
    settings = settings_of(Style(paper="A4", side="both", wording="en-elevations", title_block="quarry"))
    sheets = make_exercise(BANK["counterbored-block"], 1, settings, (*ASKED, Role.MARKING)).sheets[Role.MARKING]
    said = [" ".join(texts([page])) for page in sheets]
    [words] = [place for place, text in enumerate(said) if "LIKELY ERRORS" in text]
    assert "WRONG: " in said[words + 1] and "WRONG: " not in said[words] and "TOTAL" in said[words - 1]
    drawing = drawing_of(make_exercise(BANK["counterbored-block"], 1, settings, ASKED).problem, settings)
    assert {settings.wording.render(f"views.{view.view.name}") for view in drawing.views} <= set(texts(sheets))
    for page in sheets:
        assert all(mark.at[1] >= 10 for mark in page.marks if isinstance(mark, Text) and 20 < mark.at[0] < 287)


@pytest.mark.parametrize("sort", SHEETS)
def test_an_overlay_has_one_view_at_the_scale_asked_for_with_its_name_and_code(sort):
    _, style = SHEETS[sort]
    exercise, settings = made(sort), settings_of(style)
    drawing, films = drawing_of(exercise.problem, settings), exercise.sheets[Role.OVERLAY]
    assert len(films) == len(drawing.views)
    for view, film in zip(drawing.views, films, strict=True):
        outlines = [flattened(mark, 0.01) for mark in strokes(film, Pen.OUTLINE)]
        points = np.concatenate(outlines)
        wanted = (view.view.extent[1] - view.view.extent[0]) * drawing.layout.scale
        assert np.ptp(points, axis=0) == pytest.approx(wanted, abs=0.01)
        said = " ".join(texts([film]))
        title = settings.wording.render(f"views.{view.view.name}")
        assert f"{title}, scale {drawing.layout.scale_name}" in said and exercise.particulars.code in said


def test_an_overlay_has_the_bar_of_100_mm_and_keeps_off_the_edges():
    for film in made("first angle").sheets[Role.OVERLAY]:
        bars = [np.ptp(mark.points, axis=0).max() for mark in strokes(film, Pen.DIMENSION)]
        assert max(bars) == pytest.approx(100.0)
        points = np.concatenate([mark.points for mark in film.marks if isinstance(mark, Stroke)])
        assert points.min() >= 5 and (points.max(axis=0) <= (film.width - 5, film.height - 5)).all()
        assert (film.width, film.height) == (297.0, 210.0)                     # ISO 216 A4: film is sold so


def test_a_view_too_large_for_film_of_a4_is_on_the_courses_paper():
    settings: Settings = replace(settings_of(Style(paper="A2")))
    exercise = make_exercise(BANK["flanged-foot"], 1, settings, (Role.OVERLAY,))
    for film in exercise.sheets[Role.OVERLAY]:
        points = np.concatenate([mark.points for mark in strokes(film, Pen.OUTLINE)])
        assert (points.max(axis=0) < (film.width - 5, film.height - 5)).all() and points.min() > 5


def test_every_text_of_a_marking_sheet_stays_in_the_frame():
    for sort, (_, style) in SHEETS.items():
        paper = settings_of(style).paper
        level = [mark for page in made(sort).sheets[Role.MARKING] for mark in page.marks
                 if isinstance(mark, Text) and paper.x0 < mark.at[0] < paper.x1 and mark.at[1] < paper.y1]
        for mark in level:
            width = text_width(mark.text, mark.height, mark.face)
            assert mark.at[0] + {"start": width, "middle": width / 2, "end": 0.0}[mark.anchor] < paper.x1
