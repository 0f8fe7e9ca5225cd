"""Chosen placings as marks: dimension lines, one extension line per place, arrowheads, figures."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.intervals import joined, joined_by, longer, minus
from sheetgen.ink import Fill, Mark, Pen, Stroke
from sheetgen.placing.candidate import ARROW, ARROW_HALF_WIDTH, GAP, Arrowhead
from sheetgen.placing.search import Placement
from sheetgen.units import EXACT, SAME_LINE

IN_LINE = 0.05
"""mm on paper: an extension line no farther than this from a centre line would be drawn on it."""


def marks_of(
    placements: Sequence[Placement], traces: Sequence[Array] = (), lines: Sequence[Array] = (), *, serving: bool = True
) -> list[Mark]:
    """Return the marks of what was chosen, lines of several that share a place drawn once.

    ``traces``: the drawing's own centre lines (2, 2), drawn here because those of sizes go on from them; ``lines``: straight
    lines (2, 2) of the part, along which no centre line is drawn; ``serving``: extension lines are not drawn along centre lines,
    as on pictorials, where axes are marked for the sizes; those of views end before the extension lines begin.
    """
    chosen = [placement.drawn for placement in placements]
    centres = _clear_of(joined_segments([*traces, *(c for candidate in chosen for c in candidate.chains)]), lines)
    extensions = joined_segments([e for candidate in chosen for e in candidate.extensions])
    marks: list[Mark] = [Stroke(segment, Pen.CENTRE) for segment in centres]
    marks += [Stroke(segment, Pen.DIMENSION) for segment in (_clear_of(extensions, centres) if serving else extensions)]
    for candidate in chosen:
        pen, size = (Pen.BORDER, 2.0) if candidate.bold else (Pen.DIMENSION, 1.0)
        marks += [Stroke(_short_of(points, candidate.heads, size * ARROW), pen) for points in candidate.lines]
        marks += [Fill(_head(head, size)) for head in candidate.heads]
        marks += candidate.texts
    return marks


def _head(head: Arrowhead, size: float) -> Array:
    """The filled triangle (3, 2) of an arrowhead, ``size`` times the common one."""
    (x, y), (along, up), across = head.tip.tolist(), head.along.tolist(), head.across.tolist()
    back, half = size * ARROW, math.hypot(*across)
    x_back, y_back = x - back * along, y - back * up
    wide, high = (part / half * ARROW_HALF_WIDTH * size for part in across)
    return np.array([(x, y), (x_back + wide, y_back + high), (x_back - wide, y_back - high)])


def _short_of(points: Array, heads: Sequence[Arrowhead], length: float) -> Array:
    """A dimension line that ends inside its arrowheads, so many mm long, so that it does not blunt their tips."""
    rows: list[list[float]] = points.tolist()
    for head in heads:
        tip, (along, up) = head.tip.tolist(), head.along.tolist()
        stop = [tip[0] - length / 2 * along, tip[1] - length / 2 * up]
        for end, inner in ((0, 1), (-1, -2)):
            x, y = rows[inner]
            if math.dist(rows[end], tip) < EXACT and (x - tip[0]) * along + (y - tip[1]) * up < 0:
                if len(rows) == 2 or math.dist(rows[inner], tip) > length:
                    rows[end] = stop
                else:
                    keep = [row for row in rows if math.dist(row, tip) > length / 2]
                    rows = [stop, *keep] if end == 0 else [*keep, stop]
    return np.array(rows)


def joined_segments(segments: Sequence[Array]) -> list[Array]:
    """Segments (2, 2), those that lie in one line and touch or overlap as one."""
    if not segments:
        return []
    rows = np.stack(segments)
    way = rows[:, 1] - rows[:, 0]
    unit = way / np.hypot(way[:, 0], way[:, 1])[:, None]
    away = rows[None, :, :, :] - rows[:, None, :1, :]              # (n, n, 2, 2): ends of the second from the first's start
    off = np.abs(unit[:, None, None, 0] * away[..., 1] - unit[:, None, None, 1] * away[..., 0]).max(axis=2)
    line = np.argmax(off < SAME_LINE, axis=0)                      # the first segment in whose line each lies
    along = np.sort((away[line, np.arange(len(rows))] * unit[line, None]).sum(axis=2), axis=1)
    line, low, high = joined_by(line, along[:, 0], along[:, 1], SAME_LINE)
    return list(rows[line, :1] + np.stack([low, high], axis=1)[:, :, None] * unit[line, None])


def _clear_of(extensions: Sequence[Array], centres: Sequence[Array]) -> list[Array]:
    """Extension lines less what runs along centre lines, which serve in their stead; centre lines less the part's lines."""
    if not len(extensions) or not len(centres):
        return list(extensions)
    segments, others = np.stack(extensions), np.stack(centres)
    way = segments[:, 1] - segments[:, 0]
    length = np.hypot(way[:, 0], way[:, 1])
    unit = way / length[:, None]
    away = others - segments[:, None, :1]                          # (n, m, 2, 2)
    x, y = unit.T[:, :, None, None]
    beside = np.abs(x * away[..., 1] - y * away[..., 0]).max(axis=2) < IN_LINE
    along = np.sort(x * away[..., 0] + y * away[..., 1], axis=2)
    result = []
    for k, on in enumerate(beside.any(axis=1).tolist()):
        if not on:
            result.append(extensions[k])
            continue
        covered = joined([(low - GAP, high + GAP) for low, high in along[k, beside[k]].tolist()], 0.0)
        left = minus([(0.0, float(length[k]))], covered)
        result += [np.array([segments[k, 0] + p * unit[k], segments[k, 0] + q * unit[k]]) for p, q in longer(left, 1.0)]
    return result
