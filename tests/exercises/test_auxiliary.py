"""The kind ``auxiliary``: which face, where its view stands, how it is carried over, what its sheets say."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
import shapely

from sheetgen.bank.features import Block, Slant
from sheetgen.codes import Code
from sheetgen.exercises import Particulars, RefusedSeedError, Role, kinds, make_exercise, sheets_of
from sheetgen.exercises.coding import style_of
from sheetgen.exercises.kinds.auxiliary.built import Built, steps_of
from sheetgen.exercises.kinds.auxiliary.face import faces_to_ask, inclined_faces
from sheetgen.exercises.kinds.auxiliary.helping import help_with, hints_for
from sheetgen.exercises.kinds.auxiliary.marked import scheme_for
from sheetgen.exercises.kinds.auxiliary.pages import answer_marks, findings
from sheetgen.exercises.kinds.auxiliary.shown import true_shape, whole_view
from sheetgen.exercises.kinds.auxiliary.task import Task, task_of
from sheetgen.exercises.marking.record import Marking, usual_marking
from sheetgen.exercises.recalling import recalled
from sheetgen.exercises.served import deciding
from sheetgen.ink import Pen, Stroke, Text, flattened, text_box
from sheetgen.problem import problem_of
from sheetgen.projection import LineKind, frame_of
from sheetgen.refusals import RefusedError, UnsuitedError
from sheetgen.sheet import Style, settings_of
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.solid import build
from sheetgen.templating import load_marking
from tests import samples
from tests.exercises.auxiliaries import BANK, first_of, settings_with

CASES = [("slotted-wedge", "first"), ("slotted-wedge", "third"), ("chamfered-saddle", "first"), ("slant-cut-spigot", "first"),
         ("angle-bracket-bored", "first"), ("angle-bracket-bored", "third"), ("skew-ended-tunnel", "first"), ("trestle", "third")]
"""Faces that stand edge-on in the front, the side and the top view, with straight edges and with ellipses."""


NO_ROOM_WHOLE = ("angle-bracket-bored", "skew-ended-tunnel")
"""Families of which a whole auxiliary view finds no room with most seeds."""


def strokes(marks, pen) -> list[Stroke]:
    return [mark for mark in marks if isinstance(mark, Stroke) and mark.pen is pen]


def words(pages) -> str:
    return " ".join(mark.text for page in pages for mark in page.marks if isinstance(mark, Text))


def edge_of(task: Task) -> np.ndarray:
    """The unit direction of the face's edge on the sheet, from the part's own normal."""
    home = task.folded.turned.home
    across = home.view.frame.axes @ task.asked.face.frame.toward
    return np.array([across[1], -across[0]]) / np.hypot(*across)


def middle(points) -> np.ndarray:
    points = np.concatenate(points)
    return (points.min(axis=0) + points.max(axis=0)) / 2


@pytest.mark.parametrize(("name", "projection"), CASES)
def test_in_third_angle_it_stands_on_the_side_from_which_the_face_is_seen_and_in_first_beyond_the_part(name, projection):
    _, _, task = first_of(name, projection)
    home = task.folded.turned.home
    outward = home.view.frame.axes @ task.asked.face.frame.toward
    drawn = strokes(task.folded.turned.marks(), Pen.OUTLINE)
    points = np.concatenate([flattened(mark, 0.01) for mark in drawn]) @ outward
    part = np.concatenate(home.visible) @ outward
    if projection == "third":
        assert points.min() > part.max() + 10
    else:
        assert points.max() < part.min() - 10


@pytest.mark.parametrize(("name", "projection"), CASES)
def test_projectors_are_square_to_the_edge_of_the_face_and_thin(name, projection):
    _, settings, task = first_of(name, projection)
    thin = strokes(answer_marks(settings, task), Pen.CONSTRUCTION)
    assert len(thin) >= 2
    for mark in thin:
        way = mark.points[-1] - mark.points[0]
        assert abs(way @ edge_of(task)) < 1e-6 * np.hypot(*way)
    [before] = strokes(task.folded.before.marks(), Pen.DIMENSION)
    way = before.points[1] - before.points[0]
    assert abs(abs(way @ edge_of(task)) - np.hypot(*way)) < 1e-6


@pytest.mark.parametrize(("name", "projection"), CASES)
def test_every_point_of_the_face_lies_as_far_from_one_reference_line_as_from_the_other(name, projection):
    _, _, task = first_of(name, projection)
    folded, face, solid = task.folded, task.asked.face, task.asked.face.solid
    beside = next(view for view in task.drawing.views if view.view.name == task.asked.beside)
    on = np.abs(solid.vertices @ face.frame.toward - face.level) < 1e-6
    corners = solid.vertices[on]
    there = folded.turned.paper(corners @ face.frame.axes.T)

    def from_line(points, fold):
        start, stop = fold.ends
        way = (stop - start) / np.hypot(*(stop - start))
        return np.abs((points - start) @ np.array([-way[1], way[0]]))

    assert from_line(there, folded.before) == pytest.approx(from_line(beside.paper(corners), folded.between), abs=1e-6)
    # And each stands on its own projector: as far along the edge as in the view beside.
    assert there @ edge_of(task) == pytest.approx(folded.turned.home.paper(corners) @ edge_of(task), abs=1e-6)


def test_a_face_that_looks_towards_the_other_view_has_its_true_shape_between_the_two():
    _, _, task = first_of("tapered-upright", "first")
    front, side = (next(view for view in task.drawing.views if (view.view.name == "front") is on) for on in (True, False))
    points = np.concatenate([flattened(mark, 0.1) for mark in strokes(task.folded.turned.marks(), Pen.OUTLINE)])
    middle = (points[:, 0].min() + points[:, 0].max()) / 2
    assert task.asked.home != "front" and side.box[0] > middle > points[:, 0].min() > front.box[2]
    assert not shapely.MultiPoint(points).convex_hull.buffer(5.0).intersects(shapely.box(*side.box))


DESK = """\
title: Desk with a cheek
topics: [inclined faces]
rung: 2
sizes:
  width: {from: 90, to: 110, step: 5}
