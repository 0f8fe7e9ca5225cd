"""Numbers beside the lines of views, each where it is plain which line it means, and none on a line. Sheet millimetres.

A number stands close to its own line, with every other line well farther away; where there is no such place, farther off at the
end of a thin leader that begins with a dot on the line.
"""

from __future__ import annotations

import math
from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np
import numpy.typing as npt
import shapely

from sheetgen.exercises.numbering import Numbered
from sheetgen.geometry import Array, IntArray
from sheetgen.ink import Fill, Mark, Pen, Stroke, Text, text_width
from sheetgen.sheet.paper import Box
from sheetgen.sight import PlacedView

Geometries = npt.NDArray[np.object_]

CLEAR = 0.9
"""mm between a number and any line (common practice, no source)."""

APART = 2.2
"""mm between two numbers: nearer ones read as one (common practice, no source)."""

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

DOT, DOT_CLEAR = 0.45, 0.6
"""mm: radius of the dot at which a leader begins; from its middle to strange lines."""

ARROW = 2.5, 0.35
"""mm: length and half the width of an arrowhead, which ends a leader at a line; a dot ends one within an area (ISO 128-2, from
memory)."""

END_FREE, END_COST = 4.0, 3.0
"""mm from where a leader ends to a strange line, if all numbers have leaders and there is room; what each mm less costs (common
practice, no source)."""

ALONGSIDE, BESIDE_COST = 2.0, 2.0
"""mm from such a leader to a strange line, and what each mm less costs at each of four places (common practice, no source)."""

FEW = 6
"""Places of dots on a line that are all tried; of more, every other."""

COST_DIGITS = 3
"""Of costs that are compared: what differs less is rounding."""

TRIES = 4
"""How often each number of a view may go before all others, until all find room."""

LEADER_COST, CROSSING_COST, OFF_MIDDLE, STRANGER_COST, OVER_COST = 8.0, 6.0, 3.0, 6.0, 5.0
"""What a leader costs, each line that it crosses, a place half a line away from its middle, each mm that its number is so near a
strange line that it seems to be of that, and one over the part, beside the mm that a leader is long and the mm that strange lines
are near (common practice, no source)."""


@dataclass(frozen=True, eq=False)
class _Places:
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
class Leading:
    """How numbers stand that all have leaders. ``arrows``: the numbers whose leaders end in arrowheads; ``apart``: mm between two
    numbers, and from one to the texts in the boxes ``aloof``; ``over``: what they had better not stand over, ``out``: what they
    must not stand in."""

    arrows: Container[int]
    apart: float
    aloof: Sequence[Box]
    over: shapely.Geometry
    out: shapely.Geometry


@dataclass(frozen=True, eq=False)
class _Ink:
    """All lines in the way: geometries (m,) and an index of them; ``area``: what numbers must stay in; ``taken``: boxes (k,) that
    they and their leaders must keep off; ``barred``: what numbers that all have leaders must not touch, ``over``: what they had
    better not stand over."""

    lines: Geometries
    tree: shapely.STRtree
    area: Box
    taken: shapely.Geometry
    barred: shapely.Geometry | None = None
    over: shapely.Geometry | None = None


def number_marks(
    views: Sequence[PlacedView], lines: Sequence[Sequence[Numbered]], taken: Sequence[Box], area: Box, height: float,
    *, crowded: bool = False, among: Sequence[Array] = (), leading: Leading | None = None,
) -> tuple[list[Mark], float] | None:
    """The numbers of the ``lines`` of each of ``views`` as marks, and what one costs on average, in lettering of that ``height``,
    within ``area`` and clear of boxes that are ``taken``; None where one finds no place. ``crowded``: the dot of a leader may
    stand close to a strange line, if the line has no other place for it; ``among``: polylines of other lines, which have no
    numbers; ``leading``: if all have leaders, how."""
    polylines = [[line.shape.points() * view.scale + view.origin for line in those]
                 for view, those in zip(views, lines, strict=True)]
    geometries = np.array([shapely.LineString(points) for points in chain(*polylines, among)], dtype=object)
    tree, first, marks, blocked = shapely.STRtree(geometries), 0, list[Mark](), list(taken)
    cost, numbers = 0.0, list[Box]()
    for those in lines:
        around = shapely.union_all(shapely.box(*np.array([*blocked, *numbers], dtype=float).reshape(-1, 4).T))
        shapely.prepare(around)
        ink = _Ink(geometries, tree, area, around)
        if leading is not None:
            texts = shapely.box(*np.array([*leading.aloof, *numbers], dtype=float).reshape(-1, 4).T)
            barred = shapely.union(shapely.union_all(shapely.buffer(texts, leading.apart)), leading.out)
            ink = _Ink(geometries, tree, area, around, barred, leading.over)
        places = [_places(first + k, str(line.number), height, ink, crowded, led=leading is not None)
                  for k, line in enumerate(those)]
        chosen = _chosen(places, leading.apart if leading else APART)
        if chosen is None:
            return None
        marks += _marks(those, places, chosen, height, leading.arrows if leading else ())
        numbers += [tuple(place.box[k].bounds) for place, k in zip(places, chosen, strict=True)]
        cost += sum(float(place.cost[k]) for place, k in zip(places, chosen, strict=True))
        first += len(those)
    return marks, cost / max(1, first)


