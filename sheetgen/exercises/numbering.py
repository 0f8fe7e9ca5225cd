"""The lines of a view by their sorts, numbered as scheme and picture number them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sheetgen.projection import LineKind, Shape, Straight
from sheetgen.sight import PlacedView
from sheetgen.templating.marking import SORTS

PLACE_DIGITS = 3
"""Of a millimetre by which lines are put in order: what differs less stands at one level."""


@dataclass(frozen=True, slots=True)
class Numbered:
    """A line of a view, its sort and its number in the view, from 1."""

    number: int
    sort: str
    shape: Shape


def numbered(view: PlacedView) -> tuple[Numbered, ...]:
    """The lines of a view on its sheet: outlines, curves, hidden lines, centre lines, each sort from left to right and, at
    one level, from the top down."""
    by_sort: dict[str, list[Shape]] = {sort: [] for sort in SORTS}
    for shape in view.lines(LineKind.VISIBLE):
        by_sort["outlines" if isinstance(shape, Straight) else "curves"].append(shape)
    by_sort["hidden"] += view.lines(LineKind.HIDDEN)
    by_sort["centre"] += view.lines(LineKind.CENTRE)
    lines = [(sort, shape) for sort, shapes in by_sort.items() for shape in sorted(shapes, key=_place)]
    return tuple(Numbered(number, sort, shape) for number, (sort, shape) in enumerate(lines, 1))


def of_sort(lines: Sequence[Numbered], sort: str) -> tuple[Numbered, ...]:
    """Those of one sort."""
    return tuple(line for line in lines if line.sort == sort)


def _place(shape: Shape) -> tuple[float, float]:
    points = shape.points()
    u, v = ((points.min(axis=0) + points.max(axis=0)) / 2).tolist()
    return round(u, PLACE_DIGITS), -round(v, PLACE_DIGITS)
