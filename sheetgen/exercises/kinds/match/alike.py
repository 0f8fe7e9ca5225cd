"""Whether a wrong candidate is a near miss: of the right one's outline, as symmetrical, and with no lines nearer to each other.
Sheet millimetres."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from sheetgen.exercises.differing import Lines, differ, lines_drawn
from sheetgen.exercises.kinds.match.sets import Set
from sheetgen.projection import View
from sheetgen.refusals import RefusedError
from sheetgen.sight import PlacedView, crowded_views
from sheetgen.sight.parallels import LEAST_LINES, least_lines
from sheetgen.units import EDGE_ON, SAME_RUN

OTHERWISE = 0.12
"""Share of what a view covers by which a near miss may cover more or less: a slot's mouth, no limb of the part (common practice,
no source)."""

INK = 0.02
"""mm: half the width with which lines are laid on each other here."""


@dataclass(frozen=True, slots=True)
class Clearance:
    """How near each other parallel lines may lie: LEAST_LINES or, where the right views have nearer ones, as those."""

    least: float

    @classmethod
    def of(cls, right: Set) -> Clearance:
        """The clearance of the right views. Raises: RefusedError if lines of theirs run together."""
        if crowded := crowded_views(right):
            raise RefusedError(crowded)
        return cls(min(LEAST_LINES, _least(right)))

    def keeps(self, views: Set) -> bool:
        """Whether lines of a candidate are as clear of each other."""
        return _least(views) > self.least - SAME_RUN and not crowded_views(views)


def _least(views: Set) -> float:
    return min(least_lines(view.view, view.scale)[0] for view in views)


def keeps_its_look(views: Set, right: Set) -> bool:
    """Whether views have about the outlines of the right ones, and are symmetrical where these are."""
    return all(_outline_kept(view, own) and _symmetry_kept(view, own) for view, own in zip(views, right, strict=True))


def mirrors_of(view: View) -> tuple[int, ...]:
    """The axes of a view, 0 across and 1 up, along which the symmetries of the part halve it."""
    return tuple(k for k, way in enumerate(view.frame.axes) for letter in view.symmetry
                 if abs(float(way["xyz".index(letter)])) > 1 - EDGE_ON)


def _outline_kept(view: PlacedView, own: PlacedView) -> bool:
    covered, before = _covered(view), _covered(own)
    other = float(shapely.area(shapely.symmetric_difference(covered, before)))
    return other <= OTHERWISE * float(shapely.area(before))


def _covered(view: PlacedView) -> shapely.Geometry:
    """What a view covers with the holes that go through, from the lower left corner of the box round it."""
    lines = [shapely.LineString(line - np.array(view.box[:2])) for line in view.visible]
    whole = shapely.union_all(shapely.buffer(lines, INK))               # with ink there are no gaps where chords meet lines
    return shapely.union_all([shapely.Polygon(part.exterior) for part in shapely.get_parts(whole)])


def _symmetry_kept(view: PlacedView, own: PlacedView) -> bool:
    """Whether a view is halved as the part's own is: not what its part claims counts but what is drawn."""
    lines = lines_drawn(view)
    size = (view.view.extent[1] - view.view.extent[0]) * view.scale
    return not any(differ(lines, _turned_over(lines, axis, float(size[axis]))) for axis in mirrors_of(own.view))


def _turned_over(lines: Lines, axis: int, size: float) -> Lines:
    found = {}
    for kind, some in lines.items():
        turned = [line.copy() for line in some]
        for line in turned:
            line[:, axis] = size - line[:, axis]
        found[kind] = turned
    return found
