"""Pieces of edges become lines as a draughtsman draws them: each once, whole, by precedence visible before hidden.

Pieces are gathered on carriers, the straight lines and ellipses of the view; on a carrier a piece is an interval, so that
lines that coincide join by arithmetic. Only space curves seen askew are joined point by point.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

import numpy as np
import shapely

from sheetgen.projection.frames import Frame
from sheetgen.projection.hidden import Pieces
from sheetgen.projection.intervals import Interval, joined, longer, minus
from sheetgen.projection.shapes import Arc, Free, Shape, Straight
from sheetgen.solid import Conic, Cylinder, Line, Plane, Solid
from sheetgen.solid.surfaces import Array, Cone
from sheetgen.units import SAME_POINT

SLIVER = 0.02
"""mm: shorter stretches come of the chords that stand for curves, not of the part; the least feature is 100 times longer."""

SAME_CARRIER = 1e-5
"""mm, and radians: carriers nearer than this are one line of the view."""


@dataclass(eq=False)
class StraightCarrier:
    """All points p with cross(direction, p) == offset; intervals are along ``direction``."""

    direction: Array
    offset: float
    spans: dict[bool, list[Interval]] = field(default_factory=lambda: {True: [], False: []})

    def holds(self, direction: Array, offset: float) -> bool:
        """True if the line with that unit direction and offset is this one."""
        sine = self.direction[0] * direction[1] - self.direction[1] * direction[0]
        return abs(sine) < SAME_CARRIER and abs(offset - self.offset) < SAME_CARRIER

    def shape(self, span: Interval) -> Straight:
        """The stretch of the line between two numbers along it."""
        foot = self.offset * np.array([-self.direction[1], self.direction[0]])
        return Straight(foot + span[0] * self.direction, foot + span[1] * self.direction)


@dataclass(eq=False)
class EllipseCarrier:
    """centre + a cos t + b sin t, a along the longer axis; intervals are of t, between 0 and 2 pi."""

    centre: Array
    a: Array
    b: Array
    form: Array
    spans: dict[bool, list[Interval]] = field(default_factory=lambda: {True: [], False: []})

    def holds(self, centre: Array, form: Array) -> bool:
        """True if the ellipse of that centre and form (a a' + b b') is this one."""
        size = math.sqrt(self.form[0, 0] + self.form[1, 1])
        return bool(np.abs(centre - self.centre).max() < SAME_CARRIER and np.abs(form - self.form).max() < SAME_CARRIER * size)

    def angles(self, points: Array) -> Array:
        """The parameter t of points (n, 2) on, or near, the ellipse."""
        away = points - self.centre
        return np.arctan2(away @ self.b / (self.b @ self.b), away @ self.a / (self.a @ self.a))


@dataclass(frozen=True, eq=False)
class Linework:
    """Visible and hidden lines of a view."""

    visible: tuple[Shape, ...]
    hidden: tuple[Shape, ...]


def linework_of(solid: Solid, frame: Frame, flat: Array, pieces: Pieces) -> Linework:
    """Join ``pieces`` to lines; ``flat`` (n, 2): the vertices in the view."""
    p, q = (flat[solid.edges.ends[pieces.edge, k]] for k in (0, 1))
    start, stop = p + pieces.start[:, None] * (q - p), p + pieces.stop[:, None] * (q - p)
    lines: list[StraightCarrier] = []
    ellipses: list[EllipseCarrier] = []
    free: dict[bool, list[Array]] = {True: [], False: []}
    for pair, which in _by_pair(solid, pieces):
        carrier = _carrier(solid, frame, pair, sharp=bool(solid.edges.sharp[pieces.edge[which[0]]]))
        ends = start[which], stop[which], pieces.seen[which]
        if isinstance(carrier, EllipseCarrier):
            _put_on_ellipse(ellipses, carrier, *ends)
        elif carrier is not None:
            _put_on_lines(lines, carrier, *ends)
        elif _is_straight(solid, pair, ends[0], ends[1]):
            _put_on_lines(lines, ends[1] - ends[0], *ends)
        else:
            for a, b, seen in zip(*ends, strict=True):
                free[bool(seen)].append(np.stack([a, b]))
    visible: list[Shape] = []
    hidden: list[Shape] = []
    for line in lines:
        _split(line.spans, SLIVER, line.shape, visible, hidden)
    for ellipse in ellipses:
        _split_ellipse(ellipse, visible, hidden)
    _join_free(free, visible, hidden)
    return Linework(tuple(sorted(visible, key=_place)), tuple(sorted(hidden, key=_place)))


def _place(shape: Shape) -> tuple[float, ...]:
    """A fixed order for lines: by their first points, in hundredths of a micron."""
    ends = shape.points()
    return tuple(np.round(np.concatenate([ends[0], ends[-1], [len(ends)]]), 5).tolist())


def _by_pair(solid: Solid, pieces: Pieces) -> Iterable[tuple[tuple[int, int], Array]]:
    """Groups of pieces whose edges part the same two surfaces (limbs: one surface twice, or two that are tangent)."""
    pair = np.sort(solid.edges.pair[pieces.edge], axis=1)
    key = (pair[:, 0] * len(solid.surfaces) + pair[:, 1]) * 2 + solid.edges.sharp[pieces.edge]
    order = np.argsort(key, kind="stable")
    starts = np.flatnonzero(np.diff(key[order], prepend=-1))
    for which in np.split(order, starts[1:]) if len(order) else []:
        yield (int(pair[which[0], 0]), int(pair[which[0], 1])), which


def _carrier(solid: Solid, frame: Frame, pair: tuple[int, int], *, sharp: bool) -> Array | EllipseCarrier | None:
    """What the edges of two surfaces lie on in the view: a line of a known direction (2,), an ellipse, or None if neither."""
    surfaces = [solid.surfaces[k] for k in pair]
    for surface in surfaces:
        if isinstance(surface, Plane) and abs(float(surface.normal @ frame.toward)) < 1e-9:
            normal = frame.flat_vectors(surface.normal)
            return np.array([-normal[1], normal[0]])
    for surface in surfaces:
        if isinstance(surface, Cylinder) and abs(abs(float(surface.direction @ frame.toward)) - 1) < 1e-9:
            scale = float(np.linalg.norm(frame.axes[0]))
            return _ellipse(frame.flat(surface.point[None])[0], np.eye(2)[0] * surface.radius * scale, np.eye(2)[1] * surface.radius * scale)
    if not sharp:
        turned = next(s for s in surfaces if not isinstance(s, Plane))
        return frame.flat_vectors(turned.direction) if isinstance(turned, Cylinder) else None
    curve = solid.edges.curves[pair]
    if isinstance(curve, Line):
        return None if any(isinstance(s, Cone) for s in surfaces) else frame.flat_vectors(curve.direction)
    if isinstance(curve, Conic):
        a, b = frame.flat_vectors(curve.a), frame.flat_vectors(curve.b)
        if abs(a[0] * b[1] - a[1] * b[0]) < 1e-9 * (a @ a + b @ b):
            return a if a @ a > b @ b else b
        return _ellipse(frame.flat(curve.centre[None])[0], a, b)
    return None


def _ellipse(centre: Array, a: Array, b: Array) -> EllipseCarrier:
    """The ellipse centre + a cos + b sin, told by its own axes."""
    form = np.outer(a, a) + np.outer(b, b)
    mean, half, off = (form[0, 0] + form[1, 1]) / 2, (form[0, 0] - form[1, 1]) / 2, form[0, 1]
    spread = math.hypot(half, off)
    if spread < 1e-9 * mean:
        radius = math.sqrt(mean)
        return EllipseCarrier(centre, np.array([radius, 0.0]), np.array([0.0, radius]), form)
    turn = math.atan2(off, half) / 2
    long = math.sqrt(mean + spread) * np.array([math.cos(turn), math.sin(turn)])
    short = math.sqrt(mean - spread) * np.array([-math.sin(turn), math.cos(turn)])
    return EllipseCarrier(centre, long, short, form)


def _is_straight(solid: Solid, pair: tuple[int, int], starts: Array, stops: Array) -> bool:
    """Limbs and rulings of cones are straight piece by piece; a space curve may look straight as a whole."""
    if pair[0] == pair[1] or isinstance(solid.edges.curves.get(pair), Line):
        return True
    points = np.concatenate([starts, stops])
    spread = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)
    return bool(spread[-1] < SAME_CARRIER * len(points))


def _put_on_lines(lines: list[StraightCarrier], direction: Array, start: Array, stop: Array, seen: Array) -> None:
    """Add pieces (k, 2) to (k, 2), along one ``direction`` (2,) or each along its own (k, 2), to the straight carriers."""
    if direction.ndim == 2:
        for k in range(len(start)):
            _put_on_lines(lines, direction[k], start[k:k + 1], stop[k:k + 1], seen[k:k + 1])
        return
    unit = direction / math.hypot(direction[0], direction[1]) if direction.any() else np.array([1.0, 0.0])
    if unit[0] < -SAME_CARRIER or (unit[0] <= SAME_CARRIER and unit[1] < 0):
        unit = -unit
    middle = (start + stop) / 2
    offset = unit[0] * middle[:, 1] - unit[1] * middle[:, 0]
    order = np.argsort(offset, kind="stable")
    for group in np.split(order, np.flatnonzero(np.diff(offset[order]) > SAME_CARRIER) + 1):
        level = float(offset[group[0]])
        carrier = next((line for line in lines if line.holds(unit, level)), None)
        if carrier is None:
            carrier = StraightCarrier(unit, level)
            lines.append(carrier)
        along = np.sort(np.stack([start[group] @ carrier.direction, stop[group] @ carrier.direction], axis=1), axis=1)
        for visible in (True, False):
            carrier.spans[visible] += [(a, b) for a, b in along[seen[group] == visible].tolist()]


def _put_on_ellipse(ellipses: list[EllipseCarrier], new: EllipseCarrier, start: Array, stop: Array, seen: Array) -> None:
    carrier = next((ellipse for ellipse in ellipses if ellipse.holds(new.centre, new.form)), None)
    if carrier is None:
        carrier = new
        ellipses.append(carrier)
    t, u = carrier.angles(start), carrier.angles(stop)
    swing = (u - t + math.pi) % (2 * math.pi) - math.pi           # the short way round
    low = np.where(swing >= 0, t, t + swing) % (2 * math.pi)
    high = low + np.abs(swing)
    for a, b, s in zip(low.tolist(), high.tolist(), seen.tolist(), strict=True):
        carrier.spans[s].append((a, min(b, 2 * math.pi)))
        if b > 2 * math.pi:
            carrier.spans[s].append((0.0, b - 2 * math.pi))


def _split(
    spans: dict[bool, list[Interval]], gap: float, shape: Callable[[Interval], Shape], visible: list[Shape], hidden: list[Shape]
) -> None:
    """Visible stretches joined; hidden ones joined, less the visible."""
    seen = longer(joined(longer(spans[True], SAME_POINT), gap), gap)
    unseen = longer(minus(joined(longer(spans[False], SAME_POINT), gap), seen), gap)
    visible += [shape(span) for span in seen]
    hidden += [shape(span) for span in unseen]


def _split_ellipse(ellipse: EllipseCarrier, visible: list[Shape], hidden: list[Shape]) -> None:
    gap = SLIVER / math.sqrt(float(ellipse.a @ ellipse.a))
    found: tuple[list[Shape], list[Shape]] = ([], [])
    parts: tuple[list[Interval], list[Interval]] = ([], [])
    seen = joined(ellipse.spans[True], gap)
    parts[0].extend(longer(seen, gap))
    parts[1].extend(longer(minus(joined(ellipse.spans[False], gap), seen), gap))
    for spans, shapes in zip(parts, found, strict=True):
        shapes += [Arc(ellipse.centre, ellipse.a, ellipse.b, low, high) for low, high in _round_the_end(spans, gap)]
    visible += found[0]
    hidden += found[1]


def _round_the_end(spans: list[Interval], gap: float) -> list[Interval]:
    """Intervals of a full turn that meet at 0 = 2 pi become one."""
    full = 2 * math.pi
    if not spans or spans[0][0] > gap or spans[-1][1] < full - gap:
        return spans
    if len(spans) == 1:
        return [(0.0, full)]
    return [*spans[1:-1], (spans[-1][0], spans[0][1] + full)]


def _join_free(free: dict[bool, list[Array]], visible: list[Shape], hidden: list[Shape]) -> None:
    """Pieces of space curves, linked end to end; hidden ones less what lies under visible ones."""
    seen = _linked(free[True])
    unseen = _linked(free[False])
    if seen and unseen:
        cover = shapely.union_all([shapely.LineString(points) for points in seen]).buffer(SLIVER / 2)
        left = [shapely.difference(shapely.LineString(points), cover) for points in unseen]
        unseen = [np.array(part.coords) for part in shapely.get_parts(shapely.get_parts(left)) if part.length > SLIVER]
    visible += [Free(points) for points in seen]
    hidden += [Free(points) for points in unseen]


def _linked(pieces: list[Array]) -> list[Array]:
    kept = [np.round(piece, 6) for piece in pieces if np.linalg.norm(piece[1] - piece[0]) > SAME_POINT]
    unique = sorted({tuple(map(tuple, sorted(piece.tolist()))) for piece in kept})
    if not unique:
        return []
    merged = shapely.line_merge(shapely.MultiLineString([shapely.LineString(piece) for piece in unique]))
    return [np.array(part.coords) for part in shapely.get_parts(merged) if part.length > SLIVER]
