"""The kind ``pictorial``: three views with their sizes, and the isometric or oblique pictorial that they tell."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest
import shapely

from sheetgen.certainty import Assumption, certainty
from sheetgen.codes import Code
from sheetgen.exercises import Particulars, RefusedSeedError, Role, recalled
from sheetgen.exercises.kinds.pictorial import task as pictorial_task
from sheetgen.exercises.kinds.pictorial.built import steps_of
from sheetgen.exercises.kinds.pictorial.helping import hints_for
from sheetgen.exercises.kinds.pictorial.marked import scheme_for, sorted_lines
from sheetgen.exercises.kinds.pictorial.shown import sights_asked
from sheetgen.exercises.marking import Marking
from sheetgen.exercises.served import deciding, look_at
from sheetgen.ink import Pen, Stroke, Text
from sheetgen.problem import problem_of
from sheetgen.projection import LineKind
from sheetgen.refusals import RefusedError
from sheetgen.sheet import DRAWN, Style
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.templating import load_marking
from tests import samples
from tests.exercises.pictorials import BANK, KIND, made, settings_with, task_of, words_on


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("projection", ["first", "third"])
def test_the_question_has_three_views_with_every_size_and_the_answer_the_pictorial_alone(projection, side):
    _, settings, task = task_of("stepped-block", 1, projection=projection, side=side)
    exercise = made("stepped-block", 1, projection=projection, side=side)
    [question], [answer] = exercise.sheets.values()
    assert [view.view.name for view in task.drawing.views] == ["front", "top", side]
    for measure in exercise.problem.measures:
        assert measure.text in words_on(question)
    for view in task.drawing.views:
        assert settings.wording.render(f"views.{view.view.name}") in words_on(question)
        assert settings.wording.render(f"views.{view.view.name}") not in words_on(answer)
    assert "ISOMETRIC DRAWING" in words_on(answer) and "ISOMETRIC DRAWING" not in words_on(question)
    assert not any(isinstance(mark, Stroke) and mark.pen is Pen.HIDDEN for mark in answer.marks)


@pytest.mark.parametrize(("wording", "words"), [
    ("en", ("the front view, the top view and the side view", "Hidden lines need not be drawn", "Show by an arrow F",
            "all faces are flat and square to the views")),
    ("en-elevations", ("the front elevation, the plan and the end elevation", "square to the planes of projection"))])
@pytest.mark.parametrize(("drawn", "named"), [
    ("isometric", "Draw full size an isometric drawing of it, as it is seen from the front, from the left and from above"),
    ("cavalier", "oblique drawing (cavalier)"), ("cabinet", "shortened to half")])
def test_the_question_says_what_is_drawn_from_where_it_is_seen_and_what_may_be_assumed(drawn, named, wording, words):
    [question] = made("stepped-block", 1, drawn=drawn, wording=wording).sheets[Role.QUESTION]
    assert all(each in words_on(question) for each in (named, "first angle projection", *words))


def test_a_part_of_which_nothing_is_proved_is_refused_plainly():
    with pytest.raises(RefusedSeedError, match="not all its faces are seen edge-on or in their true shape in one view"):
        made("dovetail-guide")


def test_what_is_asked_has_one_answer_under_what_the_question_says():
    for family, assumed in (("corner-block", Assumption.SQUARE), ("trestle", Assumption.UPRIGHT_IN_FRONT),
                            ("counterbored-block", Assumption.SQUARE_BORED)):
        problem, settings, task = task_of(family, 1)
        assert task.found.certain and task.found.assuming is assumed
        assert certainty(problem.solid, "pictorial", side="left", symmetry=problem.symmetry).certain
        which = "given.square" if assumed.plain is Assumption.SQUARE else "given.upright"
        said = settings.wording.render(which, view="the front view")
        assert any(line.startswith(said) for line in task.lines)


def test_a_part_that_is_not_certain_is_refused(monkeypatch):
    problem, settings, task = task_of()
    monkeypatch.setattr(pictorial_task, "certainty", lambda *_, **__: replace(task.found, certain=False, count=2))
    with pytest.raises(RefusedError, match="more than one part agrees with the three views"):
        KIND.shared(problem, settings)


@pytest.mark.parametrize("drawn", DRAWN)
def test_the_pictorial_shows_the_side_that_the_side_view_shows_if_it_can_be_read_from_there(drawn):
    for side in ("left", "right"):
        settings, problem = settings_with(drawn=drawn, side=side), problem_of(BANK["vee-guide"].sample(1))
        assert side in sights_asked(problem, settings, side)[0].view.frame.shows


def test_a_slope_that_is_a_sliver_from_one_side_is_shown_from_the_other():
    settings, problem = settings_with(drawn="cabinet", side="left"), problem_of(BANK["slotted-wedge"].sample(3))
    assert "right" in sights_asked(problem, settings, "left")[0].view.frame.shows


@pytest.mark.parametrize("wording", ["en", "en-elevations"])
def test_the_question_says_on_which_sheet_to_draw(wording):
    [question] = made("stepped-block", 1, wording=wording).sheets[Role.QUESTION]
    assert "Draw the answer on a separate sheet of this size." in words_on(question)
    given, sheet = made("stepped-block", 1, wording=wording, grid=True).sheets[Role.QUESTION]
    assert "Draw on the second page of this question" in words_on(given) and "separate sheet" not in words_on(given)
    numbered = [settings_with(wording=wording).wording.render("sheet_of", sheet=k, sheets=2) for k in (1, 2)]
    assert [any(mark.text in (of, of.replace(" OF ", "/")) for mark in page.marks if isinstance(mark, Text))
            for page, of in zip((given, sheet), numbered, strict=True)] == [True, True]


@pytest.mark.parametrize("drawn", DRAWN)
def test_with_a_grid_the_question_has_a_second_sheet_and_says_where_to_begin(drawn):
    exercise = made("stepped-block", 1, (Role.QUESTION, Role.ANSWER, Role.BLANK), drawn=drawn, grid=True)
    given, sheet = exercise.sheets[Role.QUESTION]
    [blank] = exercise.sheets[Role.BLANK]
    assert "has a grid of 5 mm" in words_on(given) and "GRID: 5 mm" in words_on(sheet) and "GRID: 5 mm" in words_on(blank)
    thin = [mark for mark in sheet.marks if isinstance(mark, Stroke) and mark.pen is Pen.CONSTRUCTION]
    assert len(thin) > 100
    settings = settings_with(drawn=drawn, grid=True)
    x0, y0, x1, y1 = titleblock_box(settings.block, settings.paper)
    block = shapely.box(x0, y0, x1, y1)
    assert not any(block.intersects(shapely.LineString(mark.points)) for mark in thin)
    [plain] = made("stepped-block", 1, (Role.QUESTION, Role.ANSWER, Role.BLANK), drawn=drawn).sheets[Role.BLANK]
    assert not any(isinstance(mark, Stroke) and mark.pen is Pen.CONSTRUCTION for mark in plain.marks)


@pytest.mark.parametrize("option", range(6))
def test_the_code_brings_back_the_same_answer(option):
    drawn, grid = DRAWN[option // 2], bool(option % 2)
    exercise = made("counterbored-block", 2, drawn=drawn, grid=grid, side="right")
    code = Code.read(exercise.particulars.code)
    assert (code.kind, code.later) == (16, option)
    settings = settings_with(side="right")
    again = recalled(code, BANK, settings, (Role.QUESTION, Role.ANSWER))
    for role in (Role.QUESTION, Role.ANSWER):
        for one, other in zip(exercise.sheets[role], again.sheets[role], strict=True):
            assert len(one.marks) == len(other.marks)
            assert all(a == b if isinstance(a, Text) else np.array_equal(a.points, b.points)
                       for a, b in zip(one.marks, other.marks, strict=True))
    assert KIND.told(samples.SETTINGS, 6) is None


@pytest.mark.parametrize("scheme", ["by-parts", "by-deductions", "even-split"])
@pytest.mark.parametrize(("family", "sorts"), [
    ("corner-block", ["along"]), ("trestle", ["along", "sloping"]), ("counterbored-block", ["along", "curves", "centre"])])
@pytest.mark.parametrize("marks", [1, 4.5, 20])
def test_the_marks_add_up_and_count_every_line_of_the_pictorial(scheme, family, sorts, marks):
    _, _, task = task_of(family, 1)
    found = scheme_for(task, Marking.of(marks, load_marking(scheme)))
    assert sum(part.halves for part in found.parts) == 2 * marks
    assert all(sum(row.halves for row in part.rows) == part.halves for part in found.parts)
    lines = sorted_lines(task.figure.view)
    assert len(lines) == len(task.figure.view.lines(LineKind.VISIBLE))
    assert [line.number for line in lines] == list(range(1, len(lines) + 1))
    if marks == 20:
        [view] = [part for part in found.parts if part.view]
        assert [row.sort for row in view.rows] == sorts
        assert sum(row.count for row in view.rows if row.sort != "centre") == len(lines)
        for row in view.rows:
            assert row.first == next((line.number for line in lines if line.sort == row.sort), 0)
        assert [part.name for part in found.parts] == ["box", "isometric", "direction", "bold"]


def test_the_construction_draws_every_line_once_and_ends_with_the_answer():
    for family, drawn in (("stepped-block", "isometric"), ("counterbored-block", "cavalier"), ("shaft-support", "cabinet")):
        problem, settings, task = task_of(family, 1, drawn=drawn)
        steps = steps_of(problem, settings, task)
        drawn_lines = [mark for step in steps for mark in step.new if isinstance(mark, Stroke) and mark.pen is Pen.OUTLINE]
        assert len(drawn_lines) == len(task.figure.lines)
        assert {mark.points.tobytes() for mark in drawn_lines} == {mark.points.tobytes() for mark in task.figure.lines}
        assert not steps[0].new and len(steps[0].thin) == 9
        assert [re.match(r"STEP (\d+) OF (\d+)", step.heading).groups() for step in steps] == [
            (str(k), str(len(steps))) for k in range(1, len(steps) + 1)]


def test_stages_tell_how_far_each_piece_reaches():
    problem, settings, task = task_of("corner-block", 1)
    said = " ".join(sentence for step in steps_of(problem, settings, task) for sentence in step.sentences)
    wide, deep, high = (f"{size:g}" for size in problem.solid.size)
    assert f"{wide} wide, {deep} deep, {high} high" in said
    for measure in problem.measures:                                             # whatever has a size is set off somewhere
        if measure.axis is not None:
            levels = [float(end.point[measure.axis]) for end in measure.ends]
            assert any(re.search(rf"\b{level:g} to |to {level:g}\b", said) for level in levels)


@pytest.mark.parametrize("drawn", DRAWN)
def test_hints_give_five_lengths_that_measure_true_on_the_drawing(drawn):
    problem, settings, task = task_of("corner-block", 1, drawn=drawn)
    hints = hints_for(problem, settings, task)
    assert len(hints.lengths) == 5 and {length.view for length in hints.lengths} == {drawn}
    corners = np.concatenate([stroke.points for stroke in task.figure.box])
    apart = np.hypot(*(corners[:, None] - corners).transpose(2, 0, 1))
    for length in hints.lengths[2:]:
        assert np.abs(apart - length.paper).min() < 1e-6
    x0, y0, x1, y1 = task.figure.view.box
    assert [length.paper for length in hints.lengths[:2]] == pytest.approx([x1 - x0, y1 - y0])
    [check] = hints.views
    assert check.lines == len(sorted_lines(task.figure.view)) + len(task.figure.centres) and check.counts["hidden"] == 0


@pytest.mark.parametrize("drawn", DRAWN)
def test_every_role_is_drawn_on_small_paper_too(drawn):
    _, _, task = task_of("stepped-bridge", 1, drawn=drawn, paper="A4")
    assert task.drawing.layout.scale_name == "1:2"
    exercise = made("stepped-bridge", 1, KIND.roles, drawn=drawn, paper="A4")
    assert all(exercise.sheets[role] for role in KIND.roles)
    assert "1:2" in words_on(exercise.sheets[Role.ANSWER][0])


def test_how_it_is_drawn_decides_which_families_serve_and_a_grid_does_not():
    assert deciding(Style(drawn="cabinet", grid=True)) == Style(drawn="cabinet")
    trestle = BANK["trestle"]
    [isometric], [cabinet] = (look_at((Style(drawn=drawn), ["pictorial"]), trestle) for drawn in ("isometric", "cabinet"))
    assert isometric.share == "all" and cabinet.share == "some" and "edge-on in the pictorial" in cabinet.reason


def test_it_is_easier_on_a_grid_and_obliquely():
    adds = [KIND.adds(settings_with(**style)) for style in ({}, {"grid": True}, {"drawn": "cabinet"})]
    assert adds[0] > adds[1] > 0 and adds[0] > adds[2] > 0


def test_the_sheets_are_the_same_whichever_roles_are_made():
    problem, settings, task = task_of("counterbored-block", 1)
    one = KIND.drawn(task, problem, settings, Particulars("C"), (Role.ANSWER,))
    other = KIND.sheets(problem, settings, Particulars("C"), KIND.roles)
    for a, b in zip(one[Role.ANSWER][0].marks, other[Role.ANSWER][0].marks, strict=True):
        assert a == b if isinstance(a, Text) else np.array_equal(a.points, b.points)
