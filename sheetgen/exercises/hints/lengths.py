"""Five lengths to be measured on one's own drawing: spread over its views, plainly found, and as far as can be neither printed,
nor given away by the second hint, nor one of them by another."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.hints.landmarks import Landmark, ViewAxes
from sheetgen.exercises.hints.record import Length, Span, span_of
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


TOLD, MATCHED, PRINTED, REST, FOLLOWS, SAME = 100, 50, 20, 15, 6, 12
"""What speaks against a length (common practice, no source): the second hint gives it away; it is what another leaves of the same
width; it is printed; it is what the second hint leaves, where the question does not print that; it follows from several others;
it has the value of another."""


@dataclass(frozen=True, slots=True)
class _Known:
    """What need not be drawn to be known of the part: ``told``: by the second hint, ``beyond``: of that, what the question does
    not print."""

    problem: Problem
    told: frozenset[Span]
    beyond: frozenset[Span]


@dataclass(frozen=True, slots=True)
class _Found:
    """A length that could be asked for. ``printed``: as a size of its own; ``edges``: how many of its ends are edges of the view,
    ``centres``: and centre lines; ``pieces``: those at its ends."""

    length: Length
    printed: bool
    edges: int
    centres: int
    pieces: tuple[int, ...]
    key: Span


def lengths_of(
    problem: Problem, settings: Settings, drawing: Drawing, landmarks: Sequence[Sequence[Landmark]],
    told: frozenset[Span] = frozenset(),
) -> tuple[Length, ...]:
    """The lengths to be measured; ``landmarks``: of each view; ``told``: what the second hint gives away. Where a part has
    too few that are told plainly, whole widths and heights of views make up their number."""
    printed = printed_spans(problem)
    halves = {span_of(axis, *ends) for axis, size in enumerate(map(float, problem.solid.size)) if "xyz"[axis] in problem.symmetry
              for ends in ((0.0, size / 2), (size / 2, size))}
    given = frozenset({*told, *(_mirrored(span, problem) for span in told), *halves})
    known = _Known(problem, given, given - printed)
    waiting = [sorted(_of_view(placed, marks, printed, settings), key=_order)
               for placed, marks in zip(drawing.views, landmarks, strict=True)]
    chosen: list[_Found] = []
    for mine in waiting:                             # one of each view, if it has any that tells anything
        best = min(mine, key=lambda each: _against(each, chosen, known), default=None)
        if best and _against(best, chosen, known)[0] < MATCHED:
            chosen.append(best)
        waiting = [[each for each in others if each.key not in {one.key for one in chosen}] for others in waiting]
    rest = [each for mine in waiting for each in mine]
    while len(chosen) < COUNT and rest:
        best = min(rest, key=lambda each: _against(each, chosen, known))
        if _against(best, chosen, known)[0] >= TOLD:
            break                                    # the whole of a view, which is measured too, tells more than what was read
        chosen.append(best)
        rest = [each for each in rest if each.key != best.key]
    order = [placed.view.name for placed in drawing.views]
    whole = _whole(problem, drawing, settings, printed)
    made = [each.length for each in chosen]
    made += [length for length in whole if length.words not in {each.words for each in made}][:COUNT - len(made)]
    return tuple(sorted(made, key=lambda length: order.index(length.view)))


def printed_spans(problem: Problem) -> frozenset[Span]:
    """Between which levels of the part the lengths run that are printed."""
    return frozenset(key for measure in problem.measures if (key := _levels(measure)))


def _order(found: _Found) -> tuple[bool, bool, int, int, float]:
    """Those before that are not printed, have one end at an edge of the view, and are longer."""
    return found.printed, found.edges == 2, abs(found.edges - 1), found.centres, -found.length.paper


def _against(found: _Found, chosen: Sequence[_Found], known: _Known) -> tuple[int, bool]:
    """What speaks against a length beside those chosen, and against asking for the same piece or the same way of a view again."""
    again = sum(place in each.pieces for each in chosen for place in found.pieces)
    again += sum((each.length.view, each.length.way) == (found.length.view, found.length.way) for each in chosen)
    again += SAME * (round(found.length.paper, 1) in {round(each.length.paper, 1) for each in chosen})
    again += PRINTED * found.printed
    if found.key[0] >= 0:
        sizes = [float(size) for size in known.problem.solid.size]
        taken = {key for each in chosen if each.key[0] >= 0 for key in (each.key, _mirrored(each.key, known.problem))}
        rest = rest_of(found.key, sizes)
        again += TOLD * (found.key in known.told) + REST * (rest in known.beyond)
        again += MATCHED * (rest in taken or found.key in taken)
        again += FOLLOWS * _follows(found.key, [*known.told, *taken], sizes)
    return again, found.edges == 2


def rest_of(span: Span, sizes: Sequence[float]) -> Span | None:
    """What a span leaves of the part's whole size; None if it reaches neither end.

    >>> rest_of((0, 0.0, 12.0), (90.0, 50.0, 40.0)), rest_of((0, 12.0, 30.0), (90.0, 50.0, 40.0))
    ((0, 12.0, 90.0), None)
    """
    axis, low, high = span
    if low < SAME_LEVEL:
        return span_of(axis, high, sizes[axis])
    return span_of(axis, 0.0, low) if high > sizes[axis] - SAME_LEVEL else None


def _mirrored(span: Span, problem: Problem) -> Span:
    """A span as it is in the other half of a part that is symmetric along its axis; else the same."""
    axis, low, high = span
    size = float(problem.solid.size[axis])
    return span_of(axis, size - high, size - low) if "xyz"[axis] in problem.symmetry else span


def _follows(span: Span, known: Sequence[Span], sizes: Sequence[float]) -> bool:
    """Whether a length follows from others, and the whole sizes, by adding and taking away."""
    axis, low, high = span
    spans = [(0.0, round(sizes[axis], 3)), *((one, other) for along, one, other in known if along == axis)]
    reached, grown = {low}, True
    while grown:
        more = {level for pair in spans for level in pair if not reached.isdisjoint(pair)} - reached
        reached, grown = reached | more, bool(more)
    return high in reached


def _levels(measure: Measure) -> Span | None:
    """Between which levels of the part a printed length runs."""
    if measure.axis is None or len(measure.ends) != 2:
        return None
    one, other = (float(end.point[measure.axis]) for end in measure.ends)
    return span_of(measure.axis, one, other)


def _of_view(
    placed: PlacedView, marks: Sequence[Landmark], printed: frozenset[Span], settings: Settings
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
    """The length of the slanting line of a view, of each if all are as long, or of the longest if that is plain to see, and then
    that of the others if they are alike: it is printed nowhere, and true only here."""
    values = [line.length for line in placed.lines(LineKind.VISIBLE)
              if isinstance(line, Straight) and all(abs(float(line.p[k] - line.q[k])) > SAME_LEVEL for k in (0, 1))]
    longest = max(values, default=0.0)
    alike = [value for value in values if value > longest - SAME_LEVEL]
    others = [value for value in values if value <= longest - SAME_LEVEL]
    if max(others, default=0.0) > PLAINLY_LONGER * longest:
        return
    shorter = others if others and max(others) - min(others) < SAME_LEVEL else []
    for some, which in ((alike, "yes" if others else "no"), (shorter, "least")):
        if some and some[0] * placed.scale >= LEAST_SLOPE:
            said = {"several": "yes" if len(some) > 1 else "no", "longest": which}
            words = settings.wording.render("hints.length_slanting", **said)
            length = Length(placed.view.name, words, some[0], some[0] * placed.scale, None)
            yield _Found(length, False, 1, 0, (), (-1, round(some[0], 3), math.inf))


def _whole(problem: Problem, drawing: Drawing, settings: Settings, printed: frozenset[Span]) -> list[Length]:
    """The whole widths and heights of the views, those before that are not printed."""
    found = []
    for placed in drawing.views:
        low, high = placed.view.extent
        for way, axis in enumerate(ViewAxes.of(placed).axes):
            words = settings.wording.render(f"hints.length_{'high' if way else 'wide'}")
            value = float(high[way] - low[way])
            length = Length(placed.view.name, words, value, value * placed.scale, way, (float(low[way]), float(high[way])))
            found.append((span_of(axis, 0.0, float(problem.solid.size[axis])) in printed, length))
    return [length for _, length in sorted(found, key=lambda each: each[0])]
