"""What can be wrong with the lines of a view. Lengths are sheet millimetres."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

import numpy as np
import shapely

from sheetgen.exercises.differing import LEAST_LINE, LEAST_MOVE, SAME
from sheetgen.exercises.kinds.mistakes.mistake import AS_HIDDEN, AS_VISIBLE, EXTRA, MISSING, NO_CENTRE, Mistake
from sheetgen.geometry import Array
from sheetgen.ink import Mark
from sheetgen.projection import LineKind, Shape, Straight, areas_of
from sheetgen.projection.centre import centre_lines
from sheetgen.projection.linework import Linework
from sheetgen.sheet.free import outlines_of
from sheetgen.sight import PlacedView
from sheetgen.solid import Faces

INNER = 0.4
"""mm from the outline of a view: a line nearer to it is a piece of it, and never missing: that would be seen at once."""

CLEAR = 1.2
"""mm between a line too many and a size (common practice, no source)."""

STRUCK_CLEAR = 2.0
"""mm between it and a size on the answer, where crosses strike it out."""

CROSSED = 2.0
"""mm: a line that crosses another lies in its ink for less."""

NOT_PARALLEL = 0.1
"""Sine: lines that turn off more than this are not beside each other."""

IN_LINE = 0.1
"""mm: lines no farther apart are in one line."""


@dataclass(frozen=True, eq=False)
class Spoiling:
    """A view whose lines may be wrong: the number ``at`` which it stands, its ``placed`` right lines, the ``faces`` of the solid,
    and the marks of ``sizes`` on the drawing; on the answer, if there is one, it stands as ``answered``, among
    ``sizes_there``."""

    at: int
    placed: PlacedView
    faces: Faces
    sizes: Sequence[Mark]
    answered: PlacedView | None = None
    sizes_there: Sequence[Mark] = ()

    def ways(self, sort: str) -> list[Mistake]:
        """All mistakes of a sort that can be made in the view."""
        return list(_WAYS[sort](self))

    def paper(self, shape: Shape) -> shapely.LineString:
        """A line on the sheet."""
        return shapely.LineString(shape.points() * self.placed.scale + self.placed.origin)

    @cached_property
    def outline(self) -> shapely.Geometry:
        """The outline of the view on the sheet, without the rims of what goes right through."""
        whole = shapely.union_all(shapely.buffer(self._areas, 0.01))
        return shapely.MultiLineString([part.exterior for part in shapely.get_parts(whole)])

    @cached_property
    def _areas(self) -> list[shapely.Polygon]:
        at, scale = self.placed.origin, self.placed.scale
        return [shapely.transform(area.polygon, lambda points: points * scale + at)
                for area in areas_of(self.placed.view, self.faces)]

    def lines(self, kind: LineKind) -> Iterator[Shape]:
        """The lines of a kind within the outline that are long enough to be missed."""
        for shape in self.placed.lines(kind):
            line = self.paper(shape)
            points = shapely.line_interpolate_point(line, np.linspace(0.05, 0.95, 7), normalized=True)
            if line.length >= LEAST_LINE and float(shapely.distance(points, self.outline).min()) > INNER and self._alone(shape):
                yield shape

    def _alone(self, shape: Shape) -> bool:
        """Whether no other line runs in the ink of a line."""
        others = [self.paper(other) for kind in (LineKind.VISIBLE, LineKind.HIDDEN) for other in self.placed.lines(kind)
                  if other is not shape]
        near = shapely.intersection(shapely.buffer(self.paper(shape), SAME, cap_style="flat"), others)
        return float(shapely.length(near).max(initial=0.0)) < CROSSED

    def missing(self) -> Iterator[Mistake]:
        """A line left out. Not one that would lay a centre line bare."""
        for kind in (LineKind.VISIBLE, LineKind.HIDDEN):
            for shape in self.lines(kind):
                if self._same_centres(shape):
                    yield Mistake(MISSING, self.at, shape, kind)

    def as_hidden(self) -> Iterator[Mistake]:
        """A visible line dashed."""
        return (Mistake(AS_HIDDEN, self.at, shape, LineKind.VISIBLE) for shape in self.lines(LineKind.VISIBLE))

    def as_visible(self) -> Iterator[Mistake]:
        """A hidden line drawn full."""
        return (Mistake(AS_VISIBLE, self.at, shape, LineKind.HIDDEN) for shape in self.lines(LineKind.HIDDEN))

    def centre(self) -> Iterator[Mistake]:
        """A centre line left out: none from which a size starts, which would then start nowhere."""
        thin = [line for line in outlines_of(self.sizes) if len(line) == 2]
        for shape in self.placed.centre_lines:
            line = self.paper(shape)
            if line.length >= LEAST_LINE and not any(_in_line(shapely.get_coordinates(line), other) for other in thin):
                yield Mistake(NO_CENTRE, self.at, shape, LineKind.CENTRE)

    def extra(self) -> Iterator[Mistake]:
        """A line right across one area, at a level at which there are lines elsewhere in the view."""
        straights = [shape for kind in (LineKind.VISIBLE, LineKind.HIDDEN) for shape in self.placed.lines(kind)
                     if isinstance(shape, Straight)]
        if not straights:
            return
        ends = np.concatenate([self.paper(shape).coords for shape in straights])
        others = [np.array(self.paper(shape).coords) for kind in LineKind for shape in self.placed.lines(kind)]
        sizes, there = (shapely.union_all([shapely.LineString(line) for line in outlines_of(marks)])
                        for marks in (self.sizes, self.sizes_there))
        for area in self._areas:
            for axis in (0, 1):
                for level in np.unique(ends[:, axis].round(2)).tolist():
                    for piece in _across(area, axis, level):
                        if _fits(piece, axis, others, sizes):
                            points = (piece - self.placed.origin) / self.placed.scale
                            on = self.answered or self.placed
                            if not shapely.dwithin(shapely.LineString(points * on.scale + on.origin), there, STRUCK_CLEAR):
                                yield Mistake(EXTRA, self.at, Straight(points[0], points[1]), LineKind.VISIBLE)

    def _same_centres(self, lost: Shape) -> bool:
        """Whether the view has the same centre lines without a line."""
        view = self.placed.view
        seen, unseen = (tuple(line for line in lines if line is not lost) for lines in (view.visible_lines, view.hidden_lines))
        scale = self.placed.scale
        new = centre_lines(view.solid, view.frame, Linework(seen, unseen), view.symmetry, scale)
        old = view.centre_lines_at(scale)
        return len(new) == len(old) and all(np.allclose(a.points(), b.points()) for a, b in zip(new, old, strict=True))


_WAYS: Mapping[str, Callable[[Spoiling], Iterator[Mistake]]] = MappingProxyType({
    MISSING: Spoiling.missing, EXTRA: Spoiling.extra, AS_HIDDEN: Spoiling.as_hidden, AS_VISIBLE: Spoiling.as_visible,
    NO_CENTRE: Spoiling.centre})


def _across(area: shapely.Polygon, axis: int, level: float) -> Iterator[Array]:
    """The pieces (2, 2) in which a line at a ``level`` of the sheet's x or y (``axis`` 0, 1) runs across an area."""
    low, high = np.array(area.bounds).reshape(2, 2)[:, 1 - axis] + (-1.0, 1.0)
    ends = np.full((2, 2), level)
    ends[:, 1 - axis] = low, high
    for piece in shapely.get_parts(shapely.intersection(shapely.LineString(ends), area)):
        if isinstance(piece, shapely.LineString) and piece.length >= LEAST_LINE:
            inner = shapely.line_interpolate_point(piece, [0.25, 0.5, 0.75], normalized=True)
            if float(shapely.distance(inner, area.exterior).min()) > IN_LINE:
                yield shapely.get_coordinates(piece)


