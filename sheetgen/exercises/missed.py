"""Which lines of a view are easily missed, and where one is drawn that is none, from the part's geometry. View millimetres."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from sheetgen.exercises.numbering import Numbered
from sheetgen.geometry import Array, IntArray
from sheetgen.projection import LineKind, Shape, View, lines_of, partly_hidden
from sheetgen.projection.hidden import seen_parts
from sheetgen.units import SAME_POINT

SHORT = 6.0
"""mm on paper: a shorter hidden line is easily overlooked (common practice, no source)."""

ON_LINE = 0.03
"""mm in the view: what lies no farther from a line is on it; lines of curves stray by the error of their chords."""

LEAST_JOIN = 3.0
"""mm on paper: a join that shows for less is not drawn by anybody."""

WHY = ("unseen", "partly", "short")
"""Why a hidden line is easily missed: the pictorial shows nothing of it; it goes on where a visible line ceases; it is short."""


def easily_missed(view: View, pictorial: View, hidden: Sequence[Numbered], scale: float) -> dict[str, tuple[int, ...]]:
    """The numbers of the hidden lines of a view that are easily missed, by the first reason of WHY for each."""
    if not hidden:
        return {}
    unseen = _not_shown(view, pictorial, [line.shape for line in hidden])
    partly = set(map(id, partly_hidden(view)))
    found: dict[str, list[int]] = {}
    for line, nowhere in zip(hidden, unseen, strict=True):
        why = ("unseen" if nowhere else "partly" if id(line.shape) in partly else
               "short" if line.shape.length * scale < SHORT else "")
        if why:
            found.setdefault(why, []).append(line.number)
    return {why: tuple(found[why]) for why in WHY if why in found}


def _not_shown(view: View, pictorial: View, shapes: Sequence[Shape]) -> list[bool]:
    """For each hidden line of a view whether the pictorial shows nothing of what it comes from: of its edge, or, where a round
    surface turns away, of that surface."""
    solid, those = view.solid, pictorial.stretches
    seen_edges = set(those.edge[those.seen].tolist())
    seen_surfaces = set(solid.edges.pair[those.edge[those.seen]].ravel().tolist())
    found = []
    for mine in edges_under(view, shapes, seen=False):
        shows = (k in seen_edges if solid.edges.sharp[k] else not seen_surfaces.isdisjoint(solid.edges.pair[k].tolist())
                 for k in mine)
        found.append(not any(shows))
    return found


def edges_under(view: View, shapes: Sequence[Shape], *, seen: bool) -> list[list[int]]:
    """The solid's edges that each of some lines of a view is drawn of: of seen lines the seen ones, of others the hidden ones."""
    these = view.stretches
    which = these.seen if seen else ~these.seen
    edge: IntArray = these.edge[which]
    share = ((these.start + these.stop) / 2)[which, None]
    p, q = view.flat[view.solid.edges.ends[edge]].transpose(1, 0, 2)
    middles = shapely.points(p + share * (q - p))
    return [edge[shapely.distance(shapely.LineString(shape.points()), middles) < ON_LINE].tolist() for shape in shapes]


def smooth_joins(view: View, scale: float) -> tuple[Array, ...]:
    """Where two surfaces run smoothly into one another in sight of the reader and no line is drawn, polylines (k, 2): there a
    beginner draws one."""
    solid = view.solid
    joins = np.flatnonzero(solid.edges.tangent & (view.facing[solid.edges.facets] > 0).any(axis=1))
    if not len(joins):
        return ()
    seen = seen_parts(view.frame, view.covers, solid.vertices[solid.edges.ends[joins]])
    seen = seen[np.hypot(*(seen[:, 1] - seen[:, 0]).T) > SAME_POINT]
    if not len(seen):
        return ()
    lines = [shape for kind in (LineKind.VISIBLE, LineKind.HIDDEN) for shape in lines_of(view, kind, scale)]
    all_lines = shapely.multilinestrings([shapely.LineString(shape.points()) for shape in lines])
    clear = seen[shapely.distance(all_lines, shapely.points(seen.mean(axis=1))) > ON_LINE]
    if not len(clear):
        return ()
    merged = shapely.line_merge(shapely.multilinestrings(list(shapely.linestrings(np.round(clear, 6)))))
    parts = [shapely.get_coordinates(part) for part in shapely.get_parts(merged) if part.length * scale > LEAST_JOIN]
    return tuple(sorted(parts, key=lambda points: tuple(np.round(points.mean(axis=0), 3).tolist())))
