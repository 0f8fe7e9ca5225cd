"""A plan: the view in which all walls of a part stand edge-on, divided by its lines into faces, strip by strip.

Strips lie between the places at which a line begins, ends, turns back or meets another; within one, lines run on above each
other and do not meet. So a strip is a stack of *fields*, and fields that open on one another are one face. Face 0 is the air.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from sheetgen.certainty.curves import Point, Run, Upright, runs_of
from sheetgen.geometry import Array
from sheetgen.projection import Shape
from sheetgen.refusals import Reason, RefusedError
from sheetgen.units import NO_WIDTH, TANGENT


@dataclass(frozen=True, slots=True)
class Gap:
    """Between two meeting points on the line between two strips, from ``low`` to ``high``: the faces on its two sides, and
    whether a line of the plan stands there."""

    left: int
    right: int
    walled: bool
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Meeting:
    """A point on the line between two strips at which lines meet.

    ``left``, ``right``: the faces that reach it on each side, from below upwards; ``smooth``: pairs (i, j) of a line on the left
    and one on the right, counted from 0 from below, of which each goes on smoothly as the other. ``walls``: whether an upright
    line stands below it, and above.
    """

    left: tuple[int, ...]
    right: tuple[int, ...]
    smooth: frozenset[tuple[int, int]]
    walls: tuple[bool, bool]


@dataclass(frozen=True, eq=False)
class Plan:
    """``places``: where strips begin and end, rising; ``runs``: of each strip the lines over it, from below upwards; ``faces``:
    of each strip the faces, one more. ``seams``: at each place, gaps and meetings by turns from below upwards, a gap first and
    last. ``samples``: by face a point well within it."""

    places: tuple[float, ...]
    runs: tuple[tuple[Run, ...], ...]
    faces: tuple[tuple[int, ...], ...]
    seams: tuple[tuple[Gap | Meeting, ...], ...]
    samples: dict[int, Point]

    def face_at(self, x: float, y: float) -> int:
        """The face in which a point lies."""
        strip = bisect_right(self.places, x) - 1
        if not 0 <= strip < len(self.runs):
            return 0
        return self.faces[strip][sum(run.height(x) < y for run in self.runs[strip])]


def plan_of(shapes: Sequence[Shape], corners: Array, *, turned: bool = False, like: Plan | None = None) -> Plan:
    """Divide the plan that ``shapes`` are drawn in; ``corners`` (n, 2): the part's own. ``turned``: its strips run across; then
    its faces are those of ``like``.

    Raises: RefusedError where lines are too near to one another, or end within a face.
    """
    runs, uprights = runs_of(shapes, corners, turned=turned)
    ends = [x for run in runs for x in (run.low, run.high)] + [line.x for line in uprights]
    meets = [x for k, run in enumerate(runs) for other in runs[:k] for x in run.crossings(other)]
    places = _apart(sorted([*ends, *meets]))
    over = tuple(_over(runs, low, high) for low, high in pairwise(places))
    first = [0]
    for some in over:
        first.append(first[-1] + len(some) + 1)
    drafts = [_Seam(over[k - 1] if k else (), over[k] if k < len(over) else (), place, uprights)
              for k, place in enumerate(places)]
    owner = list(range(first[-1]))                                        # by field; the air is field 0 and all that open on it
    for k, draft in enumerate(drafts):
        for left, right, walled, *_ in draft.gaps:
            if not walled:
                _join(owner, first[k - 1] + left if k else 0, first[k] + right if k < len(over) else 0)
    roots = [_root(owner, field) for field in range(first[-1])]
    samples = _samples(places, over, first, roots)
    named = _named(roots, samples, like)
    faces = tuple(tuple(named[roots[first[k] + j]] for j in range(len(some) + 1)) for k, some in enumerate(over))
    seams = tuple(draft.seam(faces[k - 1] if k else (0,), faces[k] if k < len(over) else (0,)) for k, draft in enumerate(drafts))
    return Plan(tuple(places), over, faces, seams, {named[root]: point for root, point in samples.items() if named[root]})


def _apart(rising: list[float]) -> list[float]:
    found: list[float] = []
    for x in rising:
        if not found or x - found[-1] > NO_WIDTH:
            found.append(x)
    return found


def _over(runs: Sequence[Run], low: float, high: float) -> tuple[Run, ...]:
    """The lines over a strip, from below upwards."""
    middle = (low + high) / 2
    mine = sorted((run for run in runs if run.low < low + NO_WIDTH and run.high > high - NO_WIDTH),
                  key=lambda run: run.height(middle))
    if any(b.height(middle) - a.height(middle) < NO_WIDTH for a, b in pairwise(mine)):
        raise RefusedError([Reason("lines of its plan are too near to one another for a proof")])
    return tuple(mine)


def _root(owner: list[int], field: int) -> int:
    while owner[field] != field:
        owner[field] = owner[owner[field]]
        field = owner[field]
    return field


def _join(owner: list[int], one: int, other: int) -> None:
    one, other = sorted((_root(owner, one), _root(owner, other)))
    owner[other] = one


def _samples(
    places: Sequence[float], over: Sequence[tuple[Run, ...]], first: Sequence[int], roots: Sequence[int]
) -> dict[int, Point]:
    """By root: the middle of the field of it that is widest where it is least wide."""
    best: dict[int, tuple[float, Point]] = {}
    for k, ((low, high), some) in enumerate(zip(pairwise(places), over, strict=True)):
        x = (low + high) / 2
        for j, (below, above) in enumerate(pairwise(some), start=1):
            size = min(high - low, above.height(x) - below.height(x))
            point = x, (above.height(x) + below.height(x)) / 2
            root = roots[first[k] + j]
            if root not in best or size > best[root][0]:
                best[root] = size, point
    return {root: point for root, (_, point) in best.items()}


def _named(roots: Sequence[int], samples: dict[int, Point], like: Plan | None) -> dict[int, int]:
    """Faces by root: numbered from 1 in the order of their fields, or as in the other plan."""
    inner = [root for root in dict.fromkeys(roots) if root != 0]
    if like is None:
        return {0: 0, **{root: k for k, root in enumerate(inner, start=1)}}
    named = {root: like.face_at(samples[root][1], samples[root][0]) for root in inner}
    if sorted(named.values()) != sorted(like.samples):
        raise RefusedError([Reason("lines of its plan are too near to one another for a proof")])
    return {0: 0, **named}


class _Seam:
    """What meets at the line between two strips, in fields counted from below in each."""

    def __init__(self, left: tuple[Run, ...], right: tuple[Run, ...], place: float, uprights: Sequence[Upright]) -> None:
        self.left, self.right, self.place = left, right, place
        self._walls = [line for line in uprights if abs(line.x - place) <= NO_WIDTH]
        ends = [y for line in self._walls for y in (line.low, line.high)]
        heights = sorted([*(run.height(place) for run in (*left, *right)), *ends])
        self.points = [heights[0]] if heights else []
        for height in heights[1:]:
            if height - self.points[-1] > NO_WIDTH:
                self.points.append(height)
        self._at = [[self._point(run.height(place)) for run in some] for some in (left, right)]
        self.gaps = [self._gap(k) for k in range(len(self.points) + 1)]

    def _point(self, height: float) -> int:
        return min(range(len(self.points)), key=lambda k: abs(self.points[k] - height))

    def _gap(self, k: int) -> tuple[int, int, bool, float, float]:
        """Below the point k: the fields on its two sides, whether a wall stands in it, from where to where it goes."""
        left, right = (sum(point < k for point in some) for some in self._at)
        low, high = ([-math.inf, *self.points, math.inf][k + side] for side in (0, 1))
        walled = math.isfinite(high - low) and any(line.low < (low + high) / 2 < line.high for line in self._walls)
        return left, right, walled, low, high

    def seam(self, left: tuple[int, ...], right: tuple[int, ...]) -> tuple[Gap | Meeting, ...]:
        """The same with faces for fields."""
        found: list[Gap | Meeting] = []
        for k, (a, b, walled, low, high) in enumerate(self.gaps):
            found.append(Gap(left[a], right[b], walled, low, high))
            if walled and left[a] == right[b]:
                raise RefusedError([Reason("a line of its plan ends within a face")])
            if k < len(self.points):
                above, other = self.gaps[k + 1][:2]
                smooth = frozenset(
                    (i - a, j - b) for i in range(a, above) for j in range(b, other)
                    if self._goes_on(self.left[i], self.right[j]))
                found.append(Meeting(left[a:above + 1], right[b:other + 1], smooth, (walled, self.gaps[k + 1][2])))
        return tuple(found)

    def _goes_on(self, one: Run, other: Run) -> bool:
        a, b = one.slope(self.place), other.slope(self.place)
        return math.isfinite(a) and math.isfinite(b) and abs(math.atan(a) - math.atan(b)) < TANGENT
