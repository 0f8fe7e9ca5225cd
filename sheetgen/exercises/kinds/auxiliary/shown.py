"""What an auxiliary view shows: the whole part seen square to an inclined face, or that face alone in its true shape. In the
view's own axes, mm: u along the face's edge, v away from the reader of the view in which the face stands edge-on.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields
from functools import cached_property

import numpy as np
import shapely

from sheetgen.exercises.kinds.auxiliary.face import InclinedFace
from sheetgen.geometry import Array
from sheetgen.problem import Problem
from sheetgen.projection import (
    HALF_ROUND,
    OVERSHOOT,
    Arc,
    Frame,
    Linework,
    Outline,
    Shape,
    Straight,
    View,
    auxiliary_frame,
    clear_centres,
    outlines_of,
    view_in,
)
from sheetgen.units import PARALLEL, SAME_LEVEL, SAME_POINT

HOLLOW = 1e-3
"""Of its area: by less a face's outline falls in by the facets of its curves alone."""


@dataclass(frozen=True, eq=False)
class TrueShape(View):
    """A face alone, as a partial view: its ``outlines``, and centre lines of what lies in it; ``traced``: levels v at which a
    plane of symmetry cuts it; ``level``: of its plane, mm from the part's origin along its normal."""

    outlines: tuple[Outline, ...]
    traced: tuple[float, ...]
    level: float

    @cached_property
    def corners(self) -> Array:
        """Where its lines begin and cease, and where curves reach farthest along u and v (n, 2)."""
        return points_of(self.visible_lines)

    def in_part(self, points: Array) -> Array:
        """Points (n, 2) of it in the part (n, 3)."""
        return np.asarray(points @ self.frame.axes + self.level * self.frame.toward)

    @property
    def opened(self) -> bool:
        """Whether it has holes, or notches and slots that open at its edge."""
        rims = [shapely.Polygon(np.concatenate([piece.points() for piece in outline.pieces])) for outline in self.outlines]
        return len(rims) > 1 or rims[0].convex_hull.area > rims[0].area * (1 + HOLLOW)

    @property
    def area(self) -> float:
        """mm2 of the face, with its true arcs."""
        return sum(outline.area for outline in self.outlines)

    def centre_lines_at(self, scale: float) -> tuple[Straight, ...]:
        """Crossed where the outline goes round a centre, and the trace of a plane of symmetry."""
        over, (low, high) = OVERSHOOT / scale, self.extent
        lines = [(np.array([low[0] - over, v]), np.array([high[0] + over, v])) for v in self.traced]
        for shape in self.visible_lines:
            if isinstance(shape, Arc) and shape.stop - shape.start >= HALF_ROUND:
                lines += _crossed(shape, over)
        return clear_centres(lines, self.linework, scale)


def points_of(lines: Sequence[Shape]) -> Array:
    """Where lines begin and cease, and where curves reach farthest along u and v (n, 2): what is carried over. A closed curve
    begins nowhere."""
    found = list[Array]()
    for points in (shape.points() for shape in lines):
        if float(np.hypot(*(points[0] - points[-1]))) > SAME_POINT:
            found.append(points[[0, -1]])
        found.append(points[[*points.argmin(axis=0), *points.argmax(axis=0)]])
    return np.concatenate(found)


def whole_view(problem: Problem, face: InclinedFace, home: Frame) -> View:
    """The part seen square to a ``face`` that stands edge-on in the view of ``home``."""
    return view_in(problem.solid, auxiliary_frame(home, face.normal), problem.symmetry)


def true_shape(problem: Problem, face: InclinedFace, view: View) -> TrueShape:
    """The ``face`` alone, of the ``view`` of the whole part square to it."""
    frame = view.frame
    outlines = tuple(Outline(tuple(_joined(outline.pieces))) for outline in outlines_of(problem.solid, frame, face.facets))
    lines = Linework(tuple(piece for outline in outlines for piece in outline.pieces), ())
    own = {each.name: getattr(view, each.name) for each in fields(View)}
    own["linework"] = lines
    level = float(problem.solid.vertices[problem.solid.triangles[np.flatnonzero(face.facets)[0], 0]] @ face.normal)
    return TrueShape(**own, outlines=outlines, traced=_traced(problem, face, frame, lines.visible), level=level)


def _traced(problem: Problem, face: InclinedFace, frame: Frame, lines: Sequence[Shape]) -> tuple[float, ...]:
    """Where a plane of symmetry cuts a face, if it is seen edge-on."""
    if "xyz"[face.axis] not in problem.symmetry:
        return ()
    level = float(frame.flat(problem.solid.size / 2)[1])
    reach = np.concatenate([line.points()[:, 1] for line in lines])
    return (level,) if reach.min() + SAME_LEVEL < level < reach.max() - SAME_LEVEL else ()


def _crossed(arc: Arc, over: float) -> list[tuple[Array, Array]]:
    """Centre lines along u and v through the centre of an arc, as far as it reaches."""
    points = arc.points() - arc.centre
    low, high = np.minimum(points.min(axis=0), 0.0) - over, np.maximum(points.max(axis=0), 0.0) + over
    return [(arc.centre + low[k] * unit, arc.centre + high[k] * unit) for k, unit in enumerate(np.eye(2))]


def _joined(pieces: Sequence[Shape]) -> Iterator[Shape]:
    """The pieces of a closed outline in turn, straight ones that go on in one line as one: what lies beyond them parts no
    line."""
    turn = next((k for k, piece in enumerate(pieces) if not _goes_on(pieces[k - 1], piece)), 0)
    run: list[Shape] = []
    for piece in (*pieces[turn:], *pieces[:turn]):
        if run and not _goes_on(run[-1], piece):
            yield _one(run)
            run = []
        run.append(piece)
    yield _one(run)


def _one(run: Sequence[Shape]) -> Shape:
    return run[0] if len(run) == 1 else Straight(run[0].first, run[-1].last)


def _goes_on(one: Shape, other: Shape) -> bool:
    """Whether two straight lines, one after the other, are one line."""
    if one is other or not (isinstance(one, Straight) and isinstance(other, Straight)):
        return False
    a, b = (one.q - one.p) / one.length, (other.q - other.p) / other.length
    return bool(np.hypot(*(other.p - one.q)) < SAME_POINT and abs(a[0] * b[1] - a[1] * b[0]) < PARALLEL and a @ b > 0)