features:
  - {add: block, name: desk, x: [0, width], y: [0, 70], z: [0, 52]}
  - {cut: slant, name: ramp, plane: right, line: [[0, 22], [54, 52]], remove: above}
  - {add: block, name: cheek, x: [0, 20], y: [0, 70], z: [0, 60]}
measures:
  - cheek.left to desk.right
  - cheek.front to cheek.back
  - cheek.bottom to cheek.top
  - cheek.left to cheek.right
  - desk.bottom to desk.top
  - desk.bottom to edge of ramp.face and desk.front along z
  - edge of ramp.face and desk.top to desk.back along y
"""


def test_a_face_behind_a_cheek_is_projected_from_the_other_side_view(tmp_path):
    """Seen from the left a cheek hides the slope: the course's own side view would show it dashed."""
    desk = samples.family_of(tmp_path / "bank", DESK)
    for side in ("left", "right"):
        problem = problem_of(desk.sample(1))
        [face] = faces_to_ask(problem, settings_with(side=side))
        assert face.homes(problem, settings_with(side=side)) == ("right",)


def test_the_same_picture_is_drawn_in_either_angle():
    one, other = (first_of("slotted-wedge", projection)[2] for projection in ("first", "third"))
    if one.asked.home == other.asked.home and one.sized.identity == other.sized.identity:
        assert [line.points().tolist() for line in one.asked.view.visible_lines] == [
            line.points().tolist() for line in other.asked.view.visible_lines]
    problem = problem_of(BANK["slotted-wedge"].sample(1))
    [face, *_] = faces_to_ask(problem, settings_with())
    assert float(face.normal @ np.cross(*first_axes(problem, face))) == pytest.approx(1.0)


def first_axes(problem, face):
    """The axes of the auxiliary view: it is no mirror image, so that right, up and towards the reader turn as they should."""
    return whole_view(problem, face, problem.view("front").frame).frame.axes


def test_an_inclined_face_is_parallel_to_one_axis_and_to_no_other():
    for name in ("slotted-wedge", "bevelled-block", "chamfered-saddle", "stepped-block"):
        for face in inclined_faces(problem_of(BANK[name].sample(1)).solid):
            assert sorted(np.abs(face.normal) < 1e-9) == [False, False, True] and abs(face.normal[face.axis]) < 1e-9
    assert not list(inclined_faces(problem_of(BANK["stepped-block"].sample(1)).solid))
    assert not list(inclined_faces(problem_of(BANK["bevelled-block"].sample(1)).solid))       # oblique: inclined to all three


def test_a_plane_of_symmetry_is_traced_only_where_it_is_seen_edge_on():
    """The halves that are alike lie left and right of a plane at which an auxiliary view looks aslant."""
    for name, traced in (("roofed-slide", 0), ("slotted-wedge", 1)):
        problem = problem_of(BANK[name].sample(1))
        [face, *_] = faces_to_ask(problem, settings_with())
        assert len(whole_view(problem, face, problem.view("front").frame).centre_lines) == traced


