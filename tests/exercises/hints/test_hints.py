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
from sheetgen.problem import Problem, problem_of
from sheetgen.projection import LineKind, Straight, lines_of
from sheetgen.sheet import Style, settings_of
from sheetgen.sight import PlacedView
from sheetgen.solid import Cone, Cylinder
from tests.exercises.hints.bare import hinted

BANK = load_bank()
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


@pytest.mark.parametrize("seed", [1, 2])
@pytest.mark.parametrize("name", BANK)
def test_each_number_in_a_sentence_is_a_size_of_the_part(name, seed):
    problem, drawing, hints = told(name, seed)
    sizes = sizes_of(problem, drawing)
    for sentence in sentences(hints):
        for number in map(float, NUMBER.findall(sentence)):
            assert np.abs(sizes - number).min() < NEAR, sentence


@pytest.mark.parametrize("seed", [1, 2])
@pytest.mark.parametrize("name", BANK)
def test_lines_are_counted_as_a_marker_counts_them_and_sizes_are_those_of_the_views(name, seed):
    _, drawing, hints = told(name, seed)
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
        assert len(values) == 1 or ("longest" in length.words and values[-1] > 1.2 * values[-2])
        return values[-1]
    ends = []
    for level in length.levels:
        at = [line.p[length.way] for line in drawn(placed)
              if abs(line.p[length.way] - level) < 1e-3 and abs(line.q[length.way] - level) < 1e-3]
        assert at, f"no line at {level} of {length}"
        ends.append(at[0])
    return abs(ends[0] - ends[1]) * placed.scale


@pytest.mark.parametrize("seed", [1, 2])
@pytest.mark.parametrize("name", BANK)
def test_lengths_measured_on_the_views_are_those_that_are_told(name, seed):
    _, drawing, hints = told(name, seed)
    views = {placed.view.name: placed for placed in drawing.views}
    assert len(hints.lengths) == len({(each.view, each.words) for each in hints.lengths}) == 5
    for length in hints.lengths:
        placed = views[length.view]
        assert measured(length, placed) == pytest.approx(length.paper, abs=1e-3)
        assert length.value * placed.scale == pytest.approx(length.paper)
        assert length.paper >= 5.0


@pytest.mark.parametrize("seed", [1, 2])
@pytest.mark.parametrize("name", BANK)
def test_lengths_are_spread_over_the_views_and_most_are_printed_nowhere(name, seed):
    problem, drawing, hints = told(name, seed)
    assert {length.view for length in hints.lengths} == {placed.view.name for placed in drawing.views}
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


LOOK = re.compile(r"Look in (?P<view>.+?) for a (?P<hidden>hidden )?(?P<run>vertical|horizontal) line, (?P<length>[\d.]+) long, "
                  r"(?P<value>[\d.]+) from the (?P<edge>left|right|front|back|bottom|top) edge\.")
VIEWS = {"the front view": "front", "the top view": "top", "the side view": "left"}


def edge_at(view: str, edge: str, placed: PlacedView) -> float:
    """Where an edge of the part, by its name, lies in a view: from the left one sees the front at the right."""
    low, high = placed.view.extent
    way, end = {"front": {"left": (0, 0), "right": (0, 1), "bottom": (1, 0), "top": (1, 1)},
                "top": {"left": (0, 0), "right": (0, 1), "front": (1, 0), "back": (1, 1)},
                "left": {"front": (0, 1), "back": (0, 0), "bottom": (1, 0), "top": (1, 1)}}[view][edge]
    return float((low, high)[end][way])


@pytest.mark.parametrize("name", BANK)
def test_the_line_most_often_missed_is_hidden_and_where_the_hint_says(name):
    _, drawing, hints = told(name, 1)
    found = LOOK.fullmatch(hints.missed[0])
    if found is None:
        assert "centre line" in hints.missed[0]          # of a view without a straight edge to measure from
        return
    view = VIEWS[found["view"]]
    placed = next(each for each in drawing.views if each.view.name == view)
    way = 0 if found["run"] == "vertical" else 1
    edge = edge_at(view, found["edge"], placed)
    assert found["hidden"]
    assert any(
        abs(line.p[way] - line.q[way]) < 1e-3 and abs(abs(line.p[way] - edge) - float(found["value"])) < NEAR
        and abs(line.length - float(found["length"])) < NEAR
        for line in placed.lines(LineKind.HIDDEN) if isinstance(line, Straight))


def test_the_hints_of_a_stepped_block_read_as_a_teacher_would_say_them():
    _, _, hints = told("stepped-block", 1)
    assert hints.look == (
        "Over all, the part is 70 wide, 50 deep and 50 high.", "Think of it first as a block.",
        "A step and a notch are cut into it.", "The front view shows the outline of the step.",
        "The top view shows the outline of the notch.", "All hidden lines are in the side view.")
    assert hints.begin[1] == (
        "Start in the front view: the upright face of the step is 30 from the right edge and the floor of the step is 20 from "
        "the bottom edge.")
    assert hints.missed == (
        "Look in the side view for a hidden vertical line, 20 long, 15 from the front edge.",
        "It is the back of the notch, seen edge on.", "The pictorial shows this edge, but from here the part hides it.")
    assert [(each.view, each.words, each.value) for each in hints.lengths] == [
        ("front", "from the left edge to the left side of the notch", 60.0),
        ("front", "from the top edge to the floor of the step", 30.0),
        ("top", "from the left edge to the upright face of the step", 40.0),
        ("top", "from the upright face of the step to the left side of the notch", 20.0),
        ("left", "from the back edge to the back of the notch", 35.0)]


@pytest.mark.parametrize("name", BANK)
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
