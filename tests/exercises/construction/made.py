"""Constructions made for these tests, and what can be checked of one by who knows only what was drawn."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from sheetgen.bank import Family, load_bank
from sheetgen.exercises import USUAL, kinds
from sheetgen.exercises.construction import Part, Projector, Stage, stages_of
from sheetgen.exercises.kinds.section.built import section_stages
from sheetgen.exercises.kinds.section.task import SectionTask
from sheetgen.exercises.kinds.views.task import Task
from sheetgen.ink import Fill, Mark, Pen, Stroke, Text
from sheetgen.problem import Problem, problem_of
from sheetgen.projection import LineKind, lines_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Settings, Style, settings_of
from sheetgen.solid import Cone, Plane

NEAR = 0.02
"""mm on paper: a projector ends at a point no farther away."""

DRAWS = 20


@dataclass(frozen=True, eq=False)
class Built:
    """An answer and how it is built."""

    problem: Problem
    settings: Settings
    task: Task
    stages: tuple[Stage, ...]


USUAL_LOOK = Style()


def built(family: str | Family, seed: int, style: Style = USUAL_LOOK, kind: str = USUAL) -> Built:
    """The first draw of a seed that can be printed, in the kind ``views`` or ``section``."""
    settings = settings_of(style)
    own = load_bank()[family] if isinstance(family, str) else family
    for draw in range(DRAWS):
        try:
            problem = problem_of(own.sample(seed, draw))
            problem.check()
            task: Task = kinds()[kind].shared(problem, settings)
        except RefusedError:
            continue
        stages = section_stages(problem, settings, task) if isinstance(task, SectionTask) else stages_of(
            problem, settings, task.drawing)
        return Built(problem, settings, task, stages)
    raise AssertionError(f"{own.name} {seed}: all draws refused")


def line_keys(made: Built) -> Counter[tuple[object, ...]]:
    """All lines of the views, as they are counted for marking and vetting."""
    return Counter(
        _key(placed.view.name, kind, shape.points()) for placed in made.task.drawing.views for kind in LineKind
        for shape in lines_of(placed.view, kind, placed.scale))


def stage_keys(made: Built) -> Counter[tuple[object, ...]]:
    """The lines that its stages introduce."""
    return Counter(_key(line.view, line.kind, line.shape.points()) for stage in made.stages for line in stage.lines)


def _key(view: str, kind: LineKind, points: np.ndarray) -> tuple[object, ...]:
    return view, str(kind), len(points), *np.round(points[[0, len(points) // 2, -1]].ravel(), 3).tolist()


def mark_key(mark: Mark) -> tuple[object, ...]:
    """A mark as something that can be compared."""
    if isinstance(mark, Text):
        return "text", mark.text, round(mark.at[0], 3), round(mark.at[1], 3)
    assert isinstance(mark, Stroke | Fill)
    return type(mark).__name__, getattr(mark, "pen", None), len(mark.points), *np.round(mark.points[[0, -1]].ravel(), 3).tolist()


def places_on(stroke: Stroke) -> np.ndarray:
    """Ends of a line on paper, and where it is tangent to the sheet's axes (n, 2)."""
    if not stroke.curved:
        return stroke.points if stroke.closed else stroke.points[[0, -1]]
    found = [] if stroke.closed else [stroke.points[0], stroke.points[-1]]
    for first in range(0, len(stroke.points) - 1, 3):
        span = stroke.points[first:first + 4]
        steps = np.diff(span, axis=0)
        for k in (0, 1):
            p, q, r = steps[:, k]                          # the rate: p (1-t)² + 2 q t (1-t) + r t²
            for root in np.roots([p - 2 * q + r, 2 * (q - p), p]):
                t = float(np.real(root))
                if abs(np.imag(root)) < 1e-6 and -1e-6 <= t <= 1 + 1e-6:
                    s = 1 - t
                    found.append(s**3 * span[0] + 3 * s * s * t * span[1] + 3 * s * t * t * span[2] + t**3 * span[3])
    return np.array(found).reshape(-1, 2)


def strays(made: Built) -> Iterator[str]:
    """Projectors that do not start on something drawn before, or do not end on something new."""
    known = np.zeros((0, 2))
    for stage in made.stages:
        fresh = [places_on(mark) for mark in stage.new if isinstance(mark, Stroke) and stage.part is not Part.SIZES]
        boxes = [places_on(mark) for mark in stage.construction] if stage.part is Part.BOXES else []
        after = np.concatenate([known, *fresh, *boxes, stage.points])
        for projector in stage.projectors:
            starts, stops = (after, stage.points) if projector.point else (after, after)
            for what, place, allowed in (("starts", projector.path[0], starts), ("ends", projector.path[-1], stops)):
                if not len(allowed) or np.hypot(*(allowed - place).T).min() > (0.05 if projector.point else NEAR):
                    ways = f"{projector.source}-{projector.target}"
                    yield f"{stage.heading}: a projector {ways} {what} nowhere, at {place.round(2)}"
        known = after


def crooked(made: Built) -> Iterator[str]:
    """Projectors that are neither level nor upright, or do not meet on the mitre line where they turn."""
    mitres = dict(_mitres(made))
    for stage in made.stages:
        for projector in stage.projectors:
            legs = np.diff(projector.path, axis=0)
            if np.abs(legs).min(axis=1).max() > NEAR:
                yield f"{stage.heading}: a crooked projector {projector.path.round(2).tolist()}"
            if (projector.axis == 1) != (len(projector.path) == 3):
                yield f"{stage.heading}: a depth that does not turn, or a turn of what is no depth"
            if len(projector.path) == 3 and shapely.distance(
                    shapely.Point(projector.path[1]), mitres[_side(projector)]) > NEAR:
                yield f"{stage.heading}: a turn off the mitre line at {projector.path[1].round(2)}"


