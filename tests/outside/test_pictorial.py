"""Pictorials that are asked for against an independent kernel, the plain formula of oblique drawings, and the way of textbooks
to draw an ellipse from four centres."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
import shapely

from sheetgen.bank import features as f
from sheetgen.bank import load_bank
from sheetgen.exercises import Role, kinds, make_exercise
from sheetgen.exercises.kinds.pictorial.circles import circles_of, four_centres, rhombus_lines
from sheetgen.exercises.kinds.pictorial.detail import arcs_of
from sheetgen.exercises.kinds.pictorial.figure import figure_of
from sheetgen.exercises.kinds.pictorial.grid import PITCH, grid_marks, start_of
from sheetgen.ink import Pen, Stroke, flattened
from sheetgen.projection import Arc, frame_of, view_of
from sheetgen.sheet import Style, settings_of
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sight import PlacedView, Sight
from sheetgen.solid import build
from tests.outside.bodies import BODIES, GOLDEN
from tests.outside.kernel import compare, compare_hidden, reference_solid
from tests.outside.kernel_oblique import SHORTENED, oblique

BANK, KIND = load_bank(), kinds()["pictorial"]
EVERY = {**GOLDEN, **BODIES}
CORNERS = {"front-right": True, "left-front": False}

SLOW = ("turned post", "crossed bores", "wedge", "shaft")
"""Bodies of whose sheared surfaces the kernel takes seconds."""

ours = cache(lambda name: build(EVERY[name]))
theirs = cache(lambda name: reference_solid(EVERY[name]))


@pytest.mark.parametrize(("view", "corner", "point", "place"), [
    # worked by hand: x + k y cos 45, z + k y sin 45 (ISO 5456-3:1996 clause 5, cavalier and cabinet axonometry, from memory)
    ("cavalier", "front-right", (30, 40, 20), (58.284, 48.284)),
    ("cabinet", "front-right", (30, 40, 20), (44.142, 34.142)),
    ("cavalier", "left-front", (30, 40, 20), (1.716, 48.284)),
    ("cabinet", "left-front", (30, 40, 20), (15.858, 34.142)),
    ("cavalier", "front-right", (30, 0, 20), (30, 20)),
    ("cabinet", "left-front", (0, 0, 35), (0, 35)),
])
def test_in_an_oblique_drawing_the_front_stays_as_it_is_and_depths_recede_at_45_degrees(view, corner, point, place):
    frame = frame_of(view, np.array([60.0, 40.0, 40.0]), corner)
    assert frame.flat(np.array([point], dtype=float))[0] == pytest.approx(place, abs=5e-4)


@pytest.mark.parametrize("view", SHORTENED)
@pytest.mark.parametrize("corner", CORNERS)
def test_a_line_of_sight_of_an_oblique_drawing_falls_on_one_point(view, corner):
    frame = frame_of(view, np.array([60.0, 40.0, 40.0]), corner)
    assert frame.flat_vectors(frame.toward) == pytest.approx([0, 0], abs=1e-12)
    assert float(frame.toward[1]) < 0 < float(frame.toward[2])
    assert set(frame.shows) == {"front", "top", "right" if CORNERS[corner] else "left"}


def held_against(lines, reference):
    """Our lines against the kernel's; what it calls seen and rays through its solid do not is none of ours to show."""
    held = compare(lines, reference.visible)
    assert held.extra == () and all(reference.covered(point) for point in held.missing), str(held)


@pytest.mark.parametrize("view", SHORTENED)
@pytest.mark.parametrize("corner", CORNERS)
@pytest.mark.parametrize("name", [name for name in EVERY if name not in SLOW])
def test_an_oblique_drawing_shows_and_hides_the_lines_the_kernel_does(name, view, corner):
    drawn, reference = view_of(ours(name), view, corner), oblique(theirs(name), view, right=CORNERS[corner])
    held_against(drawn.visible, reference)
    if all(isinstance(feature, f.Block | f.Slant) for feature in EVERY[name]):
        hidden = compare_hidden((drawn.visible, drawn.hidden), (reference.visible, reference.hidden))
        assert hidden.agree, f"hidden: {hidden}"


def made(family, seed, roles=(Role.QUESTION, Role.ANSWER), **style):
    return make_exercise(BANK[family], seed, settings_of(Style(**style)), roles, "pictorial")


def task_settings(style):
    return settings_of(Style(**style))


def task_of(exercise, **style):
    return KIND.shared(exercise.problem, task_settings(style))


