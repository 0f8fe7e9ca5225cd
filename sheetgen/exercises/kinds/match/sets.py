"""Views as they stand to each other on a sheet, without names: a candidate is one view or a set of them. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from sheetgen.exercises.differing import Lines, lines_drawn
from sheetgen.geometry import Array
from sheetgen.projection import LineKind
from sheetgen.sheet.layout import place_of
from sheetgen.sheet.symbol import Projection
from sheetgen.sight import PlacedView, Sight

BETWEEN = 11.0
"""mm between two views of a set: room for centre lines, no more, since no sizes stand there."""

Set = tuple[PlacedView, ...]


def set_of(sights: Mapping[str, Sight], projection: Projection, scale: float) -> Set:
    """Views by name, the front view among them, as they stand to each other in an angle of projection."""
    stands = {name: place_of(sight.view.frame, sights["front"].view.frame, projection) for name, sight in sights.items()}
    size = {name: (sight.view.extent[1] - sight.view.extent[0]) * scale for name, sight in sights.items()}
    starts = list[dict[int, float]]()
    for axis in (0, 1):
        at, found = 0.0, dict[int, float]()
        for track in sorted({place[axis] for place in stands.values()}):
            found[track] = at
            at += max(float(size[name][axis]) for name in sights if stands[name][axis] == track) + BETWEEN
        starts.append(found)
    corners = {name: np.array([starts[axis][stands[name][axis]] for axis in (0, 1)]) for name in sights}
    return tuple(PlacedView.cornered(sight, scale, corners[name]) for name, sight in sights.items())


def alone(sight: Sight, scale: float) -> Set:
    """A single view."""
    return (PlacedView(sight, scale, np.zeros(2)),)


def lines_of_set(views: Sequence[PlacedView]) -> Lines:
    """The visible and hidden lines of a set, from the lower left corner of the box round all visible ones."""
    corner = np.min([view.box[:2] for view in views], axis=0)
    found: dict[LineKind, list[Array]] = {}
    for view in views:
        for kind, lines in lines_drawn(view).items():
            found.setdefault(kind, []).extend(line + np.array(view.box[:2]) - corner for line in lines)
    return found


def whole_of(views: Sequence[PlacedView]) -> Array:
    """The box (2, 2) round a set and its centre lines."""
    points = np.concatenate([line for view in views for line in (*view.visible, *view.centres)])
    return np.stack([points.min(axis=0), points.max(axis=0)])


def moved_set(views: Sequence[PlacedView], by: Array) -> Set:
    """A set elsewhere."""
    return tuple(replace(view, origin=view.origin + by) for view in views)
