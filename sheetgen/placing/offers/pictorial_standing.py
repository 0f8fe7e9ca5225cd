"""How the ends of lengths stand on the pictorial: the anchors and edges from which dimension lines are drawn. Millimetres of the
part.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from sheetgen.measures import EndRef
from sheetgen.placing.offers.pictorial_anchors import Anchor, Key, Point
from sheetgen.sight import PlacedView
from sheetgen.sight.anchors import Rail
from sheetgen.solid import Plane
from sheetgen.units import SAME_LEVEL

SIGNS = (-1, 1)
"""The two ends of an axis."""


class Span(NamedTuple):
    """A length to be placed: its item's number, its axis, its ends."""

    item: int
    axis: int
    ends: tuple[EndRef, ...]


class PictorialFooting(NamedTuple):
    """Two anchors on one level, as a row of ``PictorialFootings``; ``p``, ``q``: themselves; their centre lines are drawn.
    ``place``: where along the axis outward the dimension line stands, if an arrow of it touches the part there."""

    item: int
    cost: float
    axis: int
    outward: int
    sign: int
    p: Anchor
    q: Anchor
    place: float = math.nan


class Stand(NamedTuple):
    """The anchors of an end at one ``level``: for each of SIGNS the farthest out, None where none is free to that side."""

    level: float
    farthest: tuple[Anchor | None, Anchor | None]


class Standing(NamedTuple):
    """Of an end, by the axis along which extension lines run out: where its anchors stand, lowest level first, and its seen
    straight edges along the third axis; an axis has none."""

    stands: tuple[tuple[Stand, ...], ...]
    rails: tuple[Sequence[Rail], ...]


def standing_of(
    view: PlacedView, ends: Mapping[Key, EndRef], anchors: Mapping[Key, Sequence[Anchor]]
) -> dict[Key, Standing]:
    """How the anchors of each end stand."""
    flat = {key: end for key, end in ends.items() if isinstance(view.view.solid.surfaces[key[0][0]], Plane)}
    measured = [(end, axis) for (_, axis), end in flat.items()]
    rails = [dict(zip(flat, view.sight.rails(measured, along), strict=True)) for along in range(3)]
    found = {}
    for key in ends:
        thirds = [3 - key[1] - outward if outward != key[1] else -1 for outward in range(3)]
        found[key] = Standing(
            tuple(() if third < 0 else _stands(anchors[key], outward, third) for outward, third in enumerate(thirds)),
            tuple(() if third < 0 else rails[third].get(key, ()) for third in thirds))
    return found


def _stands(anchors: Sequence[Anchor], outward: int, third: int) -> tuple[Stand, ...]:
    """Where anchors stand along the ``third`` axis, lowest first."""
    levels = levels_of([round(anchor.point[third], 5) for anchor in anchors])
    found: list[list[Anchor]] = [[] for _ in levels]
    for anchor in anchors:
        found[bisect_left(levels, anchor.point[third] - SAME_LEVEL)].append(anchor)
    return tuple(stand_of(level, on, outward) for level, on in zip(levels, found, strict=True))


def stand_of(level: float, anchors: Sequence[Anchor], outward: int) -> Stand:
    """Those of several anchors on one level that are farthest out: reaches count, and of two alike the longer one is it."""
    low: Anchor | None = None
    high: Anchor | None = None
    least, most, least_arm, most_arm = -math.inf, -math.inf, 0.0, 0.0
    for anchor in anchors:
        place, arm, covered = anchor.point[outward], anchor.reach[outward], anchor.covered
        down, up = arm - place, place + arm
        if (down > least or (down == least and arm > least_arm)) and (outward, -1) not in covered:
            low, least, least_arm = anchor, down, arm
        if (up > most or (up == most and arm > most_arm)) and (outward, 1) not in covered:
            high, most, most_arm = anchor, up, arm
    return Stand(level, (low, high))


def levels_of(levels: Sequence[float]) -> list[float]:
    """Levels, lowest first, less what is at one with a lower one; they are rounded, so that lines from one level are one line."""
    found: list[float] = []
    for level in sorted(levels):
        if not found or level > found[-1] + SAME_LEVEL:
            found.append(level)
    return found


def moved(point: Point, axis: int, level: float) -> Point:
    x, y, z = (level if k == axis else value for k, value in enumerate(point))
    return x, y, z
