"""Lines as arrays: arcs as Béziers, polylines from curves, lengths. Sheet millimetres, y up."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from itertools import pairwise

import numpy as np

from sheetgen.geometry import Array
from sheetgen.ink.marks import Pen, Stroke
from sheetgen.units import CORNER, FLATTENING, SAME_SHARE, SAME_TURN

SPAN = math.pi / 4
"""Largest angle of one Bézier span of an arc: its radius is then true to 5 parts in a million."""

MOST_CHORDS = 1000
"""Chords of one Bézier span at most, however large it is."""


def arc_curve(centre: Array, a: Array, b: Array, t0: float, t1: float) -> Array:
    """Return the control points (3k+1, 2) mm of ``centre + a cos t + b sin t`` for t from ``t0`` to ``t1`` radians.

    ``centre``, ``a``, ``b`` (2,) mm; ``a`` and ``b`` are conjugate radii, so this draws circles and ellipses. A span is
    at most 45 degrees. A full turn ends exactly where it began.

    >>> arc_curve(np.zeros(2), np.array([2.0, 0]), np.array([0, 2.0]), 0, math.pi / 2).shape
    (7, 2)
    """
    spans = max(1, math.ceil(abs(t1 - t0) / SPAN - SAME_SHARE))
    t = np.arange(spans + 1) * ((t1 - t0) / spans) + t0
    t[-1] = t1
    cos, sin = np.cos(t)[:, None], np.sin(t)[:, None]
    on = centre + a * cos + b * sin
    reach = 4 / 3 * math.tan((t1 - t0) / spans / 4) * (b * cos - a * sin)
    curve = np.empty((3 * spans + 1, 2))
    curve[0::3] = on
    curve[1::3] = on[:-1] + reach[:-1]
    curve[2::3] = on[1:] - reach[1:]
    if abs(abs(t1 - t0) - 2 * math.pi) < SAME_TURN:
        curve[-1] = curve[0]
    return curve


def circle(centre: tuple[float, float], radius: float, pen: Pen) -> Stroke:
    """Return a circle of ``radius`` mm round ``centre`` mm, a closed curve that begins at its rightmost point."""
    a, b = np.array([radius, 0.0]), np.array([0.0, radius])
    return Stroke(arc_curve(np.asarray(centre, float), a, b, 0.0, 2 * math.pi), pen, curved=True, closed=True)


def flattened(stroke: Stroke, error: float = FLATTENING) -> Array:
    """Return ``stroke`` as a polyline (n, 2) mm that leaves it by no more than ``error`` mm; a closed one returns."""
    points = np.asarray(stroke.points, float)
    if stroke.curved:
        points = _chords(points, error)
    if stroke.closed and not np.array_equal(points[0], points[-1]):
        points = np.vstack([points, points[:1]])
    return points


def _chords(points: Array, error: float) -> Array:
    """Return chords (n, 2) of the joined Béziers ``points`` (3k+1, 2)."""
    spans = _spans(points)
    steps = spans[:, 1:] - spans[:, :-1]
    bends = steps[:, 1:] - steps[:, :-1]
    size = np.sqrt(bends[..., 0] * bends[..., 0] + bends[..., 1] * bends[..., 1])
    second = np.maximum(size[:, 0], size[:, 1])
    # a chord over the step h of the parameter leaves the curve by h² |B''| / 8, and |B''| is at most 6 * second
    counts = np.clip(np.ceil(np.sqrt(0.75 * second / error)), 1, MOST_CHORDS).astype(int)
    place = np.arange(1, counts.sum() + 1) - np.repeat(np.cumsum(counts) - counts, counts)
    t = (place / np.repeat(counts, counts))[:, None]
    s = 1 - t
    p, q, r, o = np.repeat(spans, counts, axis=0).transpose(1, 0, 2)
    return np.vstack([points[:1], s**3 * p + 3 * s * s * t * q + 3 * s * t * t * r + t**3 * o])


def stroke_length(stroke: Stroke) -> float:
    """Return the length of ``stroke`` in mm, curves by Gauss-Legendre quadrature.

    >>> round(stroke_length(circle((0, 0), 10, Pen.HIDDEN)) / math.pi, 4)
    20.0
    """
    points = np.asarray(stroke.points, float)
    if len(points) == 2 and not stroke.closed:                         # most strokes: no need of numpy
        (ax, ay), (bx, by) = points.tolist()
        return math.sqrt((bx - ax) * (bx - ax) + (by - ay) * (by - ay))
    length = 0.0
    if stroke.curved:
        weights, basis = _quadrature()
        spans = _spans(points)
        rate = 3 * (basis @ (spans[:, 1:] - spans[:, :-1]))            # (k, 16, 2)
        speed = np.sqrt(rate[..., 0] * rate[..., 0] + rate[..., 1] * rate[..., 1])
        length = float((speed @ weights).sum())
    else:
        length = float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())
    if stroke.closed:
        length += float(np.linalg.norm(points[0] - points[-1]))
    return length


@cache
def _quadrature() -> tuple[Array, Array]:
    """Return the weights (16,) on [0, 1] and the values (16, 3) of the quadratic Bernstein polynomials at the nodes."""
    nodes, weights = np.polynomial.legendre.leggauss(16)
    t = (nodes + 1) / 2
    return weights / 2, np.column_stack([(1 - t) ** 2, 2 * t * (1 - t), t * t])


def _spans(points: Array) -> Array:
    """Return the Béziers (k, 4, 2) of control points (3k+1, 2)."""
    spans = np.empty((len(points) // 3, 4, 2))
    for i in range(3):
        spans[:, i] = points[i:-1:3]
    spans[:, 3] = points[3::3]
    return spans


def legs(stroke: Stroke) -> list[Stroke]:
    """Return a polyline's legs, cut where it turns sharply; a curve or a polyline that turns gently stays whole."""
    if stroke.curved or (len(stroke.points) < 3 and not stroke.closed):
        return [stroke]
    points = flattened(stroke)
    steps = np.diff(points, axis=0)
    points = points[np.append(True, np.any(steps != 0, axis=1))]       # a point twice has no direction
    steps = np.diff(points, axis=0)
    if len(steps) == 0:
        return [stroke]
    turn = _turns(steps, steps[1:]) > CORNER
    corners = np.flatnonzero(turn) + 1
    if stroke.closed:
        if _turns(steps[-1:], steps[:1])[0] <= CORNER:
            if len(corners) == 0:
                return [stroke]
            points = np.vstack([points[corners[0]:-1], points[:corners[0] + 1]])   # begin at a corner
            corners = corners[1:] - corners[0]
    elif len(corners) == 0:
        return [stroke]
    cuts = [0, *corners.tolist(), len(points) - 1]
    first, last = stroke.gap_first and not stroke.closed, stroke.gap_last and not stroke.closed
    return [replace(stroke, points=points[i:j + 1], closed=False, gap_first=first and i == 0, gap_last=last and j == cuts[-1])
            for i, j in pairwise(cuts)]


def _turns(before: Array, after: Array) -> Array:
    """Return the angles (n,) radians between steps (n, 2) and the steps after them."""
    u, v = before[:len(after)], after[:len(before)]
    turns: Array = np.abs(np.arctan2(u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0], (u * v).sum(axis=1)))
    return turns