def _marks(
    lines: Sequence[Numbered], places: Sequence[_Places], chosen: Sequence[int], height: float,
    arrows: Container[int],
) -> Iterator[Mark]:
    for line, found, k in zip(lines, places, chosen, strict=True):
        u, v = found.middle[k].tolist()
        yield Text(str(line.number), (u, v - height / 2), height, anchor="middle")
        leader = found.leader[k]
        if leader is not None:
            points = shapely.get_coordinates(leader)
            yield Stroke(points, Pen.DIMENSION)
            if line.number in arrows:
                yield Fill(_arrowhead(points))
                continue
            turns = np.linspace(0, 2 * math.pi, 13)[:-1]
            yield Fill(points[0] + DOT * np.stack([np.cos(turns), np.sin(turns)], axis=1))


def _arrowhead(leader: Array) -> Array:
    """The arrowhead (3, 2) at the first point of a leader."""
    along = (leader[1] - leader[0]) / math.hypot(*(leader[1] - leader[0]))
    across = np.array([-along[1], along[0]]) * ARROW[1]
    return np.asarray(leader[0] + np.stack([0 * along, along * ARROW[0] + across, along * ARROW[0] - across]))


def _chosen(places: Sequence[_Places], apart: float) -> list[int] | None:
    """For each number one of its places, so that no two are in each other's way, and all are ``apart``: those first that have the
    fewest without a leader, and whichever then finds none goes before all others. None if that comes to nothing."""
    order = sorted(range(len(places)), key=lambda k: (places[k].near, k))
    for _ in range(TRIES * len(places) + 1):
        chosen = _in_turn(places, order, apart)
        if isinstance(chosen, list):
            return chosen
        order.remove(chosen)
        order.insert(0, chosen)
    return None


def _in_turn(places: Sequence[_Places], order: Sequence[int], apart: float) -> list[int] | int:
    """The best free place of each number, chosen in that order; or the first number that has none."""
    chosen = [-1] * len(places)
    boxes: list[shapely.Geometry] = []
    leaders: list[shapely.Geometry] = []
    for number in order:
        found = places[number]
        free = np.ones(len(found.middle), dtype=bool)
        for other in np.flatnonzero(np.array(chosen) >= 0).tolist():
            between = np.abs(found.middle - places[other].middle[chosen[other]]) - found.half - places[other].half
            free &= np.hypot(*np.maximum(between, 0.0).T) >= apart
        if leaders:
            free &= shapely.distance(found.box, shapely.multilinestrings(leaders)) >= CLEAR
        k = next((k for k in np.flatnonzero(free).tolist() if _leads_clear(found.leader[k], boxes, leaders)), None)
        if k is None:
            return number
        chosen[number] = k
        boxes.append(found.box[k])
        led = found.leader[k]
        if led is not None:
            leaders.append(led)
    return chosen


def _leads_clear(
    leader: shapely.LineString | None, boxes: Sequence[shapely.Geometry], leaders: Sequence[shapely.Geometry]
) -> bool:
    """Whether a leader keeps clear of the numbers, and of the other leaders, that stand already."""
    if leader is None:
        return True
    return not boxes or bool((shapely.distance(np.array([*boxes, *leaders], dtype=object), leader) >= CLEAR).all())


def _places(number: int, text: str, height: float, ink: _Ink, crowded: bool, *, led: bool) -> _Places:
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
    return _Places(middle, half, _boxes(middle, half), [leaders[k] for k in order.tolist()], cost[order])


def _boxes(middle: Array, half: Array) -> Geometries:
    return np.asarray(shapely.box(*(middle - half).T, *(middle + half).T), dtype=object).reshape(-1)


def _allowed(middle: Array, half: Array, ink: _Ink) -> IntArray:
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


def _beside(number: int, at: Array, way: Array, off: Array, half: Array, ink: _Ink) -> tuple[Array, Array]:
    """Places close beside the line: their middles (n, 2) and costs (n,)."""
    normal = np.stack([-way[:, 1], way[:, 0]], axis=1)
    reach = np.abs(normal) @ half + CLEAR + 0.05
    middle = np.concatenate([at + reach[:, None] * normal, at - reach[:, None] * normal])
    cost, rows = np.concatenate([off, off]), _allowed(middle, half, ink)
    boxes = _boxes(middle[rows], half)
    own, others = shapely.distance(boxes, ink.lines[number]), _nearest_other(boxes, number, ink)
    good = others >= own + PLAIN
    return middle[rows[good]], cost[rows[good]] + FARTHEST - np.minimum(others[good], FARTHEST)


def _nearest_other(boxes: Geometries, number: int, ink: _Ink) -> Array:
    """How far the nearest other line is from each box, as far as that matters."""
    others = np.full(len(boxes), 2 * FARTHEST)
    box, line = ink.tree.query(boxes, predicate="dwithin", distance=2 * FARTHEST)
    other = line != number
    np.minimum.at(others, box[other], shapely.distance(boxes[box[other]], ink.lines[line[other]]))
    return others


def _led(
    number: int, at: Array, way: Array, off: Array, half: Array, ink: _Ink, least_turn: float
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


def _beside_others(leaders: Geometries, number: int, ink: _Ink) -> Array:
    """What it costs that leaders run beside strange lines, (n,)."""
    spots = shapely.line_interpolate_point(leaders[:, None], [0.3, 0.5, 0.7, 0.9], normalized=True)
    away = _nearest_other(np.asarray(spots, dtype=object).reshape(-1), number, ink).reshape(-1, 4)
    return np.asarray(BESIDE_COST * np.maximum(ALONGSIDE - away, 0.0).sum(axis=1))
