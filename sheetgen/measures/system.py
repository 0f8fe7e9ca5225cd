"""The equations of a drawing together: rows of numbers, in blocks that have no unknown in common, and their solution.

The levels along x know nothing of those along y unless a slanting face ties them, so that most drawings fall into a few blocks.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from sheetgen.geometry import Array, IntArray, Mask
from sheetgen.measures.equation import Equation
from sheetgen.measures.unknowns import Unknowns
from sheetgen.units import SAME_SHARE, SETTLED

START_OFF = 1.0
"""mm, and TURN_LENGTH-ths of a radian: how far off the start of the solution is, by turns one way and the other."""

MOST_STEPS = 25
"""Steps of Gauss and Newton's method: five are many from so near."""


@dataclass(frozen=True, eq=False)
class Cluster:
    """Rows and columns of a system that have to do with no others; ``linear``: all its equations are."""

    rows: IntArray
    columns: IntArray
    linear: bool

    def of(self, matrix: Array) -> Array:
        """Its part of the system's matrix."""
        return np.asarray(matrix[self.rows[:, None], self.columns])


@dataclass(frozen=True, eq=False)
class System:
    """``values`` (r,) and ``matrix`` (r, count) of the equations and, last, the ``anchors``, at the true shape."""

    unknowns: Unknowns
    equations: Sequence[Equation]
    values: Array
    matrix: Array
    blocks: tuple[Cluster, ...]

    def solution(self) -> tuple[Array, Array]:
        """The unknowns (count,), found from a start that is off, and the values (r,) that are left."""
        x, unsettled = _start(self.unknowns), self.blocks
        for _ in range(MOST_STEPS):
            values, matrix = self._at(x)
            step = np.zeros(len(x))
            for block in unsettled:
                step[block.columns] = np.linalg.lstsq(block.of(matrix), -values[block.rows], rcond=None)[0]
            x = x + step
            unsettled = tuple(b for b in unsettled if not b.linear and np.abs(step[b.columns]).max() >= SETTLED)
            if not unsettled:
                break
        return x, self._at(x)[0]

    def _at(self, x: Array) -> tuple[Array, Array]:
        """The values (r,) and the matrix (r, count) at ``x`` (count,)."""
        values, matrix = self.values + np.einsum("ij,j->i", self.matrix, x - self.unknowns.true), self.matrix.copy()
        placed = self.unknowns.at(x)
        for i, equation in enumerate(self.equations):
            if not equation.linear:
                values[i], matrix[i] = equation.function(placed)
        return values, matrix


def system_of(unknowns: Unknowns, equations: Sequence[Equation], anchors: Array) -> System:
    """Put equations, and the ``anchors`` (3, count) that hold the part still, together."""
    truth, start = unknowns.at(unknowns.true), unknowns.at(_start(unknowns))
    valued = [equation.function(truth) for equation in equations]
    values = np.array([value for value, _ in valued] + [0.0] * len(anchors))
    matrix = np.array([gradient for _, gradient in valued] + list(anchors))
    linear = np.array([equation.linear for equation in equations] + [True] * len(anchors))
    touched = np.abs(matrix) > SAME_SHARE
    for i in np.flatnonzero(~linear).tolist():                      # elsewhere it may depend on more
        touched[i] |= np.abs(equations[i].function(start)[1]) > SAME_SHARE
    return System(unknowns, equations, values, matrix, _blocks(touched, linear))


def _start(unknowns: Unknowns) -> Array:
    turns = np.arange(unknowns.count)
    return np.asarray(unknowns.true + START_OFF * np.where(turns % 2, 1.0, -1.0) * (1 + 0.1 * (turns % 7)) / 2)


def _blocks(touched: Mask, linear: Mask) -> tuple[Cluster, ...]:
    """``touched`` (r, count): which unknowns each equation has to do with; ``linear`` (r,)."""
    first = list(range(touched.shape[1]))                           # of each unknown's block, the first one known

    def root(column: int) -> int:
        while first[column] != column:
            first[column] = column = first[first[column]]
        return column

    for (row, column), (after, beside) in pairwise(np.argwhere(touched).tolist()):
        if row == after:
            a, b = root(column), root(beside)
            first[max(a, b)] = min(a, b)
    block = np.array([root(column) for column in range(len(first))])
    leading = np.argmax(touched, axis=1)
    mine = np.where(touched[np.arange(len(touched)), leading], block[leading], -1)
    return tuple(Cluster(np.flatnonzero(mine == k), np.flatnonzero(block == k), bool(linear[mine == k].all()))
                 for k in np.flatnonzero(np.bincount(block)).tolist())
