"""Chosen placings as marks: dimension lines, one extension line per place, arrowheads, figures."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sheetgen.dimensions.candidate import ARROW, ARROW_HALF_WIDTH, GAP, Candidate, Head
from sheetgen.ink import Fill, Mark, Pen, Stroke
from sheetgen.projection.intervals import joined, longer, minus
from sheetgen.solid.surfaces import Array


def marks_of(chosen: Sequence[Candidate], traces: Sequence[Array] = (), lines: Sequence[Array] = ()) -> list[Mark]:
    """Return the marks of the chosen candidates, lines of several that share a place drawn once.

    ``traces``: centre lines (2, 2) that the drawing has already, in pictorials; ``lines``: straight lines (2, 2) of the part,
    along which no centre line is drawn.
    """
    centres = _clear_of(joined_segments([*traces, *(c for candidate in chosen for c in candidate.centres)]), lines)
    extensions = joined_segments([e for candidate in chosen for e in candidate.extensions])
    marks: list[Mark] = [Stroke(segment, Pen.CENTRE) for segment in centres]
    marks += [Stroke(segment, Pen.DIMENSION) for segment in _clear_of(extensions, centres)]
    for candidate in chosen:
        pen, size = (Pen.BORDER, 2.0) if candidate.bold else (Pen.DIMENSION, 1.0)
        marks += [Stroke(_short_of(points, candidate.heads), pen) for points in candidate.lines]
        marks += [Fill(_head(head, size)) for head in candidate.heads]
        marks += candidate.texts
    return marks


def _head(head: Head, size: float) -> Array:
    """The filled triangle (3, 2) of an arrowhead, ``size`` times the common one."""
    back = head.tip - size * ARROW * head.along
    across = head.across / np.linalg.norm(head.across) * ARROW_HALF_WIDTH * size
    return np.stack([head.tip, back + across, back - across])


def _short_of(points: Array, heads: Sequence[Head]) -> Array:
    """A dimension line that ends inside its arrowheads, so that it does not blunt their tips."""
    points = points.copy()
    for head in heads:
        for end, inner in ((0, 1), (-1, -2)):
            if np.linalg.norm(points[end] - head.tip) < 1e-9 and float((points[inner] - head.tip) @ head.along) < 0:
                if len(points) == 2 or np.linalg.norm(points[inner] - head.tip) > ARROW:
                    points[end] = head.tip - ARROW / 2 * head.along
                else:
                    away = np.linalg.norm(points - head.tip, axis=1)
                    keep = points[away > ARROW / 2]
                    stop = [head.tip - ARROW / 2 * head.along]
                    points = np.concatenate([stop, keep] if end == 0 else [keep, stop])
    return points


def joined_segments(segments: Sequence[Array]) -> list[Array]:
    """Segments (2, 2), those that lie in one line and overlap as one."""
    result: list[Array] = []
    for segment in segments:
        merged = segment
        rest = []
        for other in result:
            if (both := _together(merged, other)) is not None:
                merged = both
            else:
                rest.append(other)
        result = [*rest, merged]
    return result


def _clear_of(extensions: Sequence[Array], centres: Sequence[Array]) -> list[Array]:
    """Extension lines less what runs along centre lines, which serve in their stead; centre lines less the part's lines."""
    result = []
    for segment in extensions:
        length = float(np.linalg.norm(segment[1] - segment[0]))
        unit = (segment[1] - segment[0]) / length
        covered = []
        for centre in centres:
            away = centre - segment[0]
            if np.abs(away @ np.array([-unit[1], unit[0]])).max() < 0.05:
                along = np.sort(away @ unit)
                covered.append((float(along[0]) - GAP, float(along[1]) + GAP))
        left = minus([(0.0, length)], joined(covered, 0.0)) if covered else [(0.0, length)]
        result += [np.stack([segment[0] + p * unit, segment[0] + q * unit]) for p, q in longer(left, 1.0)]
    return result


def _together(a: Array, b: Array) -> Array | None:
    """The union of two segments in one line that touch or overlap; None if they do not."""
    length = float(np.linalg.norm(a[1] - a[0]))
    unit = (a[1] - a[0]) / length
    off = np.abs((b - a[0]) @ np.array([-unit[1], unit[0]])).max()
    along = np.sort((b - a[0]) @ unit)
    if off > 1e-6 or along[1] < -1e-6 or along[0] > length + 1e-6:
        return None
    low, high = min(0.0, float(along[0])), max(length, float(along[1]))
    return np.stack([a[0] + low * unit, a[0] + high * unit])
