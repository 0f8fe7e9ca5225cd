"""Places where the number of a line may stand: close beside it, or at the end of a leader. Sheet millimetres."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from sheetgen.geometry import Array, IntArray
from sheetgen.ink import text_width
from sheetgen.sheet.paper import Box

Geometries = npt.NDArray[np.object_]

CLEAR = 0.9
"""mm between a number and any line (common practice, no source)."""

PLAIN = 1.0
"""mm by which every other line is farther from a number than its own."""

FARTHEST = 6.0
"""mm: a line that is farther away misleads nobody."""

ALONG = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9)
"""Where along its line a number is tried, as shares of it."""

LEADERS = (4.0, 6.0, 8.5, 11.5, 15.0, 20.0, 26.0)
"""mm: lengths of leaders that are tried."""

WAYS = np.array([(math.cos(k * math.pi / 8), math.sin(k * math.pi / 8)) for k in range(16)])
"""Directions of leaders that are tried."""

LEAST_TURN = 0.34
"""Sine: a leader that leaves its line at a smaller angle, 20 degrees, seems to be part of it."""

SQUARER = 0.6
"""The same where all numbers have leaders, 37 degrees: an arrowhead needs to point at its line."""

DOT_CLEAR = 0.6
"""mm from the middle of the dot at which a leader begins to strange lines."""

END_FREE, END_COST = 4.0, 3.0
"""mm from where a leader ends to a strange line, if all numbers have leaders and there is room; what each mm less costs (common
practice, no source)."""

ALONGSIDE, BESIDE_COST = 2.0, 2.0
"""mm from such a leader to a strange line, and what each mm less costs at each of four places (common practice, no source)."""

FEW = 6
"""Places of dots on a line that are all tried; of more, every other."""

COST_DIGITS = 3
"""Of costs that are compared: what differs less is rounding."""

LEADER_COST, CROSSING_COST, OFF_MIDDLE, STRANGER_COST, OVER_COST = 8.0, 6.0, 3.0, 6.0, 5.0
"""What a leader costs, each line that it crosses, a place half a line away from its middle, each mm that its number is so near a
strange line that it seems to be of that, and one over the part, beside the mm that a leader is long and the mm that strange lines
are near (common practice, no source)."""


@dataclass(frozen=True, eq=False)
class Places:
    """Where the number of one line may stand, the best first: ``middle`` (n, 2) of the number, ``half`` (2,) of its width and
    height, ``box`` (n,) round it, the ``leader`` (n,) to it or None, and what it costs."""

    middle: Array
    half: Array
    box: Geometries
    leader: Sequence[shapely.LineString | None]
    cost: Array

    @property
    def near(self) -> int:
        """How many are without a leader."""
        return sum(leader is None for leader in self.leader)


@dataclass(frozen=True, eq=False)
class Ink:
    """All lines in the way: geometries (m,) and an index of them; ``area``: what numbers must stay in; ``taken``: boxes (k,) that
    they and their leaders must keep off; ``barred``: what numbers that all have leaders must not touch, ``over``: what they had
    better not stand over."""

    lines: Geometries
    tree: shapely.STRtree
    area: Box
    taken: shapely.Geometry
    barred: shapely.Geometry | None = None
    over: shapely.Geometry | None = None


def places_of(number: int, text: str, height: float, ink: Ink, crowded: bool, *, led: bool) -> Places:
    """All places for the number of the line ``number``, the cheapest first."""
    line = ink.lines[number]
    half = np.array([text_width(text, height) / 2, height / 2])
    at = shapely.get_coordinates(shapely.line_interpolate_point(line, ALONG, normalized=True))
    ahead = shapely.get_coordinates(shapely.line_interpolate_point(line, np.array(ALONG) + 1e-3, normalized=True))
    way = (ahead - at) / np.hypot(*(ahead - at).T)[:, None]
    off = np.abs(np.array(ALONG) - 0.5) * 2 * OFF_MIDDLE
    away = _nearest_other(np.asarray(shapely.points(at), dtype=object), number, ink)
    clear = away > DOT_CLEAR
    off = off + END_COST * np.maximum(END_FREE - away, 0.0) if led else off
    starts = np.flatnonzero(clear) if clear.any() or not crowded else np.arange(len(at))
    starts = starts[::2] if len(starts) > FEW else starts
    lead = _led(number, at[starts], way[starts], off[starts], half, ink, SQUARER if led else LEAST_TURN)
    near = (np.zeros((0, 2)), np.zeros(0)) if led else _beside(number, at, way, off, half, ink)
    cost = np.round(np.concatenate([near[1], lead[2]]), COST_DIGITS)
    order = np.argsort(cost, kind="stable")
    middle = np.concatenate([near[0], lead[0]])[order]
    leaders = [*[None] * len(near[0]), *lead[1]]
    return Places(middle, half, _boxes(middle, half), [leaders[k] for k in order.tolist()], cost[order])


def _boxes(middle: Array, half: Array) -> Geometries:
    return np.asarray(shapely.box(*(middle - half).T, *(middle + half).T), dtype=object).reshape(-1)


def _allowed(middle: Array, half: Array, ink: Ink) -> IntArray:
    """The numbers of those places whose boxes lie within the area, clear of what is taken, and off all lines."""
    x0, y0, x1, y1 = ink.area
    inside = np.flatnonzero((middle - half >= (x0, y0)).all(axis=1) & (middle + half <= (x1, y1)).all(axis=1))
    inside = inside[~shapely.dwithin(ink.taken, _boxes(middle[inside], half), CLEAR)]
    if ink.barred is not None:
        inside = inside[~shapely.intersects(ink.barred, _boxes(middle[inside], half))]
    near, _ = ink.tree.query(_boxes(middle[inside], half), predicate="dwithin", distance=CLEAR)
    off = np.ones(len(inside), dtype=bool)
    off[near] = False
    return inside[off]


def _beside(number: int, at: Array, way: Array, off: Array, half: Array, ink: Ink) -> tuple[Array, Array]:
    """Places close beside the line: their middles (n, 2) and costs (n,)."""
    normal = np.stack([-way[:, 1], way[:, 0]], axis=1)
    reach = np.abs(normal) @ half + CLEAR + 0.05
    middle = np.concatenate([at + reach[:, None] * normal, at - reach[:, None] * normal])
    cost, rows = np.concatenate([off, off]), _allowed(middle, half, ink)
    boxes = _boxes(middle[rows], half)
    own, others = shapely.distance(boxes, ink.lines[number]), _nearest_other(boxes, number, ink)
    good = others >= own + PLAIN
    return middle[rows[good]], cost[rows[good]] + FARTHEST - np.minimum(others[good], FARTHEST)


def _nearest_other(boxes: Geometries, number: int, ink: Ink) -> Array:
    """How far the nearest other line is from each box, as far as that matters."""
    others = np.full(len(boxes), 2 * FARTHEST)
    box, line = ink.tree.query(boxes, predicate="dwithin", distance=2 * FARTHEST)
    other = line != number
    np.minimum.at(others, box[other], shapely.distance(boxes[box[other]], ink.lines[line[other]]))
    return others


def _led(
    number: int, at: Array, way: Array, off: Array, half: Array, ink: Ink, least_turn: float
) -> tuple[Array, list[shapely.LineString], Array]:
    """Places at the end of a leader: their middles (n, 2), the leaders, and costs (n,)."""
    start, turn = np.nonzero(np.abs(way[:, :1] * WAYS[:, 1] - way[:, 1:] * WAYS[:, 0]) > least_turn)
    tried = LEADERS[1:] if least_turn == SQUARER else LEADERS           # an arrowhead takes more than a dot
    start, turn = np.repeat(start, len(tried)), np.repeat(turn, len(tried))
    length = np.tile(tried, len(start) // len(tried)) if len(start) else np.zeros(0)
    end = at[start] + length[:, None] * WAYS[turn]
    middle = end + WAYS[turn] * (np.abs(WAYS[turn]) @ half + 0.6)[:, None]
    rows = _allowed(middle, half, ink)
    leaders = np.asarray(shapely.linestrings(np.stack([at[start[rows]], end[rows]], axis=1)), dtype=object).reshape(-1)
    clear_of = ~shapely.dwithin(ink.taken, leaders, CLEAR)
    rows, leaders = rows[clear_of], leaders[clear_of]
    crossed, line = ink.tree.query(leaders, predicate="intersects")
    crossings = np.bincount(crossed[line != number], minlength=len(leaders))
    near = np.maximum(PLAIN + CLEAR - _nearest_other(_boxes(middle[rows], half), number, ink), 0.0)
    cost = LEADER_COST + length[rows] + off[start[rows]] + CROSSING_COST * crossings + STRANGER_COST * near
    if ink.over is not None:
        cost = cost + OVER_COST * shapely.intersects(ink.over, _boxes(middle[rows], half)) + _beside_others(leaders, number, ink)
    return middle[rows], leaders.tolist(), cost


def _beside_others(leaders: Geometries, number: int, ink: Ink) -> Array:
    """What it costs that leaders run beside strange lines, (n,)."""
    spots = shapely.line_interpolate_point(leaders[:, None], [0.3, 0.5, 0.7, 0.9], normalized=True)
    away = _nearest_other(np.asarray(spots, dtype=object).reshape(-1), number, ink).reshape(-1, 4)
    return np.asarray(BESIDE_COST * np.maximum(ALONGSIDE - away, 0.0).sum(axis=1))
