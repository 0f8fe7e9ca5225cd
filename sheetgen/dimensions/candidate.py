"""Ways to put a size on paper: dimension lines, leaders. Sheet millimetres.

An ``Offer`` is a way in outline, cheap to make by the hundred; a ``Candidate`` is a chosen one worked out, with its arrows.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache, partial

import numpy as np

from sheetgen.ink import Text, text_width
from sheetgen.solid.surfaces import Array

TEXT_HEIGHT = 3.5        # mm: figures (school use, textbook of engineering drawing p. 2.9)
ARROW = 3.0              # mm: arrowhead length, about the figures' height (ISO 129-1 annex A, from memory)
ARROW_HALF_WIDTH = ARROW / 3.8 / 2    # 15 degrees included (machine drawing textbook p. 30)
TEXT_ABOVE = 1.0         # mm between dimension line and figures (common practice, no source)
GAP = 1.0                # mm between outline and extension line (1 to 2 allowed; one way per sheet)
OVERSHOOT = 2.0          # mm of extension line past the dimension line (8 line widths, ISO 129-1:2018, from memory)
FIRST_TIER = 10.0        # mm from the outline to the first dimension line (dimensioning chapter; US school lists 3/8 inch)
NEXT_TIER = 8.0          # mm between dimension lines (the same chapter's figure)
TAIL = 6.0               # mm of line behind an arrowhead that points in from outside
LANDING = 3.0            # mm of level line between leader and text
LEADER_OVER_PART = 0.05  # cost per mm of a leader that runs over the part
BREAK = 1.2              # mm between figures and the ends of a line broken for them (unidirectional method)

Vec = tuple[float, float]
Seg = tuple[float, float, float, float]


@dataclass(frozen=True, eq=False)
class Head:
    """An arrowhead: ``tip`` (2,), the way it points ``along`` (2,), and ``across`` (2,) its width's direction."""

    tip: Array
    along: Array
    across: Array


@dataclass(frozen=True, eq=False)
class Candidate:
    """One placing of an item. ``lines``: dimension lines, arcs, leaders, polylines (k, 2); ``extensions``: segments (2, 2);
    ``centres``: crossing centre lines of a located axis (pictorials); ``bold``: the arrow of sight."""

    lines: tuple[Array, ...]
    extensions: tuple[Array, ...]
    heads: tuple[Head, ...]
    texts: tuple[Text, ...]
    centres: tuple[Array, ...] = ()
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Offer:
    """A way in outline: its segments, its cost before the ground and its neighbours are looked at, its figures, and how to work
    it out. ``own``: its figures may come to lie on its own lines, so that is to be looked at."""

    lines: tuple[Seg, ...]
    extensions: tuple[Seg, ...]
    cost: float
    lettering: Callable[[], tuple[Text, ...]]
    build: Callable[[], Candidate]
    centres: tuple[Seg, ...] = ()
    leader: bool = False
    own: bool = False
    over: float = 0.22       # cost per mm of its lines that run over the part


UPRIGHT = 1e-4
"""A direction that leans less than this stands upright: places on paper are good to a micron, lines are millimetres long."""

Corners = tuple[Vec, Vec, Vec, Vec]

CLEAR = 0.8
"""mm kept free round figures (common practice, no source)."""


def boxes_of(texts: Sequence[Text]) -> list[Corners]:
    """The corners of each text's box, grown by CLEAR: as ``ink.text_box``, but in plain numbers, for hundreds at a time."""
    found = []
    for text in texts:
        (ax, ay), (ux, uy) = text.along, text.up
        extra = CLEAR / abs(ax * uy - ay * ux)
        width = lettered_width(text.text, text.height)
        back = {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor] * width + extra
        x, y = text.at[0] - back * ax - extra * ux, text.at[1] - back * ay - extra * uy
        run, rise = width + 2 * extra, text.height + 2 * extra
        p, q = (x + run * ax, y + run * ay), (x + rise * ux, y + rise * uy)
        found.append(((x, y), p, (p[0] + rise * ux, p[1] + rise * uy), q))
    return found


@lru_cache(maxsize=4096)
def lettered_width(text: str, height: float) -> float:
    """mm: the width of figures, which come again and again."""
    return text_width(text, height)


