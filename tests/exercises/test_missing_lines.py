"""The kind ``missing-lines``: three views less some lines, of which one set alone completes them."""

from __future__ import annotations

from collections import Counter
from importlib import import_module
from types import SimpleNamespace

import numpy as np
import pytest
import shapely

from sheetgen.bank import load_bank
from sheetgen.certainty import Assumption, LeftOut, lines_missing
from sheetgen.codes import Code
from sheetgen.exercises import Particulars, RefusedSeedError, Role, kinds, make_exercise, recalled
from sheetgen.exercises.kinds.missing_lines.chosen import FEWEST, KINDS, MOST, Line
from sheetgen.exercises.kinds.missing_lines.helping import hints_for
from sheetgen.exercises.kinds.missing_lines.task import less, numbered_lines
from sheetgen.ink import Pen, Stroke, Text
from sheetgen.problem import problem_of
from sheetgen.projection import LineKind, lines_of, view_of
from sheetgen.sheet import Style, settings_of
from tests import samples
from tests.certainty.test_missing_prisms import lines_across, planted
from tests.exercises.alternatives import others_found
from tests.exercises.alternatives_upright import others_found_upright

KIND, BANK = kinds()["missing-lines"], load_bank()

SQUARE = ("corner-block", "cross-block", "stepped-block")
UPRIGHT = {"round-ended-link": "top", "slotted-wedge": "front", "forked-foot": "right"}
"""Families with round and inclined faces along one axis: and the view in which these stand edge-on."""

FAMILIES = (*SQUARE, *UPRIGHT)


def settings_with(**style):
    return settings_of(Style(**style))


@pytest.fixture(scope="module")
def tasks():
    found = {}
    for family in FAMILIES:
        problem = problem_of(BANK[family].sample(2))
        found[family] = problem, KIND.shared(problem, settings_with(side="right"))
    return found


def words_on(page):
    return " ".join(mark.text for mark in page.marks if isinstance(mark, Text))


def ink(marks, pen):
    lines = [shapely.LineString(mark.points) for mark in marks if isinstance(mark, Stroke) and mark.pen is pen]
    return shapely.union_all(lines)


@pytest.mark.parametrize("family", FAMILIES)
def test_putting_back_the_missing_lines_gives_the_whole_views(tasks, family):
    _, task = tasks[family]
    for view in task.drawing.views:
        kept = less(view, task.chosen)
        for kind in KINDS:
            back = [line.shape for line in task.chosen.of(view.view.name, kind)]
            together = [shape.points() for shape in (*kept.lines(kind), *back)]
            assert sorted(points.tolist() for points in together) == sorted(
                shape.points().tolist() for shape in lines_of(view_of(view.view.solid, view.view.name), kind))


@pytest.mark.parametrize("family", FAMILIES)
def test_the_question_lacks_the_lines_and_the_answer_has_them(tasks, family):
    problem, task = tasks[family]
    settings = settings_with(side="right")
    sheets = KIND.drawn(task, problem, settings, Particulars("C"), (Role.QUESTION, Role.ANSWER))
    [question], [answer] = sheets.values()
    for line in task.chosen.lines:
        view = next(view for view in task.drawing.views if view.view.name == line.view)
        middle = shapely.LineString(line.shape.points() * view.scale + view.origin).interpolate(0.37, normalized=True).buffer(2.0)
        pen = Pen.HIDDEN if line.kind is LineKind.HIDDEN else Pen.OUTLINE
        own = shapely.LineString(line.shape.points() * view.scale + view.origin)
        assert ink(answer.marks, pen).intersection(own.buffer(0.01)).length > 0.5 * own.length
        assert not ink(question.marks, pen).intersection(own.buffer(0.01)).intersection(middle).length > 0.1


@pytest.mark.parametrize("family", FAMILIES)
def test_no_other_part_completes_the_views_by_as_many_lines(tasks, family):
    """Single boxes filled or cut out, and pairs of cells turned over, tried by rules written apart."""
    problem, task = tasks[family]
    found = others_found if family in SQUARE else others_found_upright
    assert found(problem.solid, task.chosen.lines, 1, pairs=family in SQUARE) == 0
    assert found(problem.solid, task.chosen.lines, 1, pairs=False) == 0
    assert task.chosen.found.certain


def test_the_search_for_others_finds_one_where_there_is_one():
    solid = problem_of(BANK["crossed-channels"].sample(1)).solid
    views = {name: view_of(solid, name) for name in ("front", "top", "right")}
    lines = [Line(name, kind, number, shape, outer=False) for name, view in views.items() for kind in KINDS
             for number, shape in enumerate(lines_of(view, kind))]
    several = 0
    for seed in range(12):
        some = [lines[k] for k in np.random.default_rng(seed).permutation(len(lines))[:5]]
        found = lines_missing(solid, list(views), [LeftOut(line.view, line.kind, line.number) for line in some], 2)
        other = others_found(solid, some, 1, pairs=False)
        assert not (other and found.certain)
        several += other > 0
    assert several


