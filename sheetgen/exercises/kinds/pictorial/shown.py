"""Which pictorial is asked for: one that can be read, from the side that the side view shows if there is one."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import numpy as np
import shapely

from sheetgen.problem import Problem
from sheetgen.projection import OBLIQUE, Arc, Straight, view_of
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sight import Pictorial, PlacedView, Sight, crowded_pictorial
from sheetgen.units import FACES_READER

CORNERS = ("front-right", "left-front")
"""From which a pictorial shows the front, the usual one first."""

SLENDER = 0.2
"""Sine of 12 degrees between a face and the line of sight (common practice, no source)."""

NARROW = 1.2
"""mm on paper, across an ellipse: of less its two sides leave no white between them (twice an outline, and as much as a copier
keeps; common practice, no source)."""

IN_ONE, SLOWLY = 0.1, 1.5
"""mm on paper: two curves no farther apart than the first for longer than the second meet at less than 8 degrees, and print as
one thick line there (common practice, no source)."""


def sights_asked(problem: Problem, settings: Settings, side: str) -> list[Sight]:
    """The pictorials that may be asked for of a part by these settings: those that can be read, those first in which no face is
    a sliver, and of these that which shows the ``side``.

    Raises: RefusedError if none can be read.
    """
    readable = _obliques(problem, settings.drawn) if settings.drawn in OBLIQUE else list(problem.pictorials())
    return sorted(readable, key=lambda sight: (_slender(sight), side not in sight.view.frame.shows))


def clear_at(sights: Sequence[Sight], scale: float) -> Sight:
    """The first of some pictorials whose lines keep clear of each other at a scale. Raises: RefusedError if there is none."""
    reasons = list[Reason]()
    for sight in sights:
        crowded = crowded_pictorial(PlacedView(sight, scale, np.zeros(2))) if scale < 1.0 else []    # known of full size
        if not crowded and _narrow(sight, scale):
            crowded = [Reason("in the pictorial, a circle is too narrow to be drawn")]
        if not crowded and _blotted(sight, scale):
            crowded = [Reason("in the pictorial, two curves meet so slowly that they print as one")]
        if not crowded:
            return sight
        reasons += crowded
    raise RefusedError(reasons[:1])


def _slender(sight: Sight) -> bool:
    """Whether a flat face is turned to the reader so little that it shows as a sliver."""
    solid, toward = sight.view.solid, sight.view.frame.toward
    turned = solid.normals[np.isin(solid.owner, np.flatnonzero(solid.table.flat))] @ toward
    return bool(((turned > FACES_READER) & (turned < SLENDER)).any())


def _narrow(sight: Sight, scale: float) -> bool:
    """Whether the two long sides of an ellipse would run together at a scale."""
    return any(isinstance(line, Arc) and line.closed and 2 * scale * min(np.hypot(*line.a), np.hypot(*line.b)) < NARROW
               for line in sight.view.visible_lines)


def _blotted(sight: Sight, scale: float) -> bool:
    """Whether two curves run into each other at a scale, as circles do that touch from within."""
    curves = [shapely.LineString(scale * line.points()) for line in sight.view.visible_lines if not isinstance(line, Straight)]
    return any(shapely.intersection(one, other.buffer(IN_ONE)).length > SLOWLY for one, other in combinations(curves, 2))


def flank_of(sight: Sight) -> str:
    """The side that a pictorial shows: left or right."""
    return "left" if "left" in sight.view.frame.shows else "right"


def _obliques(problem: Problem, name: str) -> list[Sight]:
    """The oblique pictorials of a part that can be read, best first."""
    found = [Pictorial(Sight(view_of(problem.solid, name, corner))) for corner in CORNERS]
    readable = [pictorial for pictorial in found if not pictorial.faults]
    if not readable:
        raise RefusedError([found[0].faults[0], found[1].faults[0]])
    return [pictorial.sight for pictorial in sorted(readable, key=lambda pictorial: pictorial.meetings)]
