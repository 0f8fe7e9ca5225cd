"""Angles: an arc about the point where an inclined face's line ends, from that line to the direction it is measured from."""

from __future__ import annotations

import math

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.intervals import joined
from sheetgen.ink import Text, text_width
from sheetgen.placing.candidate import ARROW, GAP, OVERSHOOT, TEXT_ABOVE, TEXT_HEIGHT, Candidate, Head, reading
from sheetgen.placing.items import Item
from sheetgen.placing.table import Offer
from sheetgen.placing.weights import Weights
from sheetgen.sight import PlacedView
from sheetgen.solid import Plane
from sheetgen.units import EDGE_ON, PARALLEL, SAME_PLACE, SAME_POINT

RADII = (14.0, 18.0, 22.0, 26.0, 32.0)
"""mm on paper: radii offered for the arc."""


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
            found += _arcs(view, item, vertex, ray, base)
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


def _arcs(view: PlacedView, item: Item, vertex: Array, ray: Array, base: Array) -> list[tuple[Candidate, float, bool]]:
    """Arcs about ``vertex`` (3,) from ``base`` to ``ray`` (3,), with their radii and whether the figures stand outside."""
    cosine = float(np.clip(base @ ray, -1, 1))
    swing = math.acos(cosine)
    square = ray - cosine * base
    square = square / np.linalg.norm(square)
    origin = view.paper(vertex)[0]
    u, v = (view.view.frame.flat_vectors(vector) for vector in (base, square))       # paper mm for one mm, sizes apart from scale
    return [
        (drawn, radius, outside)
        for radius in RADII for drawn, outside in _arc(view, item.main.text, origin, (u, v), swing, radius)
    ]


def _arc(
    view: PlacedView, figures: str, origin: Array, axes: tuple[Array, Array], swing: float, radius: float
) -> list[tuple[Candidate, bool]]:
    """The arc with its figures outside it, True, and inside."""
    u, v = axes
    t = np.linspace(0.0, swing, 25)
    points = origin + radius * (np.cos(t)[:, None] * u + np.sin(t)[:, None] * v)
    if radius * swing < 2 * ARROW + 2:
        return []
    heads = [
        Head(points[0], _chord(points, 0), u / np.linalg.norm(u)),
        Head(points[-1], _chord(points, -1), _unit(np.cos(swing) * u + np.sin(swing) * v)),
    ]
    extensions = [line for way in (u, np.cos(swing) * u + np.sin(swing) * v) for line in _extended(view, origin, way, radius)]
    middle = np.cos(swing / 2) * u + np.sin(swing / 2) * v
    width = text_width(figures, TEXT_HEIGHT)
    result = []
    for out in (radius + TEXT_ABOVE + TEXT_HEIGHT / 2 + width / 3, radius - TEXT_ABOVE - TEXT_HEIGHT / 2 - width / 2):
        centre = origin + out * middle
        along, up = ((1.0, 0.0), (0.0, 1.0)) if view.view.name != "isometric" else _lettering_axes(u, v)
        at = centre - np.array(up) * TEXT_HEIGHT / 2
        text = Text(figures, (float(at[0]), float(at[1])), TEXT_HEIGHT, along, up, "middle")
        result.append((Candidate((points,), tuple(extensions), tuple(heads), (text,)), out > radius))
    return result


def _lettering_axes(u: Array, v: Array) -> tuple[tuple[float, float], tuple[float, float]]:
    """Baseline and up direction in the plane of two drawn directions, one of which runs along an isometric axis."""
    level = np.array([math.cos(math.radians(30)), math.sin(math.radians(30))])
    along = next((_unit(w) for w in (u, v) if abs(abs(w[1] / (np.linalg.norm(w) or 1)) - 0.5) < PARALLEL), level)
    return reading((float(along[0]), float(along[1])), (0.0, 1.0))


def _chord(points: Array, end: int) -> Array:
    """The way an arrowhead at an end of an arc points: along the chord of its own length, so that its back lies on the arc."""
    tip = points[end]
    distance = np.linalg.norm(points - tip, axis=1)
    back = points[int(np.argmin(np.abs(distance - ARROW)))]
    return _unit(tip - back)


def _unit(vector: Array) -> Array:
    return np.asarray(vector / np.linalg.norm(vector))


def _extended(view: PlacedView, origin: Array, way: Array, radius: float) -> list[Array]:
    """The extension line (2, 2) on which the arc ends, if the line drawn from ``origin`` along ``way`` does not reach so far."""
    length = float(np.linalg.norm(way))
    reached = _drawn_along(view, origin, way / length) / length
    return [] if reached > radius else [np.stack([origin + (reached + GAP) * way, origin + (radius + OVERSHOOT) * way])]


def _drawn_along(view: PlacedView, origin: Array, unit: Array) -> float:
    """How far a visible line, or several that meet, run from ``origin`` along ``unit``, mm on the sheet."""
    away = view.visible_straights - origin
    along, off = away @ unit, np.abs(away @ np.array([-unit[1], unit[0]])).max(axis=1)
    here = np.sort(along[off < SAME_PLACE], axis=1)
    return next((high for low, high in joined(here.tolist(), SAME_PLACE) if low < SAME_PLACE < high), 0.0)