def _fits(piece: Array, axis: int, others: Sequence[Array], sizes: shapely.Geometry) -> bool:
    """Whether a line (2, 2) along the sheet's x or y is no line's neighbour, and clear of all sizes."""
    low, high = np.sort(piece[:, 1 - axis])
    for line in others:
        beside = np.abs(line[:, axis] - piece[0, axis]) < LEAST_MOVE
        along = line[beside, 1 - axis]
        if beside.all() and along.max() > low + IN_LINE and along.min() < high - IN_LINE:
            return False
        if len(line) > 2 and shapely.dwithin(shapely.LineString(line), shapely.LineString(piece), IN_LINE) and beside.sum() > 2:
            return False                                            # along the top of a curve it would seem a tangent
    return not shapely.dwithin(shapely.LineString(piece), sizes, CLEAR)


def _in_line(one: Array, other: Array) -> bool:
    """Whether a segment lies in the line through another (2, 2)."""
    way = (one[-1] - one[0]) / np.hypot(*(one[-1] - one[0]))
    away = other - one[0]
    return float(np.abs(way[0] * away[:, 1] - way[1] * away[:, 0]).max()) < IN_LINE


def confused(one: shapely.LineString, other: shapely.LineString) -> bool:
    """Whether two lines are in one line, or so near beside each other, that what is wrong with them could be told as one
    mistake."""
    a, b = (shapely.get_coordinates(line)[[0, -1]] for line in (one, other))
    along, way = a[1] - a[0], b[1] - b[0]
    if not np.hypot(*along) or not np.hypot(*way):                  # whole circles
        return bool(shapely.dwithin(one, other, LEAST_MOVE))
    if abs(along[0] * way[1] - along[1] * way[0]) > NOT_PARALLEL * np.hypot(*along) * np.hypot(*way):
        return False
    off = (b - a[0]) @ np.array([-along[1], along[0]]) / np.hypot(*along)
    return float(np.abs(off).min()) < LEAST_MOVE
