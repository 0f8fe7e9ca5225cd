"""The inclined faces of a part: flat, parallel to one axis and to no other, so that one view shows them edge-on and none in
true shape. Found by geometry, from the part's surfaces."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array, Mask
from sheetgen.geometry.intervals import Interval, joined, longer, minus
from sheetgen.geometry.vectors import crosses, lengths
from sheetgen.problem import Problem
from sheetgen.projection import Straight, View, auxiliary_frame, frame_of, outlines_of
from sheetgen.refusals import Reason, RefusedError, UnsuitedError
from sheetgen.sheet import Settings
from sheetgen.sheet.layout import views_asked
from sheetgen.sight import Sight
from sheetgen.solid import Plane, Solid
from sheetgen.units import EDGE_ON, SAME_CARRIER

TELLS_MORE = 0.2
"""By which share of its area a face is preferred for each line of its outline beyond the four of a rectangle (common
practice, no source); MOST_LINES count at most."""

MOST_LINES = 5

NEARLY_BEST = 0.5
"""Of the best face's worth: faces worth so much are taken in turn, by the seed (common practice, no source)."""

SHOWS = 0.7
"""Of a face's outline, that a pictorial must show (common practice, no source)."""

TURNED = 0.15
"""Cosine by which a face must be turned to the reader of the pictorial: less, and it is a sliver there (common practice, no
source)."""

EDGE_ON_IN = ("left", "front", "top")
"""A view that looks along x, y and z."""

COVERED = 0.02
"""Of the length of a face's edge that may be hidden where it is seen edge-on."""


@dataclass(frozen=True, eq=False)
class InclinedFace:
    """``facets`` (m,): True for those of it; ``normal`` (3,): unit, outward; ``axis``: of the part, 0, 1 or 2, to which it is
    parallel: seen along that it stands edge-on; ``worth``: how well it serves, more is better."""

    facets: Mask
    normal: Array
    axis: int
    worth: float

    def homes(self, problem: Problem, settings: Settings) -> tuple[str, ...]:
        """The views in which it stands edge-on with a visible line all along: of the side views those of the course or, if a part
        of it hides the line there, the other one."""
        sides = tuple(view for view in views_asked(settings.side) if view in ("left", "right"))
        others = tuple(view for view in ("left", "right") if view not in sides)
        for views in {0: (sides, others), 1: (("front",),), 2: (("top",),)}[self.axis]:
            if found := tuple(view for view in views if is_outline(problem.view(view), self)):
                return found
        return ()

    def rim(self, solid: Solid) -> Mask:
        """True (e,) for the edges that bound it."""
        return np.asarray(self.facets[solid.edges.facets].sum(axis=1) == 1)

    def bounds(self, solid: Solid) -> frozenset[int]:
        """The surfaces, by number, that lie on it and about it: what its shape hangs on."""
        return frozenset(solid.edges.pair[self.rim(solid)].ravel().tolist())


def faces_to_ask(problem: Problem, settings: Settings) -> list[InclinedFace]:
    """The faces that may be asked for, that which the seed chooses first.

    Raises: UnsuitedError if the part has no inclined face; RefusedError if none shows.
    """
    every = list(inclined_faces(problem.solid))
    if not every:
        raise UnsuitedError([Reason("the part has no face that is inclined to two views and stands edge-on in the third")])
    found = [face for face in every if sight_of(problem, face) and face.homes(problem, settings)]
    if not found:
        raise RefusedError([Reason("no inclined face shows both in the pictorial and, edge-on, in a view")])
    found.sort(key=lambda face: -round(face.worth, 3))
    near = [face for face in found if face.worth >= NEARLY_BEST * found[0].worth]
    first = problem.identity.seed % len(near)
    return [*near[first:], *near[:first], *found[len(near):]]


def inclined_faces(solid: Solid) -> Iterator[InclinedFace]:
    """All of them, in the order of their surfaces: what of one surface looks one way is one, also in several pieces. One that
    runs smoothly into a round face has no edge there, and is none."""
    smooth = solid.edges.facets[solid.edges.tangent].ravel()
    for number, surface in enumerate(solid.surfaces):
        if not isinstance(surface, Plane) or int((np.abs(surface.normal) < EDGE_ON).sum()) != 1:
            continue
        for sense in (1.0, -1.0):
            normal = np.where(np.abs(surface.normal) < EDGE_ON, 0.0, sense * surface.normal)
            facets = (solid.owner == number) & (solid.normals @ normal > 0)
            if facets.any() and not facets[smooth].any():
                yield InclinedFace(facets, normal, int(np.argmin(np.abs(normal))), _worth(solid, facets, normal))


def sight_of(problem: Problem, face: InclinedFace) -> Sight | None:
    """The best pictorial in which a face shows; None if it shows in none. Raises: RefusedError if the part has no pictorial."""
    return next((sight for sight in problem.pictorials() if float(face.normal @ sight.view.frame.toward) > TURNED
                 and _share_seen(sight.view, face) >= SHOWS), None)


def is_outline(view: View, face: InclinedFace) -> bool:
    """Whether a visible line runs all along a face that stands edge-on in a view."""
    across = view.frame.flat_vectors(face.normal)
    along = np.array([across[1], -across[0]])
    spans = spans_of(view, face)
    level = float(view.flat[view.solid.triangles[face.facets]].reshape(-1, 2)[0] @ across)
    lines = [shape.points() for shape in view.visible_lines
             if isinstance(shape, Straight) and np.abs(shape.points() @ across - level).max() < 10 * SAME_CARRIER]
    seen = joined([(float(low), float(high)) for low, high in (np.sort(line @ along) for line in lines)], SAME_CARRIER)
    bare = longer(minus(spans, seen), SAME_CARRIER)
    return sum(high - low for low, high in bare) < COVERED * sum(high - low for low, high in spans)


def spans_of(view: View, face: InclinedFace) -> list[Interval]:
    """From where to where a face reaches along its edge in the view that shows it edge-on, mm along the right-hand side of its
    outward normal."""
    across = view.frame.flat_vectors(face.normal)
    reach = view.flat[view.solid.triangles[face.facets]] @ np.array([across[1], -across[0]])
    low, high = reach.min(axis=1).tolist(), reach.max(axis=1).tolist()
    return joined(zip(low, high, strict=True), SAME_CARRIER)


def _worth(solid: Solid, facets: Mask, normal: Array) -> float:
    """The area of a face, and more for one with holes, notches and curves."""
    a, b, c = (solid.vertices[solid.triangles[facets][:, k]] for k in range(3))
    area = float(lengths(crosses(b - a, c - a)).sum()) / 2
    frame = auxiliary_frame(frame_of(EDGE_ON_IN[int(np.argmin(np.abs(normal)))], solid.size), normal)
    lines = sum(len(outline.pieces) for outline in outlines_of(solid, frame, facets))
    return area * (1 + TELLS_MORE * min(MOST_LINES, max(0, lines - 4)))


def _share_seen(view: View, face: InclinedFace) -> float:
    """How much of a face's outline a view shows."""
    rim, stretches = face.rim(view.solid), view.stretches
    mine = rim[stretches.edge]
    one, other = view.solid.vertices[view.solid.edges.ends[stretches.edge]].transpose(1, 0, 2)
    length = lengths(other - one) * (stretches.stop - stretches.start)
    whole = float(length[mine].sum())
    return float(length[mine & stretches.seen].sum()) / whole if whole else 0.0
