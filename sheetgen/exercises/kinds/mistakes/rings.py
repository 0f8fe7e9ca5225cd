"""Numbers in rings that point at places of a drawing: each at the end of a leader, clear of all that is drawn. Sheet
millimetres."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from sheetgen.geometry import Array
from sheetgen.ink import Fill, Mark, Pen, Stroke, Text, circle, text_box
from sheetgen.sheet.free import outlines_of
from sheetgen.sheet.paper import Box

RADIUS, NUMBER = 3.4, 3.5
"""mm: of a ring, and height of the number in it."""

CLEAR = 0.9
"""mm round rings and texts (common practice, no source)."""

DOT, SHORT = 0.5, 0.7
"""mm: radius of the dot at which a leader ends; how far from a text it ends."""

REACHES = (5.0, 8.0, 11.0, 15.0, 20.0, 26.0, 33.0, 41.0, 50.0)
"""mm from what is pointed at to the middle of a ring."""

WAYS = np.array([(math.cos(k * math.pi / 12 + 0.13), math.sin(k * math.pi / 12 + 0.13)) for k in range(24)])
"""Directions of leaders, none of them level or upright."""

CROSSING = 6.0
"""What each line that a leader crosses costs, in mm of its length."""


@dataclass(frozen=True, eq=False)
class Target:
    """What a ring points at: a point (2,), or a text."""

    at: Array
    text: Text | None = None


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
    best, least = None, math.inf
    for reach in REACHES:
        if reach >= least:
            break
        for way in WAYS:
            start = target.at if own is None else _edge(own, target.at, way)
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
            cost = reach + CROSSING * len(tree.query(leader, predicate="intersects"))
            if cost < least:
                best, least = (middle, leader), cost
    return best


def _edge(own: shapely.Polygon, middle: Array, way: Array) -> Array:
    """Where a leader leaves a text."""
    out = shapely.intersection(shapely.buffer(own, SHORT), shapely.LineString([middle, middle + 200 * way]))
    return np.asarray(middle + float(shapely.length(out)) * way)