def _side(projector: Projector) -> str:
    return projector.source if projector.source in ("left", "right") else projector.target


def _mitres(made: Built) -> Iterator[tuple[str, shapely.LineString]]:
    """The lines at 45° of the stage that draws them, each to its side view."""
    boxes = {placed.view.name: placed.box for placed in made.task.drawing.views}
    for stage in made.stages:
        for mark in stage.construction if stage.part is Part.MITRE else ():
            across, up = mark.points[1] - mark.points[0]
            if abs(abs(across) - abs(up)) < 1e-6 and abs(across) > 1e-6:
                middle = mark.points[:, 0].mean()
                side = min((name for name in boxes if name in ("left", "right")),
                           key=lambda name: abs((boxes[name][0] + boxes[name][2]) / 2 - middle))
                yield side, shapely.LineString(mark.points)


NUMBER = re.compile(r"\d+(?:\.\d+)?")


ROUNDED = 0.0051
"""mm: by so much a figure may differ from the size, of which it has two decimals."""


def sizes_of(problem: Problem) -> set[float]:
    """Every size that the part has: its measures, where its corners, axes and surfaces lie from either end, round sizes, and
    how far two that lie alike on both sides of the middle are apart; worked out from the solid, not from any drawing."""
    solid, found = problem.solid, {measure.value for measure in problem.measures}
    points = [solid.vertices, *(np.atleast_2d(group.point) for group in solid.axis_groups)]
    reach = []
    for group in solid.axis_groups:
        reach += [group.radius, 2 * group.radius]
        arms = solid.vertices[group.corners] - group.point
        arms -= np.outer(arms @ group.direction, group.direction)
        away = np.unique(np.round(np.linalg.norm(arms, axis=1), 3))
        reach += [*away.tolist(), *(2 * away).tolist()]
        for radius in away.tolist():
            points += [np.atleast_2d(group.point + sign * radius * axis) for sign in (-1, 1) for axis in np.eye(3)]
    for surface in solid.surfaces:
        if isinstance(surface, Plane):
            continue
        if not isinstance(surface, Cone):
            reach += [surface.radius, 2 * surface.radius]
    for axis in range(3):
        levels = np.unique(np.round(np.concatenate([some[:, axis] for some in points]), 3))
        size = float(solid.size[axis])
        found |= {*levels.tolist(), *(size - levels).tolist(), *np.abs(size - 2 * levels).tolist(), size}
    return {abs(value) for value in {*found, *reach, *_slopes(problem)}}


def _slopes(problem: Problem) -> Iterator[float]:
    """At how many degrees to the axes inclined faces stand that are seen edge-on."""
    for surface in problem.solid.surfaces:
        if isinstance(surface, Plane) and surface.axis is None:
            across = np.sort(np.abs(surface.normal))[1:]
            angle = float(np.degrees(np.arctan2(*across)))
            yield from (angle, 90 - angle)


def odd_numbers(made: Built) -> Iterator[str]:
    """Numbers in sentences that are no sizes of the part. Counts stand before a ×; the mitre line's angle, those of a drill's
    point and its side, and the spacing of the views, are of the board."""
    allowed = np.array([*sizes_of(made.problem), 45.0, 120.0, 30.0, *_of_section(made.task)])
    layout = made.task.drawing.layout
    scale = set(NUMBER.findall(layout.scale_name))
    for stage in made.stages:
        for sentence in stage.sentences:
            if stage.part is Part.BOXES and ("(" in sentence or "Drawing space" in sentence):
                continue
            told = NUMBER.findall(re.sub(r"\d+ ×", "", sentence))
            more = scale if stage.part is Part.BOXES else set()
            for odd in (one for one in told if one not in more and np.abs(allowed - float(one)).min() > ROUNDED):
                yield f"{stage.heading}: {odd} in {sentence!r}"


def _of_section(task: Task) -> Iterator[float]:
    """Where a part is cut and where the plane turns; how it is hatched, of which there is no choice but the text's."""
    if isinstance(task, SectionTask):
        yield from (stretch.level for stretch in task.cut.plane.stretches(task.cut.drawn))
        yield from task.cut.plane.turns
        solid = task.cut.section.view.solid                              # where the plane meets slopes and rounds
        for axis, size in enumerate(solid.size.tolist()):
            levels = np.unique(np.round(solid.vertices[:, axis], 3))
            yield from (*levels.tolist(), *(size - levels).tolist(), *np.abs(size - 2 * levels).tolist())
        strokes = [mark.points for mark in task.drawing.dressed if isinstance(mark, Stroke) and mark.pen is Pen.HATCHING]
        run = strokes[0][1] - strokes[0][0]
        yield float(np.degrees(np.arctan2(run[1], run[0]))) % 180
        across = np.array([-run[1], run[0]]) / np.hypot(*run)
        apart = np.diff(np.unique(np.round([points[0] @ across for points in strokes], 2)))
        yield round(float(apart[apart > 1.0].min()), 1)


def missing(made: Built) -> Iterator[str]:
    """Marks of the answer that no stage introduces, and marks that the answer has not. A centre line that a size draws on is
    drawn anew, longer, with the sizes."""
    new = Counter(mark_key(mark) for stage in made.stages for mark in stage.new)
    answer = Counter(mark_key(mark) for mark in made.task.drawing.marks)
    yield from (f"no stage draws {key}" for key in answer - new)
    yield from (f"the answer has no {key}" for key in new - answer if key[1] is not Pen.CENTRE)
