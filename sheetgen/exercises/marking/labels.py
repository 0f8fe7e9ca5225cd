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
import shapely

from sheetgen.exercises.marking.label_places import CLEAR, Ink, Places, places_of
from sheetgen.exercises.numbering import Numbered
from sheetgen.geometry import Array
from sheetgen.ink import Fill, Mark, Pen, Stroke, Text
from sheetgen.sheet.paper import Box
from sheetgen.sight import PlacedView

APART = 2.2
"""mm between two numbers: nearer ones read as one (common practice, no source)."""

DOT = 0.45
"""mm: radius of the dot at which a leader begins."""

ARROW = 2.5, 0.35
"""mm: length and half the width of an arrowhead, which ends a leader at a line; a dot ends one within an area (ISO 128-2, from
memory)."""

TRIES = 4
"""How often each number of a view may go before all others, until all find room."""


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
        ink = Ink(geometries, tree, area, around)
        if leading is not None:
            texts = shapely.box(*np.array([*leading.aloof, *numbers], dtype=float).reshape(-1, 4).T)
            barred = shapely.union(shapely.union_all(shapely.buffer(texts, leading.apart)), leading.out)
            ink = Ink(geometries, tree, area, around, barred, leading.over)
        places = [places_of(first + k, str(line.number), height, ink, crowded, led=leading is not None)
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
    lines: Sequence[Numbered], places: Sequence[Places], chosen: Sequence[int], height: float,
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


def _chosen(places: Sequence[Places], apart: float) -> list[int] | None:
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


def _in_turn(places: Sequence[Places], order: Sequence[int], apart: float) -> list[int] | int:
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