@pytest.mark.parametrize(("family", "seed", "style"), [
    ("corner-block", 1, {"drawn": "isometric", "side": "right"}), ("counterbored-block", 2, {"drawn": "isometric"}),
    ("round-ended-link", 1, {"drawn": "isometric"}), ("trestle", 3, {"drawn": "isometric", "side": "right"}),
    ("stepped-bridge", 1, {"drawn": "isometric", "paper": "A4"}), ("slotted-wedge", 1, {"drawn": "cavalier"}),
    ("corner-steps", 2, {"drawn": "cavalier", "side": "right"}), ("two-way-steps", 1, {"drawn": "cabinet"}),
    ("forked-foot", 1, {"drawn": "cabinet", "side": "right"}), ("cross-block", 2, {"drawn": "cabinet", "paper": "A4"}),
])
def test_the_answer_has_the_lines_that_the_kernel_sees_and_no_others(family, seed, style):
    exercise = made(family, seed, **style)
    task, [answer] = task_of(exercise, **style), exercise.sheets[Role.ANSWER]
    outlines = [flattened(mark) for mark in answer.marks if isinstance(mark, Stroke) and mark.pen is Pen.OUTLINE]
    foot = titleblock_box(task_settings(style).block, task_settings(style).paper)[3]         # in the block is the symbol
    outlines = [line for line in outlines if line[:, 1].min() > foot]
    reference = reference_solid([feature for _, feature in exercise.problem.features])
    right, scale = task.flank == "right", task.drawing.layout.scale
    low = np.concatenate(outlines).min(axis=0)
    if style["drawn"] == "isometric":
        lines = reference.views("isometric" if right else "isometric from the left")[0]
        held = compare([(line - low) / scale for line in outlines], [line - np.concatenate(lines).min(axis=0) for line in lines])
        assert held.agree, str(held)
    else:
        found = oblique(reference, style["drawn"], right=right)
        corner = np.concatenate(found.visible).min(axis=0)
        held_against([(line - low) / scale + corner for line in outlines], found)
    pens = {mark.pen for mark in answer.marks if isinstance(mark, Stroke)}
    assert Pen.HIDDEN not in pens


def test_a_circle_that_faces_the_front_stays_one_in_an_oblique_drawing_and_the_others_become_ellipses():
    block = build([f.Block("block", False, (0, 60), (0, 60), (0, 60)), f.Hole("a", "front", ((30, 30),), 40),
                   f.Hole("b", "top", ((30, 30),), 20)])
    for name in SHORTENED:
        arcs = [line for line in view_of(block, name).visible_lines if isinstance(line, Arc) and line.closed]
        sizes = sorted(tuple(sorted(round(2 * float(np.hypot(*axis)), 6) for axis in (arc.a, arc.b))) for arc in arcs)
        assert (40.0, 40.0) in sizes and len(sizes) == 2
        [ellipse] = [size for size in sizes if size != (40.0, 40.0)]
        # its area is that of the parallelogram round it, times pi/4: d by k d sin 45
        assert ellipse[0] * ellipse[1] == pytest.approx(20 * 20 * SHORTENED[name] * math.sqrt(0.5), abs=1e-4)


def sides(found):
    return [(found.corners[k], found.corners[(k + 1) % 4]) for k in range(4)]


@pytest.mark.parametrize(("one", "other"), [(-30, 30), (-30, 90), (30, 90)])
def test_the_arcs_from_four_centres_touch_the_rhombus_in_the_middles_of_its_sides_and_so_does_the_true_ellipse(one, other):
    """Textbook construction; common practice, no source. Radii 0.866 d and 0.289 d, axes 1.155 d and 0.732 d: for d = 40 34.641,
    11.547, 46.188 and 29.282, worked by hand."""
    ways = [20 * np.array([math.cos(math.radians(angle)), math.sin(math.radians(angle))]) for angle in (one, other)]
    found = four_centres(*ways)
    assert sorted(found.radii) == pytest.approx([11.547, 11.547, 34.641, 34.641], abs=5e-4)
    for k, (start, stop) in enumerate(sides(found)):
        assert found.middles[k] == pytest.approx((start + stop) / 2, abs=1e-9)
        along = (stop - start) / np.hypot(*(stop - start))
        for centre in (found.centres[k], found.centres[(k - 1) % 4]):          # of the two arcs that meet there
            spoke = found.middles[k] - centre
            assert abs(float(spoke @ along)) < 1e-9                            # square to the side: it touches
            assert min(abs(found.radii - np.hypot(*spoke))) < 1e-9
    far = np.hypot(*np.concatenate([flattened(Stroke(arc, Pen.SMALL, curved=True), 0.001) for arc in arcs_of(found)]).T)
    assert (2 * far.max(), 2 * far.min()) == pytest.approx((46.188, 29.282), abs=5e-3)
    turns = np.linspace(0, 2 * math.pi, 721)
    ellipse = np.outer(np.cos(turns), ways[0]) + np.outer(np.sin(turns), ways[1])
    for k, (start, stop) in enumerate(sides(found)):
        normal = np.array([start[1] - stop[1], stop[0] - start[0]]) / np.hypot(*(stop - start))
        off = (ellipse - start) @ normal
        assert np.abs(off).min() < 1e-9 and (off.min() > -1e-9 or off.max() < 1e-9)      # it touches, and does not cross
        assert ellipse[np.abs(off).argmin()] == pytest.approx(found.middles[k], abs=1e-9)


