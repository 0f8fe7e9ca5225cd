"""Of which feature a line of a view is: the one that made a face beside it. View axes, millimetres."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from sheetgen.exercises.nouns import HOLES
from sheetgen.exercises.pieces import Piece, own
from sheetgen.geometry import Array
from sheetgen.projection import Shape, View
from sheetgen.solid import Cylinder
from sheetgen.units import EDGE_ON, TOUCHING

SHARES = (0.2, 0.5, 0.8)
"""Places along a line at which it is asked what is there."""


def bearer_of(view: View, shapes: Sequence[Shape], pieces: Sequence[Piece]) -> Piece | None:
    """The piece of which all the lines are, a hole before other cuts, these before what is added; None if none or several are."""
    beside = [_faces_beside(view, shape) for shape in shapes]
    found = [piece for piece in pieces if all(faces & set(own(view.solid, piece)) for faces in beside)]
    found = [piece for piece in found if piece.noun in HOLES] or [piece for piece in found if piece.cut] or found
    return found[0] if len(found) == 1 else None


def _faces_beside(view: View, shape: Shape) -> set[int]:
    """The surfaces that meet in an edge seen as a line, and those that turn away from the reader along it."""
    line = shapely.LineString(shape.points())
    spots = shapely.get_coordinates(shapely.line_interpolate_point(line, SHARES, normalized=True))
    return set.intersection(*({*_at_edges(view, spot), *_at_limbs(view, spot)} for spot in spots))


def _at_edges(view: View, spot: Array) -> set[int]:
    edges, flat = view.solid.edges, view.flat
    sharp = np.flatnonzero(edges.sharp)
    lines = shapely.linestrings(flat[edges.ends[sharp]])
    near = shapely.dwithin(lines, shapely.Point(spot), TOUCHING)
    return set(edges.pair[sharp[near]].ravel().tolist())


def _at_limbs(view: View, spot: Array) -> set[int]:
    """Cylinders seen from the side whose outline is there."""
    found = set[int]()
    for k, surface in enumerate(view.solid.surfaces):
        if isinstance(surface, Cylinder) and abs(float(surface.direction @ view.frame.toward)) < EDGE_ON:
            way = view.frame.flat_vectors(surface.direction)
            away = spot - view.frame.flat(surface.point[None])[0]
            if abs(abs(float(way[0] * away[1] - way[1] * away[0])) - surface.radius) < TOUCHING:
                found.add(k)
    return found
