"""All answers that fit, found one by one: a solver, cuts that keep the part in one piece, and an order that hangs on nothing."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from pysat.solvers import Glucose4

from sheetgen.certainty.clauses import Clauses
from sheetgen.certainty.encoding import pieces
from sheetgen.geometry import IntArray, Mask
from sheetgen.refusals import Reason, RefusedError

MOST_CONFLICTS = 200_000
"""Conflicts of one question, a thousand times those of a bank part: some ten seconds, counted so that the same question is
refused on every machine."""


class Search:
    """Parts that fit the clauses. ``pairs`` (m, 2): cells that share a side; ``part`` (n,): the part that was drawn.

    Use it as a context: the solver's memory is not Python's.
    """

    def __init__(self, clauses: Clauses, pairs: IntArray, part: Mask) -> None:
        self.pairs, self.part = pairs, part
        self.cuts = 0
        self._cells = clauses.cells
        self._solver = Glucose4(bootstrap_with=clauses.all_lists())

    def __enter__(self) -> Search:
        return self

    def __exit__(self, *_: object) -> None:
        self._solver.delete()

    def require(self, clause: Sequence[int]) -> None:
        """From now on the clause holds."""
        self._solver.add_clause(list(clause))

    def some(self, assumed: Sequence[int] = ()) -> Mask | None:
        """Any part (n,) in one piece for which the literals ``assumed`` hold; None if there is none.

        Raises: RefusedError if that takes too many conflicts.
        """
        while True:
            left = MOST_CONFLICTS - self._solver.accum_stats()["conflicts"]
            self._solver.conf_budget(max(left, 0))                       # below 0 would be no limit at all
            found = self._solver.solve_limited(list(assumed)) if left > 0 else None
            if found is None:
                raise RefusedError([Reason("the proof that there is one answer takes too long")])
            if not found:
                return None
            filled = np.array(self._solver.get_model()[:self._cells]) > 0
            if not self._cut(filled):
                return filled

    def nearest(self) -> Mask | None:
        """The part that fits and comes first: cell by cell, one like the part that was drawn comes before one unlike."""
        filled = self.some()
        if filled is None:
            return None
        numbers = np.where(self.part, 1, -1) * np.arange(1, self._cells + 1)
        held: list[int] = []
        for k, number in enumerate(numbers.tolist()):
            if filled[k] != self.part[k]:
                other = self.some([*held, number])
                if other is None:
                    held.append(-number)
                    continue
                filled = other
            held.append(number)
        return filled

    def _cut(self, filled: Mask) -> bool:
        """Forbid that the part falls apart as this one does; False if it is in one piece."""
        piece = pieces(self._cells, self.pairs, filled)
        firsts = np.unique(piece[filled])
        for first in firsts[1:].tolist():
            self._part_needs_a_link(piece == first, int(first), int(firsts[0]))
        return len(firsts) > 1

    def _part_needs_a_link(self, piece: Mask, own: int, other: int) -> None:
        """If a cell of this piece and one of another are filled, so is a cell between: one round the piece, where the air begins
        that reaches the other."""
        one, two = self.pairs.T - 1
        round_it = np.zeros(self._cells, dtype=bool)
        round_it[two[piece[one]]] = round_it[one[piece[two]]] = True
        round_it &= ~piece
        rest = ~piece & ~round_it
        label = pieces(self._cells, self.pairs, rest)
        beyond = label == label[other]
        reaches = np.zeros(self._cells, dtype=bool)
        reaches[two[beyond[one]]] = reaches[one[beyond[two]]] = True
        self.require([-(own + 1), -(other + 1), *(np.flatnonzero(round_it & reaches) + 1).tolist()])
        self.cuts += 1


def found_by(search: Search, unlike: Callable[[Mask], Sequence[int]], limit: int) -> tuple[tuple[Mask, ...], bool]:
    """Parts (n,) with other answers than the part that was drawn, fewer than ``limit``, and whether these are all.

    ``unlike``: a clause that says that a part has another answer than the one given. What was found before there were too many
    conflicts is kept: it is enough to know that there are several.
    """
    found: list[Mask] = []
    search.require(unlike(search.part))
    while len(found) < limit - 1:
        try:
            other = search.nearest()
        except RefusedError:
            if not found:
                raise
            break
        if other is None:
            return tuple(found), True
        search.require(unlike(other))
        other.flags.writeable = False
        found.append(other)
    return tuple(found), False
