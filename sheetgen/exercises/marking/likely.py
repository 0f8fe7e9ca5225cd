"""The errors that are likely for this part, from its geometry: what a marker looks for first. View millimetres."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import shapely

from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.missed import easily_missed, smooth_joins
from sheetgen.exercises.numbering import Numbered, of_sort
from sheetgen.geometry import Array
from sheetgen.placing import Item
from sheetgen.placing.offers.view_ends import ends_shown, extents_of
from sheetgen.placing.weights import WEIGHTS
from sheetgen.problem import Problem
from sheetgen.projection import LineKind, View, lines_of
from sheetgen.sheet import Settings

SAME_LINEWORK = 0.02
"""mm in the view: lines of two views that lie no farther apart are the same."""


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
        if found := easily_missed(view, pictorial, of_sort(lines[view.name], "hidden"), placed.scale):
            missed[view.name] = found
        if smooth := smooth_joins(view, placed.scale):
            joins[view.name] = smooth
    other = {"left": "right", "right": "left"}.get(settings.side)
    alike = same_linework(problem.view("left"), problem.view("right"))
    return Likely(missed, joins, tuple(_doubled(drawing)), None if alike else other, alike)


def same_linework(one: View, other: View) -> bool:
    """Whether two views show the same visible and the same hidden lines."""
    return all(
        _covers(lines, others) and _covers(others, lines)
        for kind in (LineKind.VISIBLE, LineKind.HIDDEN) for lines, others in [(_united(one, kind), _united(other, kind))])


def _covers(lines: shapely.Geometry, others: shapely.Geometry) -> bool:
    """Whether all of the ``others`` lies on the ``lines``: of each of their lines all of it, not its ends only."""
    return bool(shapely.is_empty(shapely.difference(others, shapely.buffer(lines, SAME_LINEWORK))))


def _united(view: View, kind: LineKind) -> shapely.Geometry:
    """The lines of a kind in one."""
    return shapely.MultiLineString([shape.points() for shape in lines_of(view, kind)])


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
