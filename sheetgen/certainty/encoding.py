"""From the lemma to clauses: which cells make a part, what a given view says of them, what an asked view shows.

For each column of a given view a running OR tells, cell by cell, whether anything is filled from the eye to there; so two
columns begin at one depth if these agree, and hold the same if the cells agree.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.certainty.clauses import Clauses
from sheetgen.certainty.sights import Pairs, State, numbered
from sheetgen.geometry import IntArray, Mask


def cells_make_a_part(clauses: Clauses, shape: tuple[int, ...]) -> None:
    """Material nowhere touches other material in an edge or a corner alone."""
    grid = numbered(shape)[1:-1, 1:-1, 1:-1]
    for axis in range(3):
        side = np.moveaxis(grid, axis, 0)
        a, b, c, d = (side[:, i:side.shape[1] - 1 + i, j:side.shape[2] - 1 + j] for i in (0, 1) for j in (0, 1))
        clauses.each(-a, -d, b, c)
        clauses.each(-b, -c, a, d)
    window = [grid[i:grid.shape[0] - 1 + i, j:grid.shape[1] - 1 + j, k:grid.shape[2] - 1 + k]
              for i in (0, 1) for j in (0, 1) for k in (0, 1)]
    for one in range(4):                                                 # corners 0 and 7, 1 and 6 … lie across from each other
        clauses.each(*(-cell if k in (one, 7 - one) else cell for k, cell in enumerate(window)))


def cells_agree(clauses: Clauses, mirrored: Sequence[IntArray]) -> None:
    """Each cell is as its mirror image; ``mirrored``: of each plane of symmetry the numbers (n,) of the cells' images."""
    for images in mirrored:
        own = np.arange(1, len(images) + 1)
        pairs = own < images
        agree(clauses, own[pairs], images[pairs])


class _Columns:
    """The columns of a view as variables: cells, and the running OR from the eye on."""

    def __init__(self, clauses: Clauses, sight: Pairs) -> None:
        both = np.concatenate([sight.one, sight.other])
        columns, place = np.unique(both, axis=0, return_inverse=True)
        cells = np.where(columns == 0, clauses.false, columns)
        behind = cells.copy()
        real = np.flatnonzero(columns.any(axis=1))
        behind[real, 1:] = clauses.new(len(real), columns.shape[1] - 1)
        before, here, cell = behind[real, :-1], behind[real, 1:], cells[real, 1:]
        clauses.each(-before, here)
        clauses.each(-cell, here)
        clauses.each(-here, before, cell)
        self.one, self.other = cells[place.ravel()].reshape(2, -1, columns.shape[1])
        self.begun, self.other_begun = behind[place.ravel()].reshape(2, -1, columns.shape[1])


def agree(clauses: Clauses, one: IntArray, other: IntArray) -> None:
    """Variables at the same places are equal."""
    clauses.each(-one, other)
    clauses.each(one, -other)


def somewhere_apart(clauses: Clauses, one: IntArray, other: IntArray) -> None:
    """In each row (n, k) two variables at one place differ."""
    apart = clauses.new(*one.shape)
    clauses.each(-apart, one, other)
    clauses.each(-apart, -one, -other)
    clauses.any_of(apart)


def view_is_given(clauses: Clauses, sight: Pairs, states: IntArray) -> None:
    """The view shows ``states`` (p,) between its columns."""
    columns = _Columns(clauses, sight)
    none, visible, hidden = (np.flatnonzero(states == state) for state in State)
    agree(clauses, columns.one[none], columns.other[none])
    somewhere_apart(clauses, columns.begun[visible], columns.other_begun[visible])
    agree(clauses, columns.begun[hidden], columns.other_begun[hidden])
    somewhere_apart(clauses, columns.one[hidden], columns.other[hidden])


@dataclass(frozen=True, eq=False)
class Shown:
    """Variables that tell what a view shows between its columns: ``same`` (p,) the same cells, ``level`` (p,) the same depth."""

    same: IntArray
    level: IntArray

    def not_as(self, states: IntArray) -> list[int]:
        """One clause: somewhere the view does not show ``states`` (p,)."""
        denied = {State.NONE: (-self.same,), State.VISIBLE: (self.level,), State.HIDDEN: (-self.level, self.same)}
        return [int(literal) for state, parts in denied.items() for part in parts for literal in part[states == state]]


def columns_are_shown(clauses: Clauses, sight: Pairs) -> Shown:
    """Tell by variables what the view shows, whatever that is."""
    columns = _Columns(clauses, sight)
    return Shown(_all_agree(clauses, columns.one, columns.other), _all_agree(clauses, columns.begun, columns.other_begun))


def _all_agree(clauses: Clauses, one: IntArray, other: IntArray) -> IntArray:
    """For each row (n, k) a variable (n,) that is true if the variables at all its places are equal."""
    apart, agreed = clauses.new(*one.shape), clauses.new(len(one))
    clauses.each(-apart, one, other)
    clauses.each(-apart, -one, -other)
    clauses.each(apart, -one, other)
    clauses.each(apart, one, -other)
    clauses.each(-apart, -agreed[:, None])
    clauses.any_of(apart, agreed)
    return agreed


def neighbours(shape: tuple[int, ...]) -> IntArray:
    """Pairs of cells (m, 2) that share a side."""
    grid = numbered(shape)[1:-1, 1:-1, 1:-1]
    pairs = []
    for axis in range(3):
        side = np.moveaxis(grid, axis, 0)
        pairs.append(np.stack([side[:-1].ravel(), side[1:].ravel()], axis=1))
    return np.concatenate(pairs)


def pieces(count: int, pairs: IntArray, filled: Mask) -> IntArray:
    """For each of the cells ``filled`` (n,) the least number of a cell of its piece, counted from 0; -1 for empty ones."""
    one, other = pairs.T - 1
    joined = filled[one] & filled[other]
    one, other = one[joined], other[joined]
    label = np.arange(count)
    while True:
        least = label.copy()
        np.minimum.at(least, one, label[other])
        np.minimum.at(least, other, label[one])
        least = least[least]
        if (least == label).all():
            return np.where(filled, label, -1)
        label = least
