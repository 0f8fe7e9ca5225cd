"""The small pictorial of the answer sheet: what a reader may ask of it, read from the finished page."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

import numpy as np
import pytest
import shapely

from sheetgen.bank import load_bank
from sheetgen.exercises import Particulars, Role, kinds
from sheetgen.exercises.beside import plain_beside
from sheetgen.ink import Fill, Mark, Pen, Stroke, Text, flattened, text_box
from sheetgen.problem import Problem, problem_of
from sheetgen.projection import view_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Settings, Style, settings_of
from sheetgen.sheet.free import taken_of
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sight import PlacedView, Sight

SCALES = {"FULL SIZE": 1.0, "1:2": 0.5, "1:5": 0.2, "1:10": 0.1}
"""Of ISO 5455 (clause 5.1), as the words say them."""

STYLES = [Style(paper=paper, side=side, projection=projection, title_block=block)
          for paper, block in (("A3", "harbour"), ("A3", "quarry"), ("A2", "harbour"), ("A4", "quarry"))
          for side, projection in (("left", "first"), ("right", "third"), ("both", "first"))]


class Small(NamedTuple):
    """What stands on an answer sheet besides views, sizes and texts. ``lines``: of the pictorial, without its arrow."""

    lines: list[Stroke]
    arrow: Stroke
    letter: Text
    words: Text
    sight: Sight
    others: list[Mark]


def sighted(problem: Problem, settings: Settings, sight: Sight | None = None):
    """What the sheets share; with the pictorial of the question seen as ``sight`` sees it."""
    task = kinds()["views"].shared(problem, settings)
    if sight is None:
        return task
    return replace(task, picture=replace(task.picture, view=PlacedView(sight, 1.0, np.zeros(2))))


def small_of(problem: Problem, settings: Settings, sight: Sight | None = None) -> Small | None:
    """The small pictorial on the answer sheet of a problem; None if there is none."""
    task = sighted(problem, settings, sight)
    [page] = kinds()["views"].pages[Role.ANSWER](problem, settings, task, Particulars(code="x"))
    block, frame = shapely.box(*titleblock_box(settings.block, settings.paper)), shapely.box(*settings.paper.frame)
    marks = [mark for mark in page.marks if frame.covers(shape_of(mark)) and not block.covers(shape_of(mark))]
    strokes, texts = ([mark for mark in marks if isinstance(mark, kind)] for kind in (Stroke, Text))
    views = shapely.union_all([shapely.box(*view.box).buffer(0.1) for view in task.drawing.views])
    lines = [mark for mark in strokes if mark.pen is Pen.OUTLINE and not views.covers(shape_of(mark))]
    if not lines:
        return None
    [letter] = [mark for mark in texts if mark.text == "F"]
    [words] = [mark for mark in texts if "NOT TO SCALE" in mark.text or "ALONG THE AXES" in mark.text]
    [arrow] = [mark for mark in strokes if mark.pen is Pen.BORDER and len(mark.points) == 2]
    arithmetic = [mark for mark in texts if mark.height == 2.5 and mark is not words]
    return Small(lines, arrow, letter, words, task.picture.view.sight, [*task.drawing.marks, *arithmetic])


def shape_of(mark: Mark):
    if isinstance(mark, Text):
        return shapely.Polygon(text_box(mark))
    return shapely.Polygon(mark.points) if isinstance(mark, Fill) else shapely.LineString(flattened(mark, 0.01))


@pytest.fixture(scope="module")
def answers() -> list[Small]:
    """The small pictorials of answers in many looks."""
    found, bank = [], load_bank()
    for number, family in enumerate(list(bank)[::3]):
        settings = settings_of(STYLES[number % len(STYLES)])
        for draw in range(4):
            try:
                small = small_of(problem_of(bank[family].sample(11, draw)), settings)
            except RefusedError:
                continue
            found += [small] if small else []
            break
    assert len(found) >= 10
    return found


def extent_of(lines: list[Stroke]):
    return np.ptp(np.concatenate([flattened(line, 0.01) for line in lines]), axis=0)


def test_the_pictorial_is_at_a_standard_scale_that_stands_under_it_or_said_to_be_at_none(answers):
    to_scale = 0
    for small in answers:
        size = extent_of(small.lines) / np.ptp(np.array(small.sight.view.extent), axis=0)
        assert size[0] == pytest.approx(size[1], abs=0.01)
        if small.words.text == "NOT TO SCALE":
            continue
        [scale] = [scale for name, scale in SCALES.items() if f" {name} " in small.words.text]
        assert size[0] == pytest.approx(scale, abs=0.01)
        to_scale += 1
    assert to_scale >= 5


def test_its_words_stand_under_its_middle(answers):
    for small in answers:
        marks = np.concatenate([flattened(line, 0.01) for line in (*small.lines, small.arrow)])
        assert small.words.at[1] + small.words.height < marks[:, 1].min()
        letter = text_box(small.letter)[:, 0]
        left, right = min(marks[:, 0].min(), letter.min() - 0.5), max(marks[:, 0].max(), letter.max() + 0.5)
        assert small.words.at[0] == pytest.approx((left + right) / 2, abs=0.6)


def test_its_arrow_points_the_way_the_front_view_is_seen(answers):
    for small in answers:
        way = small.sight.view.frame.flat_vectors(np.array([0.0, 1.0, 0.0]))         # away from the reader of the front view
        tail, tip = sorted(small.arrow.points, key=lambda end: float(end @ way))
        assert (tip - tail) @ way / np.linalg.norm(tip - tail) / np.linalg.norm(way) == pytest.approx(1.0, abs=1e-6)
        assert np.linalg.norm(np.array(small.letter.at) - tail) < np.linalg.norm(np.array(small.letter.at) - tip)
        part = shapely.union_all([shape_of(line) for line in small.lines]).convex_hull
        assert part.distance(shape_of(small.arrow)) > 1 and part.distance(shape_of(small.letter)) > 1


def test_views_sizes_and_texts_keep_15_mm_away_from_it(answers):
    for small in answers:
        group = shapely.union_all([shape_of(mark) for mark in (*small.lines, small.arrow, small.letter, small.words)])
        others = shapely.union_all([shape_of(mark) for mark in small.others])
        assert group.distance(others) >= 15.0


def test_it_shows_the_side_that_the_question_shows():
    problem, settings = problem_of(load_bank()["stepped-block"].sample(1)), settings_of(Style())
    usual = problem.sights.isometric
    other = Sight(view_of(problem.solid, "isometric", "left-front"))
    for sight in (usual, other):
        small = small_of(problem, settings, sight)
        assert small is not None
        lines = np.concatenate([flattened(line, 0.01) for line in small.lines])
        wanted = np.concatenate([np.asarray(line) for line in sight.view.visible]) * 0.5
        shift = lines.min(axis=0) - wanted.min(axis=0)
        away = shapely.distance(shapely.MultiPoint(lines), shapely.points(wanted + shift))
        assert float(away.max()) < 0.05


def test_question_and_answer_of_an_exercise_share_one_pictorial():
    problem, settings = problem_of(load_bank()["stepped-block"].sample(1)), settings_of(Style())
    asked = kinds()["views"]
    task = asked.shared(problem, settings)
    [page] = asked.pages[Role.QUESTION](problem, settings, task, Particulars(code="x"))
    drawn = [mark.points for mark in page.marks if isinstance(mark, Stroke) and mark.pen is Pen.OUTLINE and not mark.curved]
    wanted = [line for line in task.picture.view.visible if len(line) == 2]
    # moved as one to the middle of its room: by what the first line is moved, all are
    shifts = [line[0] - wanted[0][0] for line in drawn if np.allclose(line[1] - line[0], wanted[0][1] - wanted[0][0])]
    there = [{tuple(np.round(line - shift, 3).ravel().tolist()) for line in drawn} for shift in shifts]
    assert any({tuple(np.round(line, 3).ravel().tolist()) for line in wanted} <= lines for lines in there)


@pytest.mark.parametrize(("side", "tried"), [(200.0, 0.5), (85.0, 0.2), (40.0, None)])
def test_of_the_scales_the_first_that_finds_room_with_its_arrow_and_words_is_taken_or_none(side, tried):
    sight, settings = problem_of(load_bank()["stepped-block"].sample(1)).sights.isometric, settings_of(Style())
    room = taken_of((0.0, 0.0, side, side), (0.0, 0.0, 0.0, 0.0), [])
    marks = plain_beside(sight, settings, room, (0.0, 0.0), [(0.5, "1:2"), (0.2, "1:5")], 15.0)
    assert [mark.text for mark in marks if isinstance(mark, Text)] == ([] if tried is None else ["F", f"1:{1 / tried:g}"])
    inside = shapely.box(15, 15, side - 15, side - 15)
    assert all(inside.covers(shape_of(mark)) for mark in marks)


@pytest.mark.parametrize(("family", "seed", "style"), [
    ("bored-tee", 160004, Style(figures="upright", title_block="quarry", wording="en-elevations")),
    ("stepped-block", 3, Style()), ("angle-bracket-bored", 2, Style(projection="third", side="right")),
])
def test_the_arithmetic_stands_in_no_views_box_though_an_l_leaves_a_corner_free(family, seed, style):
    settings = settings_of(style)
    for draw in range(3):
        task = kinds()["views"].shared(problem := problem_of(load_bank()[family].sample(seed, draw)), settings)
        [page] = kinds()["views"].sheets(problem, settings, Particulars("X"), [Role.ANSWER])[Role.ANSWER]
        heading = settings.wording.render("spacing.heading")
        [text] = [mark for mark in page.marks if isinstance(mark, Text) and mark.text == heading]
        box = shapely.Polygon(text_box(text, 0.0))
        assert not any(box.intersects(shapely.box(*view.box)) for view in task.drawing.views)


def test_an_answer_with_drilled_holes_says_at_what_angle_they_end_in_a_point():
    # without it the views would not be fully dimensioned: the cone has no size of its own (common practice, no source)
    def said(family: str, seed: int) -> list[str]:
        problem, settings = problem_of(load_bank()[family].sample(seed)), settings_of(Style())
        task = kinds()["views"].shared(problem, settings)
        [page] = kinds()["views"].pages[Role.ANSWER](problem, settings, task, Particulars(code="x"))
        return [mark.text for mark in page.marks if isinstance(mark, Text)]

    assert "DRILL POINTS 120°" in said("counterbored-block", 1)
    assert not any("DRILL POINTS" in text for text in said("stepped-block", 1))
