"""The least distance of parallel lines of a view: nearer ones run together in print."""

from __future__ import annotations

import numpy as np

from sheetgen.projection import Arc, Straight, View
from sheetgen.sight.walls import FAR, Place
from sheetgen.units import PARALLEL, SAME_RUN, SAME_SQUARES

LEAST_LINES = 3.0
"""mm on paper between parallel lines of a view: nearer ones leave no room to tell outline from hidden line (common practice,
no source; ISO 128-20 asks for 0.7 at least, from memory)."""

SIDE_BY_SIDE = 1.0
"""mm: lines that run beside each other for less than this meet, or follow one another."""


def least_lines(view: View, scale: float) -> Place:
    """The least distance on paper, mm, of two parallel straight lines, or two circles about one centre, of a view."""
    shapes = (*view.visible_lines, *view.hidden_lines)
    place = min(_straights([s for s in shapes if isinstance(s, Straight)]), _circles([s for s in shapes if isinstance(s, Arc)]))
    return place[0] * scale, f"{view.name} view, {place[1]}"


def _straights(lines: list[Straight]) -> Place:
    if len(lines) < 2:
        return FAR, ""
    p, q = np.array([line.p for line in lines]), np.array([line.q for line in lines])
    length = np.linalg.norm(q - p, axis=1)
    unit = (q - p) / length[:, None]
    sine = np.abs(unit[:, None, 0] * unit[None, :, 1] - unit[:, None, 1] * unit[None, :, 0])
    one, other = p[None] - p[:, None], q[None] - p[:, None]
    off = np.abs(unit[:, None, 0] * one[..., 1] - unit[:, None, 1] * one[..., 0])
    a, b = ((d * unit[:, None]).sum(axis=2) for d in (one, other))
    beside = np.minimum(np.maximum(a, b), length[:, None]) - np.maximum(np.minimum(a, b), 0.0)
    off = np.where((sine < PARALLEL) & (beside > SIDE_BY_SIDE) & (off > SAME_RUN), off, FAR)
    i, j = np.unravel_index(int(np.argmin(off)), off.shape)
    return float(off[i, j]), f"{_at(lines[i])} and {_at(lines[j])}"


def _circles(arcs: list[Arc]) -> Place:
    """The least distance of two circles, or parts of circles, about one centre that run beside each other."""
    best: Place = (FAR, "")
    round_ones = [(arc, float(np.linalg.norm(arc.a))) for arc in arcs if abs(arc.a @ arc.a - arc.b @ arc.b) < SAME_SQUARES]
    for k, (arc, radius) in enumerate(round_ones):
        for other, its in round_ones[:k]:
            one_centre = np.abs(arc.centre - other.centre).max() < SAME_RUN
            if one_centre and abs(radius - its) > SAME_RUN and _beside(arc, other, radius):
                best = min(best, (abs(radius - its), f"circles Ø{2 * radius:g} and Ø{2 * its:g}"))
    return best


def _beside(arc: Arc, other: Arc, radius: float) -> bool:
    """True if two parts of circles about one centre share directions over SIDE_BY_SIDE of the first one's length."""
    if arc.closed or other.closed:
        return True
    (a, b), (c, d) = (_directions(each) for each in (arc, other))
    shared = max(min(b, d + 2 * np.pi * k) - max(a, c + 2 * np.pi * k) for k in (-2, -1, 0, 1, 2))
    return bool(shared * radius > SIDE_BY_SIDE)


def _directions(arc: Arc) -> tuple[float, float]:
    """Between which angles about its centre a part of a circle lies, radians, the smaller first."""
    away = arc.at(np.linspace(arc.start, arc.stop, 32)) - arc.centre
    turns = np.unwrap(np.arctan2(away[:, 1], away[:, 0]))
    return float(turns.min()), float(turns.max())


def _at(line: Straight) -> str:
    (a, b), (c, d) = line.p.tolist(), line.q.tolist()
    return f"the line ({a:.4g}, {b:.4g}) to ({c:.4g}, {d:.4g})"
