"""Whether two drawings differ so that everybody sees it: by a line that only one of them has. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import shapely

from sheetgen.geometry import Array
from sheetgen.projection import LineKind
from sheetgen.sight import PlacedView

LEAST_LINE = 8.0
"""mm: a shorter piece that only one drawing has is overlooked (common practice, no source)."""

LEAST_MOVE = 3.0
"""mm: a line that stands less far from its place is taken for the same (common practice, no source)."""

SAME = 0.3
"""mm: lines nearer than this lie on each other, an outline's width being 0.5."""

COARSE = 0.05
"""mm by which a curve with few corners leaves it."""

Lines = Mapping[LineKind, Sequence[Array]]
"""Polylines (k, 2) of a drawing by kind."""


def lines_drawn(view: PlacedView, *, hidden: bool = True) -> Lines:
    """The visible and the ``hidden`` lines of a view, from the lower left corner of the box round its visible lines."""
    kinds = (LineKind.VISIBLE, LineKind.HIDDEN) if hidden else (LineKind.VISIBLE,)
    corner = view.view.extent[0]
    return {kind: [(shape.points() - corner) * view.scale for shape in view.lines(kind)] for kind in kinds}


def differ(one: Lines, other: Lines) -> bool:
    """Whether one of two drawings, laid on each other, has a line of at least LEAST_LINE that the other lacks, or has at least
    LEAST_MOVE away."""
    both = [(one.get(kind, ()), other.get(kind, ())) for kind in LineKind]
    return any(_more(mine, theirs) or _more(theirs, mine) for mine, theirs in both)


def _more(lines: Sequence[Array], others: Sequence[Array]) -> bool:
    """Whether some lines have a piece that others lack."""
    if not len(lines):
        return False
    # Curves with few corners: round ends of their pieces would take most of the time.
    mine, theirs = (shapely.union_all(shapely.simplify([shapely.LineString(line) for line in each], COARSE))
                    for each in (lines, others))
    only_mine = shapely.difference(mine, shapely.buffer(theirs, SAME, quad_segs=2)) if len(others) else mine
    if shapely.length(only_mine) < LEAST_LINE:
        return False
    only_theirs = shapely.difference(theirs, shapely.buffer(mine, SAME, quad_segs=2)) if len(others) else theirs
    left = shapely.difference(only_mine, shapely.buffer(only_theirs, LEAST_MOVE, quad_segs=2, cap_style="flat"))
    pieces = shapely.get_parts(shapely.line_merge(left))
    return bool(len(pieces) and np.max(shapely.length(pieces)) >= LEAST_LINE)