def test_whether_a_family_serves_is_found_out_without_drawing():
    serves = kinds()["auxiliary"].serves
    serves(problem_of(BANK["slotted-wedge"].sample(1)), settings_with(projection="third"))
    with pytest.raises(UnsuitedError):
        serves(problem_of(BANK["stepped-block"].sample(1)), settings_with())
    with pytest.raises(RefusedError):
        serves(problem_of(BANK["dovetail-guide"].sample(1)), settings_with())


def test_families_without_an_inclined_face_are_refused_with_the_reason():
    with pytest.raises(UnsuitedError, match="no face that is inclined"):
        task_of(problem_of(BANK["stepped-block"].sample(1)), settings_with())
    with pytest.raises(RefusedSeedError, match="no face that is inclined"):
        make_exercise(BANK["bevelled-block"], 1, settings_with(), kind="auxiliary")
    assert not kinds()["auxiliary"].of_every


def test_the_seed_takes_equal_faces_in_turn_and_the_same_seed_the_same():
    chosen = [faces_to_ask(problem_of(BANK["trestle"].sample(seed)), settings_with())[0].normal for seed in (1, 2, 1)]
    assert np.allclose(chosen[0], chosen[2]) and not np.allclose(chosen[0], chosen[1])


def test_the_question_has_the_reference_lines_and_the_arrow_but_no_line_of_the_answer():
    problem, settings, task = first_of("slotted-wedge", "third")
    [question] = sheets_of(problem, settings, (Role.QUESTION,), "auxiliary")[Role.QUESTION]
    said = [mark.text for mark in question.marks if isinstance(mark, Text)]
    assert {"X", "Y", "X1", "Y1", "A"} <= set(said) and "VIEW A, TRUE SHAPE" not in said and not {"a", "b"} & set(said)
    assert not strokes(question.marks, Pen.CONSTRUCTION)
    room = task.folded.footprint.buffer(-3.0)
    inside = [mark for mark in question.marks if isinstance(mark, Stroke) and mark.pen is not Pen.FRAME
              and shapely.LineString(flattened(mark, 0.1)).intersects(room)]
    ends = [mark.points for mark in task.folded.before.marks() if isinstance(mark, Stroke)]
    assert all(any(np.allclose(mark.points, line) for line in ends) for mark in inside)


@pytest.mark.parametrize(("wording", "says"), [("en", "front view"), ("en-elevations", "front elevation")])
@pytest.mark.parametrize("whole", [False, True])
def test_the_question_says_what_is_to_be_drawn_in_either_english_usage(wording, says, whole):
    problem, _, _ = first_of("slotted-wedge", "third", whole)
    settings = settings_with(projection="third", wording=wording, whole=whole)
    asked = words(sheets_of(problem, settings, (Role.QUESTION,), "auxiliary")[Role.QUESTION])
    assert says in asked and "third angle projection" in asked
    assert ("whole auxiliary view" in asked) is whole and ("true shape" in asked) is not whole
    assert ("hidden detail" in asked) is whole


def test_true_length_and_width_are_the_answer_and_stand_in_no_brackets():
    """Brackets are for auxiliary dimensions (ISO 129-1, from memory); these are what the question asks for."""
    problem, settings, task = first_of("slotted-wedge", "third")
    said = {mark.text for mark in answer_marks(settings, task) if isinstance(mark, Text)}
    sizes = problem.sizes
    slope = (sizes["height"] - sizes["nose"]) / np.sin(np.radians(sizes["slope"]))
    assert {f"{round(slope, 1):g}", f"{sizes['depth']:g}"} <= said and not any(text.startswith("(") for text in said)


def test_a_whole_view_has_hidden_lines_and_no_sizes_of_its_own():
    _, settings, task = first_of("slotted-wedge", "third", whole=True)
    assert task.asked.whole and task.option == 2
    assert strokes(task.folded.turned.marks(), Pen.HIDDEN)
    assert not findings(settings, task, [])


@pytest.mark.parametrize(("name", "projection", "whole"), [
    *((*case, False) for case in CASES), *((*case, True) for case in CASES if case[0] not in NO_ROOM_WHOLE)])
