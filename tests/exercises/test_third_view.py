"""The kind ``third-view``: two views with their sizes, and room for the third, of which exactly one fits."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
import shapely

from sheetgen.bank import load_bank
from sheetgen.certainty import Assumption
from sheetgen.codes import Code
from sheetgen.exercises import Particulars, RefusedSeedError, Role, kinds, make_exercise, recalled
from sheetgen.exercises.given.scheme import scheme_by_lines
from sheetgen.exercises.kinds.third_view.asked import MOST_ANSWERS, views_to_ask
from sheetgen.exercises.kinds.third_view.helping import hints_for
from sheetgen.exercises.marking import Marking
from sheetgen.exercises.numbering import numbered
from sheetgen.ink import Pen, Stroke, Text
from sheetgen.problem import problem_of
from sheetgen.projection import LineKind, view_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Style, settings_of
from sheetgen.sight import PlacedView, Sight
from sheetgen.solid import build
from sheetgen.templating import load_marking
from tests import samples
from tests.outside import planted_pairs

KIND, BANK = kinds()["third-view"], load_bank()

OUTLINES = (Pen.OUTLINE, Pen.HIDDEN, Pen.CENTRE)


def settings_with(**style):
    return settings_of(Style(**style))


def made(family="corner-block", seed=1, roles=(Role.QUESTION, Role.ANSWER), **style):
    return make_exercise(BANK[family], seed, settings_with(**style), roles, "third-view")


def ink_in(page, box, margin=-0.1):
    room = shapely.box(*box).buffer(margin)
    return [mark for mark in page.marks if isinstance(mark, Stroke) and len(mark.points) > 1
            and room.intersects(shapely.LineString(mark.points))]


def words_on(page):
    return " ".join(mark.text for mark in page.marks if isinstance(mark, Text))


@pytest.mark.parametrize(("projection", "missing"), [("first", "top"), ("third", "front"), ("first", "side")])
def test_the_question_has_two_views_and_room_for_the_third_and_the_answer_all_three(projection, missing):
    settings = settings_with(projection=projection, missing=missing)
    problem = problem_of(BANK["corner-block"].sample(1))
    task = KIND.shared(problem, settings)
    sheets = KIND.drawn(task, problem, settings, Particulars("C"), (Role.QUESTION, Role.ANSWER))
    [question], [answer] = sheets.values()
    assert ink_in(question, task.third.box) == []
    drawn = [mark for mark in ink_in(answer, task.third.box, 0.1) if mark.pen in OUTLINES]
    assert len(drawn) >= len(task.third.lines(LineKind.VISIBLE))
    for page in (question, answer):
        for view in task.given:
            assert ink_in(page, view.box)
        assert all(settings.wording.render(f"views.{view.view.name}") in words_on(page) for view in task.drawing.views)


def test_another_view_is_asked_where_a_strict_reader_marks_the_drawing_of_the_first():
    """In the front view's question an extension line runs over the plan, whichever sizes the seed draws."""
    problem = problem_of(BANK["corner-steps"].sample(5103))
    style = {"side": "right", "wording": "en-elevations", "title_block": "quarry"}
    first, free = (KIND.shared(problem, settings_with(missing=missing, **style)) for missing in ("front", ""))
    assert first.asked.view == "front" and list(first.drawing.read.slight())
    assert not list(free.drawing.read.serious()) and not list(free.drawing.read.slight())
    assert free.asked.found.certain


def test_each_size_stands_once_and_on_a_view_that_is_given():
    settings = settings_with(missing="top")
    problem = problem_of(BANK["stepped-block"].sample(7))
    task = KIND.shared(problem, settings)
    sizes = task.drawing.chosen[:len(task.drawing.items)]
    assert len(sizes) == len(problem.measures)
    assert {task.drawing.views[each.view].view.name for each in sizes} == {"front", "left"}


@pytest.mark.parametrize(("wording", "words"), [
    ("en", ("Draw the side view in the place", "all faces are flat and square to the views", "first angle projection")),
    ("en-elevations", ("Draw the end elevation in", "square to the planes of projection", "first angle projection"))])
def test_the_question_says_what_is_asked_what_may_be_assumed_and_the_projection(wording, words):
    [question] = made(missing="side", wording=wording).sheets[Role.QUESTION]
    assert all(each in words_on(question) for each in words)


