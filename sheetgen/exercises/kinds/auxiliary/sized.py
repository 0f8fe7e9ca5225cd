"""The true length and the true width of a face, which are asked for, as dimension lines that may run aslant: they are the answer,
so they stand in no brackets (those are for auxiliary dimensions, ISO 129-1, from memory). Sheet mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

import numpy as np
import shapely

from sheetgen.exercises.construction.thin import clear_of_lines
from sheetgen.exercises.kinds.auxiliary.carried import Carried
from sheetgen.geometry import Array
from sheetgen.ink import Mark, Pen, Stroke, Text, flattened, text_box
from sheetgen.measures.measures import number
from sheetgen.placing import Placement, marks_of, ways_of
from sheetgen.sheet import Settings

FIRST = 10.0
"""mm from the outline to a dimension line."""

CLEAR, BESIDE, LEANS = 1.0, 4.0, 0.02
"""mm kept between figures and lines, and between a dimension line and lines that run beside it, leaning by no more than this
sine."""

RUNS_ALONG = 0.5
"""mm of a dimension line that may lie on another line: it crosses some aslant."""

SAME = 0.05
"""Of a millimetre: lengths that print alike."""


@dataclass(frozen=True, eq=False)
class Ink:
    """What is drawn already: ``marks``, their ``lines`` and the boxes of their ``texts``."""

    marks: tuple[Mark, ...]

    @cached_property
    def lines(self) -> shapely.Geometry:
        """All lines."""
        return shapely.MultiLineString([flattened(mark, 0.1) for mark in self.marks if isinstance(mark, Stroke)])

    @cached_property
    def texts(self) -> shapely.Geometry:
        """Boxes round all texts."""
        texts = (mark for mark in self.marks if isinstance(mark, Text))
        return shapely.GeometryCollection([shapely.Polygon(text_box(text, CLEAR)) for text in texts])

    def with_more(self, marks: Sequence[Mark]) -> Ink:
        """With other marks too."""
        return Ink((*self.marks, *marks))

    def apart(self, line: Array) -> list[Array]:
        """What of a line (2, 2) does not run along others."""
        return [stroke.points for stroke in clear_of_lines([Stroke(line, Pen.CONSTRUCTION)], self.marks)]

    def alone(self, line: Array) -> bool:
        """Whether no straight line runs along a line (2, 2), or within BESIDE of it."""
        if sum(math.dist(*piece) for piece in self.apart(line)) < math.dist(*line) - RUNS_ALONG:
            return False
        way, mine = line[1] - line[0], shapely.LineString(line)
        others = self._straight
        along = others[:, 1] - others[:, 0]
        sine = np.abs(along[:, 0] * way[1] - along[:, 1] * way[0])
        beside = others[sine < LEANS * np.hypot(*along.T) * np.hypot(*way)]
        return not len(beside) or float(shapely.distance(shapely.linestrings(beside), mine).min()) > BESIDE

    @cached_property
    def _straight(self) -> Array:
        """Straight lines (n, 2, 2)."""
        lines = [mark.points for mark in self.marks if isinstance(mark, Stroke) and not mark.curved]
        return np.array([leg for line in lines for leg in pairwise(line)]).reshape(-1, 2, 2)

    def clear_of(self, marks: Sequence[Mark]) -> bool:
        """Whether figures of ``marks`` touch no line, and their lines no figures."""
        for mark in marks:
            if isinstance(mark, Text):
                box = shapely.Polygon(text_box(mark, CLEAR))
                if box.intersects(self.lines) or box.intersects(self.texts):
                    return False
            elif isinstance(mark, Stroke) and shapely.LineString(mark.points).intersects(self.texts):
                return False
        return True


@dataclass(frozen=True, eq=False)
class Span:
    """A dimension line to be drawn: its arrows' ``ends`` (2, 2), where its extension lines ``start`` (2, 2), their unit
    direction ``outward`` (2,), and its ``text``."""

    ends: Array
    starts: Array
    outward: Array
    text: str

    def ways(self, settings: Settings, ink: Ink) -> Iterator[list[Mark]]:
        """As marks, the ways that are preferred first: extension lines as far as others do not serve, and no dimension line along
        another line or near beside one."""
        for drawn in ways_of(self.ends, self.starts, self.outward, self.text, upright=settings.upright):
            if all(ink.alone(line) for line in drawn.lines):
                extensions = tuple(piece for line in drawn.extensions for piece in ink.apart(line))
                yield marks_of([Placement(0, 0, replace(drawn, extensions=extensions))], serving=False)


def true_sizes(carried: Carried, settings: Settings, ink: Ink) -> list[Mark]:
    """The length of a true shape along its edge, and its width; what finds no place is left out."""
    turned, points = carried.turned, carried.turned.paper(carried.corners)
    low, high, _, far = turned.box()
    across, beyond = points @ turned.along, turned.from_line(points)
    ends = [points[_extreme(across, beyond, low)], points[_extreme(across, beyond, high)]]
    length = Span(np.stack([turned.at(low, far + FIRST), turned.at(high, far + FIRST)]), np.stack(ends), turned.away,
                  _figures((high - low) / turned.scale))
    near, end = float(beyond.min()), far
    corners = [points[_extreme(beyond, across, near)], points[_extreme(beyond, across, end)]]
    ends = [turned.at(high + FIRST, near), turned.at(high + FIRST, end)]
    width = Span(np.stack(ends), np.stack(corners), turned.along, _figures((end - near) / turned.scale))
    return [mark for span in (length, width) for mark in _first_clear([span], settings, ink)]


def _first_clear(spans: Sequence[Span], settings: Settings, ink: Ink) -> list[Mark]:
    """The first way of some dimension lines that touches nothing; none if each does."""
    return next((marks for span in spans for marks in span.ways(settings, ink) if ink.clear_of(marks)), [])


def _extreme(values: Array, beyond: Array, at: float) -> int:
    """Of the points whose ``values`` (n,) are ``at`` one level the farthest out."""
    there = np.flatnonzero(np.abs(values - at) < SAME)
    return int(there[int(np.argmax(beyond[there]))])


def _figures(value: float) -> str:
    return number(round(value, 1))
