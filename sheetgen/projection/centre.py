"""Centre lines: axes of round surfaces, crossed where they are seen as circles, and traces of planes of symmetry.

Coincident lines: a centre line under a visible or hidden line shows only where it runs past (ISO 128-1982 precedence,
from memory; projection lecture notes agree).
"""

from __future__ import annotations

import math
from collections.abc import Container, Sequence

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.intervals import Interval, joined, longer, minus
from sheetgen.projection.carriers import StraightCarrier
from sheetgen.projection.frames import PRINCIPAL, Frame
from sheetgen.projection.linework import Linework
from sheetgen.projection.shapes import Straight
from sheetgen.solid import AxisGroup, Solid
from sheetgen.units import SAME_CARRIER, SAME_DIRECTION

OVERSHOOT = 4.0
"""mm on paper past the outline: 3 to 6 (print-reading textbook p. 20: 1/8 to 1/4 inch)."""

STICKS_OUT = 8.0
"""mm on paper that an axis without a flat rim is drawn out of the part towards the reader, on a pictorial (common practice, no
source)."""

HALF_ROUND = math.pi - 0.05
"""Round surfaces that turn through less are corners, not features with an axis (common practice, no source)."""

NEARLY_ROUND = 0.98
"""Of the radius: corners of facets reach at least so far where the surface itself goes all the way."""

STUB = 2.0
"""mm on paper: shorter leftovers of a covered centre line are not drawn (common practice, no source)."""

SAME_LINE_GAP = 6.0
"""mm on paper: axes in one line whose centre lines come this near share one line (common practice, no source)."""


def centre_lines(
    solid: Solid, frame: Frame, linework: Linework, symmetry: tuple[str, ...] = (), scale: float = 1.0,
    seen: Container[int] | None = None,
) -> tuple[Straight, ...]:
    """Return the centre lines of a view, less what visible and hidden lines cover. None in a pictorial.

    ``scale``: paper mm per part mm at which the view will be drawn, for lengths that are the same on every paper; ``seen``: the
    round surfaces that have centre lines, if not all have.
    """
    if frame.pictorial:
        return ()
    lines: list[tuple[Array, Array]] = []
    groups = [group for group in solid.axis_groups if seen is None or any(k in seen for k in group.surfaces)]
    for group in groups:
        if group.turn < HALF_ROUND:
            continue
        lines += _axis_lines(solid, group, frame, OVERSHOOT / scale)
    lines += _slot_lines(solid, frame, groups)
    # Exact where the whole part is drawn square to its axes; of a section what is left of it, and what an auxiliary view shows.
    exact = seen is None and frame.name in PRINCIPAL
    ends = frame.flat(np.stack([np.zeros(3), solid.size])) if exact else np.concatenate([
        shape.points() for shape in linework.visible])
    lines += _symmetry_lines(solid, frame, symmetry, ends, OVERSHOOT / scale)
    return clear_centres(lines, linework, scale)


def clear_centres(lines: Sequence[tuple[Array, Array]], linework: Linework, scale: float) -> tuple[Straight, ...]:
    """Centre lines, from and to points (2,) of a view drawn at ``scale``: those in one line joined, less what its visible and
    hidden lines cover."""
    if not lines:
        return ()
    carriers: list[StraightCarrier] = []
    for p, q in lines:
        _add(carriers, p, q)
    drawn = _Drawn(linework)
    result = []
    for carrier in carriers:
        spans = joined(carrier.spans, SAME_LINE_GAP / scale)
        result += [carrier.shape(span) for span in longer(minus(spans, drawn.on(carrier)), STUB / scale)]
    return tuple(result)


def _axis_lines(solid: Solid, group: AxisGroup, frame: Frame, overshoot: float) -> list[tuple[Array, Array]]:
    flat = frame.flat_vectors(group.direction)
    length = math.hypot(flat[0], flat[1])
    if length < SAME_DIRECTION:
        centre = frame.flat(group.point)
        low, high = _reach(solid, group, frame, centre)
        return [(centre - (low[k] + overshoot) * unit, centre + (high[k] + overshoot) * unit) for k, unit in enumerate(np.eye(2))]
    ends = frame.flat(np.stack([group.point + t * group.direction for t in (group.low, group.high)]))
    over = overshoot * flat / length
    return [(ends[0] - over, ends[1] + over)]