def test_of_a_part_with_slopes_the_question_says_in_which_view_they_stand_edge_on():
    exercise = made("trestle", missing="top")
    assert "seen edge-on or in its true shape in the front view" in words_on(exercise.sheets[Role.QUESTION][0])


@pytest.mark.parametrize("family", ["stepped-block", "two-way-steps"])
def test_of_a_certain_part_the_seed_chooses_which_view_is_asked_for(family):
    settings = settings_with()
    asked = {next(iter(views_to_ask(problem_of(BANK[family].sample(seed)), settings))).view for seed in range(3)}
    assert asked == {"front", "top", "left"}


@pytest.mark.parametrize(("pair", "asked"), list(zip(planted_pairs.PAIRS, ("right", "front", "top", "right") * 2, strict=True)))
def test_of_a_planted_pair_no_question_is_asked_to_which_the_other_is_an_answer(pair, asked):
    """Both have the same two views and another third: whichever is drawn, the question is refused, or the sheet says what the
    other is not, or, where any answer is right, the other is among those on the marking sheet."""
    solids = [build(planted_pairs.features(body, asked)) for body in planted_pairs.PAIRS[pair]]
    for own, other in (solids, solids[::-1]):
        for any_answer in (False, True):
            settings = settings_with(side="right", missing="side" if asked == "right" else asked, any_answer=any_answer)
            problem = SimpleNamespace(solid=own, symmetry=(), identity=SimpleNamespace(seed=0))
            [found] = views_to_ask(problem, settings)
            if isinstance(found, RefusedError):
                continue
            if found.found.assuming.bored:                    # the square hole has no centre line and no diameter
                assert pair.endswith("round and square hole")
                continue
            if found.found.assuming is Assumption.SQUARE and any(
                    getattr(surface, "axis", None) is None for surface in other.surfaces):
                continue
            assert any_answer
            assert any(same(view_of(answer.solid, asked), view_of(other, asked)) for answer in found.found.others)


def same(one, other):
    """Whether two views show the same lines."""
    pairs = ((united(one, kind), united(other, kind)) for kind in ("visible", "hidden"))
    return all(a.difference(b.buffer(0.02)).length + b.difference(a.buffer(0.02)).length < 0.1 for a, b in pairs)


def united(view, kind):
    return shapely.union_all([shapely.LineString(points) for points in getattr(view, kind)])


def test_a_question_with_several_answers_is_refused_but_for_who_wants_any():
    with pytest.raises(RefusedSeedError, match="more than one front view agrees with the two others"):
        made("stepped-bridge", 2, missing="front")
    exercise = made("stepped-bridge", 2, (Role.QUESTION, Role.ANSWER, Role.MARKING), missing="front", any_answer=True)
    [question], [answer], marking = exercise.sheets.values()
    assert "any view that agrees with the two given earns all marks" in words_on(question)
    assert "One of 2 views" in words_on(answer)
    assert "1 of 2" in words_on(marking[-1]) and "2 of 2" in words_on(marking[-1])


def test_every_answer_that_is_shown_has_the_two_given_views_and_is_symmetric_if_the_question_says_so():
    problem, settings = problem_of(BANK["stepped-bridge"].sample(2)), settings_with(missing="front", any_answer=True)
    [asked] = views_to_ask(problem, settings)
    assert problem.symmetry == ("x", "y") and 1 < asked.found.count <= MOST_ANSWERS and asked.found.complete
    shown = [problem.view("front")]
    for other in asked.found.others:
        assert all(same(view_of(other.solid, view), problem.view(view)) for view in asked.given)
        front = view_of(other.solid, "front")
        wide = float(front.extent[1][0])
        turned = shapely.transform(united(front, "visible"), lambda points, wide=wide: points * (-1, 1) + (wide, 0))
        assert shapely.hausdorff_distance(turned, united(front, "visible")) < 0.02
        assert not any(same(front, before) for before in shown)
        shown.append(front)


def test_a_family_that_never_can_is_refused_plainly():
    with pytest.raises(RefusedSeedError, match="not all its faces are seen edge-on or in their true shape in one view"):
        made("dovetail-guide")


