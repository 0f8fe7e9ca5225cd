"""A right view with lines left out, dashed or drawn full, so that it still looks like a view of some part: with a line go those
that a centre line or a symmetry doubles it to, and those that run on from it round a corner. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from sheetgen.exercises.differing import LEAST_LINE
from sheetgen.exercises.kinds.match.alike import mirrors_of
from sheetgen.exercises.kinds.mistakes.mistake import AS_HIDDEN, AS_VISIBLE, MISSING, Mistake, spoilt
from sheetgen.exercises.kinds.mistakes.of_lines import INNER, Spoiling
from sheetgen.geometry import Array
from sheetgen.projection import LineKind, Shape
from sheetgen.projection.centre import centre_lines
from sheetgen.projection.linework import Linework
from sheetgen.sight import PlacedView
from sheetgen.solid import faces_of
from sheetgen.units import TOUCHING

SORTS = (MISSING, AS_HIDDEN, AS_VISIBLE)

KINDS = {MISSING: (LineKind.VISIBLE, LineKind.HIDDEN), AS_HIDDEN: (LineKind.VISIBLE,), AS_VISIBLE: (LineKind.HIDDEN,)}
"""Of the lines that can have a mistake of each sort."""


@dataclass(frozen=True, eq=False)
class Spoilt:
    """A ``view`` in which ``shapes``, of a ``kind`` on the right view, are wrong."""

    view: PlacedView
    kind: LineKind
    shapes: tuple[Shape, ...]


def spoilings(right: PlacedView, sort: str) -> Iterator[Spoilt]:
    """A right view with a mistake of a sort in each of the ways that there are."""
    spoiling = Spoiling(0, right, faces_of(right.view.solid), ())
    for kind in KINDS[sort]:
        long, done = list(spoiling.lines(kind)), set[int]()
        for shape in long:
            if id(shape) in done:
                continue
            together = _together(spoiling, shape, kind)
            done |= {id(each) for each in together}
            if not all(_among(each, long) or _is_short_inside(spoiling, each) for each in together):
                continue
            if sort != MISSING or (_same_centres(right, together) and not _leaves_ends(spoiling, together)):
                yield Spoilt(spoilt(right, [Mistake(sort, 0, each, kind) for each in together]), kind, together)


def _together(spoiling: Spoiling, shape: Shape, kind: LineKind) -> tuple[Shape, ...]:
    """A line and all that have the same fate."""
    others = [*spoiling.placed.lines(LineKind.VISIBLE), *spoiling.placed.lines(LineKind.HIDDEN)]
    alike, found = list(spoiling.placed.lines(kind)), [shape]
    for one in found:                                                   # grows as it goes
        also = [*_doubled(spoiling.placed, one, alike), *_round_corners(spoiling, one, others)]
        found += [each for each in also if _among(each, alike) and not _among(each, found)]
    return tuple(found)


def _doubled(placed: PlacedView, shape: Shape, others: Sequence[Shape]) -> Iterator[Shape]:
    """Those of the lines that are a line's image in a centre line or in a symmetry of the view."""
    for axis, level in (*_halves(placed), *_axes(placed)):
        yield from _images(shape, axis, level, others)


def _images(shape: Shape, axis: int, level: float, others: Sequence[Shape]) -> Iterator[Shape]:
    """Those of the lines that are a line's image in a mirror square to an ``axis`` of the view, at a ``level``."""
    points = shape.points().copy()
    points[:, axis] = 2 * level - points[:, axis]
    return (other for other in others if _lie_on_each_other(points, other.points()))


def _halves(placed: PlacedView) -> list[tuple[int, float]]:
    """The symmetries of the view, by axis and level."""
    low, high = placed.view.extent
    return [(axis, float(low[axis] + high[axis]) / 2) for axis in mirrors_of(placed.view)]


def _axes(placed: PlacedView) -> list[tuple[int, float]]:
    """Its other centre lines."""
    ends, halves = [line.points() for line in placed.centre_lines], _halves(placed)
    found = [(axis, float(each[0, axis])) for each in ends for axis in (0, 1) if np.ptp(each[:, axis]) < TOUCHING]
    return [(axis, level) for axis, level in found if not any(axis == a and abs(level - at) < TOUCHING for a, at in halves)]


def _round_corners(spoiling: Spoiling, shape: Shape, others: Sequence[Shape]) -> Iterator[Shape]:
    """The lines that begin where a line ends, if no third is there."""
    for end in _ends(spoiling, shape):
        there = [other for other in others if other is not shape and spoiling.paper(other).dwithin(end, TOUCHING)]
        if len(there) == 1 and any(end.dwithin(point, TOUCHING) for point in _ends(spoiling, there[0])):
            yield there[0]


def _leaves_ends(spoiling: Spoiling, lost: Sequence[Shape]) -> bool:
    """Whether a line would end in nothing without those that are lost."""
    left = [shape for kind in KINDS[MISSING] for shape in spoiling.placed.lines(kind) if not _among(shape, lost)]
    gone = shapely.union_all([spoiling.paper(shape) for shape in lost])
    for shape in left:
        for end in _ends(spoiling, shape):
            if end.dwithin(gone, TOUCHING) and not any(
                    spoiling.paper(other).dwithin(end, TOUCHING) for other in left if other is not shape):
                return True
    return False


def _ends(spoiling: Spoiling, shape: Shape) -> list[shapely.Point]:
    """Where a line ends on the sheet; a whole circle nowhere."""
    line = spoiling.paper(shape)
    return [] if line.is_closed else [shapely.Point(line.coords[0]), shapely.Point(line.coords[-1])]


def _is_short_inside(spoiling: Spoiling, shape: Shape) -> bool:
    """Whether a line is too short to be missed by itself, and no piece of the outline."""
    line = spoiling.paper(shape)
    middle = shapely.line_interpolate_point(line, 0.5, normalized=True)
    return line.length < LEAST_LINE and float(shapely.distance(middle, spoiling.outline)) > INNER


def _same_centres(right: PlacedView, lost: Sequence[Shape]) -> bool:
    """Whether the view has the same centre lines without those that are lost, and none that stands there bare."""
    view = right.view
    if any(other is not shape for shape in lost for axis, level in _axes(right) for other in _images(shape, axis, level, lost)):
        return False
    seen, unseen = (tuple(line for line in lines if not _among(line, lost)) for lines in (view.visible_lines, view.hidden_lines))
    new = centre_lines(view.solid, view.frame, Linework(seen, unseen), view.symmetry, right.scale)
    return len(new) == len(view.centre_lines_at(right.scale))


def _among(shape: Shape, shapes: Sequence[Shape]) -> bool:
    return any(shape is each for each in shapes)


def _lie_on_each_other(one: Array, other: Array) -> bool:
    return one.shape == other.shape and any(np.abs(one - way).max() < TOUCHING for way in (other, other[::-1]))
