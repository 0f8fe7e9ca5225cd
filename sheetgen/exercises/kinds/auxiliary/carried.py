"""How places are carried to an auxiliary view: projectors square to the edge of the face, and the distances from the reference
lines, which are equal. Sheet millimetres."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sheetgen.exercises.kinds.auxiliary.shown import TrueShape
from sheetgen.exercises.kinds.auxiliary.turned import Turned
from sheetgen.geometry import Array, Mask
from sheetgen.units import SAME_LEVEL

APART = 1.2
"""mm on paper between projectors: of those that are nearer one is drawn (common practice, no source)."""


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
        """Lines (2, 2) square to the face's edge, from there to the farthest point of the auxiliary view that each serves. A
        whole view has two more, of its ends."""
        turned, corners = self.turned, self.corners
        levels = self._levels(corners[:, 0])
        starts = self.edge_at(levels)
        reaches = [float(turned.from_line(turned.paper(corners[self._at(corners[:, 0], u)])).max()) for u in levels]
        lines = [self._projector(start, reach) for start, reach in zip(starts, reaches, strict=True)]
        return [*lines, *(self._of_end(turned.view.extent[k][0], levels) for k in (0, 1) if self._beyond(k, levels))]

    @property
    def depths(self) -> tuple[float, float]:
        """The levels v of the face that are nearest to the reference line, and farthest from it."""
        v = self.corners[:, 1]
        low, high = float(v.min()), float(v.max())
        return (low, high) if self.turned.projection == "third" else (high, low)

    def distance(self, depth: float) -> float:
        """How far a level v of the auxiliary view lies from its reference line, mm."""
        return float(self.turned.from_line(self.turned.paper(np.array([[0.0, depth]])))[0])

    def _projector(self, start: Array, reach: float) -> Array:
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
        return self._projector(start, float(turned.from_line(turned.paper(view.flat[at])).max()))
