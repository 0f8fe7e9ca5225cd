"""Centre lines: axes of round surfaces, crossed where they are seen as circles, and traces of planes of symmetry.

Coincident lines: a centre line under a visible or hidden line shows only where it runs past (ISO 128-1982 precedence,
from memory; projection lecture notes agree).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sheetgen.projection.frames import Frame
from sheetgen.projection.intervals import Interval, joined, longer, minus
from sheetgen.projection.linework import Linework, StraightCarrier
from sheetgen.projection.shapes import Straight
from sheetgen.solid import Plane, Solid, coaxial
from sheetgen.solid.surfaces import Array, Round

OVERSHOOT = 4.0
"""mm past the outline: 3 to 6 (print-reading textbook p. 20: 1/8 to 1/4 inch)."""

HALF_ROUND = math.pi - 0.05
"""Round surfaces that turn through less are corners, not features with an axis (common practice, no source)."""

STUB = 2.0
"""mm: shorter leftovers of a covered centre line are not drawn (common practice, no source)."""

SAME_LINE_GAP = 6.0
"""mm: axes in one line whose centre lines come this near share one line (common practice, no source)."""


@dataclass(frozen=True, eq=False)
class AxisGroup:
    """Round surfaces about one line: ``surfaces`` their numbers, ``low``/``high`` their reach along ``direction`` from ``point``."""

    surfaces: tuple[int, ...]
    point: Array
    direction: Array
    radius: float
    low: float
    high: float
    turn: float


def axis_groups(solid: Solid) -> list[AxisGroup]:
    """The axes of a solid, each with all that turns about it."""
    groups: list[list[int]] = []
    for k, surface in enumerate(solid.surfaces):
        if isinstance(surface, Plane):
            continue
        for group in groups:
            first = solid.surfaces[group[0]]
            assert not isinstance(first, Plane)
            if coaxial(first, surface):
                group.append(k)
                break
        else:
            groups.append([k])
    return [_axis_group(solid, group) for group in groups]


def _axis_group(solid: Solid, group: list[int]) -> AxisGroup:
    first = solid.surfaces[group[0]]
    assert not isinstance(first, Plane)
    arms, axial, turn = [], [], 0.0
    for k in group:
        points = solid.vertices[np.unique(solid.triangles[solid.owner == k])]
        away = points - first.point
        along = away @ first.direction
        arm = away - along[:, None] * first.direction
        axial.append(along)
        arms.append(np.linalg.norm(arm, axis=1).max())
        turn = max(turn, _turn(arm, first))
    along = np.concatenate(axial)
    return AxisGroup(tuple(group), first.point, first.direction, float(max(arms)), float(along.min()), float(along.max()), turn)


def _turn(arms: Array, surface: Round) -> float:
    """Through how many radians the surface with vertices at ``arms`` (n, 3) from its axis turns."""
    across = arms[int(np.argmax(np.linalg.norm(arms, axis=1)))]
    across = across / np.linalg.norm(across)
    angle = np.sort(np.arctan2(arms @ np.cross(surface.direction, across), arms @ across))
    gaps = np.append(np.diff(angle), angle[0] + 2 * math.pi - angle[-1])
    widest = float(gaps.max())
    return 2 * math.pi if widest < 0.25 else 2 * math.pi - widest     # 0.25: wider than any facet (32 to a circle)


def centre_lines(solid: Solid, frame: Frame, linework: Linework, symmetry: tuple[str, ...] = ()) -> tuple[Straight, ...]:
    """Return the centre lines of a view, less what visible and hidden lines cover. None in the isometric."""
    if frame.name == "isometric":
        return ()
    carriers: list[StraightCarrier] = []
    for group in axis_groups(solid):
        if group.turn < HALF_ROUND:
            continue
        for p, q in _axis_lines(group, frame):
            _add(carriers, p, q)
    for p, q in _symmetry_lines(solid, frame, symmetry):
        _add(carriers, p, q)
    result = []
    for carrier in carriers:
        spans = joined(carrier.spans[True], SAME_LINE_GAP)
        covered = joined(_on(carrier, linework), 0.0)
        result += [carrier.shape(span) for span in longer(minus(spans, covered), STUB)]
    return tuple(result)


def _axis_lines(group: AxisGroup, frame: Frame) -> list[tuple[Array, Array]]:
    flat = frame.flat_vectors(group.direction)
    if float(np.linalg.norm(flat)) < 1e-9:
        centre, reach = frame.flat(group.point[None])[0], group.radius + OVERSHOOT
        return [(centre - reach * unit, centre + reach * unit) for unit in np.eye(2)]
    ends = frame.flat(np.stack([group.point + t * group.direction for t in (group.low, group.high)]))
    over = OVERSHOOT * flat / np.linalg.norm(flat)
    return [(ends[0] - over, ends[1] + over)]


def _symmetry_lines(solid: Solid, frame: Frame, symmetry: tuple[str, ...]) -> list[tuple[Array, Array]]:
    lines = []
    flat = frame.flat(solid.vertices)
    low, high = flat.min(axis=0) - OVERSHOOT, flat.max(axis=0) + OVERSHOOT
    for axis in symmetry:
        k = "xyz".index(axis)
        across = frame.flat_vectors(np.eye(3)[k])
        if float(np.linalg.norm(across)) < 1e-9:
            continue
        middle = frame.flat((solid.size / 2)[None])[0]
        i = int(np.argmax(np.abs(across)))
        p, q = low.copy(), high.copy()
        p[i] = q[i] = middle[i]
        lines.append((p, q))
    return lines


def _add(carriers: list[StraightCarrier], p: Array, q: Array) -> None:
    unit = (q - p) / np.linalg.norm(q - p)
    if unit[0] < -1e-9 or (abs(unit[0]) <= 1e-9 and unit[1] < 0):
        p, q, unit = q, p, -unit
    offset = float(unit[0] * p[1] - unit[1] * p[0])
    carrier = next((line for line in carriers if line.holds(unit, offset)), None)
    if carrier is None:
        carrier = StraightCarrier(unit, offset)
        carriers.append(carrier)
    carrier.spans[True].append((float(carrier.direction @ p), float(carrier.direction @ q)))


def _on(carrier: StraightCarrier, linework: Linework) -> list[Interval]:
    """Where visible or hidden straight lines lie on a carrier."""
    spans = []
    for shape in (*linework.visible, *linework.hidden):
        if isinstance(shape, Straight):
            unit = (shape.q - shape.p) / shape.length
            if carrier.holds(unit, float(unit[0] * shape.p[1] - unit[1] * shape.p[0])) or carrier.holds(
                -unit, float(unit[1] * shape.p[0] - unit[0] * shape.p[1])
            ):
                a, b = sorted((float(carrier.direction @ shape.p), float(carrier.direction @ shape.q)))
                spans.append((a, b))
    return spans
