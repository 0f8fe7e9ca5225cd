"""How the answers of the kind ``auxiliary`` read: letters at all distances, projectors that end where they should, sizes clear of
the reference lines, a key that can be read."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest
import shapely

from sheetgen.exercises import Role, kinds, sheets_of
from sheetgen.exercises.kinds.auxiliary.arrow import arrow_at
from sheetgen.exercises.kinds.auxiliary.built import Built, steps_of
from sheetgen.exercises.kinds.auxiliary.pages import answer_marks
from sheetgen.exercises.kinds.auxiliary.shown import points_of
from sheetgen.exercises.kinds.auxiliary.task import Task
from sheetgen.ink import Pen, Stroke, Text, flattened, text_box
from sheetgen.placing import Blemish
from sheetgen.problem import problem_of
from sheetgen.projection import Arc, Straight
from sheetgen.sheet import Style, settings_of
from sheetgen.sheet.free import rows_of
from sheetgen.sheet.titleblock_ink import titleblock_box
from tests.exercises.auxiliaries import BANK, first_of

FAMILIES = ("slotted-wedge", "bored-ramp", "pipe-clamp", "slant-cut-spigot", "skew-ended-tunnel", "twin-ribbed-bracket",
            "vee-block-footed", "splayed-stop")
"""Faces with slots, holes, curved outlines, in two pieces, in a vee; edge-on in the front view and in the top view."""


def beside(task: Task):
    return next(view for view in task.drawing.views if view.view.name == task.asked.beside)


def thin(marks) -> list[np.ndarray]:
    return [mark.points for mark in marks if isinstance(mark, Stroke) and mark.pen is Pen.CONSTRUCTION]


@pytest.mark.parametrize("projection", ["first", "third"])
@pytest.mark.parametrize("name", FAMILIES)
def test_the_distance_of_every_point_of_the_face_has_its_letter_at_both_reference_lines(name, projection):
    _, settings, task = first_of(name, projection)
    assert task.folded.equal
    there, here = task.folded.equal
    assert there.letters == here.letters and len(set(here.letters)) == len(here.letters)
    assert there.reaches == pytest.approx(here.reaches)
    # Against the part itself: how far each corner of the face lies from the line between the views.
    solid, face = task.asked.face.solid, task.asked.face
    on = np.abs(solid.vertices @ face.frame.toward - face.level) < 1e-6
    corners = task.folded.between.beyond(beside(task).paper(solid.vertices[on]))
    assert corners.min() == pytest.approx(there.reaches[0]) and corners.max() == pytest.approx(there.reaches[-1])
    ends = task.folded.turned.from_line(task.folded.turned.paper(face.corners))
    assert all(np.abs(here.reaches - end).min() < 0.1 for end in ends)
    said = [mark.text for mark in answer_marks(settings, task) if isinstance(mark, Text)]
    assert all(said.count(letter) == 2 for letter in here.letters)


@pytest.mark.parametrize("projection", ["first", "third"])
@pytest.mark.parametrize("name", ["tool-post", *FAMILIES])
def test_lines_of_distances_begin_at_points_of_the_face_and_run_along_the_reference_line(name, projection):
    """Not at another feature that happens to lie as far from it, such as a slot beside a hole."""
    _, _, task = first_of(name, projection)
    folded, view = task.folded, beside(task)
    there, here = folded.equal
    edges = [np.stack(leg) for line in (*view.visible, *view.hidden) for leg in itertools.pairwise(line)]
    face = view.paper(task.asked.face.in_part(task.asked.face.corners))
    for running, beyond in ((there, folded.between.beyond), (here, folded.turned.from_line)):
        for reach, line in zip(running.reaches, running.lines[1:], strict=True):
            assert beyond(line) == pytest.approx([reach, reach], abs=1e-6)
    for reach, start in zip(there.reaches, there.starts, strict=True):
        level = [leg for leg in edges if np.abs(folded.between.beyond(leg) - reach).max() < 0.1]
        reached = shapely.union_all([*map(shapely.LineString, level), *(shapely.Point(point).buffer(0.2) for point in face)])
        piece = [part for part in shapely.get_parts(shapely.buffer(reached, 0.15)) if part.distance(shapely.Point(start)) < 0.2]
        assert any(part.distance(shapely.Point(point)) < 0.2 for part in piece for point in face)


def test_a_slots_round_ends_have_letters_where_they_begin_and_where_they_are_farthest_out():
    _, _, task = first_of("bored-ramp")
    curves = [shape for shape in task.asked.face.visible_lines if not isinstance(shape, Straight)]
    assert curves
    reached = task.folded.turned.from_line(task.folded.turned.paper(points_of(curves)))
    assert all(np.abs(task.folded.equal[1].reaches - each).min() < 0.1 for each in reached)


def test_a_closed_curve_begins_nowhere():
    whole, half = (Arc(np.zeros(2), np.array([5.0, 0.0]), np.array([0.0, 5.0]), 0.3, 0.3 + turn) for turn in (2 * np.pi, np.pi))
    assert len(points_of([whole])) == 4 and len(points_of([half])) == 6


def test_the_answer_says_what_equal_letters_mean():
    problem, settings, _ = first_of("slotted-wedge")
    sheets = sheets_of(problem, settings, (Role.QUESTION, Role.ANSWER), "auxiliary")
    asked, made = (" ".join(mark.text for mark in sheets[role][0].marks if isinstance(mark, Text))
                   for role in (Role.QUESTION, Role.ANSWER))
    assert "Equal letters" in made and "Equal letters" not in asked


@pytest.mark.parametrize("projection", ["first", "third"])
@pytest.mark.parametrize("name", ["slotted-wedge", "sloped-desk"])
def test_no_projector_crosses_the_mouth_of_a_slot(name, projection):
    """Their faces are notched: between what is left of an edge there is no line of the answer."""
    problem, settings, task = first_of(name, projection)
    turned = task.folded.turned
    rim = shapely.union_all([shapely.LineString(turned.paper(shape.points())) for shape in task.asked.face.visible_lines])
    hull = rim.convex_hull.buffer(1e-6)
    face = shapely.Polygon(shapely.get_coordinates(shapely.line_merge(rim)))
    notches = hull.difference(face.buffer(0.05))
    assert notches.area > 50
    for marks in (answer_marks(settings, task),
                  sheets_of(problem, settings, (Role.PROJECTORS,), "auxiliary")[Role.PROJECTORS][0].marks):
        assert thin(marks)
        assert all(shapely.LineString(line).intersection(notches).length < 0.5 for line in thin(marks))


def test_a_projector_goes_on_to_the_farther_piece_of_a_face():
    _, _, task = first_of("twin-ribbed-bracket")
    reached = [float(task.folded.turned.from_line(line[1:])[0]) for line in task.folded.carried.projectors]
    near, far = (float(task.folded.turned.from_line(task.folded.turned.paper(outline.pieces[0].points()[:1]))[0])
                 for outline in task.asked.face.outlines)
    assert max(reached) >= max(near, far) - 10.0 and max(reached) > min(near, far) + 10.0


def test_a_projector_of_a_step_is_as_long_as_its_farthest_point_needs():
    _, _, task = first_of("slotted-wedge")
    built = Built(task)
    whole, short = (built.projectors(built.corners, finished=finished) for finished in (False, True))
    assert len(whole) == len(short)
    assert max(np.hypot(*(mark.points[1] - mark.points[0])) for mark in whole) > max(
        np.hypot(*(mark.points[1] - mark.points[0])) for mark in short)


@pytest.mark.parametrize("projection", ["first", "third"])
@pytest.mark.parametrize("name", [*FAMILIES, "roofed-slide", "sloped-arm"])
def test_no_dimension_line_of_a_size_crosses_a_reference_line(name, projection):
    _, _, task = first_of(name, projection)
    lines = shapely.MultiLineString(task.folded.reference())
    placed = [line for placement in task.drawing.chosen for line in placement.drawn.lines]
    assert placed and not any(shapely.LineString(line).intersects(lines) for line in placed)


@pytest.mark.parametrize("name", FAMILIES)
def test_words_and_pictorial_keep_clear_of_the_projectors(name):
    _, _, task = first_of(name)
    lines = shapely.MultiLineString(task.folded.carried.projectors)
    for mark in (*task.picture, *task.text):
        if isinstance(mark, Text):
            assert not shapely.Polygon(text_box(mark)).intersects(lines)
        elif isinstance(mark, Stroke):
            assert not shapely.LineString(flattened(mark, 0.1)).intersects(lines)


def test_the_arrow_in_a_vee_leaves_its_corner_to_the_angle():
    """On the floor of the vee a line of the part rises from the face, where its angle is measured."""
    floor, top, outward = np.array([0.0, 0.0]), np.array([24.0, 18.0]), np.array([-0.6, 0.8])
    rises = np.array([[floor, top], [floor, (-24.0, 18.0)], [top, (40.0, 18.0)]])
    for edge in (np.array([floor, top]), np.array([top, floor])):
        arrow = arrow_at(edge, outward, rises, rises[:1], "A")
        assert arrow and arrow.tip @ np.array([0.8, 0.6]) == pytest.approx(24.0)
        lone = arrow_at(edge, outward, rises[:1], rises[:1], "A")
        assert lone and lone.tip @ np.array([0.8, 0.6]) == pytest.approx(15.0)


def test_a_place_aslant_is_blocked_row_by_row_and_not_the_box_round_it():
    _, _, task = first_of("slotted-wedge", "third")
    footprint = task.folded.footprint
    rows = shapely.union_all([shapely.box(*row) for row in rows_of(footprint)])
    assert rows.buffer(1e-6).contains(footprint) and rows.area < 0.8 * shapely.box(*footprint.bounds).area


def test_a_strict_reader_sends_back_what_has_a_distance_without_a_letter():
    for name in FAMILIES:
        _, _, task = first_of(name)
        assert Blemish.UNLETTERED not in list(task.read.serious())
        assert Blemish.UNLETTERED in list(replace(task, asked=replace(task.asked, side=0.0)).read.serious())


def test_the_key_is_half_as_large_with_figures_as_high_as_a_copier_keeps():
    # 2.5 mm (common practice, no source); a height of ISO 3098-0:1997 (from memory)
    for name in ("bored-ramp", "slotted-wedge", "skew-ended-tunnel"):
        problem, settings, task = first_of(name)
        page = kinds()["auxiliary"].answer(problem, settings, task)
        heights = [mark.height for mark in page.marks if isinstance(mark, Text)]
        assert min(heights) == 2.5
        edges = sorted(round(float(np.hypot(*(mark.points[-1] - mark.points[0]))), 2) for mark in page.marks
                       if isinstance(mark, Stroke) and mark.pen is Pen.OUTLINE and not mark.curved)
        whole = sorted(round(float(np.hypot(*(mark.points[-1] - mark.points[0]))) / 2, 2) for mark in answer_marks(settings, task)
                       if isinstance(mark, Stroke) and mark.pen is Pen.OUTLINE and not mark.curved)
        assert edges == pytest.approx(whole, abs=0.02)


def test_the_third_hint_is_headed_by_what_it_tells():
    problem, settings, _ = first_of("slotted-wedge")
    said = [mark.text for mark in sheets_of(problem, settings, (Role.HINTS,), "auxiliary")[Role.HINTS][0].marks
            if isinstance(mark, Text)]
    assert any(text.startswith("HINT 3") for text in said) and not any("LINE EASILY MISSED" in text for text in said)


@pytest.mark.parametrize(("name", "step"), [("slotted-wedge", "distances"), ("bored-ramp", "curves")])
def test_the_letters_come_with_the_step_in_which_all_points_are_there(name, step):
    problem, settings, task = first_of(name)
    lettered = [stage.heading for stage in steps_of(problem, settings, task)
                if any(isinstance(mark, Text) and mark.text == "a" for mark in stage.new)]
    assert len(lettered) == 1 and settings.wording.render(f"auxiliary.step_{step}") in lettered[0]


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_numbered_lines_of_the_marking_sheet_keep_off_the_title_block(seed):
    """Of a face nearly square, drawn as large as the sheet allows."""
    for name in ("bored-ramp", "sloped-desk"):
        settings, problem = settings_of(Style()), problem_of(BANK[name].sample(seed))
        sheet = sheets_of(problem, settings, (Role.MARKING,), "auxiliary")[Role.MARKING][0]
        block = shapely.box(*titleblock_box(settings.block, settings.paper))
        lines = [shapely.LineString(flattened(mark, 0.1)) for mark in sheet.marks
                 if isinstance(mark, Stroke) and mark.pen is Pen.OUTLINE]
        assert lines and not any(line.intersects(block) and not block.contains(line) for line in lines)


@pytest.mark.parametrize(("name", "projection"), [
    ("roofed-slide", "first"), ("tool-post", "first"), ("slotted-wedge", "third"), ("bored-ramp", "third")])
def test_the_name_of_a_whole_view_keeps_off_the_letters_of_its_distances(name, projection):
    _, _, task = first_of(name, projection, whole=True)
    assert task.folded.equal
    box = shapely.Polygon(text_box(task.folded.name))
    assert not any(box.intersects(shapely.Polygon(text_box(text))) for text in task.folded.equal[1].texts)
    assert not any(box.intersects(shapely.LineString(line)) for line in task.folded.equal[1].lines)