def reading(along: Vec, up: Vec) -> tuple[Vec, Vec]:
    """Turn a baseline direction and an up direction so that figures read from below or from the right and are not mirrored.

    Both unit vectors; upright lines read upwards, from the right (SP 46 aligned method, from memory).

    >>> reading((0.0, -1.0), (1.0, 0.0))
    ((0.0, 1.0), (-1.0, 0.0))
    """
    if along[0] < -UPRIGHT or (abs(along[0]) <= UPRIGHT and along[1] < 0):
        along = (0.0 - along[0], 0.0 - along[1])
    if along[0] * up[1] - along[1] * up[0] < 0:
        up = (0.0 - up[0], 0.0 - up[1])
    return along, up


@dataclass(frozen=True, slots=True)
class Linear:
    """A dimension line from ``a`` to ``b`` whose extension lines come from ``starts`` along ``outward`` (unit)."""

    a: Vec
    b: Vec
    starts: tuple[Vec, Vec]
    outward: Vec
    text: str
    upright: bool = False
    centres: tuple[Seg, ...] = ()

    def offers(self, cost: float) -> list[Offer]:
        """Ways to draw it: figures over the line if they fit between the extension lines, else beyond one end or the other.

        Where the space is too small for arrows, these stand outside and point in.
        """
        span = math.dist(self.a, self.b)
        width = lettered_width(self.text, TEXT_HEIGHT)
        inside = span >= 2 * ARROW + 2.0
        ends = self._extensions()
        if span >= self._needed(width, inside):
            line = self._line(0.0 if inside else -TAIL, span if inside else span + TAIL)
            return [self._offer(line, ends, cost, span / 2, inside)]
        found = []
        first = 0.0 if inside else ARROW + 1.0
        tail = 0.0 if inside else -TAIL
        for beyond in (True, False):
            middle = span + first + 1.0 + width / 2 if beyond else -first - 1.0 - width / 2
            reach = span + first + width + 1.5 if beyond else -first - width - 1.5
            line = self._line(tail, reach) if beyond else self._line(reach, span - tail)
            found.append(self._offer(line, ends, cost + 1.5, middle, inside))
        return found

    def _offer(self, line: Seg, ends: tuple[Seg, ...], cost: float, middle: float, inside: bool) -> Offer:
        build = partial(self._worked_out, middle=middle, inside=inside, line=line)
        return Offer(self._cut(line), ends, cost, partial(self._lettering, middle), build, self.centres, own=bool(self.centres))

    def _cut(self, line: Seg) -> tuple[Seg, ...]:
        """The line in pieces between its own extension lines and beyond them: others that share those cross no dimension line."""
        points = sorted({line[:2], self.a, self.b, line[2:]})
        return tuple((*p, *q) for p, q in itertools.pairwise(points) if math.dist(p, q) > 1e-6)

    def _needed(self, width: float, inside: bool) -> float:
        """mm between the extension lines for the figures to stand there."""
        broken = self.upright and not self._level()
        if broken:
            return TEXT_HEIGHT + 2 * BREAK + (2 * ARROW if inside else 0.0) + 2.0
        return width + 1.5

    def _level(self) -> bool:
        return abs(self.b[1] - self.a[1]) < 1e-9

    def _unit(self) -> Vec:
        span = math.dist(self.a, self.b)
        return ((self.b[0] - self.a[0]) / span, (self.b[1] - self.a[1]) / span)

    def _line(self, start: float, stop: float) -> Seg:
        x, y = self._unit()
        return (self.a[0] + start * x, self.a[1] + start * y, self.a[0] + stop * x, self.a[1] + stop * y)

    def _extensions(self) -> tuple[Seg, ...]:
        found = []
        ox, oy = self.outward
        for start, end in zip(self.starts, (self.a, self.b), strict=True):
            if (end[0] - start[0]) * ox + (end[1] - start[1]) * oy > GAP:
                found.append((start[0] + GAP * ox, start[1] + GAP * oy, end[0] + OVERSHOOT * ox, end[1] + OVERSHOOT * oy))
        return tuple(found)

    def _lettering(self, middle: float) -> tuple[Text, ...]:
        """The figures, ``middle`` mm along the line from ``a``."""
        ux, uy = self._unit()
        x, y = self.a[0] + middle * ux, self.a[1] + middle * uy
        if self.upright:
            drop = -TEXT_ABOVE if self._level() else TEXT_HEIGHT / 2
            return (Text(self.text, (x, y - drop), TEXT_HEIGHT, anchor="middle"),)
        base, up = reading((ux, uy), self.outward)
        return (Text(self.text, (x + TEXT_ABOVE * up[0], y + TEXT_ABOVE * up[1]), TEXT_HEIGHT, base, up, "middle"),)

    def _worked_out(self, *, middle: float, inside: bool, line: Seg) -> Candidate:
        unit = self._unit()
        along, across = np.array(unit), np.array(reading(unit, self.outward)[1])
        a, b = np.array(self.a), np.array(self.b)
        heads = (Head(a, -along if inside else along, across), Head(b, along if inside else -along, across))
        parts = [np.array(line).reshape(2, 2)]
        if self.upright and not self._level():
            width = lettered_width(self.text, TEXT_HEIGHT)
            parts = [piece for part in parts for piece in broken(part, a + middle * along, width)]
        extensions = tuple(np.array(segment).reshape(2, 2) for segment in self._extensions())
        centres = tuple(np.array(segment).reshape(2, 2) for segment in self.centres)
        return Candidate(tuple(parts), extensions, heads, self._lettering(middle), centres)


