"""An auxiliary view standing on the sheet, square to the edge of its face in the view from which it is projected. Sheet mm.

Where it stands: in third angle on the side from which the face is seen, in first angle beyond the part, on the other side
(ISO 5456-2:1996 clause 5 for the principal views, from memory; an auxiliary view follows the same rule). Either way it is the
same picture, turned the same way; in third angle it turns what is near the reader of the view beside it to that view, in
first angle what is far from him.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from sheetgen.geometry import Array
from sheetgen.ink import Mark, Text
from sheetgen.projection import View
from sheetgen.sheet.symbol import Projection
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView, Sight

FROM_LINE = 8.0
"""mm from a reference line to the part where it is nearest: more than an arrowhead twice, less than the first dimension line."""


@dataclass(frozen=True, eq=False)
class Turned:
    """The ``view`` as it is projected from ``home``; ``clear``: mm from the part there to the reference line. ``depths``
    (2,): the levels v of the part's side that is nearest to that line, and of the other."""

    home: PlacedView
    view: View
    projection: Projection
    clear: float
    depths: tuple[float, float]

    @classmethod
    def of(cls, home: PlacedView, view: View, projection: Projection, clear: float) -> Turned:
        """Projected from ``home``, with the reference line at ``clear`` mm from the part."""
        depths = -(view.solid.vertices @ home.view.frame.toward)
        low, high = float(depths.min()), float(depths.max())
        return cls(home, view, projection, clear, (low, high) if projection == "third" else (high, low))

    @property
    def scale(self) -> float:
        """Paper mm per part mm."""
        return self.home.scale

    @cached_property
    def outward(self) -> Array:
        """The unit direction (2,) on the sheet in which the face looks."""
        way = self.home.view.frame.flat_vectors(self.view.frame.toward)
        return np.asarray(way / np.hypot(*way))

    @cached_property
    def along(self) -> Array:
        """The unit direction (2,) of the face's edge, that of u; the outward one lies at its left."""
        return np.array([self.outward[1], -self.outward[0]])

    @property
    def away(self) -> Array:
        """The unit direction (2,) from the view beside it to this one."""
        return self.outward if self.projection == "third" else -self.outward

    @cached_property
    def line(self) -> float:
        """Where the reference line lies: mm along ``away``."""
        return float((self._on_home @ self.away).max()) + self.clear

    @cached_property
    def _on_home(self) -> Array:
        """The part's corners in the view beside it, on the sheet."""
        return np.asarray(self.home.view.flat * self.home.scale + self.home.origin)

    @cached_property
    def origin(self) -> Array:
        """Where u = v = 0 lies: mm along ``along`` and along ``outward`` (2,)."""
        sense = 1.0 if self.projection == "third" else -1.0
        frame = self.home.view.frame
        at = float(self.along @ (self.home.origin - self.scale * frame.origin))
        return np.array([at, sense * (self.line + FROM_LINE) - self.scale * self.depths[0]])

    def paper(self, points: Array) -> Array:
        """Points (n, 2) of the view on the sheet (n, 2)."""
        u, v = (points * self.scale + self.origin).T
        return np.asarray(u[:, None] * self.along + v[:, None] * self.outward)

    def from_line(self, points: Array) -> Array:
        """How far (n,) points (n, 2) on the sheet lie beyond the reference line, mm."""
        return np.asarray(points @ self.away - self.line)

    def at(self, along: float, beyond: float) -> Array:
        """The point (2,) on the sheet so many mm along the face's edge, and beyond the reference line."""
        return np.asarray(along * self.along + (self.line + beyond) * self.away)

    def box(self) -> tuple[float, float, float, float]:
        """From where to where the view reaches: mm along the face's edge, low and high, and beyond the reference line."""
        points = self.paper(np.concatenate(self.view.visible))
        across, beyond = points @ self.along, self.from_line(points)
        return float(across.min()), float(across.max()), float(beyond.min()), float(beyond.max())

    @cached_property
    def placed(self) -> PlacedView:
        """The view at its scale before it is turned: its own right to the right."""
        return PlacedView(Sight(self.view), self.scale, self.origin)

    def marks(self) -> list[Mark]:
        """Its lines."""
        return self.turn(view_marks(self.placed))

    def turn(self, marks: Iterable[Mark]) -> list[Mark]:
        """Marks that stand at their ``placed`` view, turned with it."""
        axes = np.stack([self.along, self.outward])
        return [_turned(mark, axes) for mark in marks]


def _turned(mark: Mark, axes: Array) -> Mark:
    if isinstance(mark, Text):
        (x, y), (a, b), (u, v) = ((np.array(each) @ axes).tolist() for each in (mark.at, mark.along, mark.up))
        return replace(mark, at=(x, y), along=(a, b), up=(u, v))
    return replace(mark, points=np.asarray(mark.points) @ axes)
