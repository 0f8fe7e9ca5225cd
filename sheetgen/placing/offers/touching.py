"""Dimension lines within a recess of a view: an arrow, or both, touches the part's own edge. Sheet millimetres.

A slot's floor, a pocket's end or a step is measured where it lies: from outside, an extension line would run right across what
stands before it, and read as an edge.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

import numpy as np

from sheetgen.placing.candidate import SHORT_EXTENSION, Vec
from sheetgen.placing.offers.linear import DimensionLines
from sheetgen.placing.offers.view_ends import SIDES, Key, Shown
from sheetgen.placing.weights import Weights
from sheetgen.sight import PlacedView

DEEP = 6.0               # mm within the view: an end less deep has a short extension line to the outside
LEAST_SPAN = 3.0         # mm: two arrows that point at each other from outside must not touch
FROM_END = 4.9           # mm that an arrow keeps from the ends of the edge it touches; no whole number, as lengths of parts are
PLACES = (9.0, 6.0, 13.0)
"""mm from the ends of an edge at which a dimension line is tried, besides its middle."""


class Measured(NamedTuple):
    """A length that may be measured within a view: its ``item``, what it ``cost`` there, the ``axis`` of the part, the number of
    the ``view``, and its two ``ends``."""

    item: int
    cost: float
    axis: int
    view: int
    ends: tuple[Key, Key]


class _Touched(NamedTuple):
    """How a dimension line within the view meets an end: ``at``, its place along the way measured; the seen ``edges`` there, from
    where to where on the other way; the ``corners`` from which an extension line can start."""

    at: float
    edges: tuple[tuple[float, float], ...]
    corners: tuple[float, ...]


class _Row(NamedTuple):
    """A dimension line, as a row of ``DimensionLines``: ``starts`` and ``ends`` from the lesser to the greater."""

    item: int
    cost: float
    axis: int
    view: int
    starts: tuple[Vec, Vec]
    ends: tuple[Vec, Vec]
    outward: Vec


def touching_lines(
    views: Sequence[PlacedView], lengths: Sequence[Measured], shown: Sequence[Mapping[Key, Shown]], weights: Weights
) -> DimensionLines:
    """The dimension lines that touch their views' own edges; ``shown``: the ends in each view."""
    met: dict[tuple[int, Key], _Touched] = {}
    rows = list[_Row]()
    for length in lengths:
        view, ends = views[length.view], [shown[length.view][key] for key in length.ends]
        if not all(end.edge and end.seen for end in ends) or not _deep(view, ends):
            continue
        for key, end in zip(length.ends, ends, strict=True):
            if (length.view, key) not in met:
                met[length.view, key] = _touched(view, end)
        rows += _rows(length, ends[0].way, [met[length.view, key] for key in length.ends], weights)
    return _table(rows)


def _deep(view: PlacedView, ends: Sequence[Shown]) -> bool:
    """Whether an end lies deep within the view, to whichever side extension lines run out."""
    way = ends[0].way
    return all(
        max(abs(view.box[3 - way if side > 0 else 1 - way] - end.starts[k][1 - way]) for end in ends) > DEEP
        for k, side in enumerate(SIDES))


def _touched(view: PlacedView, end: Shown) -> _Touched:
    edges, places = view.edges_at(end.points, end.way), end.points[:, 1 - end.way].tolist()
    corners = {round(place, 6) for place in (*places, *(end for edge in edges for end in edge))}
    return _Touched(float(end.points[0, end.way]), tuple(edges), tuple(sorted(corners)))


def _rows(length: Measured, way: int, ends: Sequence[_Touched], weights: Weights) -> Iterator[_Row]:
    """The dimension lines of one length in one view."""
    one, other = sorted(ends)
    if other.at - one.at < LEAST_SPAN:
        return
    for level, dear in _levels_tried(ends, weights).items():
        for side in SIDES:
            starts = [_start(end, level, side) for end in (one, other)]
            if None in starts or level not in starts or (starts == [level, level] and side < 0):
                continue
            run = sum(abs(level - start) for start in starts if start is not None)
            yield _Row(
                length.item, length.cost + weights.touching + dear + weights.view_reach * run, length.axis, length.view,
                (_point(way, one.at, starts[0]), _point(way, other.at, starts[1])),
                (_point(way, one.at, level), _point(way, other.at, level)), _point(way, 0.0, float(side)))


def _levels_tried(ends: Sequence[_Touched], weights: Weights) -> dict[float, float]:
    """Where dimension lines may touch an edge of either end, and the cost of not standing where it is best."""
    tried: dict[float, float] = {}
    for low, high in (edge for end in ends for edge in end.edges):
        tried.setdefault(round((low + high) / 2, 3), weights.touching_aside)
        for k, away in enumerate(PLACES):
            for level in (low + away, high - away):
                tried.setdefault(round(level, 3), weights.touching_aside * (k > 0))
    return tried


def _start(end: _Touched, level: float, side: int) -> float | None:
    """Where the extension line to a dimension line at a ``level`` starts, drawn out to one side: at the level itself, if that
    touches an edge; None if there is nothing to start from."""
    if any(low + FROM_END < level < high - FROM_END for low, high in end.edges):
        return level
    behind = [corner for corner in end.corners if side * (level - corner) > SHORT_EXTENSION]
    return max(behind, key=lambda corner: side * corner, default=None)


def _point(way: int, at: float, level: float | None) -> Vec:
    assert level is not None
    return (at, level) if way == 0 else (level, at)


def _table(rows: Sequence[_Row]) -> DimensionLines:
    columns = list(zip(*rows, strict=True)) or [()] * len(_Row._fields)
    item, axis, view = (np.array(columns[k], dtype=np.int64) for k in (0, 2, 3))
    cost, starts, ends, outward = (np.array(columns[k], dtype=float) for k in (1, 4, 5, 6))
    return DimensionLines(
        item, cost, ends.reshape(-1, 2, 2), starts.reshape(-1, 2, 2), outward.reshape(-1, 2), np.full(len(rows), -1), axis, view,
        np.full((len(rows), 2, 3), np.nan), np.zeros((len(rows), 2)))
