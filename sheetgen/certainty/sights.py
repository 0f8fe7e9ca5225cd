"""The lemma: what a view shows between two neighbouring columns of cells. Cells have numbers from 1; 0 is the air outside.

Look along one axis, and compare two columns of cells that lie side by side:

- no line between them: they hold the same cells;
- a visible line: the first filled cell, from the eye on, lies at different depths (of an empty column: infinitely deep);
- a hidden line: it lies at the same depth, but they do not hold the same cells.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

import numpy as np

from sheetgen.geometry import IntArray, Mask
from sheetgen.projection import PRINCIPAL


class State(IntEnum):
    """What a view shows between two columns."""

    NONE = 0
    VISIBLE = 1
    HIDDEN = 2


@dataclass(frozen=True, eq=False)
class Pairs:
    """Along one axis: neighbouring columns of cells, ``one`` and ``other`` (p, depth), from the eye on."""

    one: IntArray
    other: IntArray


@dataclass(frozen=True, eq=False)
class Sight(Pairs):
    """All neighbours in one view of a grid.

    ``line`` (p,): the straight line of the view on which the piece between them lies; pieces with one number follow one another
    in their order. ``axis``: 0, 1, 2, along which a line's level is counted; ``at`` (p, 2): numbers of that level, and of the
    level along the view's other axis at which the piece begins.
    """

    view: str
    line: IntArray
    axis: IntArray
    at: IntArray


def numbered(shape: tuple[int, ...]) -> IntArray:
    """The numbers of the cells of a grid, with the air round it: (nx + 2, ny + 2, nz + 2)."""
    return np.pad(np.arange(1, np.prod(shape) + 1).reshape(shape), 1)


def looks_along(view: str) -> tuple[int, bool]:
    """The axis (0, 1, 2) of a view's sight, and whether the eye is at its high end. Raises: ValueError for no principal view."""
    if view not in PRINCIPAL:
        raise ValueError(f"no view called {view!r}; there are {', '.join(PRINCIPAL)}")
    toward = np.cross(*PRINCIPAL[view])
    axis = int(np.argmax(np.abs(toward)))
    return axis, bool(toward[axis] > 0)


def sight_of(view: str, shape: tuple[int, ...]) -> Sight:
    """What neighbours what in a view of a grid of ``shape``."""
    axis, from_high = looks_along(view)
    columns = np.moveaxis(numbered(shape), axis, -1)[..., 1:-1]
    if from_high:
        columns = columns[..., ::-1]
    depth = columns.shape[-1]
    across = [a for a in range(3) if a != axis]
    one, other, line, level_axis, at = [], [], [], [], []
    before = 0
    for turn in (0, 1):                                    # lines at the levels of the first axis, then of the second
        side = np.swapaxes(columns, 0, turn)[:, 1:-1]
        count = side.shape[0] - 1, side.shape[1]
        one.append(side[:-1].reshape(-1, depth))
        other.append(side[1:].reshape(-1, depth))
        number, piece = (grid.ravel() for grid in np.meshgrid(*map(np.arange, count), indexing="ij"))
        line.append(number + before)
        level_axis.append(np.full(len(number), across[turn]))
        at.append(np.stack([number, piece], axis=1))
        before += count[0]
    joined = [np.concatenate(parts) for parts in (one, other, line, level_axis, at)]
    return Sight(joined[0], joined[1], view, *joined[2:])


def states_of(sight: Pairs, filled: Mask) -> IntArray:
    """What a view shows between its columns, State numbers (..., p), if cells are ``filled`` (..., n), in the order of theirs."""
    cells = np.concatenate([np.zeros((*filled.shape[:-1], 1), dtype=bool), filled], axis=-1)
    one, other = cells[..., sight.one], cells[..., sight.other]
    differ = (one != other).any(axis=-1)
    deeper = (np.logical_or.accumulate(one, axis=-1) != np.logical_or.accumulate(other, axis=-1)).any(axis=-1)
    return np.where(deeper, State.VISIBLE, np.where(differ, State.HIDDEN, State.NONE))
