"""What hints say, held against the part itself: its levels, its lines, its printed sizes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

import numpy as np
import pytest

from sheetgen.bank import load_bank
from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.hints import Hints, Length
from sheetgen.exercises.hints.beginning import begin
from sheetgen.exercises.hints.landmarks import ViewAxes, landmarks_of
from sheetgen.exercises.hints.lengths import printed_spans, rest_of
from sheetgen.exercises.hints.record import span_of
from sheetgen.exercises.pieces import pieces_of
from sheetgen.problem import Problem, problem_of
from sheetgen.projection import LineKind, Straight, lines_of
from sheetgen.sheet import Style, settings_of
from sheetgen.sight import PlacedView
from sheetgen.solid import Cone, Cylinder
from tests.exercises.hints.bare import hinted
from tests.families import sample

BANK, SOME = load_bank(), sample("hints")
STYLES = (Style(), Style(projection="third", side="both", wording="en-elevations"))
NUMBER = re.compile(r"\d+(?:\.\d+)?")
NEAR = 0.051
"""mm: lengths that are no whole sizes are told to a tenth."""


@cache
def told(name: str, seed: int) -> tuple[Problem, Drawing, Hints]:
    problem = problem_of(BANK[name].sample(seed))
    return (problem, *hinted(problem, settings_of(STYLES[seed - 1])))


def sentences(hints: Hints) -> Iterator[str]:
    yield from (*hints.look, *hints.begin, *hints.missed)


def sizes_of(problem: Problem, drawing: Drawing) -> np.ndarray:
    """All lengths that the part has: between levels of corners and axes, diameters and radii, and of its straight lines."""
    solid = problem.solid
    found = [np.zeros(0)]
    for axis in range(3):
        axes = [surface.point[axis] for surface in solid.surfaces if isinstance(surface, Cylinder | Cone)]
        levels = np.unique(np.round([*solid.vertices[:, axis], *axes], 6))
        found.append(np.abs(levels[:, None] - levels).ravel())
    radii = [surface.radius for surface in solid.surfaces if isinstance(surface, Cylinder)]
    lines = [line.length for placed in drawing.views for line in (*placed.view.visible_lines, *placed.view.hidden_lines)]
    return np.concatenate([*found, radii, 2 * np.array(radii), lines])


@pytest.mark.parametrize("name", SOME)
def test_each_number_in_a_sentence_is_a_size_of_the_part(name):
    problem, drawing, hints = told(name, 1)
    sizes = sizes_of(problem, drawing)
    for sentence in sentences(hints):
        for number in map(float, NUMBER.findall(sentence)):
            assert np.abs(sizes - number).min() < NEAR, sentence


@pytest.mark.parametrize("name", SOME)
def test_lines_are_counted_as_a_marker_counts_them_and_sizes_are_those_of_the_views(name):
    _, drawing, hints = told(name, 1)
    assert [each.view for each in hints.views] == [placed.view.name for placed in drawing.views]
    for each, placed in zip(hints.views, drawing.views, strict=True):
        visible, hidden, centre = (lines_of(placed.view, kind, placed.scale) for kind in LineKind)
        straight = sum(isinstance(line, Straight) for line in visible)
        assert dict(each.counts) == {
            "outlines": straight, "curves": len(visible) - straight, "hidden": len(hidden), "centre": len(centre)}
        x0, y0, x1, y1 = placed.box
        assert np.allclose(each.paper, (x1 - x0, y1 - y0)) and np.allclose(np.array(each.size) * placed.scale, each.paper)


def drawn(placed: PlacedView) -> list[Straight]:
    """The straight lines of a view, of whatever kind."""
    return [line for kind in LineKind for line in placed.lines(kind) if isinstance(line, Straight)]


def measured(length: Length, placed: PlacedView) -> float:
    """The length on the drawing, mm on paper: from line to line, or along a slanting line."""
    if length.way is None:
        slanting = [line for line in placed.lines(LineKind.VISIBLE)
                    if isinstance(line, Straight) and (abs(line.p - line.q) > 0.01).all()]
        values = sorted({round(line.length * placed.scale, 4) for line in slanting})
        if "shorter" in length.words:
            assert len(values) == 2
            return values[0]
        assert len(values) == 1 or (("longest" in length.words or "longer" in length.words) and values[-1] > 1.2 * values[-2])
        return values[-1]
    ends = []
    for level in length.levels:
        at = [line.p[length.way] for line in drawn(placed)
              if abs(line.p[length.way] - level) < 1e-3 and abs(line.q[length.way] - level) < 1e-3]
        assert at, f"no line at {level} of {length}"
        ends.append(at[0])
    return abs(ends[0] - ends[1]) * placed.scale


@pytest.mark.parametrize("name", SOME)
def test_lengths_measured_on_the_views_are_those_that_are_told(name):
    _, drawing, hints = told(name, 1)
    views = {placed.view.name: placed for placed in drawing.views}
    assert len(hints.lengths) == len({(each.view, each.words) for each in hints.lengths}) == 5
    for length in hints.lengths:
        placed = views[length.view]
        assert measured(length, placed) == pytest.approx(length.paper, abs=1e-3)
        assert length.value * placed.scale == pytest.approx(length.paper)
        assert length.paper >= 5.0


@pytest.mark.parametrize("name", SOME)
def test_lengths_are_spread_over_the_views_and_most_are_printed_nowhere(name):
    problem, drawing, hints = told(name, 1)
    seen = {length.view for length in hints.lengths}
    assert {"front", "top"} <= seen and seen & {"left", "right"}
    printed = set()
    for measure in problem.measures:
        if measure.axis is not None and len(measure.ends) == 2:
            printed.add((measure.axis, *sorted(round(float(end.point[measure.axis]), 3) for end in measure.ends)))
    repeated = 0
    for length in hints.lengths:
        if length.way is not None:
            frame = next(placed.view.frame for placed in drawing.views if placed.view.name == length.view)
            axis, sense = int(np.argmax(np.abs(frame.axes[length.way]))), frame.axes[length.way].sum()
            levels = sorted(round(float((level + frame.origin[length.way]) * sense), 3) for level in length.levels)
            repeated += (axis, *levels) in printed
    assert repeated <= 2


LOOK = re.compile(
    r"Look in (?P<view>.+?) for (?P<count>\w+) hidden (?P<run>vertical|horizontal) lines?(?: in one row)?, (?P<length>.+?) long, "
    r"(?P<value>[\d., and]+) from the (?P<edge>left|right|front|back|bottom|top) edge\.")
COUNTS = {"a": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6}
SLANT = re.compile(
    r"Look in (?P<view>.+?) for (?P<count>\w+) hidden slanting lines?, (?:each )?(?P<length>[\d.]+) long: "
    r"(?P<ends>.+)\.")
PLACE = re.compile(r"(?:(?P<value>[\d.]+) from|on) the (?P<edge>left|right|front|back|bottom|top) edge")
VIEWS = {"the front view": "front", "the top view": "top", "the side view": "left"}


def edge_at(view: str, edge: str, placed: PlacedView) -> float:
    """Where an edge of the part, by its name, lies in a view: from the left one sees the front at the right."""
    low, high = placed.view.extent
    way, end = {"front": {"left": (0, 0), "right": (0, 1), "bottom": (1, 0), "top": (1, 1)},
                "top": {"left": (0, 0), "right": (0, 1), "front": (1, 0), "back": (1, 1)},
                "left": {"front": (0, 1), "back": (0, 0), "bottom": (1, 0), "top": (1, 1)}}[view][edge]
    return float((low, high)[end][way])


@pytest.mark.parametrize("name", SOME)
def test_the_line_easily_missed_is_hidden_and_where_the_hint_says(name):
    _, drawing, hints = told(name, 1)
    found = LOOK.fullmatch(hints.missed[0])
    if found is None:               # in a view without a straight edge, a slanting line, which has a test of its own, or a curve
        assert re.search("centre line|slanting|curve", hints.missed[0])
        return
    view = VIEWS[found["view"]]
    placed = next(each for each in drawing.views if each.view.name == view)
    way = 0 if found["run"] == "vertical" else 1
    edge = edge_at(view, found["edge"], placed)
    lengths, values = ([float(value) for value in NUMBER.findall(found[key])] for key in ("length", "value"))
    lines = [line for line in placed.lines(LineKind.HIDDEN)
             if isinstance(line, Straight) and abs(line.p[way] - line.q[way]) < 1e-3
             and any(abs(abs(line.p[way] - edge) - value) < NEAR for value in values)
             and any(abs(line.length - length) < NEAR for length in lengths)]
    assert len(lines) >= COUNTS[found["count"]] >= max(len(lengths), len(values))


@pytest.mark.parametrize("seed", [1, 3, 6])
def test_the_ends_of_a_slanting_line_are_where_the_hint_says(seed):
    problem = problem_of(BANK["tapered-spindle-block"].sample(seed))
    drawing, hints = hinted(problem, settings_of(Style()))
    found = SLANT.fullmatch(hints.missed[0])
    assert found
    placed = next(each for each in drawing.views if each.view.name == VIEWS[found["view"]])
    told = [abs(edge_at(placed.view.name, place["edge"], placed)
                + (-1 if place["edge"] in ("front", "top") else 1) * float(place["value"] or 0))
            for place in PLACE.finditer(found["ends"])]
    ends = np.array(told).reshape(2, 2)
    slants = [line for line in placed.lines(LineKind.HIDDEN)
              if isinstance(line, Straight) and (abs(line.p - line.q) > 0.01).all()]
    assert len(slants) == COUNTS[found["count"]]
    assert any(min(np.abs(np.array([line.p, line.q]) - pair).max() for pair in (ends, ends[::-1])) < NEAR for line in slants)
    assert all(line.length == pytest.approx(float(found["length"]), abs=NEAR) for line in slants)


def test_the_hints_of_a_stepped_block_read_as_a_teacher_would_say_them():
    _, _, hints = told("stepped-block", 1)
    assert hints.look == (
        "Overall, the part is 70 wide, 50 deep and 50 high.", "Think of it first as a block.",
        "A step and a notch are cut into it.", "The front view shows the outline of the step.",
        "The top view shows the outline of the notch.", "All the hidden lines are in the side view.")
    assert hints.begin[1] == (
        "Start in the front view: the vertical face of the step is 30 from the right edge and the floor of the step is 20 from "
        "the bottom edge.")
    assert hints.missed == (
        "Look in the side view for a hidden vertical line, 20 long, 15 from the front edge.",
        "It is the back of the notch, seen edge on.", "The pictorial shows this edge, but from here the part hides it.")


def look(name: str, seed: int) -> str:
    """The first hint of a draw, in one text."""
    return " ".join(hinted(problem_of(BANK[name].sample(seed)), settings_of(Style()))[1].look)


def test_each_kind_of_hole_is_described_as_it_is_drawn():
    # Common practice, no source: what a draughtsman draws of each.
    slide = [look("slotted-slide", seed) for seed in range(1, 5)]
    assert any("counterbored hole is two circles seen along its axis; in the other views four sides and a shoulder, all hidden."
               in each for each in slide)
    assert any("Each blind hole is a circle seen along its axis; in the other views two sides, the line across their ends and "
               "the two slopes of the drill point, all hidden." in each for each in slide)
    lug = look("hinge-lug", 1)
    assert "The plain hole is a circle seen along its axis; in the other views its sides are two hidden lines" in lug
    assert "two sides, two slopes and the line where they meet, all hidden." in lug


def test_curves_to_be_plotted_are_counted_and_where_they_are_is_said():
    assert "The side view has two curves to be plotted point by point, where the slot meets the truncated cone." in look(
        "conical-boss", 1)


def test_cut_corners_and_chamfers_are_those_of_the_piece_that_has_them():
    assert "The upright has two cut corners." in look("bevelled-bracket", 1)
    assert all("The foot has two chamfers." in look("vee-block-footed", seed) for seed in (1, 5))


def test_the_limit_of_a_round_face_is_no_edge_and_the_end_of_a_slot_no_side():
    limits = 0
    for name in (*SOME, "angle-bracket-bored"):
        for seed in (1, 2):
            _, _, hints = told(name, seed)
            if "turns away" in " ".join(hints.missed):
                limits += 1
                assert "edge, but" not in hints.missed[-1] and "edge of" not in hints.missed[1]
                assert "side of the round" not in hints.missed[1] and "side of the left round" not in hints.missed[1]
    assert limits


def test_a_notch_down_to_a_plate_has_no_floor_of_its_own_and_a_ridge_is_told_as_one():
    hints = told("trestle", 1)[2]
    words = " ".join([*sentences(hints), *(length.words for length in hints.lengths)])
    assert "floor of the tunnel" not in words and "the top of the plate" in words
    assert "It is the bottom of the vee groove, where its two sloping faces meet." in told("vee-guide", 1)[2].missed


@pytest.mark.parametrize("name", SOME)
def test_one_starts_before_anything_else_is_placed_and_all_numbers_can_be_measured(name):
    _, _, hints = told(name, 1)
    starts = [k for k, sentence in enumerate(hints.begin) if sentence.startswith("Start in ")]
    placed = [k for k, sentence in enumerate(hints.begin) if sentence.startswith("In the ")]
    assert len(starts) == 1 and all(k > starts[0] for k in placed)
    assert not re.search(r"\d\.\d\d", " ".join(sentences(hints)))


def test_no_length_is_one_that_the_second_hint_gives_away_and_hardly_two_make_up_a_whole():
    again = halves = 0
    for name in SOME:
        for seed in (1, 2):
            problem, drawing, hints = told(name, seed)
            settings = settings_of(STYLES[seed - 1])
            pieces = pieces_of(problem)
            marks = [landmarks_of(placed, pieces, settings.wording) for placed in drawing.views]
            spans = begin(problem, settings, drawing, pieces, marks, printed_spans(problem)).spans
            frames = {placed.view.name: placed for placed in drawing.views}
            mine = [span for length in hints.lengths if (span := span_measured(length, frames[length.view]))]
            again += sum(span in spans for span in mine)
            halves += sum(rest_of(span, problem.solid.size) in mine for span in mine) // 2
    assert again <= 1 and halves <= 1


def span_measured(length: Length, placed: PlacedView) -> tuple[int, float, float] | None:
    """Between which levels of the part a length runs; None of a slanting line."""
    if length.way is None:
        return None
    view_axes = ViewAxes.of(placed)
    sense, origin = view_axes.senses[length.way], view_axes.origin[length.way]
    return span_of(view_axes.axes[length.way], *(sense * (level + origin) for level in length.levels))


@pytest.mark.parametrize("name", SOME)
def test_nothing_is_said_twice_and_every_sentence_ends(name):
    _, _, hints = told(name, 1)
    said = list(sentences(hints))
    assert len(set(said)) == len(said)
    for sentence in said:
        assert sentence[0].isupper() and sentence.endswith(".") and "  " not in sentence and " ." not in sentence


def test_a_course_that_asks_for_views_at_half_size_measures_half_as_much():
    problem = problem_of(BANK["bevelled-block"].sample(2))
    _, whole = hinted(problem, settings_of(Style()))
    _, half = hinted(problem, settings_of(Style(paper="A4", title_block="quarry")))
    assert (whole.scale, half.scale) == ("1:1", "1:2")
    assert half.look == whole.look and half.missed == whole.missed
    assert [each.value for each in half.lengths] == [2 * each.paper for each in half.lengths]
