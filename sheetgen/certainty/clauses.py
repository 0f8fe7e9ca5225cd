"""Clauses in arrays: what a solver is asked, made by the hundred. A literal is a variable's number, negative if it is denied."""

from __future__ import annotations

import numpy as np

from sheetgen.geometry import IntArray
from sheetgen.refusals import Reason, RefusedError

MOST_CLAUSES = 400_000
"""Clauses of one question, forty times those of a bank part: they are made and read in a second, and take some 100 MB."""


class Clauses:
    """A heap of clauses that grows. Variables 1 to ``cells`` are cells, True if filled; ``false`` is a variable that is not true,
    which stands for the air."""

    def __init__(self, cells: int) -> None:
        self.cells = cells
        self.false = cells + 1
        self.top = self.false
        self.count = 0
        self._heap: list[list[list[int]]] = []
        self.add(np.array([[-self.false]]))

    def new(self, *shape: int) -> IntArray:
        """Variables that were not there before, in an array of ``shape``."""
        count = int(np.prod(shape))
        self.top += count
        return np.arange(self.top - count + 1, self.top + 1).reshape(shape)

    def add(self, clauses: IntArray) -> None:
        """Add clauses (n, k) of literals. Raises: RefusedError if there are too many by now."""
        self.count += len(clauses)
        if self.count > MOST_CLAUSES:
            raise RefusedError([Reason("it has too many cells for a proof that there is one answer")])
        self._heap.append(clauses.tolist())

    def each(self, *literals: IntArray) -> None:
        """Add clauses whose literals stand at the same place of arrays of one shape."""
        self.add(np.stack(np.broadcast_arrays(*literals), axis=-1).reshape(-1, len(literals)))

    def any_of(self, rows: IntArray, *more: IntArray) -> None:
        """Add one clause for each row of literals (n, k), with ``more`` (n,) in it."""
        self.add(np.concatenate([rows, *(extra[:, None] for extra in more)], axis=1))

    def all_lists(self) -> list[list[int]]:
        """All clauses, in the order in which they were added."""
        return [clause for some in self._heap for clause in some]
