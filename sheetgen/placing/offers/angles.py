"""Angles: an arc about the point where an inclined face's line ends, from that line to the direction it is measured from."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.intervals import joined
from sheetgen.ink import Text
from sheetgen.placing.candidate import (
    ARROW,
    GAP,
    OVERSHOOT,
    TEXT_ABOVE,
    TEXT_HEIGHT,
    Arrowhead,
    Candidate,
    Vec,
    lettered_width,
    reading,
)
from sheetgen.placing.items import Item
from sheetgen.placing.table import Offer
from sheetgen.placing.weights import Weights
from sheetgen.sight import PlacedView
from sheetgen.solid import Plane
from sheetgen.units import EDGE_ON, PARALLEL, SAME_PLACE, SAME_POINT

RADII = (14.0, 18.0, 22.0, 26.0, 32.0)
"""mm on paper: radii offered for the arc."""

UP = 2
"""The axis of height."""


def angle_offers(view: PlacedView, item: Item, number: int, weights: Weights, on: int = -1) -> list[Offer]:
    """Ways to draw the angle between two flat sides in a view: edge-on in a principal view, in their plane in a pictorial.

    ``on``: the number of the view, -1 for the pictorial.
    """
    axis = item.main.axis
    assert axis is not None
    solid = view.view.solid
    edge_on = float(np.linalg.norm(view.vector(axis))) < EDGE_ON
    if not edge_on and view.view.name != "isometric":
        return []
    found: list[tuple[Candidate, float, bool]] = []
    for which, reference in (item.main.planes, item.main.planes[::-1]):
        inclined, level = solid.surfaces[which], solid.surfaces[reference]
        assert isinstance(inclined, Plane) and isinstance(level, Plane)
        slope_from_square = inclined.axis is None and level.axis is not None
        for vertex, ray in _rays(view, which, axis):
            # Away from the other face an angle can only be laid off from a direction that all know: level or upright.
            if not slope_from_square and abs(float(level.normal @ vertex) - level.offset) > SAME_POINT:
                continue
            base = _direction(ray, np.cross(np.eye(3)[axis], level.normal), blunt=item.main.value > 90)
            found += _arcs(view, item, axis, vertex, ray, base)
    return [
        Offer(number, weights.angle + weights.arc_radius * radius + (0.0 if outside else weights.within_arc), drawn, on, own=True)
        for drawn, radius, outside in found
    ]


def _rays(view: PlacedView, plane: int, axis: int) -> list[tuple[Array, Array]]:
    """Seen lines of a plane square to ``axis``: (end point (3,), unit direction (3,) along the line away from it), both ends."""
    sight = view.sight
    which = (sight.pair == plane).any(axis=1) & sight.sharp & sight.stretches.seen
    result: dict[tuple[float, ...], tuple[Array, Array]] = {}
    for p, q in zip(sight.start[which], sight.stop[which], strict=True):
        length = float(np.linalg.norm(q - p))
        if length * view.scale < 8.0 or abs(q[axis] - p[axis]) > SAME_POINT:
            continue
        for a, b in ((p, q), (q, p)):
            result.setdefault(tuple(np.round(np.concatenate([a, (b - a) / length]), 6).tolist()), (a, (b - a) / length))
    return list(result.values())


def _direction(ray: Array, line: Array, *, blunt: bool) -> Array:
    """The direction along ``line`` that makes the acute, or the blunt, angle with ``ray``."""
    unit = line / np.linalg.norm(line)
    return np.asarray(unit if (float(unit @ ray) >= 0) != blunt else -unit)


@dataclass(frozen=True, eq=False)
class _Swing:
    """Arcs about one vertex, ``origin`` (2,) on the sheet: from ``u`` to ``w`` (2,), what one mm along its sides gives on a
    drawing at full size. ``points`` (25, 2): of an arc with a radius of 1, from its vertex; ``middle`` (2,): halfway; ``swing``:
    radians."""

    origin: Array
    u: Array
    w: Array
    points: Array
    middle: Array
    swing: float


def _arcs(
    view: PlacedView, item: Item, axis: int, vertex: Array, ray: Array, base: Array
) -> list[tuple[Candidate, float, bool]]:
    """Arcs square to ``axis`` about ``vertex`` (3,) from ``base`` to ``ray`` (3,), with their radii and whether the figures stand outside."""
    cosine = float(np.clip(base @ ray, -1, 1))
    swing = math.acos(cosine)
    square = ray - cosine * base
    square = square / np.linalg.norm(square)
    origin = view.paper(vertex)[0]
    u, v = (view.view.frame.flat_vectors(vector) for vector in (base, square))       # paper mm for one mm, sizes apart from scale
    t = np.linspace(0.0, swing, 25)
    w, middle = (np.cos(turn) * u + np.sin(turn) * v for turn in (swing, swing / 2))
    arcs = _Swing(origin, u, w, np.cos(t)[:, None] * u + np.sin(t)[:, None] * v, middle, swing)
    lettering = ((1.0, 0.0), (0.0, 1.0)) if view.view.name != "isometric" else _lettering_axes(view, axis, (u, v))
    reached = _reached(view, origin, u), _reached(view, origin, w)
    return [
        (drawn, radius, outside)
        for radius in RADII if radius * swing >= 2 * ARROW + 2
        for drawn, outside in _arc(arcs, item.main.text, lettering, reached, radius)
    ]


def _arc(
    arcs: _Swing, figures: str, lettering: tuple[Vec, Vec], reached: tuple[float, float], radius: float
) -> list[tuple[Candidate, bool]]:
    """The arc with its figures outside it, True, and inside. ``reached``: how far along its sides lines are drawn, of u and w."""
    origin, u, w = arcs.origin, arcs.u, arcs.w
    points = origin + radius * arcs.points
    heads = (Arrowhead(points[0], _chord(points, 0), _unit(u)), Arrowhead(points[-1], _chord(points, -1), _unit(w)))
    # The arc ends on extension lines where the lines drawn along its sides do not reach so far.
    extensions = tuple(
        np.stack([origin + (drawn + GAP) * way, origin + (radius + OVERSHOOT) * way])
        for way, drawn in zip((u, w), reached, strict=True) if drawn <= radius)
    width, (along, up) = lettered_width(figures, TEXT_HEIGHT), lettering
    result = []
    for out in (radius + TEXT_ABOVE + TEXT_HEIGHT / 2 + width / 3, radius - TEXT_ABOVE - TEXT_HEIGHT / 2 - width / 2):
        centre = origin + out * arcs.middle
        at = centre - np.array(up) * TEXT_HEIGHT / 2
        text = Text(figures, (float(at[0]), float(at[1])), TEXT_HEIGHT, along, up, "middle")
        result.append((Candidate((points,), extensions, heads, (text,)), out > radius))
    return result


def _lettering_axes(view: PlacedView, axis: int, sides: tuple[Array, Array]) -> tuple[Vec, Vec]:
    """Baseline and up direction of the figures of an angle square to ``axis``, with those two drawn ``sides``: in the plane of an
    upright angle; those of a level one stand up along a side of it."""
    along = np.array(view.unit(0 if axis != 0 else 1))
    if axis == UP:
        along = next((way for way in sides if abs(abs(way[1] / (np.linalg.norm(way) or 1)) - 0.5) < PARALLEL), along)
    across, up = _unit(along).tolist()
    return reading((across, up), (0.0, 1.0))


def _chord(points: Array, end: int) -> Array:
    """The way an arrowhead at an end of an arc points: along the chord of its own length, so that its back lies on the arc."""
    tip = points[end]
    away_x, away_y = (points - tip).T
    distance = np.sqrt(away_x * away_x + away_y * away_y)
    back = points[int(np.argmin(np.abs(distance - ARROW)))]
    return _unit(tip - back)


def _unit(vector: Array) -> Array:
    return np.asarray(vector / np.linalg.norm(vector))


def _reached(view: PlacedView, origin: Array, way: Array) -> float:
    """How far, in mm of the arc's radius, lines are drawn from ``origin`` along ``way``."""
    length = float(np.linalg.norm(way))
    return _drawn_along(view, origin, way / length) / length


def _drawn_along(view: PlacedView, origin: Array, unit: Array) -> float:
    """How far a visible line, or several that meet, run from ``origin`` along ``unit``, mm on the sheet."""
    away = view.visible_straights - origin
    along, off = away @ unit, np.abs(away @ np.array([-unit[1], unit[0]])).max(axis=1)
    here = np.sort(along[off < SAME_PLACE], axis=1)
    return next((high for low, high in joined(here.tolist(), SAME_PLACE) if low < SAME_PLACE < high), 0.0)