def test_the_search_for_others_finds_one_where_beside_an_inclined_face_nothing_tells_how_deep_a_pocket_is():
    solid = planted()
    lines = [Line(line.view, line.kind, line.number, None, outer=False) for line in lines_across(solid, "top")]
    hidden = [line for line in lines if line.kind is LineKind.HIDDEN]
    assert others_found_upright(solid, hidden, 2, pairs=False) == 2
    assert others_found_upright(solid, hidden[1:], 2, pairs=False) == 0


@pytest.mark.parametrize(("family", "whole"), UPRIGHT.items())
def test_of_the_view_in_which_round_and_inclined_faces_stand_edge_on_no_line_is_missing_and_the_question_says_so(
        tasks, family, whole):
    problem, task = tasks[family]
    settings = settings_with(side="right")
    [question] = KIND.drawn(task, problem, settings, Particulars("C"), [Role.QUESTION])[Role.QUESTION]
    told = words_on(question)
    assert not task.chosen.of(whole) and task.chosen.whole == (whole,)
    assert f"{settings.wording.render(f'views.{whole}')}: no line is missing." in told
    name = settings.wording.render(f"short.{'side' if whole == 'right' else whole}")
    assert f"every face is seen edge-on or in its true shape in {name}" in told


def test_the_question_tells_how_many_lines_of_each_kind_are_missing_in_each_view(tasks):
    problem, task = tasks["cross-block"]
    [question] = KIND.drawn(task, problem, settings_with(side="right"), Particulars("C"), [Role.QUESTION])[Role.QUESTION]
    told = words_on(question)
    assert f"Draw the {len(task.chosen.lines)} lines that are missing, each in the correct line type and position" in told
    assert "all faces are flat and square to the views" in told and "first angle projection" in told
    counts = Counter((line.view, line.kind) for line in task.chosen.lines)
    for (view, kind), count in counts.items():
        name = settings_with().wording.render(f"views.{view}")
        said = told[told.index(f"{name}: "):]
        assert f"{count} {kind} line" in said[:said.index(".")]


@pytest.mark.parametrize("family", FAMILIES)
def test_lines_are_spread_over_views_and_kinds_and_no_outline_is_left_out_whole(tasks, family):
    _, task = tasks[family]
    assert FEWEST <= len(task.chosen.lines) <= MOST
    for view in task.drawing.views:
        mine = task.chosen.of(view.view.name)
        assert len(mine) <= len(task.chosen.lines) // 2 + 1 and sum(line.outer for line in mine) <= 1
    if any(view.lines(LineKind.HIDDEN) for view in task.drawing.views):
        assert {line.kind for line in task.chosen.lines} == set(KINDS)


def test_numbers_run_on_through_the_views_each_once(tasks):
    for _, task in tasks.values():
        numbers = [line.number for lines in numbered_lines(task.drawing, task.chosen).values() for line in lines]
        assert numbers == list(range(1, len(task.chosen.lines) + 1))


@pytest.mark.parametrize("family", FAMILIES)
def test_a_leader_from_each_ringed_number_ends_on_its_line_and_near_no_other(tasks, family):
    _, task = tasks[family]
    marks = [mark for mark in task.numbers if isinstance(mark, Stroke)]
    rings, leaders = [mark for mark in marks if mark.closed], [mark for mark in marks if not mark.closed]
    lines = {line.number: (view, line.shape) for view in task.drawing.views
             for line in numbered_lines(task.drawing, task.chosen)[view.view.name]}
    assert len(rings) == len(leaders) == len(lines) == len(task.chosen.lines)
    drawn = [shapely.LineString(mark.points) for mark in task.drawing.marks if isinstance(mark, Stroke)]
    for number, (ring, leader) in enumerate(zip(rings, leaders, strict=True), 1):
        view, shape = lines[number]
        own = shapely.LineString(shape.points() * view.scale + view.origin)
        assert own.distance(shapely.Point(leader.points[0])) < 0.01
        others = [line for line in drawn if not own.buffer(0.05).contains(line) and not line.buffer(0.05).contains(own)]
        assert min(other.distance(shapely.Point(leader.points[0])) for other in others) > 1.0
        whole = shapely.Polygon(ring.points[::3]).buffer(0.5)
        assert not any(whole.intersects(line) for line in drawn)


