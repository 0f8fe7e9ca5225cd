"""Dimension lines on the pictorial of which an arrow, or both, touches an edge of the part. Millimetres of the part.

Where an extension line would run over the part for long, the edge itself serves.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from sheetgen.placing.candidate import ARROW, SHORT_EXTENSION
from sheetgen.placing.offers.pictorial_anchors import Anchor, Key, Point
from sheetgen.placing.offers.pictorial_standing import SIGNS, PictorialFooting, Span, Standing, levels_of, moved
from sheetgen.placing.weights import Weights
from sheetgen.units import SAME_LEVEL, SAME_POINT

LEAST_SPAN = 2 * ARROW + 2.0    # mm on paper: arrows within, pointing outwards
BESIDE_FIGURES = 3.0     # mm on paper that a line is longer than its figures
FROM_END = 4.9           # mm on paper that an arrow keeps from the ends of the edge it touches; no whole number, as lengths are
PLACES = (9.0, 6.0, 13.0)
"""mm on paper from corners and centres at which a dimension line is tried."""
SHARES = (0.5, 0.25, 0.75)
"""And of an edge, where its dimension line is tried."""


class _Edges(NamedTuple):
    """Of an end, at one level: its seen edges along the way that extension lines run, from where to where, a point of them; and
    the anchors there."""

    edges: Sequence[tuple[float, float]]
    anchors: Sequence[Anchor]
    point: Point


def touching_footings(
    span: Span, width: float, scale: float, standing: Mapping[Key, Standing], anchors: Mapping[Key, Sequence[Anchor]],
    weights: Weights,
) -> Iterator[PictorialFooting]:
    """Footings of dimension lines that touch the part; ``width``: of the figures, mm on paper; ``scale``: paper mm per part
    mm."""
    one, other = span.ends
    if abs(one.point[span.axis] - other.point[span.axis]) * scale < max(LEAST_SPAN, width + BESIDE_FIGURES):
        return
    keys = [(end.surfaces, span.axis) for end in span.ends]
    for outward in (a for a in range(3) if a != span.axis):
        third = 3 - span.axis - outward
        at_one, at_other = (_at_levels(standing[key], anchors[key], outward, third) for key in keys)
        for level in levels_of([*at_one]):
            near = next((k for k in at_other if abs(k - level) < SAME_LEVEL), None)
            if near is not None and (at_one[level].edges or at_other[near].edges):
                yield from _footings(span, outward, (at_one[level], at_other[near]), scale, weights)


def _at_levels(end: Standing, anchors: Sequence[Anchor], outward: int, third: int) -> dict[float, _Edges]:
    """What an end has at each level of the third axis."""
    edges: dict[float, list[tuple[float, float]]] = {}
    points: dict[float, Point] = {}
    on: dict[float, list[Anchor]] = {}
    for point, low, high in end.rails[third]:
        level = round(point[third], 5)
        edges.setdefault(level, []).append((low, high))
        points.setdefault(level, point)
    for anchor in anchors:
        level = round(anchor.point[third], 5)
        on.setdefault(level, []).append(anchor)
        points.setdefault(level, anchor.point)
    return {level: _Edges(_joined(edges.get(level, [])), on.get(level, []), point) for level, point in points.items()}


def _joined(edges: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Edges, in order, those that go on as others made one."""
    found: list[tuple[float, float]] = []
    for low, high in sorted(edges):
        if found and low < found[-1][1] + SAME_POINT:
            found[-1] = found[-1][0], max(found[-1][1], high)
        else:
            found.append((low, high))
    return found


def _footings(
    span: Span, outward: int, ends: tuple[_Edges, _Edges], scale: float, weights: Weights
) -> Iterator[PictorialFooting]:
    """Footings at one level."""
    for place, dear in _places(outward, ends, scale, weights).items():
        touched = [_touched(end, place, scale) for end in ends]
        if touched[0] and touched[1]:
            p, q = (Anchor(moved(end.point, outward, place)) for end in ends)
            yield PictorialFooting(span.item, weights.touching_edge + dear, span.axis, outward, 1, p, q, place)
        elif touched[0] or touched[1]:
            held = ends[0] if touched[0] else ends[1]
            for sign in SIGNS:
                far = _behind(ends[1] if touched[0] else ends[0], outward, place, sign, scale)
                if far is None:
                    continue
                touch = Anchor(moved(held.point, outward, place))
                p, q = (touch, far) if touched[0] else (far, touch)
                cost = weights.touching_edge + dear + far.cost + weights.smooth * (far.seam == outward)
                yield PictorialFooting(span.item, cost, span.axis, outward, sign, p, q, place)


def _places(outward: int, ends: Sequence[_Edges], scale: float, weights: Weights) -> dict[float, float]:
    """Where dimension lines are tried along the way outward, and the cost of not standing where it is best."""
    tried: dict[float, float] = {}
    stops = {round(place, 5) for end in ends for edge in end.edges for place in edge}
    stops |= {round(anchor.point[outward] + side * anchor.reach[outward], 5) for end in ends for anchor in end.anchors
              for side in SIGNS}
    for stop in sorted(stops):
        for k, away in enumerate(PLACES):
            for side in SIGNS:
                tried.setdefault(round(stop + side * away / scale, 4), weights.touching_aside * (k > 0))
    for low, high in (edge for end in ends for edge in end.edges):
        for share in SHARES:
            tried.setdefault(round(low + share * (high - low), 4), weights.touching_aside)
    return tried


def _touched(end: _Edges, place: float, scale: float) -> bool:
    return any(low + FROM_END / scale < place < high - FROM_END / scale for low, high in end.edges)


def _behind(end: _Edges, outward: int, place: float, sign: int, scale: float) -> Anchor | None:
    """The nearest anchor from which an extension line can run out to a place, to the end ``sign`` of the axis."""
    free = [
        anchor for anchor in end.anchors
        if (outward, sign) not in anchor.covered
        and sign * (place - anchor.point[outward]) - anchor.reach[outward] > SHORT_EXTENSION / scale]
    return max(free, key=lambda anchor: sign * anchor.point[outward] + anchor.reach[outward], default=None)
