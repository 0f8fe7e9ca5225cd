"""One way to put a size on paper, and the building blocks of it: dimension lines, leaders, arcs. Sheet millimetres."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from sheetgen.ink import Face, Text, text_box, text_width
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


@dataclass(frozen=True, eq=False)
class Head:
    """An arrowhead: ``tip`` (2,), the way it points ``along`` (2,), and ``across`` (2,) its width's direction."""

    tip: Array
    along: Array
    across: Array


@dataclass(frozen=True, eq=False)
class Candidate:
    """One placing of an item. ``lines``: dimension lines, arcs, leaders, polylines (k, 2); ``extensions``: segments (2, 2);
    ``centres``: crossing centre lines of a located axis (pictorials); ``cost`` before neighbours are looked at."""

    lines: tuple[Array, ...]
    extensions: tuple[Array, ...]
    heads: tuple[Head, ...]
    texts: tuple[Text, ...]
    cost: float
    centres: tuple[Array, ...] = ()
    leader: bool = False
    bold: bool = False                               # the arrow of sight
    boxes: tuple[Array, ...] = field(default=())     # of the texts, padded

    @staticmethod
    def of(
        lines: Sequence[Array], extensions: Sequence[Array], heads: Sequence[Head], texts: Sequence[Text], cost: float,
        centres: Sequence[Array] = (), leader: bool = False, bold: bool = False,
    ) -> Candidate:
        """A candidate with its text boxes worked out."""
        boxes = tuple(text_box(text, 0.7) for text in texts)
        return Candidate(tuple(lines), tuple(extensions), tuple(heads), tuple(texts), cost, tuple(centres), leader, bold, boxes)


def reading(along: Array, up: Array) -> tuple[Array, Array]:
    """Turn a baseline direction and an up direction so that figures read from below or from the right and are not mirrored.

    Both (2,) unit; upright lines read upwards, from the right (SP 46 aligned method, from memory).
    """
    if along[0] < -1e-9 or (abs(along[0]) <= 1e-9 and along[1] < 0):
        along = -along
    if along[0] * up[1] - along[1] * up[0] < 0:
        up = -up
    return along, up


def linear(
    a: Array, b: Array, starts: tuple[Array, Array], outward: Array, text: str, cost: float, *, upright: bool = False,
    centres: Sequence[Array] = (),
) -> list[Candidate]:
    """Ways to draw a dimension line from ``a`` to ``b`` (2,), extension lines coming from ``starts`` along ``outward`` (2,) unit.

    One way with the figures over the line if they fit between the extension lines; where the space is too small for arrows,
    these stand outside; where it is too small for the figures, they go beyond one end or the other.
    ``upright``: figures stand upright in a gap of the line (unidirectional method).
    """
    span = float(np.linalg.norm(b - a))
    along = (b - a) / span
    base, up = reading(along, outward)
    width = text_width(text, TEXT_HEIGHT)
    extensions = [
        np.stack([start + GAP * outward, end + OVERSHOOT * outward])
        for start, end in zip(starts, (a, b), strict=True)
        if float((end - start) @ outward) > GAP
    ]
    inside = span >= 2 * ARROW + 2.0
    heads = [Head(a, -along if inside else along, up), Head(b, along if inside else -along, up)]
    line = [np.stack([a, b])] if inside else [np.stack([a - TAIL * along, b + TAIL * along])]

    def lettered(at: Array, anchor: str) -> Text:
        if upright:
            return Text(text, tuple((at + np.array([0.0, -TEXT_HEIGHT / 2 + TEXT_ABOVE])).tolist()), TEXT_HEIGHT, anchor=anchor)
        return Text(text, tuple((at + TEXT_ABOVE * up).tolist()), TEXT_HEIGHT, tuple(base.tolist()), tuple(up.tolist()), anchor)

    if span >= width + 1.5:
        return [Candidate.of(line, extensions, heads, [lettered((a + b) / 2, "middle")], cost, centres)]
    result = []
    for end, sense in ((b, 1.0), (a, -1.0)):
        way = sense * along
        first = 0.0 if inside else ARROW + 1.0
        reach = end + (first + width + 1.0) * way
        tail = a - TAIL * along if sense > 0 else b + TAIL * along
        other = (a if sense > 0 else b) if inside else tail
        at = end + (first + (width + 1.0) / 2 + 0.5) * way
        result.append(Candidate.of([np.stack([other, reach])], extensions, heads, [lettered(at, "middle")], cost + 1.5, centres))
    return result


def leader(
    tip: Array, way: Array, length: float, texts: Sequence[str], cost: float, *, landing: Array | None = None, up: Array | None = None,
    across: Array | None = None,
) -> Candidate:
    """A leader whose arrow touches ``tip`` (2,), running ``length`` mm the ``way`` (2,) unit, then a landing and the text lines.

    ``landing`` (2,) unit: its direction, level if left out; ``up``: of the letters.
    """
    sense = 1.0 if way[0] >= 0 else -1.0
    level = np.array([1.0, 0.0]) if landing is None else landing
    upward = np.array([0.0, 1.0]) if up is None else up
    elbow = tip + length * way
    end = elbow + sense * LANDING * level
    anchor = "start" if sense > 0 else "end"
    pitch = 1.5 * TEXT_HEIGHT
    lift = (len(texts) - 1) / 2 * pitch - TEXT_HEIGHT / 2
    base = end + sense * 1.0 * level
    lettering = [
        Text(line, tuple((base + (lift - i * pitch) * upward).tolist()), TEXT_HEIGHT, tuple(level.tolist()), tuple(upward.tolist()), anchor, Face.REGULAR)
        for i, line in enumerate(texts)
    ]
    normal = np.array([-way[1], way[0]]) if across is None else across
    return Candidate.of([np.stack([tip, elbow, end])], [], [Head(tip, -way, normal)], lettering, cost, leader=True)


def turned(angle: float) -> Array:
    """The unit vector (2,) at ``angle`` degrees.

    >>> turned(90.0).round(9).tolist()
    [0.0, 1.0]
    """
    return np.array([math.cos(math.radians(angle)), math.sin(math.radians(angle))])