@pytest.mark.parametrize(("style", "option"), [({}, 5), ({"missing": "top"}, 3), ({"missing": "front", "any_answer": True}, 2)])
def test_the_code_brings_back_the_same_answer(style, option):
    family = "stepped-bridge" if style.get("any_answer") else "corner-block"
    exercise = made(family, 2 if style.get("any_answer") else 1, **style)
    code = Code.read(exercise.particulars.code)
    assert (code.kind, code.later) == (20, option)
    again = recalled(code, BANK, samples.SETTINGS)
    one, other = (each.sheets[Role.ANSWER][0].marks for each in (exercise, again))
    assert len(one) == len(other) and all(
        a == b if isinstance(a, Text) else np.array_equal(a.points, b.points) for a, b in zip(one, other, strict=True))


@pytest.mark.parametrize("scheme", ["by-parts", "by-deductions", "even-split"])
def test_the_marks_of_the_third_view_add_up_and_count_its_lines(scheme):
    problem, settings = problem_of(BANK["stepped-bridge"].sample(2)), settings_with(missing="side")
    task = KIND.shared(problem, settings)
    lines = numbered(task.third)
    found = scheme_by_lines(task.drawing, Marking.of(12.5, load_marking(scheme)), {"left": lines})
    assert sum(part.halves for part in found.parts) == 25 and sum(row.halves for part in found.parts for row in part.rows) == 25
    [view] = [part for part in found.parts if part.view]
    assert sum(row.count for row in view.rows) == len(lines)


@pytest.mark.parametrize("missing", ["front", "top", "side"])
def test_the_construction_builds_the_third_view_alone_and_every_line_of_it(missing):
    settings, problem = settings_with(missing=missing), problem_of(BANK["stepped-block"].sample(7))
    task = KIND.shared(problem, settings)
    help = KIND.help(problem, settings, task)
    new = [mark for stage in help.stages[1:] for mark in stage.marks if isinstance(mark, Stroke) and mark.pen in OUTLINES]
    x0, y0, x1, y1 = task.third.box
    assert new and all((mark.points >= (x0 - 12, y0 - 12)).all() and (mark.points <= (x1 + 12, y1 + 12)).all() for mark in new)
    whole = shapely.union_all([shapely.LineString(mark.points) for mark in new])
    for line in task.third.visible:
        assert whole.buffer(0.05).covers(shapely.LineString(line))


def test_where_depths_turn_the_mitre_line_is_drawn():
    """Points of the curve in which a cross hole opens are carried from top and side view, also where the front view is asked."""
    settings, problem = settings_with(missing="front"), problem_of(BANK["cross-drilled-boss"].sample(1))
    help = KIND.help(problem, settings, KIND.shared(problem, settings))
    assert any("mitre line at 45" in sentence for stage in help.stages for sentence in stage.sentences)


def test_hints_count_and_measure_the_third_view_alone():
    settings, problem = settings_with(missing="top"), problem_of(BANK["stepped-block"].sample(7))
    hints = hints_for(problem, settings, KIND.shared(problem, settings))
    assert [check.view for check in hints.views] == ["top"] and {length.view for length in hints.lengths} == {"top"}


def test_the_place_of_the_third_view_is_where_the_angle_of_projection_has_it():
    """In first angle the view from the left stands on the right of the front view, in third angle on the left (ISO 5456-2)."""
    problem = problem_of(BANK["corner-block"].sample(1))
    for projection, right in (("first", True), ("third", False)):
        task = KIND.shared(problem, settings_with(projection=projection, missing="side"))
        front = next(view for view in task.given if view.view.name == "front")
        assert (task.third.box[0] > front.box[0]) == right


def test_other_answers_are_drawn_with_hidden_lines():
    problem, settings = problem_of(BANK["stepped-bridge"].sample(2)), settings_with(missing="front", any_answer=True)
    [asked] = views_to_ask(problem, settings)
    view = PlacedView.alone(Sight(view_of(asked.found.others[0].solid, "front")))
    assert view.lines(LineKind.HIDDEN)


def test_a_worksheets_style_carries_what_is_missing():
    style = replace(Style(), missing="top", any_answer=True)
    assert (settings_of(style).missing, settings_of(style).any_answer) == ("top", True)
