"""Five lengths to be measured on one's own drawing: spread over its views, plainly found, and as far as can be not printed."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.hints.landmarks import Landmark
from sheetgen.exercises.hints.record import Length
from sheetgen.measures import Measure
from sheetgen.problem import Problem
from sheetgen.projection import LineKind, Straight
from sheetgen.sheet import Settings
from sheetgen.sight import PlacedView
from sheetgen.units import SAME_LEVEL

COUNT = 5
"""Lengths to be measured."""

LEAST = 5.0
"""mm on paper: a shorter length tells little, for a pencil line is half a millimetre wide (common practice, no source)."""

LEAST_SLOPE = 10.0
"""The same of a slanting line, whose ends are not so sharp."""


PLAINLY_LONGER = 0.8
"""Of the longest slanting line, up to which the next may be as long: more, and one would have to measure which is meant."""


@dataclass(frozen=True, slots=True)
class _Found:
    """A length that could be asked for. ``printed``: as a size of its own; ``edges``: how many of its ends are edges of the view,
    ``centres``: and centre lines; ``pieces``: those at its ends."""

    length: Length
    printed: bool
    edges: int
    centres: int
    pieces: tuple[int, ...]
    key: tuple[int, float, float]


def lengths_of(
    problem: Problem, settings: Settings, drawing: Drawing, landmarks: Sequence[Sequence[Landmark]]
) -> tuple[Length, ...]:
    """The lengths to be measured; ``landmarks``: of each view. Where a part has too few that are told plainly, whole widths and
    heights of views make up their number."""
    printed = {key for measure in problem.measures if (key := _levels(measure))}
    waiting = [sorted(_of_view(placed, marks, printed, settings), key=_order)
               for placed, marks in zip(drawing.views, landmarks, strict=True)]
    chosen: list[_Found] = []
    while len(chosen) < COUNT and any(waiting):
        for mine in waiting:
            if mine and len(chosen) < COUNT:
                best = min(range(len(mine)), key=lambda k: (*_repeats(mine[k], chosen), k))
                chosen.append(mine.pop(best))
                mine[:] = [each for each in mine if each.key != chosen[-1].key]
        for mine in waiting:
            mine[:] = [each for each in mine if each.key not in {one.key for one in chosen}]
    order = [placed.view.name for placed in drawing.views]
    whole = list(_whole(drawing, landmarks, settings))
    made = [each.length for each in chosen]
    made += [length for length in whole if length.words not in {each.words for each in made}][:COUNT - len(made)]
    return tuple(sorted(made, key=lambda length: order.index(length.view)))


def _order(found: _Found) -> tuple[bool, bool, int, int, float]:
    """Those before that are not printed, have one end at an edge of the view, and are longer."""
    return found.printed, found.edges == 2, abs(found.edges - 1), found.centres, -found.length.paper


def _repeats(found: _Found, chosen: Sequence[_Found]) -> tuple[bool, int, int]:
    """What speaks against a length beside those chosen: that it is printed, has the value of another, or asks for the same
    piece or the same way of the same view again."""
    values = {round(each.length.paper, 1) for each in chosen}
    again = sum(place in each.pieces for each in chosen for place in found.pieces)
    again += sum((each.length.view, each.length.way) == (found.length.view, found.length.way) for each in chosen)
    return found.printed, 3 * (round(found.length.paper, 1) in values) + again, found.edges == 2


def _levels(measure: Measure) -> tuple[int, float, float] | None:
    """Between which levels of the part a printed length runs."""
    if measure.axis is None or len(measure.ends) != 2:
        return None
    low, high = sorted(float(end.point[measure.axis]) for end in measure.ends)
    return measure.axis, round(low, 3), round(high, 3)


def _of_view(
    placed: PlacedView, marks: Sequence[Landmark], printed: set[tuple[int, float, float]], settings: Settings
) -> Iterator[_Found]:
    """All lengths of a view between two landmarks that are told plainly, and that of its slanting lines."""
    for number, one in enumerate(marks):
        for other in marks[number + 1:]:
            value = abs(one.level - other.level)
            if one.way != other.way or value * placed.scale < LEAST or (one.edge and other.edge):
                continue
            first, last = (one, other) if one.edge or not other.edge else (other, one)
            levels = round(min(one.level, other.level), 3), round(max(one.level, other.level), 3)
            length = _length(placed, first, last, settings)
            pieces = tuple(mark.piece for mark in (one, other) if mark.piece is not None)
            yield _Found(length, (one.axis, *levels) in printed, one.edge + other.edge, one.centre + other.centre, pieces,
                         (one.axis, *levels))
    yield from _slanting(placed, settings)


def _length(placed: PlacedView, first: Landmark, last: Landmark, settings: Settings) -> Length:
    value = abs(first.level - last.level)
    words = settings.wording.render("hints.length", start=first.words, end=last.words)
    return Length(placed.view.name, words, value, value * placed.scale, first.way, (first.at, last.at))


def _slanting(placed: PlacedView, settings: Settings) -> Iterator[_Found]:
    """The length of the slanting line of a view, of each if all are as long, or of the longest if that is plain to see: it is
    printed nowhere, and true only here."""
    lines = [line for line in placed.lines(LineKind.VISIBLE)
             if isinstance(line, Straight) and all(abs(float(line.p[k] - line.q[k])) > SAME_LEVEL for k in (0, 1))]
    values = [line.length for line in lines]
    longest = max(values, default=0.0)
    alike = [value for value in values if value > longest - SAME_LEVEL]
    others = [value for value in values if value <= longest - SAME_LEVEL]
    if longest * placed.scale < LEAST_SLOPE or max(others, default=0.0) > PLAINLY_LONGER * longest:
        return
    said = {"several": "yes" if len(alike) > 1 else "no", "longest": "yes" if others else "no"}
    words = settings.wording.render("hints.length_slanting", **said)
    length = Length(placed.view.name, words, longest, longest * placed.scale, None)
    yield _Found(length, False, 1, 0, (), (-1, round(longest, 3), math.inf))


def _whole(drawing: Drawing, landmarks: Sequence[Sequence[Landmark]], settings: Settings) -> Iterator[Length]:
    """The whole widths and heights of the views."""
    for placed in drawing.views:
        low, high = placed.view.extent
        for way in (0, 1):
            words = settings.wording.render(f"hints.length_{'high' if way else 'wide'}")
            value = float(high[way] - low[way])
            yield Length(placed.view.name, words, value, value * placed.scale, way, (float(low[way]), float(high[way])))
