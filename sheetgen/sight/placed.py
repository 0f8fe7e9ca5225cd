"""A view standing on the sheet: scale and place. Sheet millimetres."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.arrays import IntArray, Mask
from sheetgen.geometry.segments import distances
from sheetgen.projection import LineKind, Straight, View, lines_of
from sheetgen.projection.shapes import Shape
from sheetgen.sight.anchors import Sight
from sheetgen.sight.shadow import Shadow, shadow_of
from sheetgen.units import LINE_END, SAME_PLACE

TOUCHES = 0.05
"""mm on paper: an arrow's tip this near a line touches it (an outline is 0.5 wide; chords stray by a hundredth)."""

FEW = 25
"""Points of a curve that are enough to tell what is in its way."""

Box = tuple[float, float, float, float]


class Run(NamedTuple):
    """A line that runs along an axis of the sheet: its ``level`` on the other axis, where it begins and where it ends; ``edge``:
    of the part, no centre line."""

    level: float
    low: float
    high: float
    edge: bool


@dataclass(frozen=True, eq=False)
class PlacedView:
    """The view of ``sight`` drawn at ``scale`` (paper mm per part mm) with its own (0, 0) at ``origin`` (2,) on the sheet.

    ``lines_at``: of a picture of a view that is drawn elsewhere, the scale there, so that it has the very lines of that; None for
    its own."""

    sight: Sight
    scale: float
    origin: Array
    lines_at: float | None = None

    @classmethod
    def cornered(
        cls, sight: Sight, scale: float, corner: tuple[float, float] | Array, lines_at: float | None = None
    ) -> PlacedView:
        """The view so placed that the box round its visible lines has its lower left corner at ``corner`` (2,) on the sheet."""
        return cls(sight, scale, np.asarray(corner) - sight.view.extent[0] * scale, lines_at)

    @classmethod
    def alone(cls, sight: Sight) -> PlacedView:
        """The view at full size with its own (0, 0) at that of the sheet: what it shows, whatever sheet it will stand on."""
        return cls(sight, 1.0, np.zeros(2))

    @property
    def view(self) -> View:
        """The view that stands there."""
        return self.sight.view

    @cached_property
    def centre_lines(self) -> tuple[Shape, ...]:
        """The view's centre lines at this scale, in its own axes."""
        return self.lines(LineKind.CENTRE)

    def lines(self, kind: LineKind) -> tuple[Shape, ...]:
        """The view's lines of a kind that are drawn, in its own axes."""
        return lines_of(self.view, kind, self.scale if self.lines_at is None else self.lines_at)

    def paper(self, points: Array) -> Array:
        """Points (n, 3) of the part on the sheet (n, 2)."""
        return np.asarray(self.view.frame.flat(np.atleast_2d(points)) * self.scale + self.origin)

    def vector(self, axis: int) -> Array:
        """What one part mm along x, y or z (0, 1, 2) gives on the sheet (2,)."""
        return self.view.frame.flat_vectors(np.eye(3)[axis]) * self.scale

    @cached_property
    def _axes(self) -> tuple[tuple[float, float], ...]:
        """What one part mm along x, y and z gives on a drawing at full size."""
        return tuple((float(u), float(v)) for u, v in self.view.frame.flat_vectors(np.eye(3)).tolist())

    def unit(self, axis: int) -> tuple[float, float]:
        """What one part mm along x, y or z (0, 1, 2) gives on a drawing at full size."""
        return self._axes[axis]

    @cached_property
    def _corner(self) -> tuple[float, float]:
        u, v = self.paper(np.zeros(3))[0].tolist()
        return u, v

    def places(self, points: Array) -> Array:
        """Points (n, 3) of the part on the sheet (n, 2), added up in one order on every machine."""
        along = self.scale * points[:, :, None] * np.array(self._axes)
        return np.asarray(np.array(self._corner) + along[:, 0] + along[:, 1] + along[:, 2])

    @cached_property
    def _holds(self) -> Array:
        return self.paper(self.sight.holds)

    def holds(self, surface: int, *, seen: bool) -> Array:
        """Where a size can take hold on the seen (or the hidden) edges of a surface, on the sheet (m, 2)."""
        return self._holds[self.sight.hold(surface, seen=seen)]

    @cached_property
    def box(self) -> Box:
        """Least box (x0, y0, x1, y1) of the visible lines on the sheet."""
        points = np.concatenate(self.visible)
        (x0, y0), (x1, y1) = points.min(axis=0), points.max(axis=0)
        return float(x0), float(y0), float(x1), float(y1)

    def _placed(self, lines: Sequence[Array]) -> list[Array]:
        """Polylines (k, 2) of the view on the sheet."""
        if not lines:
            return []
        points = np.concatenate(lines) * self.scale + self.origin
        stops = np.cumsum([len(line) for line in lines]).tolist()
        return [points[first:stop] for first, stop in zip([0, *stops], stops, strict=False)]

    @cached_property
    def visible(self) -> list[Array]:
        """Visible lines on the sheet, polylines (k, 2)."""
        return self._placed(self.view.visible)

    @cached_property
    def hidden(self) -> list[Array]:
        """Hidden lines on the sheet, polylines (k, 2)."""
        return self._placed(self.view.hidden)

    @cached_property
    def centres(self) -> list[Array]:
        """Centre lines on the sheet, segments (2, 2)."""
        return list(self._straight(self.centre_lines))

    @cached_property
    def shadow(self) -> Shadow:
        """What the part covers of the sheet."""
        return shadow_of(self.view, self.scale, self.origin)

    @cached_property
    def visible_straights(self) -> Array:
        """Straight visible lines on the sheet, segments (n, 2, 2)."""
        return self._straight(self.view.visible_lines)

    def edges_at(self, points: Array, way: int) -> list[tuple[float, float]]:
        """From where to where seen straight edges run that lie at the level of ``points`` (m, 2), one for all along the sheet's x
        or y (``way`` 0, 1), and hold one of these."""
        places, lines = points[:, 1 - way], self.visible_straights
        on = lines[np.abs(lines[:, :, way] - points[0, way]).max(axis=1) < SAME_PLACE]
        return [
            (low, high) for low, high in np.sort(on[:, :, 1 - way], axis=1).tolist()
            if ((places > low - SAME_PLACE) & (places < high + SAME_PLACE)).any()]

    def _straight(self, shapes: Sequence[Shape]) -> Array:
        """The straight ones of lines of the view, on the sheet (n, 2, 2)."""
        ends = np.array([end for shape in shapes if isinstance(shape, Straight) for end in (shape.p, shape.q)])
        return np.asarray(ends.reshape(-1, 2, 2) * self.scale + self.origin)

    @cached_property
    def _runs(self) -> tuple[list[Run], list[Run]]:
        edges = sum(isinstance(shape, Straight) for shape in (*self.view.visible_lines, *self.view.hidden_lines))

        def along(axis: int) -> list[Run]:
            levels = self.straights[:, :, 1 - axis]
            which = np.flatnonzero(np.abs(levels[:, 0] - levels[:, 1]) < SAME_PLACE)
            lines = self.straights.take(which, axis=0)
            rows = np.concatenate([lines[:, :1, 1 - axis], np.sort(lines[:, :, axis], axis=1)], axis=1).tolist()
            return sorted(Run(level, low, high, k < edges) for (level, low, high), k in zip(rows, which.tolist(), strict=True))

        return along(0), along(1)

    def runs_between(self, k: int, low: float, high: float) -> list[Run]:
        """Straight lines along the sheet's x or y (``k`` 0, 1) whose levels lie between ``low`` and ``high``."""
        runs = self._runs[k]
        return runs[bisect_left(runs, (low,)):bisect_right(runs, (high, math.inf))]

    @cached_property
    def _line_ends(self) -> Array:
        return np.array([end for points in self.visible for end in (points[0], points[-1])])

    def at_a_line_end(self, points: Array) -> Mask:
        """Which of the points (n, 2) on the sheet are ends of visible lines: corners that a reader sees."""
        away = np.abs(points[:, None] - self._line_ends).max(axis=2)
        return np.asarray((away < LINE_END).any(axis=1))

    def on_seen_rim(self, turned: int, tips: Array) -> Mask:
        """Which of the points ``tips`` (n, 2) on the sheet lie on seen edges of a round surface: there an arrow may touch it."""
        which = self.sight.seen_of(turned)
        if not len(which):
            return np.zeros(len(tips), dtype=bool)
        rim = np.hstack([self.paper(self.sight.start[which]), self.paper(self.sight.stop[which])])
        return np.asarray(distances(tips, rim) < TOUCHES)

    def coarse(self, kind: str) -> list[Array]:
        """``visible``, ``hidden`` or ``centre`` lines on the sheet as polylines of few points, to tell what is in the way."""
        lines: list[Array] = getattr(self, {"visible": "visible", "hidden": "hidden", "centre": "centres"}[kind])
        return [points if len(points) <= FEW else points[_few(len(points))] for points in lines]

    @cached_property
    def straights(self) -> Array:
        """Straight visible, hidden and centre lines on the sheet, segments (n, 2, 2)."""
        return self._straight((*self.view.visible_lines, *self.view.hidden_lines, *self.centre_lines))


def _few(count: int) -> IntArray:
    """The numbers of at most FEW of ``count`` points in a row, the ends among them."""
    return np.unique(np.linspace(0, count - 1, FEW).round().astype(int))
