"""Ways to put a size on paper: dimension lines, leaders. Sheet millimetres.

An ``Offer`` is a way in outline, cheap to make by the hundred; a ``Candidate`` is one worked out, figures and arrows and all.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from sheetgen.ink import Text, text_box, text_width
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
    ``centres``: crossing centre lines of a located axis (pictorials); ``cost`` before neighbours are looked at;
    ``boxes`` (4, 2): of the texts, padded."""

    lines: tuple[Array, ...]
    extensions: tuple[Array, ...]
    heads: tuple[Head, ...]
    texts: tuple[Text, ...]
    cost: float
    centres: tuple[Array, ...] = ()
    leader: bool = False
    bold: bool = False                               # the arrow of sight
    boxes: tuple[Array, ...] = ()

    @staticmethod
    def of(
        lines: Sequence[Array], extensions: Sequence[Array], heads: Sequence[Head], texts: Sequence[Text], cost: float,
        centres: Sequence[Array] = (), *, leader: bool = False, bold: bool = False,
    ) -> Candidate:
        """A candidate with its text boxes worked out."""
        boxes = tuple(text_box(text, 0.8) for text in texts)
        return Candidate(tuple(lines), tuple(extensions), tuple(heads), tuple(texts), cost, tuple(centres), leader, bold, boxes)


@dataclass(frozen=True, slots=True)
class Offer:
    """A way in outline: its segments, its cost by itself, and how to work it out (given the cost with that of the ground)."""

    lines: tuple[Seg, ...]
    extensions: tuple[Seg, ...]
    cost: float
    build: Callable[[float], Candidate]
    leader: bool = False
    over: float = 0.22       # cost per mm of its lines that run over the part


def reading(along: Vec, up: Vec) -> tuple[Vec, Vec]:
    """Turn a baseline direction and an up direction so that figures read from below or from the right and are not mirrored.

    Both unit vectors; upright lines read upwards, from the right (SP 46 aligned method, from memory).

    >>> reading((0.0, -1.0), (1.0, 0.0))
    ((0.0, 1.0), (-1.0, 0.0))
    """
    if along[0] < -1e-9 or (abs(along[0]) <= 1e-9 and along[1] < 0):
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
    centres: tuple[Array, ...] = ()

    def offers(self, cost: float) -> list[Offer]:
        """Ways to draw it: figures over the line if they fit between the extension lines, else beyond one end or the other.

        Where the space is too small for arrows, these stand outside and point in.
        """
        span = math.dist(self.a, self.b)
        width = text_width(self.text, TEXT_HEIGHT)
        inside = span >= 2 * ARROW + 2.0
        ends = self._extensions()
        if span >= self._needed(width, inside):
            line = self._line(0.0 if inside else -TAIL, span if inside else span + TAIL)
            return [Offer((line,), ends, cost, partial(self._worked_out, middle=span / 2, inside=inside, line=line))]
        found = []
        first = 0.0 if inside else ARROW + 1.0
        tail = 0.0 if inside else -TAIL
        for beyond in (True, False):
            middle = span + first + 1.0 + width / 2 if beyond else -first - 1.0 - width / 2
            reach = span + first + width + 1.5 if beyond else -first - width - 1.5
            line = self._line(tail, reach) if beyond else self._line(reach, span - tail)
            found.append(Offer((line,), ends, cost + 1.5, partial(self._worked_out, middle=middle, inside=inside, line=line)))
        return found

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

    def _worked_out(self, cost: float, *, middle: float, inside: bool, line: Seg) -> Candidate:
        unit = self._unit()
        along = np.array(unit)
        base, up = reading(unit, self.outward)
        across = np.array(up)
        a, b = np.array(self.a), np.array(self.b)
        heads = [Head(a, -along if inside else along, across), Head(b, along if inside else -along, across)]
        at = a + middle * along
        parts = [np.array(line).reshape(2, 2)]
        if self.upright:
            width = text_width(self.text, TEXT_HEIGHT)
            if self._level():
                text = Text(self.text, (float(at[0]), float(at[1]) + TEXT_ABOVE), TEXT_HEIGHT, anchor="middle")
            else:
                text = Text(self.text, (float(at[0]), float(at[1]) - TEXT_HEIGHT / 2), TEXT_HEIGHT, anchor="middle")
                parts = [piece for part in parts for piece in broken(part, at, width)]
        else:
            place = at + TEXT_ABOVE * across
            text = Text(self.text, (float(place[0]), float(place[1])), TEXT_HEIGHT, base, up, "middle")
        extensions = [np.array(segment).reshape(2, 2) for segment in self._extensions()]
        return Candidate.of(parts, extensions, heads, [text], cost, self.centres)


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
        build = partial(self._worked_out, elbow=elbow, end=end, sense=sense)
        return Offer(((*self.tip, *elbow), (*elbow, *end)), (), cost, build, leader=True, over=LEADER_OVER_PART)

    def _worked_out(self, cost: float, *, elbow: Vec, end: Vec, sense: float) -> Candidate:
        pitch = 1.5 * TEXT_HEIGHT
        lift = (len(self.texts) - 1) / 2 * pitch - TEXT_HEIGHT / 2
        base = (end[0] + sense * self.level[0], end[1] + sense * self.level[1])
        lettering = []
        for i, line in enumerate(self.texts):
            rise = lift - i * pitch
            at = (base[0] + rise * self.up[0], base[1] + rise * self.up[1])
            lettering.append(Text(line, at, TEXT_HEIGHT, self.level, self.up, "start" if sense > 0 else "end"))
        way = np.array(self.way)
        head = Head(np.array(self.tip), -way, np.array([-way[1], way[0]]))
        return Candidate.of([np.array([self.tip, elbow, end])], [], [head], lettering, cost, leader=True)


def unit_at(angle: float) -> Vec:
    """The unit vector at ``angle`` degrees.

    >>> [round(v, 9) for v in unit_at(90.0)]
    [0.0, 1.0]
    """
    return (math.cos(math.radians(angle)), math.sin(math.radians(angle)))
