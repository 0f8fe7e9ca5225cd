"""The kind ``section``: question, answer, marks, in both usages and projections."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely

from sheetgen.bank import load_bank
from sheetgen.exercises import Particulars, Role, kinds, sheets_of
from sheetgen.exercises.drawing import drawing_of
from sheetgen.exercises.kinds.section.cut import cut_along
from sheetgen.exercises.kinds.section.task import lines_of, task_of
from sheetgen.exercises.marking.record import usual_marking
from sheetgen.exercises.marking.scheme import scheme_of
from sheetgen.ink import Fill, Pen, Stroke, Text, text_box
from sheetgen.problem import problem_of
from sheetgen.problem.cutting import CuttingPlane
from sheetgen.projection import LineKind
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Style, settings_of

BANK = load_bank()
FIRST, THIRD = (settings_of(Style(projection=projection)) for projection in ("first", "third"))


def task(name, seed, settings=FIRST):
    return task_of(problem_of(BANK[name].sample(seed)), settings)


def words(pages):
    return " ".join(mark.text for page in pages for mark in page.marks if isinstance(mark, Text))


def strokes(marks, pen):
    return [mark for mark in marks if isinstance(mark, Stroke) and mark.pen is pen]


@pytest.fixture(scope="module", params=["first", "third"])
def offset(request):
    """A block with two holes at different depths, along a plane that turns once."""
    settings = {"first": FIRST, "third": THIRD}[request.param]
    return task("counterbored-block", 3, settings), settings


def test_the_question_says_which_view_is_in_section_where_the_plane_lies_and_where_it_turns():
    problem = problem_of(BANK["counterbored-block"].sample(3))
    sheets = sheets_of(problem, FIRST, kind="section")
    asked, sizes = words(sheets[Role.QUESTION]), problem.sizes
    [plane] = [plane for plane in problem.planes if plane.sort == "offset"]
    assert "in section on A-A" in asked and "SECTION A-A" in words(sheets[Role.ANSWER])
    middle = 2 * sizes["up"] == sizes["depth"]
    assert ("it lies half way between front and rear" if middle else f"it lies {sizes['up']:g} mm behind the front") in asked
    assert f"from there on lies {sizes['pin_y']:g} mm behind the front" in asked
    assert f"{plane.turns[0]:g} mm from the left it steps at right angles" in asked


@pytest.mark.parametrize("wording", ["en", "en-elevations"])
def test_a_half_section_is_called_so_under_its_view_and_a_full_one_is_not(wording):
    settings, found = settings_of(Style(wording=wording)), set()
    problem = problem_of(BANK["bearing-cap"].sample(7201))
    for plane in problem.planes:
        cut = cut_along(problem, settings, plane)
        found.add((plane.sort, cut.name(cut.drawn, settings)))
    assert found == {("full", "SECTION A-A"), ("half", "HALF SECTION A-A")}


@pytest.mark.parametrize(("wording", "says"), [("en", "front view"), ("en-elevations", "front elevation")])
def test_the_question_speaks_either_english_usage(wording, says):
    settings = settings_of(Style(wording=wording))
    asked = words(sheets_of(problem_of(BANK["bored-tee"].sample(2)), settings, (Role.QUESTION,), "section")[Role.QUESTION])
    assert f"{says}, looking" in asked or f"{says} in the direction" in asked
    assert f"parallel to the {says}" in asked and "half way between front and rear" in asked


def test_no_hidden_line_is_drawn_in_the_view_in_section_and_all_are_in_the_others(offset):
    cut, views = offset[0].cut, offset[0].drawing.views
    problem = problem_of(BANK["counterbored-block"].sample(3))
    assert problem.view(cut.drawn).hidden_lines and problem.view("left").hidden_lines
    for view in views:
        shown = () if view.view.name == cut.drawn else problem.view(view.view.name).hidden_lines
        assert len(view.lines(LineKind.HIDDEN)) == len(shown)


def test_hatching_lies_on_the_cut_faces_and_clear_of_all_figures(offset):
    cut, drawing = offset[0].cut, offset[0].drawing
    [view] = [view for view in drawing.views if view.view.name == cut.drawn]
    faces = shapely.transform(cut.section.hatched, lambda points: points * view.scale + view.origin)
    lines = shapely.MultiLineString([mark.points for mark in strokes(drawing.marks, Pen.HATCHING)])
    assert lines.length > 100 and faces.buffer(1e-6).covers(lines)
    for text in (mark for mark in drawing.marks if isinstance(mark, Text)):
        assert not shapely.Polygon(text_box(text, 0.0)).intersects(lines)


def test_the_planes_line_is_thick_at_ends_and_bends_and_thin_between(offset):
    cut, drawing = offset[0].cut, offset[0].drawing
    thick = strokes(drawing.marks, Pen.CUTTING)
    # Two ends, two bends, the shafts of two arrows.
    assert len(thick) == 6 and sorted(len(mark.points) for mark in thick) == [2, 2, 2, 2, 3, 3]
    [view] = [view for view in drawing.views if view.view.name == "top"]
    whole = shapely.LineString(cut.path.whole(view)).buffer(0.01)
    assert any(whole.covers(shapely.LineString(mark.points)) for mark in strokes(drawing.marks, Pen.CENTRE))
    assert not any(shapely.intersection(whole, shapely.LineString(line)).length > 0.5 for line in view.centres)


def test_arrows_point_where_the_reader_of_the_section_looks_and_bear_a_letter_each(offset):
    drawing = offset[0].drawing
    letters = [mark for mark in drawing.marks if isinstance(mark, Text) and mark.text == "A"]
    heads = [mark for mark in drawing.marks if isinstance(mark, Fill) and np.ptp(mark.points, axis=0).max() > 3.5]
    assert len(letters) == len(heads) == 2
    pairs = zip(sorted(letters, key=lambda text: text.at), sorted(heads, key=lambda fill: tuple(fill.points[0])), strict=True)
    for letter, head in pairs:
        tip, back = head.points[0], head.points[1:].mean(axis=0)
        assert (tip - back)[1] == pytest.approx(4.0) and letter.at[1] < back[1]          # in the top view the front is below


def test_the_same_picture_stands_in_first_and_third_angle():
    one, other = (task("counterbored-block", 3, settings).drawing for settings in (FIRST, THIRD))
    for view, same in zip(one.views, other.views, strict=True):
        assert [line.points().tolist() for line in view.view.visible_lines] == [
            line.points().tolist() for line in same.view.visible_lines]


def test_each_size_of_the_part_is_on_the_answer_once(offset):
    drawing = offset[0].drawing
    problem = problem_of(BANK["counterbored-block"].sample(3))
    assert sorted(k for item in drawing.items for k in item.measures) == list(range(len(problem.measures)))
    assert len(drawing.chosen) == len(drawing.items) + len(drawing.views)


def test_half_a_section_meets_the_outside_in_the_centre_line():
    problem = problem_of(BANK["conical-boss"].sample(1))
    cut = cut_along(problem, FIRST, next(plane for plane in problem.planes if plane.sort == "half"))
    middle = float(problem.solid.size[0]) / 2
    assert any(abs(line.p[0] - middle) + abs(line.q[0] - middle) < 1e-6 for line in cut.section.view.centre_lines)
    assert cut.section.cut.bounds[0] > middle


def test_seeds_take_the_planes_of_a_family_in_turn_and_another_where_one_cannot_be_drawn():
    family = BANK["conical-boss"]
    assert {task("conical-boss", seed).cut.plane.sort for seed in (1, 2)} == {"full", "half"}
    problem = problem_of(family.sample(1))
    fair = problem.planes[0]
    spoilt = CuttingPlane("full", "front", (float(problem.solid.size[1]),))
    assert task_of(replace(problem, planes=(fair, spoilt)), FIRST).cut.plane == fair
    with pytest.raises(RefusedError, match="in section"):
        task_of(replace(problem, planes=(spoilt,)), FIRST)


def test_the_marker_looks_at_hatching_and_at_the_planes_line(offset):
    drawing, settings = offset[0].drawing, offset[1]
    scheme = scheme_of(drawing, settings.side, usual_marking())
    sorts = {part.name: [row.sort for row in part.rows] for part in scheme.parts}
    assert "hatching" in sorts["front"] and "cutting_plane" in sorts["top"] and "hidden" not in sorts["front"]
    assert sum(part.halves for part in scheme.parts) == scheme.marking.halves
    assert all(sum(row.halves for row in part.rows) == part.halves for part in scheme.parts)


def test_there_are_sheets_for_every_role_and_the_key():
    problem = problem_of(BANK["bored-tee"].sample(1))
    sheets = kinds()["section"].sheets(problem, FIRST, Particulars(code="X"), (*kinds()["section"].roles, Role.KEY))
    assert all(sheets.values()) and strokes(sheets[Role.KEY][0].marks, Pen.HATCHING)


def test_planes_are_found_for_a_family_that_declares_none():
    assert not BANK["stepped-block"].sample(1).sections
    assert {plane.view for plane in problem_of(BANK["stepped-block"].sample(1)).planes} == {"front", "side"}
    [front, _] = problem_of(BANK["half-round-saddle"].sample(1)).planes
    assert front.sort == "full"


def test_at_least_twelve_families_declare_their_planes_and_all_three_sorts_are_among_them():
    declared = [spec for family in BANK.values() for spec in family.sections]
    assert sum(bool(family.sections) for family in BANK.values()) >= 12
    assert {spec.section for spec in declared} == {"full", "half", "offset"}


def test_a_rib_that_is_cut_along_its_length_is_told_to_be_left_without_hatching():
    asked = words(sheets_of(problem_of(BANK["flanged-foot"].sample(2)), FIRST, (Role.QUESTION,), "section")[Role.QUESTION])
    assert "Ribs that are cut along their length are left without hatching." in asked
    other = words(sheets_of(problem_of(BANK["countersunk-plate"].sample(1)), FIRST, (Role.QUESTION,), "section")[Role.QUESTION])
    assert "Ribs" not in other


def test_of_a_half_section_the_question_says_how_the_plane_ends_and_that_neither_half_has_hidden_lines():
    problem = problem_of(BANK["forked-foot"].sample(2))
    [plane] = [plane for plane in problem.planes if plane.sort == "half"]
    cut = cut_along(problem, FIRST, plane)
    said = " ".join(lines_of(problem, FIRST, cut, drawing_of(problem, FIRST, dressing=cut).layout, "1:1"))
    assert "Its line runs to the middle" in said and "both halves of the section" in said


@pytest.mark.parametrize(("away", "drawn"), [(1.0, False), (2.5, False), (4.0, True)])
def test_a_cutting_plane_beside_a_face_that_is_parallel_to_it_is_refused(away, drawn):
    problem = problem_of(BANK["forked-foot"].sample(1))
    front = float(problem.solid.size[1]) / 2 - problem.sizes["eye"]                  # the arms' front face
    plane = CuttingPlane("full", "front", (front + away,))
    if drawn:
        assert cut_along(problem, FIRST, plane).section.area > 0
    else:
        with pytest.raises(RefusedError, match="too near a face"):
            cut_along(problem, FIRST, plane)