def test_no_figure_of_the_answer_touches_a_line_or_another_and_nothing_runs_into_the_title_block(name, projection, whole):
    _, settings, task = first_of(name, projection, whole)
    marks = [*answer_marks(settings, task), *task.picture]
    lines = shapely.union_all([shapely.LineString(flattened(mark, 0.05)) for mark in marks if isinstance(mark, Stroke)])
    boxes = [shapely.Polygon(text_box(mark)) for mark in marks if isinstance(mark, Text)]
    for k, box in enumerate(boxes):
        assert not box.intersects(lines) and not any(box.intersects(other) for other in boxes[:k])
    paper, block = settings.paper, shapely.box(*titleblock_box(settings.block, settings.paper))
    assert not lines.intersects(block) and shapely.box(*paper.frame).contains(lines)


def test_sizes_that_neither_view_can_have_are_told_in_words_if_the_face_hangs_on_them():
    _, _, task = first_of("slant-cut-spigot", "first")
    assert task.asked.beside in ("left", "top")
    if task.asked.beside == "left":
        [line] = [line for line in task.lines if line.startswith("Sizes that these views cannot show")]
        assert "hole" in line and "Ø" in line


def test_a_face_of_which_a_size_stands_on_neither_view_and_can_be_told_of_no_piece_is_refused():
    """Of the dovetail groove, the length of the part: its front view shows no edge at either end but rounded corners."""
    with pytest.raises(RefusedError, match="can stand on neither of the two views"):
        task_of(problem_of(BANK["dovetail-guide"].sample(1)), settings_with())


@pytest.mark.parametrize(("name", "projection"), CASES)
def test_projectors_keep_clear_of_the_view_of_which_distances_are_taken(name, projection):
    _, _, task = first_of(name, projection)
    beside = next(view for view in task.drawing.views if view.view.name == task.asked.beside)
    assert min(shapely.box(*beside.box).distance(shapely.LineString(line)) for line in task.folded.carried.projectors) > 2


def test_a_face_in_two_pieces_is_one_true_shape_and_what_lies_on_its_back_is_none_of_it():
    problem = problem_of(BANK["twin-ribbed-bracket"].sample(1))
    [ribs] = inclined_faces(problem.solid)
    facets = problem.solid.normals[ribs.facets]
    assert np.allclose(facets, ribs.normal) and problem.solid.size[1] > 0
    _, _, task = first_of("twin-ribbed-bracket", "first")
    assert len(task.asked.face.outlines) == 2


def test_an_edge_beyond_which_a_wall_rises_for_a_while_is_one_line_all_the_same():
    solid = build((
        Block("base", False, (0, 80), (0, 60), (0, 40)), Slant("ramp", "front", ((50, 40), (80, 20)), "above", (None, None)),
        Block("pad", False, (30, 50), (20, 40), (40, 55))))
    part = SimpleNamespace(solid=solid, symmetry=())
    [face] = inclined_faces(solid)
    shape = true_shape(part, face, whole_view(part, face, frame_of("front", solid.size)))
    assert sorted(round(line.length, 6) for line in shape.visible_lines) == [36.055513, 36.055513, 60, 60]


@pytest.mark.parametrize("whole", [False, True])
def test_a_code_brings_the_same_sheet_back(whole):
    settings = settings_with(projection="third", whole=whole)
    exercise = make_exercise(BANK["slotted-wedge"], 3, settings, (Role.QUESTION, Role.ANSWER), "auxiliary")
    code = Code.read(exercise.particulars.code)
    assert code.later == (2 if whole else 1)
    [again] = recalled(code, BANK, settings_of(style_of(code))).sheets[Role.ANSWER]
    [page] = exercise.sheets[Role.ANSWER]
    for one, other in zip(page.marks, again.marks, strict=True):
        assert one == other if isinstance(one, Text) else np.array_equal(one.points, other.points)


def test_a_codes_option_stands_for_the_face_or_the_whole_and_for_nothing_else():
    told = kinds()["auxiliary"].told
    assert [told(settings_with(), option).whole for option in (1, 2)] == [False, True]
    assert told(settings_with(), 0) is None and told(settings_with(), 3) is None


@pytest.mark.parametrize("marks", [3, 12, 20])
@pytest.mark.parametrize("template", ["by-parts", "by-deductions"])
@pytest.mark.parametrize("whole", [False, True])
def test_projecting_distances_and_completing_have_3_5_and_4_marks_of_12(marks, template, whole):
    """Irish Leaving Certificate 2004, question 10, as excerpts of its scheme have it."""
    _, _, task = first_of("slotted-wedge", "third", whole)
    scheme = scheme_for(task, Marking.of(marks, load_marking(template)))
    halves = {part.name: part.halves for part in scheme.parts}
    assert sum(halves.values()) == 2 * marks and all(sum(row.halves for row in part.rows) == part.halves for part in scheme.parts)
    if marks == 12:
        assert halves["projected"] == 6 and halves["carried"] == 10
        assert halves["auxiliary"] + halves.get("true_sizes", 0) == 8


