"""What the sheets of the kind ``auxiliary`` have in common: which face is asked for, two views with all sizes, the place of the
auxiliary view, the pictorial that tells the shape, the words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import product

import numpy as np

from sheetgen.exercises.beside import plain_beside, taken_by, text_beside
from sheetgen.exercises.drawing import Drawing, drawing_of
from sheetgen.exercises.given.assumed import called
from sheetgen.exercises.kinds.auxiliary.dressing import Asked, Folded
from sheetgen.exercises.kinds.auxiliary.face import InclinedFace, faces_to_ask, sight_of
from sheetgen.exercises.kinds.auxiliary.shown import true_shape, whole_view
from sheetgen.exercises.kinds.auxiliary.standing import SMALL, Needed, in_line, rows_of, standings
from sheetgen.exercises.kinds.auxiliary.told import Sized, sized_on
from sheetgen.exercises.kinds.views.answer import LEAST_PICTORIAL, scales_beside
from sheetgen.ink import Mark
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import Taken, boxes_of, outlines_of
from sheetgen.sheet.layout import SCALES, SCALES_TRIED, views_asked
from sheetgen.sheet.textblock import block_of
from sheetgen.sight import PlacedView, Sight, crowded_views
from sheetgen.solid import Plane

HEIGHTS, WIDTHS, MARGINS = (3.5, 2.5), (118.0, 100.0, 84.0, 70.0, 150.0, 58.0), (6.0, 3.0)
"""mm: lettering of the words, their width, what is kept free round them, as they are tried."""

BESIDE_NAME = 12.0
"""mm kept free beside the name of a view, lest the words seem to go on from it."""

CLEAR = 5.0
"""mm kept free round the pictorial."""

LEAST_FACE, LEAST_VIEWS = 7.0, 45.0
"""mm on paper: length and width of a face, and the greatest width, depth or height of the views; less can hardly be drawn
(common practice, no source)."""

FACES, WAYS = 2, 6
"""So many faces are tried, and so many ways to place each, before a variant is refused."""

NO_ROOM = Reason("two views and the auxiliary view have no room on the paper")


@dataclass(frozen=True, eq=False)
class Task:
    """``sized``: the problem with the sizes that the two views have; ``drawing``: the two views with all sizes, the reference
    lines and the arrow; ``asked``: what is asked for; ``sight``: the pictorial, ``picture``: it on the sheet; ``lines``: the
    words, ``text``: these on the sheet."""

    sized: Problem
    drawing: Drawing
    asked: Asked
    sight: Sight
    lines: tuple[str, ...]
    picture: tuple[Mark, ...]
    text: tuple[Mark, ...]

    @cached_property
    def folded(self) -> Folded:
        """All that belongs to the auxiliary view."""
        return self.asked.folded(self.drawing.views)

    @property
    def option(self) -> int:
        """What a code has of it: 1 for the face alone, 2 for the whole part."""
        return 2 if self.asked.whole else 1


def task_of(problem: Problem, settings: Settings) -> Task:
    """The first of the faces, views beside it and places that can be drawn right.

    Raises: UnsuitedError if the part has no inclined face; RefusedError if none can be drawn right.
    """
    reasons = list[Reason]()
    for face in faces_to_ask(problem, settings)[:FACES]:
        sight = sight_of(problem, face)
        assert sight
        tried = 0
        for way in _ways(problem, settings, face, sight, reasons):
            asked, lines = way.asked, way.lines
            try:
                drawing = drawing_of(way.sized, settings, asked.views, asked)
                picture, text = _beside(settings, drawing, sight, lines)
            except RefusedError as error:
                reasons += error.reasons
            else:
                return Task(way.sized, drawing, asked, sight, lines, tuple(picture), tuple(text))
            tried += 1
            if tried == WAYS:
                break
        if not tried and not reasons:
            reasons.append(NO_ROOM)
    raise RefusedError(reasons)


def served(problem: Problem, settings: Settings) -> None:
    """Raise what ``task_of`` would if the part has no face that can be asked for, or its views no place, but draw nothing."""
    reasons = list[Reason]()
    for face in faces_to_ask(problem, settings)[:FACES]:
        sight = sight_of(problem, face)
        assert sight
        if next(_ways(problem, settings, face, sight, reasons), None):
            return
    raise RefusedError(reasons or [NO_ROOM])


@dataclass(frozen=True, eq=False)
class _Way:
    """A way to ask: ``sized``: the problem with the sizes that the two views have."""

    asked: Asked
    sized: Problem
    lines: tuple[str, ...]


def _ways(
    problem: Problem, settings: Settings, face: InclinedFace, sight: Sight, reasons: list[Reason]
) -> Iterator[_Way]:
    """The views and their places, at the largest scale at which they have room, and at the next. ``reasons`` gets why views are
    left out."""
    pairs = list[tuple[Asked, Sized]]()
    for asked in _pairs(problem, settings, face):
        try:
            pairs.append((asked, sized_on(problem, settings, asked, face)))
        except RefusedError as error:
            reasons += error.reasons
    pairs.sort(key=lambda pair: len(pair[1].besides))
    found = 0
    for name, scale in SCALES:
        if float(problem.solid.size.max()) * scale < LEAST_VIEWS:
            return
        any_ = False
        for asked, sized in pairs:
            if float(np.ptp(asked.face.corners, axis=0).min()) * scale < LEAST_FACE:
                continue
            try:
                _check_lines(asked, scale)
            except RefusedError as error:
                reasons += error.reasons
                continue
            lines = tuple(lines_of(problem, settings, asked, name, sized))
            for way in standings(asked, problem.sights, settings, name, scale, _needed(settings, lines, sight)):
                any_ = True
                yield _Way(way, sized.problem, lines)
        found += any_
        if found == SCALES_TRIED:
            return


def _check_lines(asked: Asked, scale: float) -> None:
    """Raise RefusedError if lines of what is asked for would print as one."""
    if crowded := crowded_views((PlacedView(Sight(asked.view), scale, np.zeros(2)),)):
        raise RefusedError(crowded)


def _pairs(problem: Problem, settings: Settings, face: InclinedFace) -> Iterator[Asked]:
    """The views that show the face edge-on, each with those that stand beside it."""
    course = views_asked(settings.side)
    for home in face.homes(problem, settings):
        view = whole_view(problem, face, problem.view(home).frame)
        shape = true_shape(problem, face, view)
        for beside in course:
            if in_line(home, beside, problem.solid.size, settings):
                yield Asked({}, home, beside, shape, view if settings.whole else shape, 0.0, settings)


def _needed(settings: Settings, lines: Sequence[str], sight: Sight) -> Needed:
    """The least room of words and pictorial."""
    small = settings.paper.width < SMALL
    words = block_of(lines, WIDTHS[2], HEIGHTS[1]) if small else block_of(lines, WIDTHS[1], HEIGHTS[0])
    low, high = sight.view.extent
    size = (high - low) * (LEAST_PICTORIAL + (2.0 if small else 16.0)) / float((high - low).max())
    return Needed((words.width, words.breadth), (float(size[0]) + 9.0, float(size[1]) + 14.0))


def _beside(
    settings: Settings, drawing: Drawing, sight: Sight, lines: Sequence[str]
) -> tuple[Sequence[Mark], Sequence[Mark]]:
    """The largest pictorial with which the words find room, and these. Raises: RefusedError if there is none."""
    paper, taken = settings.paper, _taken(settings, drawing)
    corners = [(paper.x0, paper.y1), (paper.x1, paper.y1), (paper.x0, paper.y0)]
    for height, scaled, towards in product(HEIGHTS, list(scales_beside(sight, settings)), corners):
        picture = plain_beside(sight, settings, taken, towards, [scaled], CLEAR)
        if not picture:
            continue
        try:
            return picture, words_beside(lines, taken.with_more(outlines_of(picture)), (paper.x0, paper.y1), (height,))
        except RefusedError:
            continue
    raise RefusedError([Reason("there is no room for words and pictorial beside the views")])


def words_beside(
    lines: Sequence[str], taken: Taken, towards: tuple[float, float], heights: Sequence[float] = HEIGHTS
) -> list[Mark]:
    """Words where there is room. Raises: RefusedError if there is none."""
    return text_beside(lines, taken, towards, Reason("there is no room for the words beside the views"), heights=heights,
                       widths=WIDTHS, margins=MARGINS)


def _taken(settings: Settings, drawing: Drawing) -> Taken:
    """What the views take of the sheet, and all that the answer adds to them."""
    assert isinstance(drawing.dressing, Asked)
    folded = drawing.dressing.folded(drawing.views)
    boxes = [box for area in folded.blocked() for box in rows_of(area)]
    for name in drawing.chosen[len(drawing.items):]:
        for x0, y0, x1, y1 in boxes_of(name.drawn.texts).tolist():
            boxes.append((x0 - BESIDE_NAME, y0 - 2.0, x1 + BESIDE_NAME, y1 + 2.0))
    return taken_by(drawing.marks, settings).with_boxes([*boxes, *(view.box for view in drawing.views)])


def lines_of(problem: Problem, settings: Settings, asked: Asked, scale_name: str, sized: Sized) -> Iterator[str]:
    """What is given, what is asked for, and where; ``sized``: with which sizes."""
    say = settings.wording.render
    scale = say("scale.full", scale=scale_name) if scale_name == "1:1" else say("scale.reduced", scale=scale_name)
    first, second = (called(view, settings) for view in asked.views)
    letter = say("auxiliary.letter")
    yield say("auxiliary.given", first=first, second=second, scale=scale, projection=say(f"projection.{settings.projection}"),
              every="yes" if sized.every else "no")
    if sized.besides:
        yield say("auxiliary.besides", sizes="; ".join(sized.besides))
    yield ""
    yield say("auxiliary.task" if asked.whole else "auxiliary.task_partial", letter=letter)
    yield say("auxiliary.place", first=first, second=second)
    if problem.symmetry:
        yield say(f"question.symmetry_{''.join(sorted(problem.symmetry))}")
    if asked.whole:
        yield say("auxiliary.hidden")
    if asked.view.centre_lines:
        yield say("auxiliary.centre_lines")
    if not asked.whole:
        yield say("auxiliary.dimension")
    if asked.whole and any(not isinstance(surface, Plane) for surface in problem.solid.surfaces):
        yield from (say(f"notes.{note.key}", **note.values) for note in problem.notes if note.key == "drill_points")
