"""How places are carried to an auxiliary view: projectors square to the edge of the face, and the distances from the reference
lines, which are equal. Sheet millimetres."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from sheetgen.exercises.kinds.auxiliary.shown import TrueShape, points_of
from sheetgen.exercises.kinds.auxiliary.turned import Turned
from sheetgen.geometry import Array, Mask
from sheetgen.projection import LineKind, Straight
from sheetgen.units import SAME_LEVEL

APART = 1.2
"""mm on paper between projectors: of those that are nearer one is drawn (common practice, no source)."""

ON = 0.01
"""mm of the part: a point no farther from an outline lies on it; those of curves stray by less."""

PRINTS_ALIKE = 0.1
"""mm on paper: no farther apart, two levels are one."""


@dataclass(frozen=True, eq=False)
class Carried:
    """``turned``: the auxiliary view; ``face``: the true shape of the face in it, in the same axes."""

    turned: Turned
    face: TrueShape

    @property
    def whole(self) -> bool:
        """Whether all the part is shown."""
        return self.turned.view is not self.face

    @cached_property
    def corners(self) -> Array:
        """The points (n, 2) of the face that are carried over, in the view's axes."""
        return self.face.corners

    @property
    def edge(self) -> Array:
        """The face's edge (2, 2) in the view beside."""
        u = self.corners[:, 0]
        return self.edge_at(np.array([u.min(), u.max()]))

    def edge_at(self, u: Array) -> Array:
        """The points (n, 2) of that edge at levels ``u`` (n,) of the auxiliary view."""
        home = self.turned.home
        return home.paper(self.face.in_part(np.stack([u, np.zeros(len(u))], axis=1)))

    @cached_property
    def projectors(self) -> list[Array]:
        """Lines (2, 2) square to the face's edge, from there to the points of the auxiliary view that each serves. A whole view
        has two more, of its ends."""
        turned, corners = self.turned, self.corners
        levels = self._levels(corners[:, 0])
        starts = self.edge_at(levels)
        reaches = [self.reach(corners[self._at(corners[:, 0], u)]) for u in levels]
        lines = [self.projector(start, reach) for start, reach in zip(starts, reaches, strict=True)]
        return [*lines, *(self._of_end(turned.view.extent[k][0], levels) for k in (0, 1) if self._beyond(k, levels))]

    @cached_property
    def levels(self) -> tuple[Array, ...]:
        """The levels v (n,) of points that are carried over, nearest to the reference line first: of all the view, of the face,
        and of its nearest and its farthest point."""
        every = [self._levels_of(points_of(self.turned.view.visible_lines))] if self.whole else []
        of_face = self._levels_of(self.corners)
        return (*every, of_face, of_face[[0, -1]])

    def _levels_of(self, points: Array) -> Array:
        """Those of points (n, 2); those that print alike are one."""
        v = np.sort(points[:, 1])
        v = v[np.diff(v, prepend=-np.inf) * self.turned.scale > PRINTS_ALIKE]
        return v if self.turned.projection == "third" else v[::-1]

    def distance(self, depth: float) -> float:
        """How far a level v of the auxiliary view lies from its reference line, mm."""
        return float(self.turned.from_line(self.turned.paper(np.array([[0.0, depth]])))[0])

    def reach(self, points: Array) -> float:
        """How far beyond the reference line a projector runs that serves ``points`` (n, 2) of one level u: to the nearest of
        them on each outline of the face, and on to those to which no line of the view leads along it. So it crosses no slot's
        mouth and no hole."""
        beyond = self.turned.from_line(self.turned.paper(points))
        lines, scale = self._upright, self.turned.scale
        off = np.abs(points[:, None, 0] - lines[:, 0]) * scale
        led = (off < APART) & (points[:, None, 1] > lines[:, 1] - SAME_LEVEL) & (points[:, None, 1] < lines[:, 2] + SAME_LEVEL)
        on = shapely.distance(np.array(self._rims)[:, None], shapely.points(points)) < ON
        nearest = [float(beyond[mine].min()) for mine in (*on, beyond == beyond.min()) if mine.any()]
        return max([*nearest, *(float(each) for each in beyond[~led.any(axis=1)])])

    @cached_property
    def _rims(self) -> list[shapely.LineString]:
        """The outlines of the face."""
        return [shapely.LineString(np.concatenate([piece.points() for piece in outline.pieces]))
                for outline in self.face.outlines]

    @cached_property
    def _upright(self) -> Array:
        """Straight visible lines and centre lines along v (n, 3): u, and v from where to where."""
        placed = self.turned.placed
        lines = [shape.points() for kind in (LineKind.VISIBLE, LineKind.CENTRE) for shape in placed.lines(kind)
                 if isinstance(shape, Straight)]
        rows = [(line[0, 0], *np.sort(line[:, 1])) for line in lines if abs(line[0, 0] - line[1, 0]) < SAME_LEVEL]
        return np.array(rows).reshape(-1, 3)

    def projector(self, start: Array, reach: float) -> Array:
        """The line (2, 2) square to the face's edge from ``start`` (2,) so far beyond the reference line."""
        away = self.turned.away
        return np.stack([start, start + (self.turned.line + reach - float(start @ away)) * away])

    def _levels(self, u: Array) -> Array:
        """Levels far enough apart to be told from one another, the outermost among them."""
        order = np.unique(u.round(6))
        kept = [order[-1]]
        for level in order[-2::-1]:
            if (kept[-1] - level) * self.turned.scale >= APART:
                kept.append(level)
        if abs(kept[-1] - order[0]) > SAME_LEVEL and len(kept) > 1:
            kept[-1] = order[0]
        return np.array(kept[::-1])

    def _at(self, u: Array, level: float) -> Mask:
        return np.abs(u - level) * self.turned.scale < APART

    def _beyond(self, end: int, levels: Array) -> bool:
        """Whether a whole view reaches past the face at an end (0 low, 1 high)."""
        past = float(self.turned.view.extent[end][0] - levels[-end]) * (1 if end else -1)
        return self.whole and past * self.turned.scale >= APART

    def _of_end(self, u: float, levels: Array) -> Array:
        """The projector of an end of the whole view: from that point of the part which is nearest to the reference line."""
        turned, view = self.turned, self.turned.view
        at = np.flatnonzero(np.abs(view.flat[:, 0] - u) < SAME_LEVEL)
        starts = turned.home.paper(view.solid.vertices[at])
        start = starts[int(np.argmax(starts @ turned.away))]
        return self.projector(start, float(turned.from_line(turned.paper(view.flat[at])).max()))
