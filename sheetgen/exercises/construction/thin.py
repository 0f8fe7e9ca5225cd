"""Thin lines of a construction, kept clear of what they would spoil: gaps of dashed lines, figures, names. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.intervals import joined, longer, minus
from sheetgen.ink import CHAINS, DASHED, Mark, Pen, Stroke, Text, text_box
from sheetgen.placing.draw import joined_segments
from sheetgen.sheet.paper import Box
from sheetgen.units import SAME_DIRECTION

BESIDE, ON = 0.4, 0.1
"""mm on paper: a thin line no farther from a dashed or a chain line would fill its gaps, and one no farther from a full line
would be drawn on it; along these it is left out."""

CLEAR = 1.0
"""mm kept clear round figures and names where a projector passes them."""

LEAST = 1.0
"""mm: shorter leftovers of a projector are not drawn."""

TICK = 0.8
"""mm on paper: half the arms of the cross at a constructed point (common practice, no source)."""


def ticks(points: Iterable[Array]) -> list[Stroke]:
    """A cross at each constructed point (2,)."""
    arms = (np.array([TICK, TICK]), np.array([-TICK, TICK]))
    return [Stroke(np.stack([point - arm, point + arm]), Pen.CONSTRUCTION) for point in points for arm in arms]


def clear_of_lines(thin: Iterable[Stroke], lines: Iterable[Mark]) -> list[Stroke]:
    """Thin lines, each drawn once, but for where they would run along others, or fill the gaps of these."""
    thin = list(thin)
    legs = [np.stack(leg) for stroke in thin if not stroke.curved for leg in legs_of(stroke)]
    rows: dict[bool, list[Array]] = {True: [], False: []}
    for mark in lines:
        if isinstance(mark, Stroke) and not mark.curved:
            rows[mark.pen in (*DASHED, *CHAINS)] += [np.stack(leg) for leg in legs_of(mark)]
    broken, full = (np.array(rows[gaps]).reshape(-1, 2, 2) for gaps in (True, False))
    found: list[Stroke] = []
    for start, stop in sorted(joined_segments(legs), key=lambda leg: -round(float(np.hypot(*(leg[1] - leg[0]))), 2)):
        drawn = np.array([stroke.points for stroke in found]).reshape(-1, 2, 2)      # two so near that they print as one
        found += _pieces(start, stop, [
            *_along(start, stop, broken, BESIDE), *_along(start, stop, full, ON), *_along(start, stop, drawn, ON)])
    return [*found, *(stroke for stroke in thin if stroke.curved)]


def clear_of_texts(thin: Iterable[Stroke], marks: Iterable[Mark]) -> list[Stroke]:
    """Straight lines, broken where they would pass through figures and names."""
    boxes = [text_box(mark, CLEAR) for mark in marks if isinstance(mark, Text)]
    found: list[Stroke] = []
    for stroke in thin:
        if stroke.curved:
            found.append(stroke)
            continue
        for start, stop in legs_of(stroke):
            found += _pieces(start, stop, [span for box in boxes if (span := _within(start, stop, box))])
    return found


def legs_of(stroke: Stroke) -> Iterator[tuple[Array, Array]]:
    """The straight stretches of a stroke, but for those from a point to itself, which have no direction."""
    yield from ((start, stop) for start, stop in zip(stroke.points[:-1], stroke.points[1:], strict=True)
                if not np.array_equal(start, stop))


def _pieces(start: Array, stop: Array, taken: Iterable[tuple[float, float]]) -> list[Stroke]:
    length = float(np.hypot(*(stop - start)))
    unit = (stop - start) / length
    left = longer(minus([(0.0, length)], joined(taken, 0.0)), min(LEAST, length / 2))
    return [Stroke(np.stack([start + a * unit, start + b * unit]), Pen.CONSTRUCTION) for a, b in left]


def _along(start: Array, stop: Array, lines: Array, near: float) -> list[tuple[float, float]]:
    """Where lines (n, 2, 2) no farther than ``near`` run along a leg, mm from its start."""
    unit = (stop - start) / np.hypot(*(stop - start))
    away = lines - start
    off = np.abs(away[..., 0] * unit[1] - away[..., 1] * unit[0]).max(axis=1)
    at = np.sort(away @ unit, axis=1)[off < near]
    return [(low, high) for low, high in at.tolist()]


def _within(start: Array, stop: Array, box: Array) -> tuple[float, float] | None:
    """Where a leg runs within a box (4, 2), a rectangle that may be turned, mm from its start."""
    length = float(np.hypot(*(stop - start)))
    unit, low, high = (stop - start) / length, 0.0, length
    for corner, following in zip(box, np.roll(box, -1, axis=0), strict=True):
        side = following - corner
        inward = np.array([-side[1], side[0]])
        if float(inward @ (box.mean(axis=0) - corner)) < 0:
            inward = -inward
        rate, begins = float(inward @ unit), float(inward @ (start - corner))
        if abs(rate) < SAME_DIRECTION:
            if begins < 0:
                return None
        elif rate > 0:
            low = max(low, -begins / rate)
        else:
            high = min(high, -begins / rate)
    return (low, high) if high > low else None


def enters(thin: Iterable[Stroke], box: Box) -> bool:
    """Whether a thin line comes into a box, or within CLEAR of it."""
    x0, y0, x1, y1 = box
    corners = np.array([(x0 - CLEAR, y0 - CLEAR), (x1 + CLEAR, y0 - CLEAR), (x1 + CLEAR, y1 + CLEAR), (x0 - CLEAR, y1 + CLEAR)])
    return any(_within(start, stop, corners) is not None for stroke in thin for start, stop in legs_of(stroke))