def _slot_lines(solid: Solid, frame: Frame, groups: Sequence[AxisGroup]) -> list[tuple[Array, Array]]:
    """From centre to centre of the two round ends of a slot, or of a link: half-turns alike that look away from each other."""
    ends = [group for group in groups if HALF_ROUND <= group.turn < math.pi + 0.05
            and float(np.hypot(*frame.flat_vectors(group.direction))) < SAME_DIRECTION]
    found = []
    for k, one in enumerate(ends):
        for other in ends[k + 1:]:
            p, q = frame.flat(one.point), frame.flat(other.point)
            i = int(np.argmax(np.abs(q - p)))
            if abs(one.radius - other.radius) < SAME_CARRIER and abs(float((q - p)[1 - i])) < SAME_CARRIER:
                sense = 0 if q[i] > p[i] else 1
                inward = _reach(solid, one, frame, p)[1 - sense][i], _reach(solid, other, frame, q)[sense][i]
                if max(inward) < 0.5 * one.radius:
                    found.append((p, q))
    return found


def _reach(solid: Solid, group: AxisGroup, frame: Frame, centre: Array) -> tuple[Array, Array]:
    """How far (2,) what turns about an axis goes from it to the left and down, and to the right and up: a saddle has no upper
    half, and no centre line runs to where that would be."""
    away = frame.flat(solid.vertices[group.corners]) - centre
    low, high = (np.maximum(side.max(axis=0), 0.0) for side in (-away, away))
    full = NEARLY_ROUND * group.radius
    return np.where(low > full, group.radius, low), np.where(high > full, group.radius, high)


def _symmetry_lines(
    solid: Solid, frame: Frame, symmetry: tuple[str, ...], corners: Array, overshoot: float
) -> list[tuple[Array, Array]]:
    """The traces of planes of symmetry that are seen edge-on, over the box of ``corners`` (n, 2)."""
    lines = []
    low, high = corners.min(axis=0) - overshoot, corners.max(axis=0) + overshoot
    for axis in symmetry:
        across = np.abs(frame.axes[:, "xyz".index(axis)])
        if abs(float(frame.toward["xyz".index(axis)])) > SAME_DIRECTION:
            continue
        middle = frame.flat(solid.size / 2)
        i = int(np.argmax(across))
        p, q = low.copy(), high.copy()
        p[i] = q[i] = middle[i]
        lines.append((p, q))
    return lines


def _add(carriers: list[StraightCarrier], p: Array, q: Array) -> None:
    unit = (q - p) / math.hypot(q[0] - p[0], q[1] - p[1])
    if unit[0] < -SAME_DIRECTION or (abs(unit[0]) <= SAME_DIRECTION and unit[1] < 0):
        p, q, unit = q, p, -unit
    offset = float(unit[0] * p[1] - unit[1] * p[0])
    carrier = next((line for line in carriers if line.holds(unit, offset)), None)
    if carrier is None:
        carrier = StraightCarrier(unit, offset)
        carriers.append(carrier)
    carrier.spans.append((float(carrier.direction @ p), float(carrier.direction @ q)))


class _Drawn:
    """The straight visible and hidden lines of a view, ready to be asked which lie on a centre line."""

    def __init__(self, linework: Linework) -> None:
        lines = [shape for shape in (*linework.visible, *linework.hidden) if isinstance(shape, Straight)]
        self.start, self.stop = (np.array([getattr(line, end) for line in lines]).reshape(-1, 2) for end in ("p", "q"))
        along = self.stop - self.start
        self.unit = along / np.hypot(along[:, 0], along[:, 1])[:, None]
        self.offset = self.unit[:, 0] * self.start[:, 1] - self.unit[:, 1] * self.start[:, 0]

    def on(self, carrier: StraightCarrier) -> list[Interval]:
        """Where they lie on ``carrier``."""
        u, v = carrier.direction
        sense = np.sign(self.unit @ carrier.direction)
        sine = u * self.unit[:, 1] - v * self.unit[:, 0]
        here = (np.abs(sine) < SAME_CARRIER) & (np.abs(self.offset * sense - carrier.offset) < SAME_CARRIER)
        a, b = self.start[here] @ carrier.direction, self.stop[here] @ carrier.direction
        return joined(zip(np.minimum(a, b).tolist(), np.maximum(a, b).tolist(), strict=True), 0.0)
