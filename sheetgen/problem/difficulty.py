"""How hard a variant is to draw: an index from what must be seen and drawn, and the rung, 1 to 5, that it falls on.

Counted are the faces by kind, the lines of front, top and side view by kind, the measures, and how much of the part the
pictorial hides. The index is a sum of three parts:

- each *idea* that the part asks for counts once: inclined faces, round faces, oblique faces, surfaces that cross in curves,
  cones;
- each idea after the first adds ``COMBINED`` more, because they must be kept apart while drawing;
- each face, line and measure adds a little, and so does what the pictorial hides: ``AMOUNTS``.

**The weights and the steps between rungs are common practice without a source.** They were set so that the index puts in
order what teachers of the subject put in this order,

    1  faces square to the axes
    2  inclined faces
    3  holes, bosses and rounded ends
    4  inclined faces together with holes, bosses or rounded ends
    5  oblique faces, intersecting cylinders, skew cuts and cones

and they rank blocks of one kind with each other no better than roughly. One variant may fall beside its family's rung: the
median over several decides.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields
from statistics import median
from types import MappingProxyType

import numpy as np

from sheetgen.problem.problem import Problem
from sheetgen.projection import Free, LineKind, View, is_ellipse, lines_of, partly_hidden
from sheetgen.solid import Cone, Plane, Solid
from sheetgen.units import SAME_DIRECTION

VIEWS = ("front", "top", "left")

IDEAS: Mapping[str, float] = MappingProxyType({"inclined": 2.0, "round": 4.0, "oblique": 11.0, "crossings": 6.0, "cones": 11.0})
"""What the first of a kind adds to the index (common practice, no source). They lie so far apart that a simple part with a new
idea stands above a busy one without. An oblique face or a cone weighs what intersecting cylinders do with all that comes with
them: round faces, crossings, and both combined.
"""

COMBINED = 1.0
"""What each idea after the first adds beyond its own weight (common practice, no source)."""

AMOUNTS: Mapping[str, float] = MappingProxyType({
    "square": 0.02, "inclined": 0.1, "round": 0.1, "oblique": 0.1, "cones": 0.1, "visible": 0.02, "hidden": 0.03,
    "partly_hidden": 0.05, "ellipses": 0.5, "crossings": 0.1, "measures": 0.04, "occluded": 1.5,
})
"""What each one adds to the index; of ``occluded`` the share (common practice, no source)."""

STEPS = (2.8, 4.9, 8.2, 11.5)
"""Least index of rungs 2, 3, 4 and 5 (common practice, no source)."""

@dataclass(frozen=True, slots=True)
class Difficulty:
    """What must be seen and drawn of one variant.

    Surfaces: planes ``square`` to the axes, ``inclined`` (square to one view), ``oblique`` (to none; cylinders along no axis
    too); ``round``: cylinders along an axis, and countersinks, which are drawn with their holes; ``cones`` that stand out.
    Lines of front, top and side view: ``visible``, ``hidden``, ``partly_hidden`` (lines that are both, in parts); among them
    ``ellipses``, and ``crossings``: curves of two round faces, found point by point. ``measures`` printed; ``occluded``: the
    share of all edges, by length, that the pictorial hides.
    """

    square: int
    inclined: int
    oblique: int
    round: int
    cones: int
    visible: int
    hidden: int
    partly_hidden: int
    ellipses: int
    crossings: int
    measures: int
    occluded: float

    @property
    def index(self) -> float:
        """The weighted sum; about 1 for a stepped block, 12 and more for intersecting cylinders."""
        counts = {field.name: getattr(self, field.name) for field in fields(self)}
        ideas = [weight for name, weight in IDEAS.items() if counts[name]]
        amounts = sum(weight * counts[name] for name, weight in AMOUNTS.items())
        return float(sum(ideas) + COMBINED * max(0, len(ideas) - 1) + amounts)

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
    seen, unseen = ([line for view in views for line in lines_of(view, kind)] for kind in (LineKind.VISIBLE, LineKind.HIDDEN))
    return Difficulty(
        **_faces(problem.solid),
        visible=len(seen),
        hidden=len(unseen),
        partly_hidden=sum(len(partly_hidden(view)) for view in views),
        ellipses=sum(map(is_ellipse, (*seen, *unseen))),
        crossings=sum(isinstance(line, Free) for line in (*seen, *unseen)),
        measures=len(problem.measures),
        occluded=_occluded(problem.view("isometric")),
    )


def _faces(solid: Solid) -> dict[str, int]:
    """Surfaces by kind."""
    kinds = [_kind(solid, number) for number in range(len(solid.surfaces))]
    return {kind: kinds.count(kind) for kind in ("square", "inclined", "oblique", "round", "cones")}


def _kind(solid: Solid, number: int) -> str:
    surface = solid.surfaces[number]
    if isinstance(surface, Plane):
        return ("oblique", "inclined", "square")[int((np.abs(surface.normal) < SAME_DIRECTION).sum())]
    if isinstance(surface, Cone):
        return "cones" if _stands_out(solid, number, surface) else "round"
    return "round" if np.abs(surface.direction).max() > 1 - SAME_DIRECTION else "oblique"


def _stands_out(solid: Solid, number: int, cone: Cone) -> bool:
    """True for a cone that is seen from outside, and not from within as a countersink."""
    facet = int(np.argmax(solid.owner == number))
    from_axis = solid.vertices[solid.triangles[facet]].mean(axis=0) - cone.point
    from_axis -= (from_axis @ cone.direction) * cone.direction
    return bool(solid.normals[facet] @ from_axis > 0)


def _occluded(view: View) -> float:
    """The share of all edges, by their length in the part, that a view hides."""
    solid, stretches = view.solid, view.stretches
    ends = solid.vertices[solid.edges.ends[stretches.edge]]
    share = (stretches.stop - stretches.start) * solid.edges.sharp[stretches.edge]
    length = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1) * share
    return round(float(length[~stretches.seen].sum() / length.sum()), 4)
