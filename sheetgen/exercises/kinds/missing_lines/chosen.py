"""Which lines of three views are left out: some of each sort where there are any, so that one set alone completes them.

Of a part whose inclined and round faces run along one axis, the view along it is left whole: else nothing could be proved. How
many lines are left out follows from how many there are to be read. Lots are drawn by digests of the problem's identity, not by a
random generator that may change. Never left out is the whole outline of a view, nor a line so short that nobody would miss it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256

import shapely

from sheetgen.certainty import Certainty, certainty, views_to_complete
from sheetgen.problem import Problem
from sheetgen.projection import LineKind, Shape
from sheetgen.refusals import Reason, RefusedError, UnsuitedError
from sheetgen.sheet import Settings
from sheetgen.sight import PlacedView
from sheetgen.units import SAME_POINT

KINDS = (LineKind.VISIBLE, LineKind.HIDDEN)
"""The kinds of lines that are left out."""

LINES_TO_ONE, FEWEST, MOST = 6, 2, 6
"""Of so many lines one is left out, but not fewer nor more in all (common practice, no source)."""

LEAST_LENGTH = 4.0
"""mm on paper: nobody misses a shorter line (common practice, no source)."""

OF_OUTLINE, TO_ONE_OUTER = 1, 3
"""Lines of one view's outline that may be left out, and so many lines of all to one of any outline: gaps in outlines are plain to
see (common practice, no source)."""

LOTS = 16
"""Sets of one number of lines that are tried before one line less is left out."""

ON_OUTLINE = 0.05
"""mm in the view: a line so near the outline is of it."""


@dataclass(frozen=True, eq=False)
class Line:
    """A line that may be left out: of the view ``view``, ``kind``, its ``number`` among those of the view, and its ``shape``
    there; ``outer``: it is of the view's outline."""

    view: str
    kind: LineKind
    number: int
    shape: Shape
    outer: bool


@dataclass(frozen=True, eq=False)
class Chosen:
    """The ``lines`` that are left out, in the order of the views; ``found``: the proof that no others complete the views, None
    where the pictorial tells it; ``whole``: the views of which the proof takes it that no line is missing."""

    lines: tuple[Line, ...]
    found: Certainty | None
    whole: tuple[str, ...] = ()

    def of(self, view: str, kind: LineKind | None = None) -> tuple[Line, ...]:
        """Those of a view, of one kind or of all."""
        return tuple(line for line in self.lines if line.view == view and kind in (None, line.kind))

    @cached_property
    def counts(self) -> dict[tuple[str, LineKind], int]:
        """How many of each view and kind, where there are any."""
        return dict(Counter((line.view, line.kind) for line in self.lines))


def choose_lines(problem: Problem, settings: Settings, views: Sequence[PlacedView], side: str) -> Chosen:
    """Lines to be left out of the ``views``. With the pictorial beside, a part of which nothing can be proved will do too.

    Raises: RefusedError if no lines can be left out so that it is certain which.
    """
    names = tuple(view.view.name for view in views)
    able = [line for view in views for line in _lines(view)]
    if not settings.pictorial:
        to_complete = views_to_complete(problem.solid, names)
        able = [line for line in able if line.view in to_complete]
    told = max(FEWEST, min(MOST, round(sum(len(view.lines(kind)) for view in views for kind in KINDS) / LINES_TO_ONE)))
    for count in range(told, FEWEST - 1, -1):
        for some in _lots(problem, able, count):
            try:
                found = certainty(problem.solid, "missing-lines", limit=2, side=side, symmetry=problem.symmetry,
                                  left_out=[(line.view, str(line.kind), line.number) for line in some])
            except RefusedError as refused:
                if settings.pictorial:
                    return Chosen(some, None)
                if isinstance(refused, UnsuitedError):
                    raise
                continue
            if found.certain:
                to_complete = views_to_complete(problem.solid, names)
                return Chosen(some, found, tuple(name for name in names if name not in to_complete))
            if settings.pictorial:
                return Chosen(some, None)
    raise RefusedError([Reason("of no lines that could be left out is it certain which they are")])


def _lines(view: PlacedView) -> Iterator[Line]:
    """The lines of a view whose lack would be seen."""
    facets = view.view.flat[view.view.solid.triangles[view.view.facing > 0]]
    outline = shapely.union_all(shapely.polygons(facets), grid_size=SAME_POINT).boundary.buffer(ON_OUTLINE)
    for kind in KINDS:
        for number, shape in enumerate(view.lines(kind)):
            if shape.length * view.scale >= LEAST_LENGTH:
                outer = kind is LineKind.VISIBLE and bool(outline.covers(shapely.LineString(shape.points())))
                yield Line(view.view.name, kind, number, shape, outer)


def _lots(problem: Problem, able: Sequence[Line], count: int) -> Iterator[tuple[Line, ...]]:
    """Sets of so many lines, each drawn by lot: no more of a view than half of them and one, few of its outline, and both kinds
    if both are there."""
    kinds = {line.kind for line in able}
    for lot in range(LOTS):
        drawn = sorted(able, key=lambda line: sha256(
            f"{problem.identity}/{count}/{lot}/{line.view}/{line.kind}/{line.number}".encode()).digest())
        some, of_view, of_outline = list[Line](), Counter[str](), Counter[str]()
        for line in drawn:
            left = count - len(some)
            lacking = kinds - {other.kind for other in some} - {line.kind}
            if not left or len(lacking) >= left or of_view[line.view] > count // 2 or (
                    line.outer and (of_outline[line.view] >= OF_OUTLINE or of_outline.total() >= max(1, count // TO_ONE_OUTER))):
                continue
            some.append(line)
            of_view[line.view] += 1
            of_outline[line.view] += line.outer
        if len(some) == count:
            order = {line: k for k, line in enumerate(able)}
            yield tuple(sorted(some, key=order.__getitem__))
