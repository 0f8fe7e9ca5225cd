"""Numbers in rings that point at places of a drawing: each at the end of a leader, clear of all that is drawn. Sheet
millimetres."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
import shapely

from sheetgen.exercises.drawing import INSET
from sheetgen.geometry import Array
from sheetgen.ink import Fill, Mark, Pen, Stroke, Text, circle, text_box
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import outlines_of
from sheetgen.sheet.paper import Box
from sheetgen.sheet.titleblock_ink import titleblock_box

RADIUS, NUMBER = 3.4, 3.5
"""mm: of a ring, and height of the number in it."""

CLEAR = 0.9
"""mm round rings and texts (common practice, no source)."""

BLOCK_CLEAR = 4.0
"""mm round the title block."""

DOT, SHORT = 0.5, 0.7
"""mm: radius of the dot at which a leader ends; how far from a text it ends."""

REACHES = (5.0, 8.0, 11.0, 15.0, 20.0, 26.0, 33.0, 41.0, 50.0)
"""mm from what is pointed at to the middle of a ring."""

WAYS = np.array([(math.cos(k * math.pi / 12 + 0.13), math.sin(k * math.pi / 12 + 0.13)) for k in range(24)])
"""Directions of leaders, none of them level or upright."""

CROSSING = 6.0
"""What each line that a leader crosses costs, in mm of its length."""

ALONG = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82)
"""Where along its line a leader may end, as shares of it."""

OFF_MIDDLE, STRANGER, NEAR = 6.0, 15.0, 1.5
"""mm of length that half a line from the middle costs, and each other line so near to a dot that it could be meant; how near that
is (common practice, no source)."""


LEAST_TURN = 0.5
"""Sine: a leader that leaves its line at a smaller angle, 30 degrees, seems to be part of it (common practice, no source)."""


@dataclass(frozen=True, eq=False)
class Target:
    """What a ring points at: the middle ``at`` (1, 2) of a ``text``; or of some points (n, 2) of a line, the best of them first,
    one that no other line is near to. ``ways`` (n, 2): how the line runs there, unit vectors; none of a text or a mere point."""

    at: Array
    text: Text | None = None
    ways: Array | None = None

    @classmethod
    def of_line(cls, points: Array) -> Target:
        """Points along a polyline (k, 2), its middle first."""
        line = shapely.LineString(points)
        at, ahead = (shapely.get_coordinates(shapely.line_interpolate_point(line, np.array(ALONG) + more, normalized=True))
                     for more in (0.0, 1e-3))
        return cls(at, None, (ahead - at) / np.hypot(*(ahead - at).T)[:, None])

    @classmethod
    def of_text(cls, text: Text) -> Target:
        """The middle of a text."""
        return cls(text_box(text, 0.0).mean(axis=0)[None], text)


def rings_on(marks: Sequence[Mark], settings: Settings, targets: Sequence[Target]) -> tuple[Mark, ...]:
    """A ring for each target on a sheet of which these are the ``marks``, numbered from 1. Raises: RefusedError if one finds no
    place."""
    paper, block = settings.paper, titleblock_box(settings.block, settings.paper)
    area = (paper.x0 + INSET, paper.y0 + INSET, paper.x1 - INSET, paper.y1 - INSET)
    found = rings(targets, marks, area, [(block[0] - BLOCK_CLEAR, block[1], block[2], block[3] + BLOCK_CLEAR)])
    if found is None:
        raise RefusedError([Reason("a number in a ring finds no place")])
    return tuple(found)


def rings(targets: Sequence[Target], drawn: Sequence[Mark], area: Box, blocked: Sequence[Box]) -> list[Mark] | None:
    """A ring for each target, numbered from 1; None if one finds no place."""
    lines = [shapely.LineString(line) for line in outlines_of([mark for mark in drawn if not isinstance(mark, Text)])]
    boxes = [shapely.Polygon(text_box(mark, 0.0)) for mark in drawn if isinstance(mark, Text)]
    tree, texts = shapely.STRtree(lines), np.array([*boxes, *(shapely.box(*box) for box in blocked)], dtype=object)
    room, marks, taken = shapely.box(*area), list[Mark](), list[shapely.Geometry]()
    for number, target in enumerate(targets, 1):
        found = _ring(target, lines, tree, texts, room, taken)
        if found is None:
            return None
        middle, leader = found
        taken += [shapely.Point(middle).buffer(RADIUS), leader]
        points = shapely.get_coordinates(leader)
        marks += [circle((float(middle[0]), float(middle[1])), RADIUS, Pen.DIMENSION), Stroke(points, Pen.DIMENSION),
                  Text(str(number), (float(middle[0]), float(middle[1]) - NUMBER / 2), NUMBER, anchor="middle")]
        if target.text is None:
            turns = np.linspace(0, 2 * math.pi, 13)[:-1]
            marks.append(Fill(points[0] + DOT * np.stack([np.cos(turns), np.sin(turns)], axis=1)))
    return marks


def _ring(
    target: Target, lines: Sequence[shapely.LineString], tree: shapely.STRtree, texts: Array, room: shapely.Polygon,
    taken: Sequence[shapely.Geometry],
) -> tuple[Array, shapely.LineString] | None:
    """The cheapest place of one ring: its middle, and its leader from what it points at."""
    own = shapely.Polygon(text_box(target.text, 0.0)) if target.text is not None else None
    others = texts if own is None else texts[~shapely.equals(texts, own)]
    dear = _dear(target.at, tree) if own is None else np.zeros(1)
    best, least = None, math.inf
    for reach in REACHES:
        if reach + dear.min() >= least:
            break
        for (k, at), way in product(enumerate(target.at), WAYS):
            if reach + dear[k] >= least or (target.ways is not None and _turn(target.ways[k], way) < LEAST_TURN):
                continue
            start = at if own is None else _edge(own, at, way)
            middle = start + (reach + RADIUS) * way
            ring = shapely.Point(middle).buffer(RADIUS + CLEAR)
            leader = shapely.LineString([start, start + reach * way])
            if not room.contains(ring) or len(tree.query(ring, predicate="intersects")):
                continue
            if len(others) and (shapely.dwithin(others, leader, CLEAR).any() or shapely.dwithin(others, ring, 0.0).any()):
                continue
            if own is not None and own.intersects(ring):
                continue
            if any(shapely.dwithin(each, ring, CLEAR) or shapely.dwithin(each, leader, CLEAR) for each in taken):
                continue
            cost = reach + float(dear[k]) + CROSSING * len(tree.query(leader, predicate="intersects"))
            if cost < least:
                best, least = (middle, leader), cost
    return best


def _turn(one: Array, other: Array) -> float:
    """Sine of the angle between two ways."""
    return abs(float(one[0] * other[1] - one[1] * other[0]))


def _dear(points: Array, tree: shapely.STRtree) -> Array:
    """What each of the points (n, 2) of a line costs: how far it is from the first, and other lines near it."""
    row, _ = tree.query(np.asarray(shapely.points(points), dtype=object), predicate="dwithin", distance=NEAR)
    near = np.bincount(row, minlength=len(points))
    shares = np.abs(np.array(ALONG[:len(points)]) - ALONG[0]) if len(points) > 1 else np.zeros(1)
    return np.asarray(2 * OFF_MIDDLE * shares + STRANGER * (near - near.min()))


def _edge(own: shapely.Polygon, middle: Array, way: Array) -> Array:
    """Where a leader leaves a text."""
    out = shapely.intersection(shapely.buffer(own, SHORT), shapely.LineString([middle, middle + 200 * way]))
    return np.asarray(middle + float(shapely.length(out)) * way)
