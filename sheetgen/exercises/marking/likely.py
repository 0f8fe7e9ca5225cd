"""The errors that are likely for this part, from its geometry: what a marker looks for first. View millimetres."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.marking.numbering import Numbered, of_sort
from sheetgen.geometry import Array
from sheetgen.placing import Item
from sheetgen.placing.offers.view_ends import ends_shown, extents_of
from sheetgen.placing.weights import WEIGHTS
from sheetgen.problem import Problem
from sheetgen.projection import LineKind, Shape, View, lines_of, partly_hidden
from sheetgen.projection.hidden import seen_parts
from sheetgen.sheet import Settings
from sheetgen.units import SAME_POINT

SHORT = 6.0
"""mm on paper: a shorter hidden line is easily overlooked (common practice, no source)."""

ON_LINE = 0.03
"""mm in the view: what lies no farther from a line is on it; lines of curves stray by the error of their chords."""

LEAST_JOIN = 3.0
"""mm on paper: a join that shows for less is not drawn by anybody."""

SAME_LINEWORK = 0.02
"""mm in the view: lines of two views that lie no farther apart are the same."""

WHY = ("unseen", "partly", "short")
"""Why a hidden line is easily missed: the pictorial shows nothing of it; it goes on where a visible line ceases; it is short."""


@dataclass(frozen=True, slots=True)
class Doubled:
    """A size that stands on one view and shows on ``others`` too."""

    text: str
    view: str
    others: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Likely:
    """``missed``: hidden lines that are easily missed, by view and reason, their numbers; ``joins``: by view, where smooth joins
    show, polylines (k, 2) in the view's own axes; ``doubled``: sizes that invite to be given twice; ``other_side``: the view from
    the side that is not asked for, None if both are asked for, or look alike; ``alike``: whether the two sides look alike."""

    missed: Mapping[str, Mapping[str, tuple[int, ...]]]
    joins: Mapping[str, tuple[Array, ...]]
    doubled: tuple[Doubled, ...]
    other_side: str | None
    alike: bool


def likely_errors(
    problem: Problem, settings: Settings, drawing: Drawing, pictorial: View, lines: Mapping[str, Sequence[Numbered]]
) -> Likely:
    """What is likely to go wrong on the answer that ``drawing`` is of; ``pictorial``: that of its question; ``lines``: of the
    views, by name."""
    missed, joins = {}, {}
    for placed in drawing.views:
        view = placed.view
        if found := _missed(view, pictorial, of_sort(lines[view.name], "hidden"), placed.scale):
            missed[view.name] = found
        if smooth := smooth_joins(view, placed.scale):
            joins[view.name] = smooth
    other = {"left": "right", "right": "left"}.get(settings.side)
    alike = same_linework(problem.view("left"), problem.view("right"))
    return Likely(missed, joins, tuple(_doubled(drawing)), None if alike else other, alike)


def _missed(view: View, pictorial: View, hidden: Sequence[Numbered], scale: float) -> dict[str, tuple[int, ...]]:
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
    solid, these, those = view.solid, view.stretches, pictorial.stretches
    seen_edges = set(those.edge[those.seen].tolist())
    seen_surfaces = set(solid.edges.pair[those.edge[those.seen]].ravel().tolist())
    edge = these.edge[~these.seen]
    share = ((these.start + these.stop) / 2)[~these.seen, None]
    p, q = view.flat[solid.edges.ends[edge]].transpose(1, 0, 2)
    middles = shapely.points(p + share * (q - p))
    found = []
    for shape in shapes:
        mine = edge[shapely.distance(shapely.LineString(shape.points()), middles) < ON_LINE].tolist()
        shows = (k in seen_edges if solid.edges.sharp[k] else not seen_surfaces.isdisjoint(solid.edges.pair[k].tolist())
                 for k in mine)
        found.append(not any(shows))
    return found


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


def same_linework(one: View, other: View) -> bool:
    """Whether two views show the same visible and the same hidden lines."""
    return all(
        shapely.hausdorff_distance(_united(one, kind), _united(other, kind)) < SAME_LINEWORK
        for kind in (LineKind.VISIBLE, LineKind.HIDDEN) if lines_of(one, kind) or lines_of(other, kind))


def _united(view: View, kind: LineKind) -> shapely.Geometry:
    """The lines of a kind, or a point far away where there are none."""
    lines = [shape.points() for shape in lines_of(view, kind)]
    return shapely.multilinestrings([shapely.LineString(points) for points in lines]) if lines else shapely.Point(-1e6, -1e6)


def _doubled(drawing: Drawing) -> list[Doubled]:
    """The lengths whose two ends other views show too, seen edges or the centres of circles, in the order of their views."""
    placed = zip(drawing.items, drawing.chosen, strict=False)
    spans = [(item, placement.view) for item, placement in placed if item.kind == "span"]
    ends = {(end.surfaces, axis): end for item, _ in spans if (axis := item.main.axis) is not None for end in item.main.ends}
    extents = extents_of(drawing.views[0].view.solid, ends)
    plain = [{key for key, shown in ends_shown(view, ends, extents, WEIGHTS).items() if not shown.cost} for view in drawing.views]
    found = []
    for item, home in spans:
        both = {(end.surfaces, item.main.axis) for end in item.main.ends}
        others = tuple(view.view.name for k, view in enumerate(drawing.views) if k != home and both <= plain[k])
        if others:
            found.append((home, Doubled(size_text(item), drawing.views[home].view.name, others)))
    return [doubled for _, doubled in sorted(found, key=lambda each: each[0])]


def size_text(item: Item) -> str:
    """A size in one line.

    >>> from types import SimpleNamespace
    >>> size_text(SimpleNamespace(lines=("Ø12", "C'BORE Ø20")))
    "Ø12 C'BORE Ø20"
    """
    return " ".join(item.lines)


def sizes_on(view: int, drawing: Drawing) -> list[str]:
    """The sizes that stand on the view of a number."""
    return [size_text(item) for item, placement in zip(drawing.items, drawing.chosen, strict=False) if placement.view == view]