@pytest.mark.parametrize("family", FAMILIES)
def test_the_answer_lists_every_line_by_view_kind_length_and_distance_from_an_edge(tasks, family):
    """Lengths and distances are taken from the ends of the lines and the size of the views, not from the sentences."""
    problem, task = tasks[family]
    settings = settings_with(side="right")
    [answer] = KIND.drawn(task, problem, settings, Particulars("C"), [Role.ANSWER])[Role.ANSWER]
    told = words_on(answer)
    for view in task.drawing.views:
        low, high = view.view.extent
        for line in numbered_lines(task.drawing, task.chosen)[view.view.name]:
            row = told[told.index(f"{line.number}. {settings.wording.render(f'views.{view.view.name}')}: "):]
            row = row[:row.find(f" {line.number + 1}. ")]
            assert row.split(": ")[1].startswith("a hidden " if line.sort == "hidden" else "a visible ")
            run = 0 if abs(line.shape.p[0] - line.shape.q[0]) < 0.01 else 1
            away = min(line.shape.p[run] - low[run], high[run] - line.shape.p[run])
            assert ("vertical" in row) == (run == 0) and f", {round(line.shape.length, 1):g} long, " in row
            assert (f" {away:g} from the " if away > 0.01 else ", on the ") in row


def test_what_the_answer_says_is_as_high_as_the_question_where_there_is_room(tasks):
    problem, task = tasks["cross-block"]
    sheets = KIND.drawn(task, problem, settings_with(side="right"), Particulars("C"), (Role.QUESTION, Role.ANSWER))
    heights = [[mark.height for mark in sheets[role][0].marks if isinstance(mark, Text) and start in mark.text]
               for role, start in ((Role.QUESTION, "Three views"), (Role.ANSWER, "that were missing"))]
    assert heights == [[3.5], [3.5]]


def test_each_line_has_its_marks_and_they_add_up(tasks):
    problem, task = tasks["cross-block"]
    pages = KIND.drawn(task, problem, settings_with(side="right"), Particulars("C"), [Role.MARKING])[Role.MARKING]
    assert "MARKING: 20 MARKS" in words_on(pages[0])


def test_parts_with_holes_that_cross_are_asked_with_the_pictorial_beside_only():
    with pytest.raises(RefusedSeedError, match="in their true shape in one view"):
        make_exercise(BANK["bored-tee"], 1, settings_with(), kind="missing-lines")
    exercise = make_exercise(BANK["bored-tee"], 1, settings_with(paper="A2", pictorial=True), kind="missing-lines")
    [question] = exercise.sheets[Role.QUESTION]
    assert ("assumed" not in words_on(question) and "NOT TO SCALE" in words_on(question)) or "ISOMETRIC" in words_on(question)


@pytest.mark.parametrize(("family", "pictorial"), [("two-way-steps", False), ("two-way-steps", True), ("trestle", False)])
def test_the_code_brings_back_the_same_answer(family, pictorial):
    exercise = make_exercise(BANK[family], 2, settings_with(pictorial=pictorial), kind="missing-lines")
    code = Code.read(exercise.particulars.code)
    assert (code.kind, code.later) == (12, int(pictorial))
    again = recalled(code, BANK, samples.SETTINGS)
    one, other = (each.sheets[Role.ANSWER][0].marks for each in (exercise, again))
    assert len(one) == len(other) and all(
        a == b if isinstance(a, Text) else np.array_equal(a.points, b.points) for a, b in zip(one, other, strict=True))


def test_hints_tell_of_a_line_that_is_missing_and_count_all_views(tasks):
    problem, task = tasks["corner-block"]
    hints = hints_for(problem, settings_with(side="right"), task)
    assert [check.view for check in hints.views] == ["front", "top", "right"] and len(hints.missed) == 1


def test_the_same_seed_leaves_out_the_same_lines_in_either_angle():
    problem = problem_of(BANK["stepped-block"].sample(5))
    told = [[(line.view, line.kind, line.number) for line in KIND.shared(problem, settings_with(projection=angle)).chosen.lines]
            for angle in ("first", "third")]
    assert told[0] == told[1]


def test_what_takes_too_long_to_prove_is_not_asked(monkeypatch):
    monkeypatch.setattr(import_module("sheetgen.certainty.search"), "MOST_CONFLICTS", 0)
    with pytest.raises(RefusedSeedError, match="of no lines that could be left out is it certain"):
        make_exercise(BANK["stepped-block"], 1, settings_with(), kind="missing-lines", draws=(0,))


def test_lines_of_which_another_set_fits_too_are_not_left_out(monkeypatch):
    chosen, asked = import_module("sheetgen.exercises.kinds.missing_lines.chosen"), []

    def certain_at_last(solid, kind, **said):
        asked.append(said["left_out"])
        return SimpleNamespace(certain=len(asked) == 3, assuming=Assumption.SQUARE)

    monkeypatch.setattr(chosen, "certainty", certain_at_last)
    task = KIND.shared(problem_of(BANK["corner-block"].sample(1)), settings_with())
    assert [(line.view, line.kind, line.number) for line in task.chosen.lines] == asked[2] != asked[0]