def broken(line: Array, middle: Array, width: float) -> list[Array]:
    """A line (2, 2) with a gap for upright figures ``width`` mm wide centred at ``middle`` (2,)."""
    unit = (line[1] - line[0]) / np.linalg.norm(line[1] - line[0])
    half_w, half_h = width / 2 + BREAK, TEXT_HEIGHT / 2 + BREAK
    half = min(half_w / abs(unit[0]) if abs(unit[0]) > 1e-9 else np.inf, half_h / abs(unit[1]) if abs(unit[1]) > 1e-9 else np.inf)
    at = float((middle - line[0]) @ unit)
    length = float(np.linalg.norm(line[1] - line[0]))
    pieces = [(0.0, at - half), (at + half, length)]
    return [np.stack([line[0] + p * unit, line[0] + q * unit]) for p, q in pieces if q - p > 0.5]


@dataclass(frozen=True, slots=True)
class Leader:
    """A leader whose arrow touches ``tip``, running ``length`` mm the ``way`` (unit), then a landing and the text lines.

    ``level`` (unit, to the right): the landing's and the base lines' direction; ``up``: of the letters.
    """

    tip: Vec
    way: Vec
    length: float
    texts: tuple[str, ...]
    level: Vec = (1.0, 0.0)
    up: Vec = (0.0, 1.0)

    def offer(self, cost: float) -> Offer:
        """The leader in outline."""
        sense = 1.0 if self.way[0] >= 0 else -1.0
        elbow = (self.tip[0] + self.length * self.way[0], self.tip[1] + self.length * self.way[1])
        end = (elbow[0] + sense * LANDING * self.level[0], elbow[1] + sense * LANDING * self.level[1])
        lines = ((*self.tip, *elbow), (*elbow, *end))
        lettering = partial(self._lettering, end, sense)
        build = partial(self._worked_out, elbow, end, sense)
        return Offer(lines, (), cost, lettering, build, leader=True, over=LEADER_OVER_PART)

    def _lettering(self, end: Vec, sense: float) -> tuple[Text, ...]:
        pitch = 1.5 * TEXT_HEIGHT
        lift = (len(self.texts) - 1) / 2 * pitch - TEXT_HEIGHT / 2
        base = (end[0] + sense * self.level[0], end[1] + sense * self.level[1])
        anchor = "start" if sense > 0 else "end"
        rises = [(line, lift - i * pitch) for i, line in enumerate(self.texts)]
        return tuple(
            Text(line, (base[0] + rise * self.up[0], base[1] + rise * self.up[1]), TEXT_HEIGHT, self.level, self.up, anchor)
            for line, rise in rises
        )

    def _worked_out(self, elbow: Vec, end: Vec, sense: float) -> Candidate:
        way = np.array(self.way)
        head = Head(np.array(self.tip), -way, np.array([-way[1], way[0]]))
        return Candidate((np.array([self.tip, elbow, end]),), (), (head,), self._lettering(end, sense))


def unit_at(angle: float) -> Vec:
    """The unit vector at ``angle`` degrees.

    >>> [round(v, 9) for v in unit_at(90.0)]
    [0.0, 1.0]
    """
    return (math.cos(math.radians(angle)), math.sin(math.radians(angle)))
