"""Thin lines of a construction, kept clear of what they would spoil: gaps of dashed lines, figures, names. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.intervals import joined, longer, minus
from sheetgen.ink import CHAINS, DASHED, Mark, Pen, Stroke, Text, text_box
from sheetgen.units import SAME_DIRECTION

BESIDE = 0.4
"""mm on paper: a thin line no farther from a dashed or a chain line would fill its gaps, and is left out along it."""

CLEAR = 1.0
"""mm kept clear round figures and names where a projector passes them."""

LEAST = 1.0
"""mm: shorter leftovers of a projector are not drawn."""


def clear_of_gaps(thin: Iterable[Stroke], lines: Iterable[Mark]) -> list[Stroke]:
    """Thin lines, but for where they would fill the gaps of dashed and chain lines that run along them."""
    rows = [mark.points for mark in lines
            if isinstance(mark, Stroke) and not mark.curved and mark.pen in (*DASHED, *CHAINS) and len(mark.points) == 2]
    broken = np.array(rows).reshape(-1, 2, 2)
    found: list[Stroke] = []
    for stroke in thin:
        for start, stop in _legs(stroke):
            found += _pieces(start, stop, _along(start, stop, broken))
    return found


def clear_of_texts(thin: Iterable[Stroke], marks: Iterable[Mark]) -> list[Stroke]:
    """Straight lines, broken where they would pass through figures and names."""
    boxes = [text_box(mark, CLEAR) for mark in marks if isinstance(mark, Text)]
    found: list[Stroke] = []
    for stroke in thin:
        for start, stop in _legs(stroke):
            found += _pieces(start, stop, [span for box in boxes if (span := _within(start, stop, box))])
    return found


def _legs(stroke: Stroke) -> Iterator[tuple[Array, Array]]:
    yield from zip(stroke.points[:-1], stroke.points[1:], strict=True)


def _pieces(start: Array, stop: Array, taken: Iterable[tuple[float, float]]) -> list[Stroke]:
    length = float(np.hypot(*(stop - start)))
    unit = (stop - start) / length
    left = longer(minus([(0.0, length)], joined(taken, 0.0)), min(LEAST, length / 2))
    return [Stroke(np.stack([start + a * unit, start + b * unit]), Pen.CONSTRUCTION) for a, b in left]


def _along(start: Array, stop: Array, lines: Array) -> list[tuple[float, float]]:
    """Where lines (n, 2, 2) run along a leg, mm from its start."""
    unit = (stop - start) / np.hypot(*(stop - start))
    away = lines - start
    off = np.abs(away[..., 0] * unit[1] - away[..., 1] * unit[0]).max(axis=1)
    at = np.sort(away @ unit, axis=1)[off < BESIDE]
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
