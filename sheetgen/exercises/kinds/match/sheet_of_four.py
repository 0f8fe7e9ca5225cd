"""Four sets of views at the left, four pictorials at the right, and lines to say which belongs to which. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.exercises.beside import pointed
from sheetgen.exercises.chance import shuffled
from sheetgen.exercises.differing import Lines, differ, lines_drawn
from sheetgen.exercises.kinds.match.alike import Clearance
from sheetgen.exercises.kinds.match.grid import grid_of
from sheetgen.exercises.kinds.match.sets import lines_of_set, set_of
from sheetgen.exercises.kinds.match.sheet import LABEL, LETTERS, Asked, Slot, label
from sheetgen.exercises.kinds.match.siblings import Sibling
from sheetgen.ink import Mark, moved
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import boxes_of
from sheetgen.sheet.layout import SCALES, views_asked
from sheetgen.sheet.paper import Box
from sheetgen.sheet.textblock import block_of
from sheetgen.sight import Pictorial, PlacedView, Sight, Sights

COUNT = 4

NUMBERS = tuple(str(number) for number in range(1, COUNT + 1))

APART, UNDER = 8.0, 7.0
"""mm: between two pictorials, from each down to the middle of its letter."""

SHARES = (0.8, 0.7, 0.6, 0.5, 0.45, 0.4, 0.35)
"""Of full size, at which the pictorials are tried."""

LEAST_OVER = 55.0
"""mm that text, lines and reasons over the pictorials take at least."""

REASON = 4.5
"""mm for each pair that is told on the answer."""

LEAST = 42.0
"""mm, the longer side of a pictorial: smaller ones show too little (common practice, no source)."""

HEIGHTS = (3.5, 2.5)

ROW = 9.0
"""mm from the text down to the line of slots."""


@dataclass(frozen=True, eq=False)
class _Part:
    """One of four: its pictorial, and from all sides."""

    looks: Sight
    sights: Sights


def four_of(problem: Problem, settings: Settings, others: Sequence[Sibling]) -> Asked:
    """The sheet of the part and three of the ``others``, at the largest scale of the views at which they differ and find room.

    Raises: RefusedError if they do at none.
    """
    reasons = list[Reason]()
    for name, scale in SCALES[:2]:
        try:
            return _sheet(problem, settings, others, name, scale)
        except RefusedError as error:
            reasons += error.reasons
    raise RefusedError(reasons[-1:])


def _sheet(problem: Problem, settings: Settings, others: Sequence[Sibling], name: str, scale: float) -> Asked:
    """The sets at the left, the text at the upper right and the pictorials under it."""
    names, reasons = views_asked(settings.side), list[Reason]()
    whole = set_of({view: problem.sights[view] for view in names}, settings.projection, scale)
    grid = grid_of([whole] * COUNT, NUMBERS, settings)
    own = _Part(problem.pictorial, problem.sights)
    for share in SHARES:
        try:                                                 # whether there is room at all, before any two are compared
            _pictorials([own], settings, share, (*grid.room[:3], grid.room[3] - LEAST_OVER))
            parts = _four(problem, settings, others, scale, share)
            return _with(problem, settings, parts, name, scale, share)
        except RefusedError as error:
            reasons += error.reasons
    raise RefusedError(reasons[-1:])


def _with(problem: Problem, settings: Settings, parts: Sequence[_Part], name: str, scale: float, share: float) -> Asked:
    say, names = settings.wording.render, views_asked(settings.side)
    order = shuffled(problem, "order of sets", range(COUNT))
    sets = [set_of({view: parts[which].sights[view] for view in names}, settings.projection, scale) for which in order]
    grid = grid_of(sets, NUMBERS, settings)
    left, low, x1, y1 = grid.room
    numbers = [NUMBERS[order.index(k)] for k in range(COUNT)]
    pairs = [say("match.pair", letter=LETTERS[k], number=numbers[k]) for k in range(COUNT)]
    for height in HEIGHTS:
        text = block_of(lines_of(settings, name), grid.text_width, height)
        row = y1 - 2.0 - text.breadth - ROW
        step = grid.text_width / 2
        slots = tuple(Slot(LETTERS[k], (round(left + (k % 2) * step + 20.0, 1), row - k // 2 * ROW), numbers[k])
                      for k in range(COUNT))
        below = row - ROW - 4.0
        try:
            pictorials, marks = _pictorials(parts, settings, share, (left, low, x1, below - COUNT * REASON))
        except RefusedError:
            continue
        return Asked(
            name, (*grid.marks, *marks), tuple(text.marks(left, y1 - 2.0)), slots, (), tuple(pairs),
            (say("match.look_four"), say("match.look_hidden")), ((pairs[0],), (pairs[1],)), (left, below),
            float(boxes_of(marks)[:, 3].max()), grid.text_width, grid.placed, pictorials)
    raise RefusedError([Reason("no room for four pictorials beside four sets of views")])


def _pictorials(
    parts: Sequence[_Part], settings: Settings, share: float, room: Box
) -> tuple[tuple[PlacedView, ...], list[Mark]]:
    """The pictorials in two rows of two, each over its letter. Raises: RefusedError if they have no room."""
    x0, y0, x1, y1 = room
    cell = np.array([(x1 - x0) / 2, (y1 - y0) / 2])
    found, marks = list[PlacedView](), list[Mark]()
    for k, part in enumerate(parts):
        own = pointed(part.looks, share, settings)
        boxes = boxes_of(own)
        low, high = boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)
        if ((high - low) > cell - (APART, UNDER + LABEL)).any() or (high - low).max() < LEAST:
            raise RefusedError([Reason("no room for four pictorials beside four sets of views")])
        middle = np.array([x0 + (k % 2 + 0.5) * cell[0], y1 - (k // 2 + 0.5) * cell[1]])
        by = np.round(middle + np.array([0.0, (UNDER + LABEL) / 2]) - (low + high) / 2, 1)
        found.append(PlacedView(part.looks, share, by))
        at = round(float(by[1] + low[1]) - UNDER, 1)
        marks += [*moved(own, float(by[0]), float(by[1])), label(LETTERS[k], (float(middle[0]), at))]
    return tuple(found), marks


def _four(
    problem: Problem, settings: Settings, others: Sequence[Sibling], scale: float, share: float
) -> list[_Part]:
    """The part and three siblings, in the order of their letters, of which every two differ as pictorials and as sets of views.

    Raises: RefusedError if there are not so many.
    """
    own, names = _Part(problem.pictorial, problem.sights), views_asked(settings.side)
    found, looks, sets = list[_Part](), list[Lines](), list[Lines]()
    clearance = Clearance.of(set_of({view: own.sights[view] for view in names}, settings.projection, scale))
    for part in (own, *_others(problem, others)):
        look = lines_drawn(PlacedView(part.looks, share, np.zeros(2)), hidden=False)
        drawn = set_of({view: part.sights[view] for view in names}, settings.projection, scale)
        views = lines_of_set(drawn)
        if all(differ(look, other) for other in looks) and all(differ(views, other) for other in sets) and clearance.keeps(drawn):
            found.append(part)
            looks.append(look)
            sets.append(views)
        if len(found) == COUNT:
            return shuffled(problem, "order of parts", found)
    raise RefusedError([Reason("too few parts like this one that differ so that everybody sees it")])


def _others(problem: Problem, others: Sequence[Sibling]) -> Iterator[_Part]:
    """Sound siblings whose pictorial can be read."""
    for sibling in shuffled(problem, "siblings", others):
        looks = sibling.looks(problem.pictorial)
        if sibling.is_sound and not Pictorial(looks).faults:
            yield _Part(looks, sibling.sights)


def lines_of(settings: Settings, name: str) -> list[str]:
    """What is asked."""
    say = settings.wording.render
    scale = say("scale.full", scale=name) if name == "1:1" else say("scale.reduced", scale=name)
    projection, arrow = say(f"projection.{settings.projection}"), say("letters.arrow_front")
    return [say("match.four", first=LETTERS[0], last=LETTERS[-1], count=COUNT, projection=projection),
            say("match.arrow", arrow=arrow), say("match.drawn", scale=scale), say("match.pictorials"), say("match.table")]