@pytest.mark.parametrize("corner", CORNERS)
@pytest.mark.parametrize("mouth", ["top", "front", "side"])
def test_the_rhombus_on_the_drawing_is_the_square_round_the_circle(mouth, corner):
    hole = f.Hole("a", {"side": "right" if CORNERS[corner] else "left"}.get(mouth, mouth), ((30, 30),), 40)
    solid = build([f.Block("block", False, (0, 60), (0, 60), (0, 60)), hole])
    view = PlacedView(Sight(view_of(solid, "isometric", corner)), 1.0, np.zeros(2))
    [circle] = circles_of(view)
    lines = rhombus_lines(view, circle)
    assert len(lines) == 4
    arc = next(line for line in view.view.visible_lines if isinstance(line, Arc) and line.closed)
    for line in lines:
        assert np.hypot(*np.diff(line, axis=0).T) == pytest.approx([20, 20], abs=1e-6)
        for end in (line[0], line[2]):                                         # the middles of sides lie on the ellipse
            assert shapely.LineString(arc.points()).distance(shapely.Point(end)) < 0.01


@pytest.mark.parametrize("drawn", ["isometric", "cavalier", "cabinet"])
def test_the_near_lower_corner_of_the_box_stands_on_a_crossing_of_the_grid_and_crossings_are_as_far_apart_as_it_says(drawn):
    style = {"drawn": drawn, "grid": True}
    exercise = made("stepped-block", 1, **style)
    figure, settings = task_of(exercise, **style).figure, settings_of(Style(**style))
    strokes = [mark for mark in grid_marks(figure.view, settings) if isinstance(mark, Stroke)]
    lines = [mark.points for mark in strokes if mark.pen is Pen.CONSTRUCTION]
    families = {}
    for line in lines:
        way = line[-1] - line[0]
        angle = round(math.degrees(math.atan2(way[1], way[0])) % 180, 3) % 180
        normal = np.array([-math.sin(math.radians(angle)), math.cos(math.radians(angle))])
        families.setdefault(angle, set()).add(round(float((line[0] - start_of(figure.view)) @ normal), 3))
    assert sorted(families) == pytest.approx([30, 90, 150] if drawn == "isometric" else [0, 90], abs=0.01)
    apart = PITCH * math.cos(math.radians(30)) if drawn == "isometric" else PITCH
    for offsets in families.values():
        steps = np.array(sorted(offsets)) / apart
        assert np.abs(steps - np.round(steps)).max() < 1e-3 and 0.0 in np.round(steps)
        assert np.diff(np.round(steps)).max() == 1
    ends = np.concatenate([mark.points for mark in figure.lines if isinstance(mark, Stroke) and not mark.curved])
    assert np.hypot(*(ends - start_of(figure.view)).T).min() < 1e-6          # and the part's own corner stands there


def test_lengths_along_the_axes_measure_true_on_the_answer():
    # isometric: full length along the axes (ISO 5456-3:1996 clause 5.1, from memory); 60 x 40 x 30 at full size
    block = build([f.Block("block", False, (0, 60), (0, 40), (0, 30))])
    for name, depth in (("isometric", 40.0), ("cavalier", 40.0), ("cabinet", 20.0)):
        figure = figure_of(Sight(view_of(block, name)), 1.0, settings_of(Style()))
        lengths = sorted(round(float(np.hypot(*(mark.points[1] - mark.points[0]))), 3) for mark in figure.box)
        assert lengths == sorted([60.0] * 3 + [depth] * 3 + [30.0] * 3)
