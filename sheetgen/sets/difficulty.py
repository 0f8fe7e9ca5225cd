"""How hard a variant is to draw: an index from what must be seen and drawn, and the rung, 1 to 5, that it falls on.

Counted are the faces by kind, the lines of front, top and side view by kind, the measures, and how much of the part the
pictorial hides. The index is their weighted sum; each weight is what one more of the kind adds. Kinds that ask for a new
idea (an inclined face, the first round one, an oblique face, a curve to be found point by point) weigh most, and once; more of
the same adds little. The weights and the steps between rungs are common practice without a source: they were set so that
the index puts in order what teachers of the subject put in this order,

    1  faces square to the axes
    2  inclined faces
    3  cylinders: holes, bosses, rounded ends
    4  several of these combined
    5  oblique faces, intersecting cylinders, skew cuts, cones

and they rank blocks of one kind with each other no better than roughly. One variant may fall beside its family's rung: the
median over several decides.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields
from statistics import median
from types import MappingProxyType

import numpy as np

from sheetgen.projection import Arc, Free, Shape, Straight, View
from sheetgen.sheet import Problem
from sheetgen.solid import Cone, Cylinder, Plane, Solid

VIEWS = ("front", "top", "left")

IDEAS: Mapping[str, float] = MappingProxyType({
    "inclined": 1.4, "round": 2.2, "oblique": 4.0, "skew": 4.0, "cones": 3.0, "curves": 3.0,
})
"""What the first of a kind adds to the index (common practice, no source)."""

AMOUNTS: Mapping[str, float] = MappingProxyType({
    "square": 0.02, "inclined": 0.1, "round": 0.15, "oblique": 0.2, "visible": 0.02, "hidden": 0.03, "partly_hidden": 0.05,
    "measures": 0.04, "occluded": 1.5,
})
"""What each one adds to the index; of ``occluded`` the share (common practice, no source)."""

STEPS = (2.2, 4.0, 5.4, 7.0)
"""Least index of rungs 2, 3, 4 and 5 (common practice, no source)."""

SAME_LINE = 0.05
"""mm: a hidden line that begins this near the end of a visible one in its own direction is the same line, partly hidden."""


@dataclass(frozen=True, slots=True)
class Difficulty:
    """What must be seen and drawn of one variant.

    Surfaces: planes ``square`` to the axes, ``inclined`` (square to one view), ``oblique`` (to none); ``round``: cylinders
    along an axis, ``skew``: cylinders along none, ``cones``. Lines of front, top and side view: ``visible``, ``hidden``,
    ``partly_hidden`` (lines that are both, in parts), ``curves`` that are neither straight nor circular. ``measures`` printed;
    ``occluded``: the share of all edges, by length, that the pictorial hides.
    """

    square: int
    inclined: int
    oblique: int
    round: int
    skew: int
    cones: int
    visible: int
    hidden: int
    partly_hidden: int
    curves: int
    measures: int
    occluded: float

    @property
    def index(self) -> float:
        """The weighted sum; about 1 for a stepped block, 10 and more for crossing cylinders."""
        counts = {field.name: getattr(self, field.name) for field in fields(self)}
        ideas = sum(weight for name, weight in IDEAS.items() if counts[name])
        return float(ideas + sum(weight * counts[name] for name, weight in AMOUNTS.items()))

    @property
    def rung(self) -> int:
        """1 (easiest) to 5."""
        return rung_of(self.index)


def rung_of(index: float) -> int:
    """The rung, 1 to 5, of an index.

    >>> rung_of(1.0), rung_of(99.0)
    (1, 5)
    """
    return 1 + sum(index >= step for step in STEPS)


def median_rung(found: Iterable[Difficulty]) -> tuple[int, float]:
    """The rung of a family, and the index behind it: the median over its variants. Raises: ValueError for none."""
    index = round(median(difficulty.index for difficulty in found), 2)
    return rung_of(index), index


def difficulty(problem: Problem) -> Difficulty:
    """Count what must be seen and drawn of a problem."""
    views = [problem.view(name) for name in VIEWS]
    lines = [line for view in views for line in (*view.visible_lines, *view.hidden_lines)]
    return Difficulty(
        **_faces(problem.solid),
        visible=sum(len(view.visible_lines) for view in views),
        hidden=sum(len(view.hidden_lines) for view in views),
        partly_hidden=sum(map(_partly_hidden, views)),
        curves=sum(map(_is_curve, lines)),
        measures=len(problem.measures),
        occluded=_occluded(problem.view("isometric")),
    )


def _faces(solid: Solid) -> dict[str, int]:
    """Surfaces by kind."""
    kinds = [_kind(surface) for surface in solid.surfaces]
    return {kind: kinds.count(kind) for kind in ("square", "inclined", "oblique", "round", "skew", "cones")}


def _kind(surface: Plane | Cylinder | Cone) -> str:
    if isinstance(surface, Plane):
        return ("oblique", "inclined", "square")[int((np.abs(surface.normal) < 1e-9).sum())]
    if isinstance(surface, Cone):
        return "cones"
    return "round" if np.abs(surface.direction).max() > 1 - 1e-9 else "skew"


def _is_curve(shape: Shape) -> bool:
    """True for a line that is found point by point: neither straight nor part of a circle."""
    return isinstance(shape, Free) or (isinstance(shape, Arc) and abs(float(shape.a @ shape.a - shape.b @ shape.b)) > 1e-6)


def _partly_hidden(view: View) -> int:
    """Straight lines of a view that go on hidden where they cease to be visible."""
    seen, unseen = ([line for line in lines if isinstance(line, Straight)] for lines in (view.visible_lines, view.hidden_lines))
    return sum(any(_goes_on(line, other) for other in seen) for line in unseen)


def _goes_on(line: Straight, other: Straight) -> bool:
    one, two = (line.q - line.p) / line.length, (other.q - other.p) / other.length
    apart = min(float(np.linalg.norm(a - b)) for a in (line.p, line.q) for b in (other.p, other.q))
    return apart < SAME_LINE and abs(float(one[0] * two[1] - one[1] * two[0])) < 1e-6


def _occluded(view: View) -> float:
    """The share of all edges, by their length in the part, that a view hides."""
    solid, pieces = view.solid, view.pieces
    ends = solid.vertices[solid.edges.ends[pieces.edge]]
    length = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1) * (pieces.stop - pieces.start) * solid.edges.sharp[pieces.edge]
    return round(float(length[~pieces.seen].sum() / length.sum()), 4)
