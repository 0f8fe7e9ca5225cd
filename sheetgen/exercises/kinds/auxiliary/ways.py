"""The ways in which an inclined face may be asked for: views beside each other, scales, places on the sheet; and the words for
each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np

from sheetgen.exercises.given.assumed import called
from sheetgen.exercises.kinds.auxiliary.dressing import Asked
from sheetgen.exercises.kinds.auxiliary.face import InclinedFace, sight_of
from sheetgen.exercises.kinds.auxiliary.shown import true_shape, whole_view
from sheetgen.exercises.kinds.auxiliary.standing import SMALL, Needed, in_line, standings
from sheetgen.exercises.kinds.auxiliary.told import Sized, sized_on
from sheetgen.exercises.kinds.views.answer import LEAST_PICTORIAL
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.layout import SCALES, SCALES_TRIED, views_asked
from sheetgen.sheet.textblock import block_of
from sheetgen.sight import PlacedView, Sight, crowded_views
from sheetgen.solid import Plane

HEIGHTS, WIDTHS = (3.5, 2.5), (118.0, 100.0, 84.0, 70.0, 150.0, 58.0)
"""mm: lettering of the words and their width, as they are tried."""

LEAST_FACE, LEAST_VIEWS = 5.0, 45.0
"""mm on paper: length and width of a face, and the greatest width, depth or height of the views; less can hardly be drawn
(common practice, no source)."""


@dataclass(frozen=True, eq=False)
class Way:
    """A way to ask. ``tries``: with the equal distances shown at one side of a view or another, or nowhere, and in one place or
    another, as it is tried; ``sized``: the sizes that the two views have; ``sight``: the pictorial; ``lines``: the words."""

    tries: tuple[Asked, ...]
    sized: Sized
    sight: Sight
    lines: tuple[str, ...]


def ways_of(problem: Problem, settings: Settings, face: InclinedFace, reasons: list[Reason]) -> Iterator[Iterator[Way]]:
    """The views and their places, scale by scale, at the largest at which they have room, and at the next. ``reasons`` gets why
    views are left out."""
    pairs = list[tuple[Asked, Sized]]()
    for asked in _pairs(problem, settings, face):
        try:
            pairs.append((asked, sized_on(problem, settings, asked, face)))
        except RefusedError as error:
            reasons += error.reasons
    pairs.sort(key=lambda pair: len(pair[1].besides))
    found = 0
    for name, scale in SCALES:
        if float(problem.solid.size.max()) * scale < LEAST_VIEWS or found == SCALES_TRIED:
            return
        ways = _ways_at(problem, settings, face, pairs, (name, scale), reasons)
        if first := next(ways, None):
            found += 1
            yield chain([first], ways)


def _ways_at(
    problem: Problem, settings: Settings, face: InclinedFace, pairs: Sequence[tuple[Asked, Sized]], at: tuple[str, float],
    reasons: list[Reason],
) -> Iterator[Way]:
    """Those ``at`` one scale: its name, and paper mm per part mm."""
    (name, scale), sight = at, sight_of(problem, face)
    assert sight
    for asked, sized in pairs:
        if float(np.ptp(asked.face.corners, axis=0).min()) * scale < LEAST_FACE:
            continue
        if crowded := crowded_views((PlacedView(Sight(asked.view), scale, np.zeros(2)),)):
            reasons += crowded                                      # lines of what is asked for would print as one
            continue
        lines = tuple(lines_of(problem, settings, asked, name, sized))
        for tries in standings(asked, problem.sights, settings, name, scale, _needed(settings, lines, sight)):
            yield Way(tries, sized, sight, lines)


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
    blocks = [block_of(lines, width, HEIGHTS[1]) for width in WIDTHS] if small else [block_of(lines, WIDTHS[1], HEIGHTS[0])]
    low, high = sight.view.extent
    size = (high - low) * (LEAST_PICTORIAL + (2.0 if small else 16.0)) / float((high - low).max())
    return Needed(tuple((words.width, words.breadth) for words in blocks), (float(size[0]) + 9.0, float(size[1]) + 14.0))


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
    if asked.whole:
        yield say("auxiliary.task", letter=letter)
    else:
        yield say("auxiliary.task_partial", letter=letter, opens="yes" if asked.face.opened else "no")
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