def test_the_marker_counts_the_lines_that_are_drawn():
    _, _, task = first_of("slotted-wedge", "third")
    scheme = scheme_for(task, usual_marking())
    assert len(scheme.lines["auxiliary"]) == sum(len(task.folded.turned.placed.lines(kind)) for kind in LineKind)
    counts = {row.sort: row.count for part in scheme.parts for row in part.rows}
    assert counts["carried"] == 8 and counts["outlines"] == 8                  # a slotted rectangle


@pytest.mark.parametrize(("name", "whole"), [("slotted-wedge", False), ("slotted-wedge", True), ("slant-cut-spigot", False)])
def test_the_steps_of_the_construction_draw_each_line_of_the_view_once(name, whole):
    problem, settings, task = first_of(name, "third" if name == "slotted-wedge" else "first", whole)
    steps = steps_of(problem, settings, task)
    new = [mark for step in steps for mark in step.new if isinstance(mark, Stroke)]
    wanted = [mark for mark in task.folded.turned.marks() if isinstance(mark, Stroke)]
    drawn = [mark.points for mark in new if mark.pen in (Pen.OUTLINE, Pen.HIDDEN, Pen.CENTRE)]
    assert len(drawn) == len(wanted)
    assert all(sum(line.shape == mark.points.shape and np.allclose(line, mark.points) for line in drawn) == 1 for mark in wanted)
    assert all(step.sentences and step.heading for step in steps)
    assert any(step.part == "curves" for step in steps) is (name == "slant-cut-spigot")


def test_points_of_a_curve_are_carried_over_like_corners():
    _, _, task = first_of("slant-cut-spigot", "first")
    built = Built(task)
    ellipses = [shapely.LineString(shape.points()) for shape in built.lines[1]]
    flat = task.asked.view.flat[built.on_curves]
    assert len(flat) >= 8
    assert max(min(line.distance(shapely.Point(point)) for line in ellipses) for point in flat) < 0.01
    for stroke in built.projectors(built.on_curves):
        assert abs((stroke.points[1] - stroke.points[0]) @ edge_of(task)) < 1e-3


def test_there_are_sheets_for_every_role_and_the_key():
    problem, settings, _ = first_of("slotted-wedge", "third")
    kind = kinds()["auxiliary"]
    assert set(kind.roles) == set(Role) - {Role.KEY}
    sheets = kind.sheets(problem, settings, Particulars(code="X"), (*kind.roles, Role.KEY))
    assert all(sheets.values()) and strokes(sheets[Role.KEY][0].marks, Pen.CONSTRUCTION)


def test_hints_and_lengths_help_on_paper_and_on_a_page():
    problem, settings, task = first_of("slotted-wedge", "third")
    hints, help = hints_for(problem, settings, task), help_with(problem, settings, task)
    assert len(hints.lengths) == 5 and len({round(length.paper, 3) for length in hints.lengths}) >= 4
    low, high = task.asked.view.extent
    assert hints.lengths[0].value == pytest.approx(high[0] - low[0]) and hints.lengths[1].value == pytest.approx(high[1] - low[1])
    assert help.task == tuple(filter(None, task.lines)) and len(help.hints) == 3
    assert len(help.stages) == len(steps_of(problem, settings, task))


def test_whether_the_whole_is_asked_for_decides_which_families_serve():
    assert deciding(Style(whole=True)).whole and not deciding(Style()).whole


def test_a_whole_view_is_harder_than_a_face_and_both_than_views():
    adds = kinds()["auxiliary"].adds
    assert 0 < adds(settings_with()) < adds(settings_with(whole=True))


@pytest.mark.parametrize("paper", ["A4", "A2", "11x17"])
def test_it_is_drawn_on_other_papers_too(paper):
    assert any(drawn_on(name, paper) for name in ("slotted-wedge", "nosed-clamp", "chamfered-saddle"))


def drawn_on(name: str, paper: str) -> bool:
    try:
        return bool(first_of(name, "third", paper=paper))
    except AssertionError:
        return False


def test_figures_stand_upright_where_the_course_wants_them_so():
    problem, settings, _ = first_of("slotted-wedge", "third")
    upright = replace(settings, upright=True)
    task = task_of(problem, upright)
    figures = [mark for mark in findings(upright, task, []) if isinstance(mark, Text)]
    assert len(figures) == 2 and all(mark.along == (1.0, 0.0) for mark in figures)
